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
	r, err := sag.End{Curve: curveOf(t, *j.Rear), Law: linear(t, best.Rate, 0.065, best.Preload), Friction: 35}.Settle(s.Rear.Load)
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
	for _, e := range []setup.EndSheet{*s.Front, *s.Rear} {
		if r := e.Rest; !(r.StrokeLow < r.Stroke && r.Stroke < r.StrokeHigh) {
			t.Errorf("friction of %v makes no band: %+v", e.Friction, r)
		} else if diff := cmp.Diff([]setup.Measurement{{"stroke", r.Stroke, r.StrokeLow, r.StrokeHigh}, {"wheel", r.Travel, r.TravelLow, r.TravelHigh}}, e.Measure); diff != "" {
			t.Errorf("measure (-want +got):\n%s", diff)
		}
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
	near(t, "load of the wheel", float64(e.WheelLoad), 60*g0, 1e-12)
	near(t, "load", float64(e.Load), 57*g0, 1e-12)
	if e.Friction != 0 || e.TargetSag != 0.28 || e.Travel != 0.15 || e.Stroke != 0.06 {
		t.Errorf("what was given comes back as %+v", e)
	}
	for _, m := range e.Measure {
		if m.Low != m.Expected || m.High != m.Expected {
			t.Errorf("a band without friction: %+v", m)
		}
	}
	// 9 N/mm under 38 kg over 12.8 N/mm under 57 kg.
	near(t, "frequency ratio", sheet(t, plainJob(t)).FrequencyRatio, math.Sqrt(9e3/38/(12.8e3/57)), 1e-12)
}

// 20 N/mm with 120 mm of preload behind LR = 2 + 20/m·s push less the further they
// go, by hand 20·(s + 120)/(2 + 20·s): the rate is below 0 all the way, and nothing
// bounces on it.
func TestNoFrequencyRatioWithoutAFrequency(t *testing.T) {
	j := plainJob(t)
	j.Rear = &setup.EndJob{Spec: fit.Spec{Curve: bend(2, 0.010, 60), Sag: 0.28, Coil: &fit.Shelf{
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
	for name, e := range map[string]*setup.EndSheet{"front": s.Front, "rear": s.Rear} {
		slow, fast := e.Wheel()
		unitstest.Near(t, name+" load", slow.Force(e.Rest.Travel), e.Load, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" rate", slow.Rate(e.Rest.Travel), e.Rest.WheelRate, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" full force", fast.Force(fast.Travel()), e.Reserve.FullForce, unitstest.Rel(1e-12))
		unitstest.Near(t, name+" travel", e.Curve().Travel(), e.Travel, unitstest.Exact)
	}
}

// A sheet read from JSON says what was written, and no more: it has no laws and no
// working.
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
		for _, axle := range []sag.Axle{sag.Front, sag.Rear, "middle"} {
			if s.Working(axle) != nil || s.RestWorking(axle) != nil {
				t.Error("the working of a sheet that NewSheet did not make")
			}
		}
	}
	if half := (&setup.Sheet{Front: back.Front, Rear: s.Rear}).Setup(); half.Rear != nil {
		t.Errorf("a set-up of a sheet of which half is read: %+v", half)
	}
	if back.Rear.Spring().Rate != s.Rear.Spring().Rate || back.Front.Fill().Fill != s.Front.Fill().Fill {
		t.Error("recommends another spring or fill")
	}
	if s.Working("middle") != nil || s.RestWorking("middle") != nil {
		t.Error("the working of an end that is neither front nor rear")
	}
	var none setup.EndSheet
	if none.Spring() != nil || none.Fill() != nil || s.Rear.Fill() != nil || s.Front.Spring() != nil {
		t.Error("recommends a spring or a fill that the end does not have")
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

// known is how well the inputs of the invented job are known.
func known() *certainty.Uncertainty {
	return &certainty.Uncertainty{
		RiderMass: 0.5, BikeMass: 0.1, UnsprungFront: 0.2, UnsprungRear: 0.2, RearShare: 0.005, Ambient: 300,
		Front: certainty.EndUncertainty{HeadAngle: 0.005, Fill: 5e3, PositiveVolume: 2e-6, NegativeVolume: 1e-6, GasTemperature: 0.005, Friction: 5},
		Rear:  certainty.EndUncertainty{SpringRate: 0.02, Preload: 3e-4, TableTravel: 2e-4, LeverRatio: 0.002, Friction: 15, Reading: 5e-4},
	}
}

// A job that says how well its inputs are known gets a sheet that says how well
// its answers are, as Propagate has it; of the rest of the sheet only what a miss is judged
// against depends on it, by the error of the ring.
func TestSheetWithUncertainty(t *testing.T) {
	j := readJob(t, jobText)
	j.Masses.RiderMass = 71 // so that something decides between two springs
	plain := sheet(t, j)
	if plain.Uncertainty != nil {
		t.Error("an uncertainty that nobody stated")
	}
	j.Uncertainty = known()
	j.Uncertainty.Rear.Reading = 0
	want, err := certainty.Propagate(plain.Setup(), *j.Uncertainty)
	require.NoError(t, err)
	s := sheet(t, j)
	if diff := cmp.Diff(want, s.Uncertainty); diff != "" {
		t.Errorf("(-Propagate +sheet):\n%s", diff)
	}
	if len(s.Uncertainty.Rear.Rivals) == 0 {
		t.Error("nothing decides")
	}
	omission(t, plain, "uncertainty", "uncertainty")
	plain.LeftOut = slices.DeleteFunc(plain.LeftOut, func(o setup.Omission) bool { return o.Code == "uncertainty" })
	plain.Uncertainty = s.Uncertainty
	if text(t, plain) != text(t, s) {
		t.Error("the rest of the sheet depends on the uncertainty")
	}
	j.Uncertainty.Rear.Reading = 2e-3
	s = sheet(t, j)
	want, err = certainty.Propagate(s.Setup(), *j.Uncertainty)
	require.NoError(t, err)
	if diff := cmp.Diff(want, s.Uncertainty); diff != "" {
		t.Errorf("with a ring (-Propagate +sheet):\n%s", diff)
	}
	near(t, "tolerance", s.Rear.Spring().Tolerance, 2*2e-3*s.Rear.Rest.LeverRatio/float64(s.Rear.Travel), 1e-12)
	for _, bad := range []units.Length{-1, units.Length(math.NaN()), units.Length(math.Inf(1))} { // once, as an uncertainty
		j.Uncertainty.Rear.Reading = bad
		_, err := setup.NewSheet(j)
		refused(t, bad.String(), err, "uncertainty.rear.reading")
	}
}

// Damping, its ratio and the height of a drop are taken up to their limits, next to
// nothing included, and refused by name beyond. By hand, 80 N/mm behind 2.5 are
// 12.8 N/mm at the wheel, also on the mean, under 57 kg.
func TestDampingAndDropAtTheirLimits(t *testing.T) {
	critical := 2 * math.Sqrt(12.8e3*57)
	for _, test := range []struct {
		set   setup.EndJob // these fields of it
		wheel float64      // damping at the wheel
		want  []string
	}{
		{setup.EndJob{}, 0, nil},
		{setup.EndJob{Damping: 0.5}, 0.5, nil},
		{setup.EndJob{Damping: units.Damping(20 * critical * (1 - 1e-9))}, 20 * critical, nil},
		{setup.EndJob{Damping: units.Damping(20 * critical * (1 + 1e-9))}, 0, []string{"rear.damping"}},
		{setup.EndJob{DampingRatio: 0.01}, 0.01 * critical, nil},
		{setup.EndJob{DampingRatio: 20}, 20 * critical, nil},
		{setup.EndJob{DampingRatio: justAbove(20)}, 0, []string{"rear.damping_ratio"}},
		{setup.EndJob{Damping: 0.5, DampingRatio: 0.5}, 0, []string{"rear.damping_ratio"}},
		{setup.EndJob{DropHeight: 0.01}, 0, nil},
		{setup.EndJob{DropHeight: 0.05, Damping: 500}, 500, nil},
		{setup.EndJob{DropHeight: 0.05, DampingRatio: 0.25}, 0.25 * critical, nil},
		{setup.EndJob{DropHeight: 1000}, 0, nil},
		{setup.EndJob{DropHeight: units.Length(justAbove(1000))}, 0, []string{"rear.drop_height"}},
		{setup.EndJob{DropHeight: units.Length(math.NaN())}, 0, []string{"rear.drop_height"}},
		{setup.EndJob{Damping: -1, DampingRatio: -1, DropHeight: -1}, 0, []string{"rear.damping", "rear.damping_ratio", "rear.drop_height"}},
	} {
		j := plainJob(t)
		j.Rear.Damping, j.Rear.DampingRatio, j.Rear.DropHeight = test.set.Damping, test.set.DampingRatio, test.set.DropHeight
		s, err := setup.NewSheet(j)
		refused(t, text(t, test.want), err, test.want...)
		if err != nil {
			continue
		}
		d := s.Rear.Damping
		if (d != nil) != (test.wheel > 0) || (s.Rear.Landing != nil) != (j.Rear.DropHeight > 0) || s.Front.Damping != nil || s.Front.Landing != nil {
			t.Errorf("%+v: %+v, %+v", test.set, d, s.Rear.Landing)
		}
		drop := sag.Drop{Height: j.Rear.DropHeight}
		if d != nil {
			near(t, "at the wheel", float64(d.Wheel), test.wheel, 1e-8)
			near(t, "at the shock", float64(d.Shock), test.wheel*6.25, 1e-8)
			near(t, "ratio", d.Ratio, test.wheel/critical, 1e-8)
			drop.Damping = d.Wheel
		}
		if l := s.Rear.Landing; l != nil {
			want, err := sag.End{Curve: curveOf(t, *j.Rear), Law: linear(t, 80e3, 0.06, 1e-3)}.Land(s.Rear.Load, drop)
			require.NoError(t, err)
			if diff := cmp.Diff(&want, l); diff != "" {
				t.Errorf("landing (-want +got):\n%s", diff)
			}
		}
	}
}

// A ratio beyond the limit is a fault of the job, found without its sheet.
func TestCheckRefusesTooMuchDamping(t *testing.T) {
	j := plainJob(t)
	j.Rear.DampingRatio = justAbove(sag.MostDamping)
	var c units.Checker
	j.Check(&c)
	refused(t, "a ratio above 20", c.Err(), "rear.damping_ratio")
}

// An air spring takes a drop on its fast law, by the balance of energy.
func TestAirForkLandsOnItsFastLaw(t *testing.T) {
	j := readJob(t, jobText)
	j.Front.DropHeight = 0.1
	s := sheet(t, j)
	_, fast := s.Front.Wheel()
	l := s.Front.Landing
	near(t, "energy", float64(fast.Energy(l.Travel)), float64(s.Front.Load)*float64(0.1+l.Travel), 1e-9)
}

// The cautions are those of the springs at both ends.
func TestCautionsFollowTheWork(t *testing.T) {
	for _, test := range []struct{ air, coil bool }{{true, true}, {false, true}, {true, false}} {
		j := plainJob(t)
		if test.air {
			j.Front.Coil, j.Front.Air = nil, airSpring()
			j.Front.Air.Travel = 0.16
			j.Front.Air.PositiveVolume = 320e-6
		}
		if !test.coil {
			j.Rear.Coil, j.Rear.Air = nil, airSpring()
		}
		if diff := cmp.Diff(fit.Cautions(test.air, test.coil), sheet(t, j).Cautions); diff != "" {
			t.Errorf("air %v, coil %v (-want +got):\n%s", test.air, test.coil, diff)
		}
	}
}
