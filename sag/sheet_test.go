package sag

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// jobText is an invented job: an air fork in front, a shelf of coils behind.
const jobText = `{
  "schema": "wheelrate/job/1",
  "masses": {"rider_mass": "82 kg", "bike_mass": "16.8 kg", "unsprung_front": "2.4 kg", "unsprung_rear": "3.2 kg", "rear_share": 0.58},
  "ambient": "97.7 kPa(a)",
  "front": {
    "curve": {"fork": {"head_angle": "63.5 deg", "travel": "170 mm"}}, "sag": 0.2, "friction": "20 N",
    "air": {"bore": "35 mm", "shaft": "10 mm", "positive_volume": "252 cm³", "negative_volume": "68 cm³", "port_travel": "9 mm",
      "oil_volume": "6 cm³", "spacer_volume": "9 cm³", "spacers": 1, "fill": "5.2 bar", "exponent": 1.35,
      "max_fill": "10 bar", "max_spacers": 5, "full_travel_ratio": 6}},
  "rear": {
    "curve": {"table": {"stroke": ["0 mm", "13 mm", "26 mm", "39 mm", "52 mm", "65 mm"],
      "travel": ["0 mm", "37.63 mm", "73.83 mm", "108.59 mm", "141.91 mm", "173.79 mm"], "method": "smooth"}}, "sag": 0.29, "friction": "35 N",
    "coil": {"shelf": [{"rate": "350 lbf/in", "solid_travel": "76 mm"}, {"rate": "400 lbf/in", "solid_travel": "75 mm"},
        {"rate": "450 lbf/in", "solid_travel": "74 mm"}, {"rate": "500 lbf/in", "solid_travel": "73 mm"}],
      "preload_min": "0.5 mm", "preload_max": "5 mm", "thread_pitch": "1.5 mm"}}
}`

func readJob(t testing.TB, text string) Job {
	j, err := ReadJob(strings.NewReader(text))
	require.NoError(t, err)
	return j
}

func sheet(t testing.TB, j Job) *Sheet {
	s, err := NewSheet(j)
	require.NoError(t, err)
	return s
}

func TestSheetMeetsItsTargets(t *testing.T) {
	s := sheet(t, readJob(t, jobText))
	near(t, "front sag", s.Front.Rest.Sag, 0.2, 1e-9)
	if math.Abs(s.Rear.Rest.Sag-0.29) > onTarget {
		t.Errorf("rear sag %v, want 0.29", s.Rear.Rest.Sag)
	}
	// The negative chamber of this fork pulls it in a little; nothing else is to say.
	if diff := cmp.Diff([]string{"front pulls_in"}, codes(s)); diff != "" {
		t.Errorf("warnings on a job that fits (-want +got):\n%s", diff)
	}
	best := s.Rear.Coil.Candidates[0]
	// What is recommended, fitted and settled by hand, gives the sheet's sag.
	r, err := Settle(curveOf(t, readJob(t, jobText).Rear), linear(t, best.Rate, 0.065, best.Preload), s.Rear.Load, 35)
	require.NoError(t, err)
	near(t, "sag again", s.Rear.Rest.Sag, r.Sag, 1e-12)
	near(t, "band again", float64(s.Rear.Rest.TravelHigh), float64(r.TravelHigh), 1e-12)
	if q := math.Mod(best.Turns*4, 1); math.Min(q, 1-q) > 1e-9 {
		t.Errorf("%v turns are no whole quarter turns", best.Turns)
	}
	near(t, "turns", best.Turns*1.5e-3, float64(best.Preload), 1e-12)
	if !(s.Front.Air.Change == s.Front.Air.Options[0].Fill-units.BarGauge(5.2)) {
		t.Errorf("change %v", s.Front.Air.Change)
	}
	near(t, "frequencies", s.FrequencyRatio, float64(s.Front.FastFrequency)/float64(s.Rear.FastFrequency), 1e-12)
	if len(s.Front.Air.Options) != 6 || len(s.Rear.Coil.Candidates) != 4 {
		t.Errorf("tried %d spacer counts and %d springs", len(s.Front.Air.Options), len(s.Rear.Coil.Candidates))
	}
	if s.Front.Measure[0].Expected != s.Front.Rest.Stroke || s.Front.Measure[1].High != s.Front.Rest.TravelHigh {
		t.Errorf("measure %+v", s.Front.Measure)
	}
}

func curveOf(t testing.TB, e EndJob) *linkage.Curve {
	c, err := linkage.New(e.Curve)
	require.NoError(t, err)
	return c
}

// The fast rate about the settled position is that of the same gas state with
// the job's exponent: for one chamber F = A(p₀(V₀/V)ⁿ − p_a) written out here.
func TestSheetFastRateAndFullForce(t *testing.T) {
	j := readJob(t, jobText)
	const travel, n, ambient = 0.065, fast, 97.7e3
	j.Rear.Coil = nil
	j.Rear.Air = &AirChoice{Spec: airspring.Spec{Bore: bore, PositiveVolume: volume, Exponent: n}, MaxFill: units.BarGauge(40)}
	s := sheet(t, j)
	c := curveOf(t, j.Rear)
	area := math.Pi / 4 * bore * bore
	p0 := float64(s.Rear.Air.Options[0].Fill) + ambient
	x := float64(s.Rear.Rest.Stroke)
	p := p0 * volume / (volume - area*x) // settled, isothermal
	near(t, "slow rate", float64(s.Rear.Rest.SpringRate), area*area*p/(volume-area*x), 1e-12)
	near(t, "fast rate", float64(s.Rear.FastSpringRate), n*area*area*p/(volume-area*x), 1e-12)
	full := area * (p0*math.Pow(volume/(volume-area*travel), n) - ambient) / c.LeverRatio(travel)
	near(t, "full force", float64(s.Rear.Reserve.FullForce), full, 1e-12)
	near(t, "ratio", s.Rear.FullRatio, full/float64(s.Rear.Load), 1e-12)
}

func TestSheetFollowsTheRider(t *testing.T) {
	j := readJob(t, jobText)
	var fill units.GaugePressure
	var ideal units.Stiffness
	for kg := 50.0; kg <= 110; kg += 10 {
		j.Masses.RiderMass = units.Mass(kg)
		s := sheet(t, j)
		if f := s.Front.Air.Options[0]; f.Spacers == 1 && !(f.Fill > fill) {
			t.Errorf("%v kg: fill %v, not above %v", kg, f.Fill, fill)
		}
		if k := s.Rear.Coil.IdealRate; !(k > ideal) {
			t.Errorf("%v kg: ideal rate %v, not above %v", kg, k, ideal)
		}
		ideal = s.Rear.Coil.IdealRate
	}
}

func codes(s *Sheet) []string {
	var list []string
	for _, w := range s.Warnings {
		list = append(list, w.Field+" "+w.Code)
	}
	return list
}

func TestSheetWarns(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*Job)
		want   string
	}{
		{"shelf too soft", func(j *Job) { j.Rear.Coil.Shelf = j.Rear.Coil.Shelf[:1] }, "rear sag_over_target"},
		{"shelf too hard", func(j *Job) { j.Masses.RiderMass = 45 }, "rear sag_under_target"},
		{"no spring reaches", func(j *Job) {
			for i := range j.Rear.Coil.Shelf {
				j.Rear.Coil.Shelf[i].SolidTravel = 0.06
			}
		}, "rear goes_solid"},
		{"solid travel unknown", func(j *Job) {
			for i := range j.Rear.Coil.Shelf {
				j.Rear.Coil.Shelf[i].SolidTravel = 0
			}
		}, "rear solid_unknown"},
		{"marking too low", func(j *Job) { j.Front.Air.MaxFill = units.BarGauge(3) }, "front fill_at_max"},
		{"light as a feather", func(j *Job) {
			j.Masses.RiderMass, j.Masses.BikeMass = 4, 10
			j.Rear.Coil.PreloadMin = 0.004
		}, "rear held_at_top"},
		{"a load of bricks", func(j *Job) { j.Masses.RiderMass = 900; j.Rear.Coil.Shelf = j.Rear.Coil.Shelf[:1] }, "rear collapses"},
		{"soft at the end", func(j *Job) { j.Rear.Sag = 0.6; j.Masses.RiderMass = 150 }, "rear bottoms_easily"},
		{"a negative chamber that pulls in", func(j *Job) { j.Front.Air.NegativeVolume = 20e-6 }, "front pulls_in"},
	} {
		t.Run(test.name, func(t *testing.T) {
			j := readJob(t, jobText)
			test.change(&j)
			s := sheet(t, j)
			if got := codes(s); !strings.Contains(strings.Join(got, "\n")+"\n", test.want+"\n") {
				t.Errorf("warnings %q, want %q among them", got, test.want)
			}
			if s.Front.Air.Options[0].Fill > j.Front.Air.MaxFill {
				t.Errorf("fill %v above the marking %v", s.Front.Air.Options[0].Fill, j.Front.Air.MaxFill)
			}
		})
	}
}

func TestShelfPrefersASpringThatReaches(t *testing.T) {
	j := readJob(t, jobText)
	before := sheet(t, j).Rear.Coil.Candidates[0].Rate
	for i := range j.Rear.Coil.Shelf {
		if j.Rear.Coil.Shelf[i].Rate == before {
			j.Rear.Coil.Shelf[i].SolidTravel = 0.05
		}
	}
	s := sheet(t, j)
	if s.Rear.Coil.Candidates[0].Rate == before {
		t.Errorf("still recommends %v, which goes solid", before)
	}
	if last := s.Rear.Coil.Candidates[3]; last.Rate != before || !last.has(GoesSolid) || !(last.SolidReserve < 0) {
		t.Errorf("the spring that goes solid should rank last, as such: %+v", last)
	}
}

func TestCollar(t *testing.T) {
	c := CoilChoice{PreloadMin: 0.5e-3, PreloadMax: 5e-3, ThreadPitch: 1.5e-3} // steps of 0.375 mm
	for _, test := range []struct{ wanted, want float64 }{
		{-1, 0.75}, {0.7, 0.75}, {1.0, 1.125}, {0.9, 0.75}, {2.0, 1.875}, {4.99, 4.875}, {9, 4.875},
	} {
		near(t, "preload", float64(c.onCollar(units.Length(test.wanted*mm))), test.want*mm, 1e-12)
	}
	short := CoilChoice{PreloadMax: 4.7e-3, ThreadPitch: 1.5e-3} // the nearest step, 4.875 mm, is beyond it
	near(t, "preload", float64(short.onCollar(9e-3)), 4.5*mm, 1e-12)
	stepless := CoilChoice{PreloadMin: 1e-3, PreloadMax: 3e-3}
	for _, test := range []struct{ wanted, want float64 }{{0, 1}, {2.2, 2.2}, {9, 3}} {
		near(t, "stepless", float64(stepless.onCollar(units.Length(test.wanted*mm))), test.want*mm, 1e-12)
	}
	narrow := CoilChoice{PreloadMin: 1e-3, PreloadMax: 1.05e-3, ThreadPitch: 1.5e-3}
	near(t, "no quarter turn inside", float64(narrow.onCollar(0)), 1e-3, 1e-12)
}

func TestSheetNamesEveryBadField(t *testing.T) {
	j := readJob(t, jobText)
	j.Schema = "something else"
	j.Masses.RiderMass = -1
	j.Front.Sag = 1.2
	j.Front.Friction = -1
	j.Front.Air.Bore = 0
	j.Front.Air.MaxFill = 0
	j.Front.Air.MaxSpacers = -1
	j.Rear.Curve.Table.Travel[2] = 0
	j.Rear.Coil.Shelf[1].Rate = units.Stiffness(math.NaN())
	j.Rear.Coil.PreloadMax = 0
	_, err := NewSheet(j)
	got := strings.Join(names(err), "\n")
	for _, want := range []string{"schema", "masses.rider_mass", "front.sag", "front.friction", "front.air.bore", "front.air.max_fill",
		"front.air.max_spacers", "rear.curve.table.travel", "rear.coil.shelf[1].rate", "rear.coil.preload_max"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not named; named are\n%s", want, got)
		}
	}
	j = readJob(t, jobText)
	j.Rear.Coil, j.Front.Coil = nil, &CoilChoice{}
	_, err = NewSheet(j)
	if diff := cmp.Diff([]string{"front.coil", "rear.coil"}, names(err)); diff != "" {
		t.Errorf("neither and both (-want +got):\n%s", diff)
	}
}

func TestSheetLeavesTheJobAlone(t *testing.T) {
	j := readJob(t, jobText)
	before, err := json.Marshal(j)
	require.NoError(t, err)
	sheet(t, j)
	after, err := json.Marshal(j)
	require.NoError(t, err)
	if !bytes.Equal(before, after) {
		t.Errorf("the job changed:\n%s\n%s", before, after)
	}
}

func TestJobRoundTrip(t *testing.T) {
	j := readJob(t, jobText)
	text, err := json.Marshal(j)
	require.NoError(t, err)
	if diff := cmp.Diff(j, readJob(t, string(text))); diff != "" {
		t.Errorf("the job read back (-want +got):\n%s", diff)
	}
}

func TestReadJobNamesEveryBadField(t *testing.T) {
	bad := strings.NewReplacer(`"82 kg"`, `"82"`, `"sag": 0.2,`, `"sag": "0.2",`, `"35 mm"`, `"35 furlongs"`, `"ambient"`, `"ambiant"`).Replace(jobText)
	_, err := ReadJob(strings.NewReader(bad))
	got := strings.Join(names(err), "\n")
	for _, want := range []string{"masses.rider_mass", "front.sag", "front.air.bore", "ambiant"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not named; named are\n%s", want, got)
		}
	}
}

func TestCautionsFollowTheWork(t *testing.T) {
	has := func(s *Sheet, code string) bool {
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
	j.Rear.Air, j.Rear.Coil = &AirChoice{Spec: airspring.Spec{Bore: bore, PositiveVolume: volume, Exponent: fast}, MaxFill: 4e6}, nil
	if s := sheet(t, j); !has(s, "air_pressure") || has(s, "compressed_spring") {
		t.Error("cautions of two air ends")
	}
}

// FuzzJob: whatever the job says, there is a sheet without NaN or an error
// that names a field.
func FuzzJob(f *testing.F) {
	f.Add([]byte(jobText))
	f.Add([]byte(strings.Replace(jobText, `"82 kg"`, `"8200 kg"`, 1)))
	f.Add([]byte(strings.Replace(jobText, `"method": "smooth"`, `"method": "monotone"`, 1)))
	f.Add([]byte(`{"schema": 3, "front": [], "rear": {"coil": {"shelf": [{}]}}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := ReadJob(bytes.NewReader(text))
		if err != nil {
			return
		}
		s, err := NewSheet(j)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		if _, err := json.Marshal(s); err != nil {
			t.Fatalf("a sheet that can't be written: %v", err)
		}
	})
}

func BenchmarkNewSheet(b *testing.B) { // budget: 50 µs for 12 springs and 7 spacer counts; allocations reported, not bounded
	j := readJob(b, jobText)
	for i := 0; len(j.Rear.Coil.Shelf) < 12; i++ {
		s := j.Rear.Coil.Shelf[i]
		s.Rate += 10 * units.PoundForcePerInch
		j.Rear.Coil.Shelf = append(j.Rear.Coil.Shelf, s)
	}
	j.Front.Air.MaxSpacers = 6
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewSheet(j); err != nil {
			b.Fatal(err)
		}
	}
}

var _ spring.Law = spring.LinearSpring{}

// A job that says how well its inputs are known gets a sheet that says how
// well its answers are: the same that Propagate tells.
func TestSheetWithUncertainty(t *testing.T) {
	j := readJob(t, jobText)
	j.Masses.RiderMass = 71 // so that something decides between two springs
	u := fullUncertainty()
	want, err := Propagate(j, u)
	if err != nil {
		t.Fatal(err)
	}
	j.Uncertainty = &u
	s, err := NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, s.Uncertainty); diff != "" {
		t.Errorf("(-Propagate +sheet):\n%s", diff)
	}
	j.Uncertainty = nil
	plain, err := NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	if plain.Uncertainty != nil {
		t.Error("an uncertainty that nobody stated")
	}
	plain.Uncertainty = s.Uncertainty
	if text(t, plain) != text(t, s) {
		t.Error("the rest of the sheet depends on the uncertainty")
	}
}

// Faults of the job and of its uncertainty are told together.
func TestSheetNamesFaultsOfUncertainty(t *testing.T) {
	for _, test := range []struct {
		spoil func(*Job)
		want  []string
	}{
		{func(j *Job) { j.Uncertainty.RiderMass = -1 }, []string{"uncertainty.rider_mass"}},
		{func(j *Job) { j.Uncertainty.Rear.SpringRate = 2; j.Front.Sag = 3; j.Schema = "" },
			[]string{"front.sag", "schema", "uncertainty.rear.spring_rate"}},
	} {
		j := readJob(t, jobText)
		u := fullUncertainty()
		j.Uncertainty = &u
		test.spoil(&j)
		_, err := NewSheet(j)
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		slices.Sort(got)
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("(-want +got):\n%s%v", diff, err)
		}
	}
}

// The laws at the wheel are those that the sheet speaks of.
func TestEndSheetWheel(t *testing.T) {
	s, err := NewSheet(readJob(t, jobText))
	if err != nil {
		t.Fatal(err)
	}
	for name, e := range map[string]*EndSheet{"front": &s.Front, "rear": &s.Rear} {
		slow, fast := e.Wheel()
		unitstest.Near(t, name+" load", slow.Force(e.Rest.Travel), e.Load, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" rate", slow.Rate(e.Rest.Travel), e.Rest.WheelRate, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" full force", fast.Force(fast.Travel()), e.Reserve.FullForce, unitstest.Rel(1e-12))
		unitstest.Near(t, name+" travel", e.Curve().Travel(), e.Travel, unitstest.Exact)
	}
	var none EndSheet
	if slow, fast := none.Wheel(); slow != nil || fast != nil || none.Curve() != nil {
		t.Error("laws of no sheet")
	}
}
