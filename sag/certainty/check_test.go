package certainty_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// refused is the error of both computations, which is the same.
func refused(t *testing.T, s certainty.Setup, u certainty.Uncertainty) error {
	t.Helper()
	b, err := certainty.Propagate(s, u)
	drawn, again := certainty.Simulate(s, u, 100, 1)
	if b != nil && err != nil || drawn != nil && again != nil {
		t.Errorf("an answer beside an error: %v, %v", b, drawn)
	}
	if diff := cmp.Diff(names(err), names(again)); diff != "" {
		t.Errorf("(-propagated +simulated):\n%s", diff)
	}
	return err
}

func TestUncertaintiesAreRefusedByField(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, test := range []struct {
		name  string
		job   setup.Job
		u     certainty.Uncertainty
		class error
		want  []string
	}{
		{"not finite or negative", handJob(), certainty.Uncertainty{RiderMass: -1, BikeMass: units.Mass(nan), UnsprungFront: units.Mass(inf), RearShare: -0.1, Ambient: units.AbsolutePressure(nan),
			Front: certainty.EndUncertainty{HeadAngle: units.Angle(nan), Fill: -1, Exponent: nan}, Rear: certainty.EndUncertainty{LeverRatio: -1, SpringRate: inf, Preload: units.Length(nan), Friction: -1, Reading: units.Length(inf)}},
			units.ErrRange, []string{"rider_mass", "bike_mass", "unsprung_front", "rear_share", "ambient", "front.head_angle", "front.fill", "front.exponent",
				"rear.lever_ratio", "rear.friction", "rear.reading", "rear.spring_rate", "rear.preload"}},
		{"too large", handJob(), certainty.Uncertainty{RiderMass: 80.1, BikeMass: 20.1, UnsprungFront: 20.1, UnsprungRear: 20.1, RearShare: 0.41, Ambient: 98.1e3,
			Front: certainty.EndUncertainty{HeadAngle: 0.53, Fill: 1.1e6, Bore: 0.036, PositiveVolume: 261e-6, OilVolume: 261e-6, GasTemperature: 1.1, Exponent: 1.1},
			Rear:  certainty.EndUncertainty{LeverRatio: 1.1, SpringRate: 1.1, Preload: 0.061, Friction: 981, Reading: 0.061}},
			units.ErrRange, []string{"rider_mass", "bike_mass", "unsprung_front", "unsprung_rear", "rear_share", "ambient", "front.head_angle", "front.fill", "front.gas_temperature", "front.bore",
				"front.positive_volume", "front.oil_volume", "front.exponent", "rear.lever_ratio", "rear.friction", "rear.reading", "rear.spring_rate", "rear.preload"}},
		{"mass centre", centreJob(1.2, 0.7), certainty.Uncertainty{Wheelbase: 0.6, MassCentreBehindFrontAxle: 0.6}, units.ErrRange,
			[]string{"wheelbase", "mass_centre_behind_front_axle"}},
		{"scales", scaleJob(40, 60), certainty.Uncertainty{FrontScale: 41, RearScale: 61}, units.ErrRange, []string{"front_scale", "rear_scale"}},
		{"the least above the size", handJob(), certainty.Uncertainty{RiderMass: units.Mass(math.Nextafter(80, 81)),
			Front: certainty.EndUncertainty{Reading: units.Length(math.Nextafter(tFork, 1))}, Rear: certainty.EndUncertainty{Reading: units.Length(math.Nextafter(tStroke, 1))}},
			units.ErrRange, []string{"rider_mass", "front.reading", "rear.reading"}},
	} {
		err := refused(t, sheet(t, test.job).Setup(), test.u)
		named(t, test.name, err, test.want...)
		if !errors.Is(err, test.class) {
			t.Errorf("%s: %v is not %v", test.name, err, test.class)
		}
		// A job that states it is refused by the same fields.
		test.job.Uncertainty = &test.u
		_, err = setup.NewSheet(test.job)
		var want []string
		for _, name := range test.want {
			want = append(want, "uncertainty."+name)
		}
		named(t, test.name+" of the job's own", err, want...)
	}
	// At the very limits all is well.
	most := certainty.Uncertainty{RiderMass: 80, BikeMass: 20, UnsprungFront: 20, UnsprungRear: 20, RearShare: 0.4, Ambient: 98e3,
		Front: certainty.EndUncertainty{HeadAngle: 30 * units.Degree, Fill: units.BarGauge(10), Bore: 0.035, GasTemperature: 1, PositiveVolume: 260e-6, OilVolume: 260e-6, Exponent: 1, Reading: tFork},
		Rear:  certainty.EndUncertainty{LeverRatio: 1, SpringRate: 1, Preload: tStroke, Friction: 980, Reading: tStroke}}
	propagate(t, handJob(), most)
	_, err := json.Marshal(simulate(t, handJob(), most, 500, 1))
	require.NoError(t, err)
}

// spoil makes every number within v NaN, and lists the names of those fields.
func spoil(v reflect.Value, at string) (list []string) {
	for i := range v.NumField() {
		name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		if f := v.Field(i); f.CanFloat() {
			f.SetFloat(math.NaN())
			list = append(list, at+name)
		} else {
			list = append(list, spoil(f, at+name+".")...)
		}
	}
	return list
}

// An uncertainty of what the bike does not have is left over, as from another spring: it is
// noted with a reason, moves no answer, and is not among the exact inputs.
func TestLeftoverUncertaintiesAreNoted(t *testing.T) {
	everything := certainty.EndUncertainty{HeadAngle: 0.01, LeverRatio: 0.01, TableTravel: 1e-4, Friction: 1, Reading: 1e-4, SpringRate: 0.01, Preload: 1e-4,
		Fill: 1, GasTemperature: 0.01, Bore: 1e-6, Shaft: 1e-6, PositiveVolume: 1e-9, NegativeVolume: 1e-9, PortTravel: 1e-6, OilVolume: 1e-9,
		SpacerVolume: 1e-9, SecondVolume: 1e-9, SecondFill: 1, Exponent: 0.01}
	coils, alone := handJob(), handJob()
	coils.Front.Air, coils.Front.Coil = nil, coils.Rear.Coil
	alone.Front = nil
	ratios := handJob() // whose travels are no input that could be off
	ratios.Rear.Curve = linkage.Spec{Table: &linkage.Table{Travel: []units.Length{0, 0.075, 0.15}, LeverRatio: []float64{2.8, 2.6, 2.4}}}
	for _, test := range []struct {
		name string
		job  setup.Job
		u    certainty.Uncertainty
		want []string
	}{
		{"nothing left over", handJob(), certainty.Uncertainty{RiderMass: 1}, nil},
		{"not of this job", handJob(), certainty.Uncertainty{Wheelbase: 0.01, MassCentreBehindFrontAxle: 0.01, FrontScale: 1, RearScale: 1, Front: everything, Rear: everything},
			[]string{"wheelbase", "mass_centre_behind_front_axle", "front_scale", "rear_scale",
				"front.lever_ratio", "front.table_travel", "front.spring_rate", "front.preload", "front.shaft", "front.negative_volume", "front.port_travel", "front.spacer_volume", "front.second_volume", "front.second_fill",
				"rear.head_angle", "rear.table_travel", "rear.fill", "rear.gas_temperature", "rear.bore", "rear.shaft", "rear.positive_volume", "rear.negative_volume", "rear.port_travel", "rear.oil_volume",
				"rear.spacer_volume", "rear.second_volume", "rear.second_fill", "rear.exponent"}},
		{"a table of ratios", ratios, certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: 1e-4, LeverRatio: 0.01}}, []string{"rear.table_travel"}},
		{"no air", coils, certainty.Uncertainty{Ambient: 100}, []string{"ambient"}},
		{"no front", alone, certainty.Uncertainty{UnsprungFront: 0.1, Front: certainty.EndUncertainty{Fill: 1e3}}, []string{"unsprung_front", "front.fill"}},
		{"scales", scaleJob(40, 60), certainty.Uncertainty{RiderMass: 1, BikeMass: 1, RearShare: 0.01, FrontScale: 1}, []string{"rider_mass", "bike_mass", "rear_share"}},
	} {
		b := propagate(t, test.job, test.u)
		drawn := simulate(t, test.job, test.u, 100, 1)
		var got []string
		for _, left := range b.NotUsed {
			got = append(got, left.Input)
			require.NotEmpty(t, left.Reason, left.Input)
			require.NotContains(t, b.Exact, left.Input)
			require.NotContains(t, fmt.Sprint(b.Rear.Sag.Contributions), left.Input)
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
		if diff := cmp.Diff(b.NotUsed, drawn.NotUsed); diff != "" {
			t.Errorf("%s (-propagated +simulated):\n%s", test.name, diff)
		}
	}
}

// No field of an Uncertainty is forgotten.
func TestEveryFieldIsChecked(t *testing.T) {
	var u certainty.Uncertainty
	want := spoil(reflect.ValueOf(&u).Elem(), "")
	named(t, "all NaN", refused(t, sheet(t, handJob()).Setup(), u), want...)
}

// A setup without ends, without a choice, and with one that Choose did not make is
// refused by its ends, and nothing panics.
func TestSetupWithoutAChoiceIsRefused(t *testing.T) {
	good := sheet(t, handJob()).Setup()
	for name, spoil := range map[string]func(*certainty.Setup){
		"nothing":             func(s *certainty.Setup) { *s = certainty.Setup{Masses: s.Masses} },
		"no curve":            func(s *certainty.Setup) { s.Front.Curve, s.Rear.Curve = nil, nil },
		"no choice":           func(s *certainty.Setup) { s.Front.Choice, s.Rear.Choice = fit.Choice{}, fit.Choice{} },
		"emptied shelf":       func(s *certainty.Setup) { s.Front.Choice, s.Rear.Spec.Coil = fit.Choice{}, &fit.Shelf{} },
		"emptied choices":     func(s *certainty.Setup) { s.Front.Choice.Air, s.Rear.Choice.Coil = &fit.AirAnswer{}, &fit.CoilAnswer{} },
		"the other's choices": func(s *certainty.Setup) { s.Front.Choice, s.Rear.Choice = s.Rear.Choice, s.Front.Choice },
	} {
		s := good
		s.Front, s.Rear = new(*good.Front), new(*good.Rear)
		spoil(&s)
		err := refused(t, s, certainty.Uncertainty{})
		want := []string{"front", "rear"}
		if s.Front == nil && s.Rear == nil {
			want = want[:1] // an end, whichever
		}
		if named(t, name, err, want...); !errors.Is(err, units.ErrMissing) {
			t.Errorf("%s: %v", name, err)
		}
	}
	text, err := json.Marshal(good.Rear.Choice)
	require.NoError(t, err)
	read := good
	read.Rear = new(*good.Rear)
	read.Rear.Choice = fit.Choice{}
	require.NoError(t, json.Unmarshal(text, &read.Rear.Choice))
	named(t, "read from JSON", refused(t, read, certainty.Uncertainty{}), "rear")
}

// What a job has wrong or leaves out is named alone: an uncertainty is not compared
// with it.
func TestUncertaintyOfAJobAtFault(t *testing.T) {
	points := func(travel ...units.Length) func(*setup.Job) {
		return func(j *setup.Job) {
			j.Rear.Curve = linkage.Spec{Table: &linkage.Table{Stroke: []units.Length{0}, Travel: travel}}
		}
	}
	for _, test := range []struct {
		name  string
		spoil func(*setup.Job)
		u     certainty.Uncertainty
		want  []string
	}{
		{"no rider", func(j *setup.Job) { j.Masses.RiderMass = 0 }, certainty.Uncertainty{RiderMass: 1}, []string{"masses.rider_mass"}},
		{"no bore", func(j *setup.Job) { j.Front.Air.Bore = 0 }, certainty.Uncertainty{Front: certainty.EndUncertainty{Bore: 1e-4, Fill: 1e3}}, []string{"front.air.bore"}},
		{"a table of one point", points(0), certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: 1e-4, Reading: 1e-3}}, []string{"rear.curve.table.stroke", "rear.curve.table.travel"}},
		{"a table of a point and nothing", points(), certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: 1e-4}}, []string{"rear.curve.table.stroke", "rear.curve.table.travel"}},
		{"no curve", func(j *setup.Job) { j.Rear.Curve = linkage.Spec{} }, certainty.Uncertainty{Rear: certainty.EndUncertainty{Reading: 2, Preload: 2}}, []string{"rear.curve"}},
		{"no springs", func(j *setup.Job) { j.Rear.Coil.Springs = nil }, certainty.Uncertainty{Rear: certainty.EndUncertainty{SpringRate: 0.1}}, []string{"rear.coil.shelf"}},
		{"too many springs", func(j *setup.Job) { j.Rear.Coil.Springs = make([]fit.ShelfSpring, 1001) }, certainty.Uncertainty{Rear: certainty.EndUncertainty{SpringRate: 0.1}}, []string{"rear.coil.shelf"}},
	} {
		j := handJob()
		test.spoil(&j)
		j.Uncertainty = &test.u
		_, err := setup.NewSheet(j)
		named(t, test.name, err, test.want...)
	}
}

// A table of readings has up to 100 travels beside the first. On a straight one, with
// the target at the k-th of n, w* = k/n·wₙ, only wₙ and wₖ move the stroke there.
func TestTableHasUpToAHundredReadings(t *testing.T) {
	straight := func(n int) setup.Job {
		j := handJob()
		travel := make([]units.Length, n+1)
		for i := range travel {
			travel[i] = tRatio * tStroke * units.Length(i) / units.Length(n)
		}
		table(&j, travel...)
		return j
	}
	u := certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: 1e-5}}
	for _, n := range []int{1, 2, 100} {
		if e := propagate(t, straight(n), u).Rear.IdealRate; e.Dominant != "rear.table_travel" || len(e.Contributions) != 1 {
			t.Errorf("%d travels: %+v", n, e)
		}
		step := tRatio * tStroke / units.Length(n) // up to the mean step
		propagate(t, straight(n), certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: step * 0.999999}})
		err := refused(t, sheet(t, straight(n)).Setup(), certainty.Uncertainty{Rear: certainty.EndUncertainty{TableTravel: step * 1.000001}})
		named(t, fmt.Sprint(n, " travels"), err, "rear.table_travel")
	}
	err := refused(t, sheet(t, straight(101)).Setup(), u)
	if named(t, "101 travels", err, "rear.table_travel"); !errors.Is(err, units.ErrConflict) {
		t.Errorf("101 travels: %v", err)
	}
}

// The rates of a shelf of a thousand err by themselves; only that of the spring which
// is fitted moves an answer.
func TestFittedSpringAloneMovesAnswers(t *testing.T) {
	const u = 0.01
	e := certainty.Uncertainty{Rear: certainty.EndUncertainty{SpringRate: u}}
	alone := propagate(t, shelfJob(68e3), e).Rear
	beside := propagate(t, shelfJob(50e3, 68e3, 76e3, 90e3), e).Rear // 67.2 N/mm are wanted
	near(t, "wheel rate", float64(alone.WheelRate.Value), 68e3/(tRatio*tRatio), 1e-12)
	near(t, "its effect", effectOf(t, beside.WheelRate), 68e3/(tRatio*tRatio)*u, 1e-7)
	alone.Rivals, beside.Rivals = nil, nil
	if diff := cmp.Diff(alone, beside); diff != "" {
		t.Errorf("(-alone +beside others):\n%s", diff)
	}
	rates := make([]units.Stiffness, 1000)
	for i := range rates {
		rates[i] = 30e3 + 100*units.Stiffness(i)
	}
	if s := simulate(t, shelfJob(rates...), e, 100, 1).Rear.Counts.Springs; len(s) != 1000 || s[999].Rate != rates[999] {
		t.Errorf("%d springs", len(s))
	}
}

// A template's sheets state the uncertainty of the rider that each is for: the
// load of another rider is another, and so is what the share does to it.
func TestTemplateStatesTheRidersUncertainty(t *testing.T) {
	j, u := handJob(), certainty.Uncertainty{RearShare: 0.01, RiderMass: 1}
	j.Uncertainty = &u
	template, err := setup.NewTemplate(j)
	require.NoError(t, err)
	s, err := template.Sheet(95)
	require.NoError(t, err)
	e := s.Uncertainty.Rear.Load
	near(t, "load", float64(e.Value), (tShare*(95+tBike)-tUnsprungRear)*tG, 1e-12)
	near(t, "uncertainty", float64(e.Uncertainty), math.Hypot(0.01*(95+tBike), tShare)*tG, 1e-9)
	j.Masses.RiderMass, j.Uncertainty = 95, nil
	if diff := cmp.Diff(propagate(t, j, u), s.Uncertainty); diff != "" {
		t.Errorf("(-of the rider alone +of the template):\n%s", diff)
	}
}

func TestNumberOfDrawsIsBounded(t *testing.T) {
	s := sheet(t, handJob()).Setup()
	for n, good := range map[int]bool{-1: false, 0: false, 99: false, 100: true, 100_000: true, 100_001: false, math.MaxInt32: false} {
		_, err := certainty.Simulate(s, certainty.Uncertainty{RiderMass: -1}, n, 1)
		want := []string{"rider_mass"}
		if !good {
			want = append(want, "draws")
		}
		named(t, fmt.Sprint(n, " draws"), err, want...)
	}
	if drawn := simulate(t, handJob(), certainty.Uncertainty{}, 100, 1); drawn.Draws != 100 || drawn.Rear.Load.Spread.Draws != 100 {
		t.Errorf("%d draws", drawn.Draws)
	}
}
