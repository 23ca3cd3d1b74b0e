package sag

import (
	"context"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// A template is checked as a job is, but for its rider.
func TestNewTemplateTellsOfMassesAndStances(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*Job)
		want   []string
	}{
		{"nothing", func(*Job) {}, nil},
		{"a rider that can't be", func(j *Job) { j.Masses.RiderMass = -1 }, nil},
		{"unsprung masses", func(j *Job) { j.Masses.UnsprungFront, j.Masses.UnsprungRear = -1, -1 }, []string{"masses.unsprung_front", "masses.unsprung_rear"}},
		{"no share", func(j *Job) { j.Masses.RearShare = 0 }, []string{"masses.rear_share"}},
		{"a height alone", func(j *Job) { j.Masses.MassCentreHeight = 1 }, []string{"masses.wheelbase"}},
		{"a bike's share", func(j *Job) { j.Masses.BikeRearShare = 1.5 }, []string{"masses.bike_rear_share"}},
		{"scales beside a share", func(j *Job) { j.Masses.RearScale = 50 }, []string{"masses.front_scale"}},
		{"stances", func(j *Job) { j.Stances = []NamedStance{{"", 0.5}} }, []string{"stances[0].name"}},
		{"no schema", func(j *Job) { j.Schema = "wheelrate/job/2" }, []string{"schema"}},
	} {
		j := readJob(t, jobText)
		test.change(&j)
		b, err := NewTemplate(j)
		named(t, test.name, err, test.want...)
		if (b == nil) != (err != nil) {
			t.Errorf("%s: %v beside %v", test.name, b, err)
		}
	}
	b := template(t)
	for _, rider := range []units.Mass{0, -1, units.Mass(math.NaN()), units.Mass(math.Inf(1))} {
		s, err := b.Sheet(rider)
		refused(t, "rider", s, err, "masses.rider_mass")
	}
	if s, err := b.Sheet(0.5); err != nil || s.RiderMass != 0.5 {
		t.Errorf("half a kilogram: %v", err)
	}
}

// A job that is cancelled before its first sheet yields the one pair that says so.
func TestSheetsCancelledBeforeTheFirst(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	n := 0
	for s, err := range template(t).Sheets(ctx, massesFrom(100), 2) {
		n++
		if s != nil || err != context.Canceled {
			t.Errorf("%v, %v", s, err)
		}
	}
	if n != 1 {
		t.Errorf("%d pairs", n)
	}
	// With no riders there is nothing to yield.
	for s, err := range template(t).Sheets(context.Background(), slices.Values([]units.Mass(nil)), -3) {
		t.Errorf("%v, %v", s, err)
	}
}

// risingEnd has a ratio LR = 2 + 20/m·s, behind which 20 N/mm with 120 mm of preload
// push less the further they go, by hand 20·(s + 120)/(2 + 20·s): its rate is below 0
// all the way, and nothing bounces on it.
func risingEnd() EndJob {
	var table linkage.Table
	for s := 0.0; s < 61; s += 5 {
		table.Stroke = append(table.Stroke, units.Length(s*mm))
		table.Travel = append(table.Travel, units.Length((2*s+0.010*s*s)*mm))
	}
	table.Method = linkage.Smooth
	return EndJob{Curve: linkage.Spec{Table: &table}, Sag: 0.28, Coil: &CoilChoice{
		Shelf: []ShelfSpring{{Rate: 20e3, SolidTravel: 0.3}}, PreloadMin: 0.12, PreloadMax: 0.12}}
}

func TestNoFrequencyRatioWithoutAFrequency(t *testing.T) {
	j := plainJob(t)
	j.Rear = risingEnd()
	s := sheet(t, j)
	if s.Rear.FastFrequency != 0 || s.FrequencyRatio != 0 || !(s.Front.FastFrequency > 0) {
		t.Errorf("%v over %v: %v", s.Front.FastFrequency, s.Rear.FastFrequency, s.FrequencyRatio)
	}
	if !slices.Contains(codes(s), "rear rate_not_positive") {
		t.Errorf("%v", codes(s))
	}
	// The plain job's, by hand: 9 N/mm under 38 kg over 12.8 N/mm under 57 kg.
	near(t, "ratio", sheet(t, plainJob(t)).FrequencyRatio, math.Sqrt(9e3/38/(12.8e3/57)), 1e-12)
	// Below 1 Hz too: 0.5 N/mm at both ends, under 40 and 60 parts of the weight.
	j = softJob(t)
	j.Masses.RearShare = 0.6
	s = sheet(t, j)
	near(t, "slow ratio", s.FrequencyRatio, math.Sqrt(60./40), 1e-12)
	if !(s.Rear.FastFrequency < 1) {
		t.Errorf("%v", s.Rear.FastFrequency)
	}
}

// What an end says of itself, by hand: 57 kg on 80 N/mm with 1 mm of preload behind 2.5.
func TestEndByHand(t *testing.T) {
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
	for i, want := range []Measurement{
		{"stroke", e.Rest.Stroke, e.Rest.Stroke, e.Rest.Stroke}, {"wheel", e.Rest.Travel, e.Rest.Travel, e.Rest.Travel},
	} {
		if e.Measure[i] != want {
			t.Errorf("%+v, want %+v", e.Measure[i], want)
		}
	}
}

// An air spring that states its own travel may be longer than the curve's stroke, but
// not shorter, and what is wrong with the curve is told without it.
func TestAirTravelAtItsLimit(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*Job)
		want   []string
	}{
		{"the stroke", func(j *Job) { j.Rear.Air.Travel = 0.06 }, nil},
		{"less", func(j *Job) { j.Rear.Air.Travel = units.Length(justBelow(0.06)) }, []string{"rear.air.travel"}},
		{"more", func(j *Job) { j.Rear.Air.Travel = 0.061 }, nil},
		{"left out", func(j *Job) { j.Rear.Air.Travel = 0 }, nil},
		{"of a curve that is none", func(j *Job) { j.Rear.Curve.ConstantRatio.Ratio, j.Rear.Air.Travel = -1, 0.06 }, []string{"rear.curve.constant.ratio"}},
		{"both kinds", func(j *Job) { j.Rear.Coil = &CoilChoice{} }, []string{"rear.coil"}},
		{"neither", func(j *Job) { j.Rear.Air = nil }, []string{"rear.coil"}},
		{"friction", func(j *Job) { j.Rear.Friction = -1 }, []string{"rear.friction"}},
		{"the least sag", func(j *Job) { j.Rear.Sag = justBelow(1e-6) }, []string{"rear.sag"}},
	} {
		j := plainJob(t)
		j.Rear.Coil, j.Rear.Air = nil, &AirChoice{Spec: airspring.Spec{Bore: bore, Travel: stroke, PositiveVolume: volume, Ambient: ambient, Exponent: fast}, MaxFill: 4e6}
		test.change(&j)
		_, err := NewSheet(j)
		if test.name == "of a curve that is none" {
			if !strings.Contains(strings.Join(names(err), "\n"), "rear.curve") || strings.Contains(strings.Join(names(err), "\n"), "rear.air") {
				t.Errorf("%s: %v", test.name, err)
			}
			continue
		}
		named(t, test.name, err, test.want...)
	}
}

// The bytes of a job are counted: as many as JobLimit are read, one more is not.
func TestJobAtItsLimit(t *testing.T) {
	_, err := ReadJob(strings.NewReader(jobText + strings.Repeat(" ", JobLimit-len(jobText))))
	require.NoError(t, err)
	_, err = ReadJob(strings.NewReader(jobText + strings.Repeat(" ", JobLimit-len(jobText)+1)))
	require.Error(t, err)
}

// Every fault of a job says which package found it.
func TestFaultsOfAJobSayTheirPackage(t *testing.T) {
	j := readJob(t, jobText)
	j.Schema, j.Masses.BikeMass, j.Masses.UnsprungRear = "", -1, -1
	j.Front.Sag, j.Front.Air.MaxFill, j.Front.Friction = 2, -1, -1
	j.Rear.Coil.Shelf[0].Rate, j.Rear.Coil.PreloadMax, j.Rear.DampingRatio = -1, -1, 30
	for name, err := range map[string]error{"sheet": second(NewSheet(j)), "template": second(NewTemplate(j))} {
		fields := units.Fields(err)
		if len(fields) < 9 {
			t.Errorf("%s: %v", name, err)
		}
		for _, f := range fields {
			if f.Package != "sag" {
				t.Errorf("%s: %s is told by %q", name, f.Field, f.Package)
			}
		}
	}
	s := coilEnd()
	s.Sag, s.Coil.Rate = 2, -1
	_, err := NewChanged(Change{From: Situation{Masses{}, at(1000, 0)}, To: Situation{Masses: rider(80)}, Rear: &s})
	for _, f := range units.Fields(err) {
		if f.Package == "" {
			t.Errorf("%s is told by nobody", f.Field)
		}
	}
}

// As many goroutines work as were asked for, one at the least, beside the one that
// asks for the riders.
func TestSheetsWorkersAreCounted(t *testing.T) {
	b := template(t)
	for _, workers := range []int{-1, 0, 1, 2, 3} {
		endless := func(yield func(units.Mass) bool) {
			for yield(75) {
			}
		}
		before, most := runtime.NumGoroutine(), 0
		n := 0
		for range b.Sheets(context.Background(), endless, workers) {
			most = max(most, runtime.NumGoroutine()-before)
			if n++; n == 100 {
				break
			}
		}
		if want := max(1, workers) + 1; most > want {
			t.Errorf("%d workers: %d goroutines, want at most %d", workers, most, want)
		}
	}
}
