package setup_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// What is recommended for the invented job meets its targets, and says so.
func TestSheetMeetsItsTargets(t *testing.T) {
	j := readJob(t, jobText)
	s := sheet(t, j)
	near(t, "front sag", s.Front.Rest.Sag, 0.2, 1e-9)
	if math.Abs(s.Rear.Rest.Sag-0.29) > 0.005 {
		t.Errorf("rear sag %v, want 0.29", s.Rear.Rest.Sag)
	}
	// The negative chamber of this fork pulls it in a little; nothing else is to say.
	if diff := cmp.Diff([]string{"front pulls_in"}, codes(s)); diff != "" {
		t.Errorf("warnings on a job that fits (-want +got):\n%s", diff)
	}
	best := s.Rear.Spring()
	// What is recommended, fitted and settled by hand, gives the sheet's sag.
	r, err := sag.End{Curve: curveOf(t, j.Rear), Law: linear(t, best.Rate, 0.065, best.Preload), Friction: 35}.Settle(s.Rear.Load)
	require.NoError(t, err)
	near(t, "sag again", s.Rear.Rest.Sag, r.Sag, 1e-12)
	near(t, "band again", float64(s.Rear.Rest.TravelHigh), float64(r.TravelHigh), 1e-12)
	if q := math.Mod(best.Turns*4, 1); math.Min(q, 1-q) > 1e-9 {
		t.Errorf("%v turns are no whole quarter turns", best.Turns)
	}
	near(t, "turns", best.Turns*1.5e-3, float64(best.Preload), 1e-12)
	if want := s.Front.Fill().Fill - units.BarGauge(5.2); s.Front.Air.Change != want {
		t.Errorf("change %v, want %v", s.Front.Air.Change, want)
	}
	near(t, "frequencies", s.FrequencyRatio, float64(s.Front.FastFrequency)/float64(s.Rear.FastFrequency), 1e-12)
	if len(s.Front.Air.Options) != 6 || len(s.Rear.Coil.Candidates) != 4 {
		t.Errorf("tried %d counts of spacers and %d springs", len(s.Front.Air.Options), len(s.Rear.Coil.Candidates))
	}
	if s.Front.Measure[0].Expected != s.Front.Rest.Stroke || s.Front.Measure[1].High != s.Front.Rest.TravelHigh {
		t.Errorf("measure %+v", s.Front.Measure)
	}
}

// What an end does, by hand: 57 kg on 80 N/mm with 1 mm of preload behind 2.5.
func TestSheetOfACoilByHand(t *testing.T) {
	e := sheet(t, plainJob(t)).Rear
	x := 57 * g0 * 2.5 / 80e3 // of the spring
	near(t, "stroke", float64(e.Rest.Stroke), x-1e-3, 1e-10)
	near(t, "travel left", float64(e.TravelLeft), 0.15-2.5*(x-1e-3), 1e-11)
	near(t, "energy left", float64(e.EnergyLeft), 40e3*(0.061*0.061-x*x), 1e-11)
	near(t, "fast spring rate", float64(e.FastSpringRate), 80e3, 1e-14)
	near(t, "fast rate", float64(e.FastWheelRate), 12.8e3, 1e-12)
	near(t, "least rate", float64(e.MinWheelRate), 12.8e3, 1e-12)
	near(t, "full ratio", e.FullRatio, 80e3*0.061/2.5/(57*g0), 1e-12)
	near(t, "energy", float64(e.Reserve.Energy), 40e3*(0.061*0.061-1e-6), 1e-12)
	near(t, "drop", float64(e.Reserve.DropHeight), 40e3*(0.061*0.061-1e-6)/(57*g0)-0.15, 1e-11)
	if e.Friction != 0 || e.TargetSag != 0.28 || len(e.Measure) != 2 {
		t.Errorf("%+v", e)
	}
	for i, want := range []setup.Measurement{
		{What: "stroke", Expected: e.Rest.Stroke, Low: e.Rest.Stroke, High: e.Rest.Stroke},
		{What: "wheel", Expected: e.Rest.Travel, Low: e.Rest.Travel, High: e.Rest.Travel},
	} {
		if e.Measure[i] != want {
			t.Errorf("%+v, want %+v", e.Measure[i], want)
		}
	}
	// 9 N/mm under 38 kg over 12.8 N/mm under 57 kg.
	near(t, "frequency ratio", sheet(t, plainJob(t)).FrequencyRatio, math.Sqrt(9e3/38/(12.8e3/57)), 1e-12)
}

// A spring that binds early ends the wheel's travel: 62 mm of spring less
// 3.2 mm of preload leave 58.8 mm of stroke.
func TestSheetOfASpringThatGoesSolid(t *testing.T) {
	const mm = 1e-3
	j := under(t, 600)
	j.Rear.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 75e3, SolidTravel: 0.062}}, Collar: fit.Collar{PreloadMax: 4e-3}}
	s := sheet(t, j)
	e := s.Rear
	near(t, "travel left", float64(e.TravelLeft), (58.8-16.8)*2.5*mm, 1e-10)
	near(t, "energy left", float64(e.EnergyLeft), 0.5*75e3*(62*62-20*20)*mm*mm, 1e-10)
	near(t, "full force", float64(e.Reserve.FullForce), 75e3*62*mm/2.5, 1e-10)
	near(t, "full ratio", e.FullRatio, 75e3*62*mm/2.5/600, 1e-10)
	near(t, "fast rate of a coil", float64(e.FastWheelRate), float64(e.Rest.WheelRate), 1e-15)
	near(t, "load", float64(e.Load), 600, 1e-14)
	if c := curveOf(t, j.Rear); e.WheelLoad != e.Load || e.Travel != c.Travel() || e.Stroke != c.Stroke() || e.TargetSag != 0.28 {
		t.Errorf("what was given comes back as %+v", e)
	}
	w := warning(t, s, "rear", "goes_solid")
	if w.Text != "The spring binds 1.2 mm (0.05 in) before the shock reaches the end of its stroke. Do not fit it: coil-bound, it can break itself or the shock." {
		t.Errorf("warns %+v", w)
	}

	j.Rear.Coil.Springs[0].SolidTravel = 0
	s = sheet(t, j)
	near(t, "all the travel left", float64(s.Rear.TravelLeft), (60-16.8)*2.5*mm, 1e-10)
	if w := warning(t, s, "rear", "solid_unknown"); w.Limit != "63.2 mm" {
		t.Errorf("warns %+v", w)
	}

	// A collar never presses a spring solid: of 3 mm it leaves a thousandth.
	j.Rear.Coil.Springs[0].SolidTravel = 3e-3
	near(t, "preload of a very short spring", float64(sheet(t, j).Rear.Spring().Preload), 3e-3*0.999, 1e-12)
}

// The spring of the shelf that is nearest to the target is not recommended where
// it goes solid.
func TestSheetPrefersASpringThatReaches(t *testing.T) {
	j := readJob(t, jobText)
	before := sheet(t, j).Rear.Spring().Rate
	for i := range j.Rear.Coil.Springs {
		if j.Rear.Coil.Springs[i].Rate == before {
			j.Rear.Coil.Springs[i].SolidTravel = 0.05
		}
	}
	s := sheet(t, j)
	if s.Rear.Spring().Rate == before {
		t.Errorf("still recommends %v, which goes solid", before)
	}
	if last := s.Rear.Coil.Candidates[3]; last.Rate != before || !fit.Has(last.Findings, sag.GoesSolid) || !(last.SolidReserve < 0) {
		t.Errorf("the spring that goes solid should rank last, as such: %+v", last)
	}
}

// The fast rate about the rest position is that of the same gas with the job's
// exponent: for one chamber F = A(p₀(V₀/V)ⁿ − p_a) written out here.
func TestSheetOfAnAirSpringByHand(t *testing.T) {
	const bore, volume, n, travel, ambient = 0.045, 190e-6, 1.4, 0.065, 98e3
	j := readJob(t, jobText)
	j.Rear.Coil, j.Rear.Air = nil, airSpring()
	s := sheet(t, j)
	c := curveOf(t, j.Rear)
	area := math.Pi / 4 * bore * bore
	p0 := float64(s.Rear.Fill().Fill) + ambient
	x := float64(s.Rear.Rest.Stroke)
	p := p0 * volume / (volume - area*x) // at rest, isothermal
	near(t, "slow rate", float64(s.Rear.Rest.SpringRate), area*area*p/(volume-area*x), 1e-12)
	near(t, "fast rate", float64(s.Rear.FastSpringRate), n*area*area*p/(volume-area*x), 1e-12)
	full := area * (p0*math.Pow(volume/(volume-area*travel), n) - ambient) / c.LeverRatio(travel)
	near(t, "full force", float64(s.Rear.Reserve.FullForce), full, 1e-12)
	near(t, "ratio", s.Rear.FullRatio, full/float64(s.Rear.Load), 1e-12)
}

// An air spring takes its travel from the curve and the ambient from the job,
// unless it states its own.
func TestAirSpringTakesTravelAndAmbientOfTheJob(t *testing.T) {
	j := readJob(t, jobText)
	same := sheet(t, j).Front.Fill().Fill
	j.Front.Air.Travel, j.Front.Air.Ambient, j.Ambient = 0.17, 97.7e3, 50e3
	if got := sheet(t, j).Front.Fill().Fill; got != same {
		t.Errorf("fill %v with travel and ambient stated, %v without", got, same)
	}
	j.Front.Air.Travel, j.Front.Air.Ambient, j.Ambient = 0, 0, 0
	_, err := setup.NewSheet(j)
	refused(t, "no ambient anywhere", err, "front.air.ambient")
}

// A load that no fill could carry gets all that the marking permits, not an empty
// chamber; a sag that no fill reaches is the job's fault.
func TestSheetOfALoadBeyondEveryFill(t *testing.T) {
	j := readJob(t, jobText)
	j.Masses.RiderMass = 60000
	s := sheet(t, j)
	o := s.Front.Fill()
	if o.Fill != j.Front.Air.MaxFill || !fit.Has(o.Findings, sag.FillAtMax) || fit.Has(o.Findings, sag.FillImpossible) || o.FillWanted != 0 {
		t.Errorf("recommends %v: %v", o.Fill, o.Findings)
	}
	w := warning(t, s, "front", "fill_at_max")
	if w.Text != "No air spring could hold the fill that the target would need; this sheet stops at the marking." || w.Value != "" || w.Limit != j.Front.Air.MaxFill.String() {
		t.Errorf("warns %+v", w)
	}
	j = readJob(t, jobText)
	j.Front.Sag, j.Front.Air.NegativeVolume, j.Front.Air.PortTravel = 0.002, 12e-6, 0.03
	_, err := setup.NewSheet(j)
	refused(t, "a sag where more air pulls in harder", err, "front.sag")
	j = readJob(t, jobText)
	j.Front.Air.MaxFill = units.BarGauge(2000)
	_, err = setup.NewSheet(j)
	refused(t, "a marking beyond sense", err, "front.air.max_fill")
}

func TestHeavierRidersWantMore(t *testing.T) {
	j := readJob(t, jobText)
	var fill units.GaugePressure
	var ideal units.Stiffness
	for kg := 50.0; kg <= 110; kg += 10 {
		j.Masses.RiderMass = units.Mass(kg)
		s := sheet(t, j)
		if f := s.Front.Fill(); f.Spacers == 1 {
			if !(f.Fill > fill) {
				t.Errorf("%v kg: fill %v, not above %v", kg, f.Fill, fill)
			}
			fill = f.Fill
		}
		if k := s.Rear.Coil.IdealRate; !(k > ideal) {
			t.Errorf("%v kg: ideal rate %v, not above %v", kg, k, ideal)
		}
		ideal = s.Rear.Coil.IdealRate
	}
}

// 20 N/mm with 120 mm of preload behind LR = 2 + 20/m·s push less the further they
// go, by hand 20·(s + 120)/(2 + 20·s): the rate is below 0 all the way, and nothing
// bounces on it.
func TestNoFrequencyRatioWithoutAFrequency(t *testing.T) {
	j := plainJob(t)
	j.Rear = setup.EndJob{Spec: fit.Spec{Curve: bend(2, 0.010, 60), Sag: 0.28, Coil: &fit.Shelf{
		Springs: []fit.ShelfSpring{{Rate: 20e3, SolidTravel: 0.3}}, Collar: fit.Collar{PreloadMin: 0.12, PreloadMax: 0.12}}}}
	s := sheet(t, j)
	if s.Rear.FastFrequency != 0 || s.FrequencyRatio != 0 || !(s.Front.FastFrequency > 0) {
		t.Errorf("%v over %v: %v", s.Front.FastFrequency, s.Rear.FastFrequency, s.FrequencyRatio)
	}
	if !slices.Contains(codes(s), "rear rate_not_positive") {
		t.Errorf("%v", codes(s))
	}
	// Below 1 Hz there is one: 0.5 N/mm at both ends, under 40 and 60 parts of the
	// weight.
	j = softJob(t)
	j.Masses.RearShare = 0.6
	s = sheet(t, j)
	near(t, "slow ratio", s.FrequencyRatio, math.Sqrt(60./40), 1e-12)
	if !(s.Rear.FastFrequency < 1) {
		t.Errorf("%v", s.Rear.FastFrequency)
	}
}

// Friction makes a band about the rest and changes nothing else of a sheet.
func TestFrictionMakesABandOnly(t *testing.T) {
	j := plainJob(t)
	free := sheet(t, j)
	j.Rear.Friction = 40
	held := sheet(t, j)
	if r := held.Rear.Rest; !(r.StrokeLow < r.Stroke && r.Stroke < r.StrokeHigh) {
		t.Errorf("no band: %+v", r)
	}
	if m := held.Rear.Measure[0]; m.Low != held.Rear.Rest.StrokeLow || m.High != held.Rear.Rest.StrokeHigh {
		t.Errorf("measure %+v", m)
	}
	without := func(s *setup.Sheet) string {
		s.Rear.Friction, s.Rear.Measure = 0, nil
		rests := []*sag.Rest{&s.Rear.Rest, &s.Free.Rear.Rest, &s.Rear.Spring().Rest}
		if n := s.Rear.Coil.Between; n.Softer != nil {
			rests = append(rests, &n.Softer.Rest)
		}
		if n := s.Rear.Coil.Between; n.Harder != nil {
			rests = append(rests, &n.Harder.Rest)
		}
		for _, r := range rests {
			r.TravelLow, r.TravelHigh, r.StrokeLow, r.StrokeHigh = 0, 0, 0, 0
		}
		return text(t, s)
	}
	if diff := cmp.Diff(without(free), without(held)); diff != "" {
		t.Errorf("(-free +held):\n%s", diff)
	}
}

// An end that carries next to nothing is refused by its load, as its reserve is.
func TestSheetOfNoLoad(t *testing.T) {
	j := plainJob(t)
	j.Masses = sag.Masses{RiderMass: 1e-153, BikeMass: 1e-153, RearShare: 0.5}
	_, err := setup.NewSheet(j)
	refused(t, "no load", err, "front.load", "rear.load")
}

func TestSheetLeavesTheJobAlone(t *testing.T) {
	j := readJob(t, jobText)
	before := text(t, j)
	sheet(t, j)
	if after := text(t, j); before != after {
		t.Errorf("the job changed:\n%s\n%s", before, after)
	}
}

// The laws at the wheel are those that the sheet speaks of.
func TestEndSheetWheel(t *testing.T) {
	s := sheet(t, readJob(t, jobText))
	for name, e := range map[string]*setup.EndSheet{"front": &s.Front, "rear": &s.Rear} {
		slow, fast := e.Wheel()
		unitstest.Near(t, name+" load", slow.Force(e.Rest.Travel), e.Load, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" rate", slow.Rate(e.Rest.Travel), e.Rest.WheelRate, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" full force", fast.Force(fast.Travel()), e.Reserve.FullForce, unitstest.Rel(1e-12))
		unitstest.Near(t, name+" travel", e.Curve().Travel(), e.Travel, unitstest.Exact)
	}
}

// A sheet read from JSON says what was written, and no more: it has no laws.
func TestSheetReadFromJSONHasNoLaws(t *testing.T) {
	s := sheet(t, readJob(t, jobText))
	var back setup.Sheet
	require.NoError(t, json.Unmarshal([]byte(text(t, s)), &back))
	if text(t, back) != text(t, s) {
		t.Errorf("%s\n%s", text(t, s), text(t, back))
	}
	for _, s := range []*setup.Sheet{{}, &back} {
		if slow, fast := s.Rear.Wheel(); slow != nil || fast != nil || s.Rear.Curve() != nil {
			t.Error("laws of a sheet that NewSheet did not make")
		}
		if diff := cmp.Diff(certainty.Setup{}.Masses, s.Setup().Masses); diff != "" {
			t.Errorf("a set-up of a sheet that NewSheet did not make: %s", diff)
		}
	}
	if back.Rear.Spring().Rate != s.Rear.Spring().Rate || back.Front.Fill().Fill != s.Front.Fill().Fill {
		t.Error("recommends another spring or fill")
	}
	var none setup.EndSheet
	if none.Spring() != nil || none.Fill() != nil || s.Rear.Fill() != nil || s.Front.Spring() != nil {
		t.Error("recommends what there is none of")
	}
}

// Where the wheel moves as far as the spring, or less, the stroke is read along the
// stanchion.
func TestAlongWhatTheStrokeIsRead(t *testing.T) {
	for ratio, want := range map[float64]string{0.9: "along the stanchion", 1: "along the stanchion", 1.01: "at the shock"} {
		j := plainJob(t)
		j.Front.Curve.ConstantRatio.Ratio = ratio
		if got := sheet(t, j).Front.Along(); got != want {
			t.Errorf("%v: %q, want %q", ratio, got, want)
		}
	}
}

func TestCautionsFollowTheWork(t *testing.T) {
	has := func(s *setup.Sheet, code string) bool {
		for _, c := range s.Cautions {
			if c.Code == code {
				return c.Text != ""
			}
		}
		return false
	}
	j := readJob(t, jobText)
	s := sheet(t, j)
	for _, code := range []string{"marking_wins", "air_pressure", "compressed_spring", "crown_and_axle", "measure_first", "local_rules"} {
		if !has(s, code) {
			t.Errorf("no caution %q", code)
		}
	}
	air := j.Front.Air
	j.Front.Air, j.Front.Coil = nil, j.Rear.Coil
	if s := sheet(t, j); has(s, "air_pressure") || !has(s, "compressed_spring") {
		t.Error("cautions of two coil ends")
	}
	j.Front.Air, j.Front.Coil = air, nil
	j.Rear.Air, j.Rear.Coil = airSpring(), nil
	if s := sheet(t, j); !has(s, "air_pressure") || has(s, "compressed_spring") {
		t.Error("cautions of two air ends")
	}
}

// known is how well the inputs of the invented job are known.
func known() *certainty.Uncertainty {
	return &certainty.Uncertainty{
		RiderMass: 0.5, BikeMass: 0.1, UnsprungFront: 0.2, UnsprungRear: 0.2, RearShare: 0.005, Ambient: 300,
		Front: certainty.EndUncertainty{HeadAngle: 0.005, Fill: 5e3, PositiveVolume: 2e-6, NegativeVolume: 1e-6, GasTemperature: 0.005, Friction: 5},
		Rear:  certainty.EndUncertainty{SpringRate: 0.02, Preload: 3e-4, TableTravel: 2e-4, LeverRatio: 0.002, Friction: 15, Reading: 5e-4},
	}
}

// A job that says how well its inputs are known gets a sheet that says how well
// its answers are, as Propagate has it; nothing else of the sheet depends on it.
func TestSheetWithUncertainty(t *testing.T) {
	j := readJob(t, jobText)
	j.Masses.RiderMass = 71 // so that something decides between two springs
	plain := sheet(t, j)
	if plain.Uncertainty != nil {
		t.Error("an uncertainty that nobody stated")
	}
	want, err := certainty.Propagate(plain.Setup(), *known())
	require.NoError(t, err)
	j.Uncertainty = known()
	s := sheet(t, j)
	if diff := cmp.Diff(want, s.Uncertainty); diff != "" {
		t.Errorf("(-Propagate +sheet):\n%s", diff)
	}
	if len(s.Uncertainty.Rear.Rivals) == 0 {
		t.Error("nothing decides")
	}
	plain.Uncertainty = s.Uncertainty
	if text(t, plain) != text(t, s) {
		t.Error("the rest of the sheet depends on the uncertainty")
	}
}

// The sheet's landing is that of the recommended end, with the damping that the
// job states, either way. By hand, 80 N/mm behind 2.5 is 12.8 N/mm at the wheel,
// under 57 kg.
func TestSheetLandsADrop(t *testing.T) {
	j := plainJob(t)
	if s := sheet(t, j); s.Rear.Damping != nil || s.Rear.Landing != nil {
		t.Error("nobody asked for a drop")
	}
	critical := 2 * math.Sqrt(12.8e3*57)
	j.Rear.DampingRatio, j.Rear.DropHeight = 0.25, 0.05
	s := sheet(t, j)
	near(t, "at the wheel", float64(s.Rear.Damping.Wheel), 0.25*critical, 1e-12)
	near(t, "at the shock", float64(s.Rear.Damping.Shock), 0.25*critical*6.25, 1e-12)
	near(t, "ratio", s.Rear.Damping.Ratio, 0.25, 1e-12)
	end := sag.End{Curve: curveOf(t, j.Rear), Law: linear(t, 80e3, 0.06, 1e-3)}
	want, err := end.Land(s.Rear.Load, sag.Drop{Height: 0.05, Damping: s.Rear.Damping.Wheel})
	require.NoError(t, err)
	if diff := cmp.Diff(&want, s.Rear.Landing); diff != "" || want.Bottoms {
		t.Errorf("landing (-want +got):\n%s", diff)
	}
	j.Rear.DampingRatio, j.Rear.Damping = 0, s.Rear.Damping.Wheel
	if again := sheet(t, j); cmp.Diff(s.Rear.Landing, again.Rear.Landing) != "" || s.Front.Landing != nil {
		t.Errorf("by coefficient %+v", again.Rear.Landing)
	}
	// Undamped from 0.5 m it bottoms, and the sheet says so.
	j.Rear.Damping, j.Rear.DropHeight = 0, 0.5
	s = sheet(t, j)
	if w := warning(t, s, "rear", "drop_bottoms"); !s.Rear.Landing.Bottoms || s.Rear.Damping != nil || w.Value != s.Rear.Landing.EnergyLeft.String() {
		t.Errorf("landing %+v, %+v", s.Rear.Landing, w)
	}
	// An air fork lands on its fast law.
	a := readJob(t, jobText)
	a.Front.DropHeight = 0.1
	s = sheet(t, a)
	_, fast := s.Front.Wheel()
	l := s.Front.Landing
	near(t, "energy", float64(fast.Energy(l.Travel)), float64(s.Front.Load)*float64(0.1+l.Travel), 1e-9)
	// A drop of next to nothing is one.
	j = plainJob(t)
	j.Rear.DropHeight = 0.01
	if s := sheet(t, j); s.Rear.Landing == nil || s.Rear.Landing.Height != 0.01 || s.Rear.Damping != nil {
		t.Errorf("%+v", s.Rear.Landing)
	}
}

// Damping below 1 N·s/m is damping, and so is a ratio next to nothing; one of more
// than twenty times critical is refused by the name that it has in the job. Between
// full extension and full travel the mean wheel rate is the plain job's 12.8 N/mm.
func TestSheetDampingAtItsLimits(t *testing.T) {
	critical := 2 * math.Sqrt(12.8e3*57)
	for _, test := range []struct {
		change func(*setup.EndJob)
		wheel  float64 // the damping at the wheel; 0 for none
		want   []string
	}{
		{func(e *setup.EndJob) { e.Damping = 0.5 }, 0.5, nil},
		{func(e *setup.EndJob) { e.DampingRatio = 0.01 }, 0.01 * critical, nil},
		{func(e *setup.EndJob) {}, 0, nil},
		{func(e *setup.EndJob) { e.Damping = units.Damping(20 * critical * (1 - 1e-9)) }, 20 * critical * (1 - 1e-9), nil},
		{func(e *setup.EndJob) { e.Damping = units.Damping(20 * critical * (1 + 1e-9)) }, 0, []string{"rear.damping"}},
		{func(e *setup.EndJob) { e.DampingRatio = 20 * (1 - 1e-9) }, 20 * critical * (1 - 1e-9), nil},
	} {
		j := plainJob(t)
		test.change(&j.Rear)
		s, err := setup.NewSheet(j)
		refused(t, "rear", err, test.want...)
		if err != nil {
			continue
		}
		if (s.Rear.Damping != nil) != (test.wheel > 0) || s.Rear.Landing != nil {
			t.Errorf("%+v, %+v", s.Rear.Damping, s.Rear.Landing)
		}
		if d := s.Rear.Damping; d != nil {
			near(t, "wheel", float64(d.Wheel), test.wheel, 1e-12)
			near(t, "shock", float64(d.Shock), test.wheel*6.25, 1e-12)
			near(t, "ratio", d.Ratio, test.wheel/critical, 1e-12)
		}
	}
}
