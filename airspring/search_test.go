package airspring_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// search asks for a fork (invented) of one chamber, which ten spacers fit.
func search() airspring.FillSearch {
	s := one(36, 160, 250, 3, 1.35)
	s.SpacerVolume, s.Spacers = 8*cm3, 2
	return airspring.FillSearch{Spec: s, Force: 600, At: 40 * mm, MaxFill: units.BarGauge(8), Last: 8}
}

func trials(t *testing.T, q airspring.FillSearch) []airspring.Trial {
	t.Helper()
	list, err := q.Trials()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// byHand is the fill for the sag with n spacers and the force of the fast stroke at
// full travel, by the formulas of one chamber.
func byHand(q airspring.FillSearch, n int) (fill, full float64) {
	a := math.Pi / 4 * float64(q.Spec.Bore*q.Spec.Bore)
	v := float64(q.Spec.PositiveVolume) - float64(n)*float64(q.Spec.SpacerVolume)
	absolute := (float64(q.Force)/a + 101325) * (v - a*float64(q.At)) / v
	absolute = min(absolute, float64(q.MaxFill)+101325)
	return absolute - 101325, a * (absolute*math.Pow(v/(v-a*float64(q.Spec.Travel)), q.Spec.Exponent) - 101325)
}

// spacers lists the numbers of spacers in the order of the trials.
func spacers(list []airspring.Trial) []int {
	var numbers []int
	for i := range list {
		numbers = append(numbers, list[i].Spacers)
	}
	return numbers
}

func TestTrialsByHand(t *testing.T) {
	q := search()
	q.First = 1
	list := trials(t, q)
	if want := []int{1, 2, 3, 4, 5, 6, 7, 8}; !slices.Equal(spacers(list), want) {
		t.Fatalf("%v spacers, want %v", spacers(list), want)
	}
	for i := range list {
		o := &list[i]
		if o.Outcome != airspring.FillMet {
			t.Errorf("%d spacers: %s", o.Spacers, o.Outcome)
		}
		fill, full := byHand(q, o.Spacers)
		unitstest.Near(t, "fill", o.Fill, units.GaugePressure(fill), close12)
		unitstest.Near(t, "wanted", o.FillWanted, o.Fill, unitstest.Exact)
		unitstest.Near(t, "sag force", o.Slow.Force(q.At), q.Force, close12)
		unitstest.Near(t, "full force", o.Fast.Force(q.Spec.Travel), units.Force(full), close12)
		if spec := o.Slow.Spec(); spec.Exponent != 1 || spec.Fill != o.Fill || spec.Spacers != o.Spacers {
			t.Errorf("slow %+v", spec)
		}
		if spec := o.Fast.Spec(); spec.Exponent != 1.35 || spec.Fill != o.Fill || spec.Spacers != o.Spacers {
			t.Errorf("fast %+v", spec)
		}
		// One chamber: each spacer needs less fill than the one before.
		if i > 0 && !(o.Fill < list[i-1].Fill) {
			t.Errorf("%d spacers need %v, one less %v", o.Spacers, o.Fill, list[i-1].Fill)
		}
	}
	// As many as leave a chamber: (250 − 162.9)/8 cm³ are 10.
	q = search()
	q.Last = 1000
	if list := trials(t, q); len(list) != 11 {
		t.Errorf("%d trials", len(list))
	}
}

// Whatever the chambers, a trial is FillFor and New, limited by the marking; with a
// second chamber too.
func TestTrialsAreFillsForTheSag(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	seen := map[airspring.FillOutcome]int{}
	classes := map[airspring.FillOutcome]error{airspring.FillPullsIn: airspring.ErrFillPullsIn, airspring.FillNone: airspring.ErrNoFill, airspring.FillBeyond: airspring.ErrFillBeyond}
	for i := range 400 {
		spec := randomSpec(rng)
		spec.SpacerVolume, spec.Spacers = units.Volume(float64(spec.PositiveVolume)*0.02), 0
		if i%4 == 0 {
			spec.SecondVolume, spec.SecondFill = spec.PositiveVolume/3, spec.Fill*2
		}
		q := airspring.FillSearch{Spec: spec, At: spec.Travel * units.Length(0.02+0.5*rng.Float64()), MaxFill: spec.Fill, Last: 3}
		q.Force = units.Force(math.Pow(10, 1+3*rng.Float64()))
		list := trials(t, q)
		for k := range list {
			o := &list[k]
			seen[o.Outcome]++
			slow := spec
			slow.Exponent, slow.Spacers = 1, o.Spacers
			fill, err := airspring.FillFor(slow, q.Force, q.At)
			if o.Outcome == airspring.FillMet || o.Outcome == airspring.FillAtMarking {
				unitstest.Near(t, "fill", o.FillWanted, fill, unitstest.Exact)
				if o.Fill != min(fill, q.MaxFill) || (o.Outcome == airspring.FillMet) != (fill <= q.MaxFill) {
					t.Errorf("%s: %v of %v, marked %v", o.Outcome, o.Fill, fill, q.MaxFill)
				}
			} else if !errors.Is(err, classes[o.Outcome]) || !errors.Is(err, units.ErrRange) {
				t.Errorf("%s: %v", o.Outcome, err)
			}
			if o.Fill > q.MaxFill {
				t.Errorf("%v is above the marking", o.Fill)
			}
			if o.Outcome == airspring.FillPullsIn {
				continue
			}
			slow.Fill = o.Fill
			law := make1(t, slow)
			for _, x := range []units.Length{0, q.At, spec.Travel} {
				unitstest.Near(t, "force", o.Slow.Force(x), law.Force(x), close12, unitstest.Abs(1e-9*units.Newton))
			}
		}
	}
	for _, o := range []airspring.FillOutcome{airspring.FillMet, airspring.FillAtMarking, airspring.FillNone} {
		if seen[o] < 20 {
			t.Errorf("%s only %d times", o, seen[o])
		}
	}
}

// The outcomes at their limits.
func TestTrialOutcomes(t *testing.T) {
	q := search()
	q.Last = 0
	try := func(q airspring.FillSearch) *airspring.Trial {
		t.Helper()
		list := trials(t, q)
		if len(list) != 1 {
			t.Fatalf("%d trials", len(list))
		}
		return &list[0]
	}
	wanted := try(q).FillWanted
	q.MaxFill = wanted
	if o := try(q); o.Outcome != airspring.FillMet || o.Fill != wanted {
		t.Errorf("at the marking: %s", o.Outcome)
	}
	q.MaxFill = wanted * (1 - 1e-12)
	if o := try(q); o.Outcome != airspring.FillAtMarking || o.Fill != q.MaxFill || o.FillWanted != wanted {
		t.Errorf("just above the marking: %s", o.Outcome)
	}
	q.Force = 1e6
	if o := try(q); o.Outcome != airspring.FillBeyond || o.Fill != q.MaxFill || o.FillWanted != 0 {
		t.Errorf("beyond all: %s %v", o.Outcome, o.Fill)
	}
	q.Force = 1
	if o := try(q); o.Outcome != airspring.FillNone || o.Fill != units.KilopascalGauge(1) || o.FillWanted != 0 {
		t.Errorf("no fill: %s %v", o.Outcome, o.Fill)
	}
	q.MaxFill = 500
	if o := try(q); o.Fill != 500 {
		t.Errorf("no fill, and marked lower than the least: %v", o.Fill)
	}
	q = search()
	q.Last = 0
	q.Spec.Shaft, q.Spec.NegativeVolume, q.Spec.PortTravel = 10*mm, 3*cm3, 30*mm
	q.At = 0.1 * mm
	if o := try(q); o.Outcome != airspring.FillPullsIn || o.Fill != 0 || o.Slow.Travel() != 0 {
		t.Errorf("pulled in: %s %v", o.Outcome, o.Fill)
	}
	q = search()
	q.Last = 0
	q.Spec.SecondVolume, q.Spec.SecondFill = 60*cm3, units.BarGauge(9)
	for force, want := range map[units.Force]airspring.FillOutcome{5: airspring.FillNone, 500: airspring.FillMet, 1e7: airspring.FillBeyond} {
		if q.Force = force; try(q).Outcome != want {
			t.Errorf("two stages, %v: %s, want %s", force, try(q).Outcome, want)
		}
	}
}

// The spec's own number of spacers and its fill are ignored, were they nonsense.
func TestIgnoredFillAndSpacers(t *testing.T) {
	for _, number := range []int{0, -5, 7, 5000} {
		for _, fill := range []float64{0, -1, 3e5, 1e12, nan} {
			what := fmt.Sprint(number, " spacers, fill ", fill)
			q := search()
			q.Spec.Spacers, q.Spec.Fill = number, units.GaugePressure(fill)
			list, err := q.Trials()
			wantFields(t, what, err)
			for i := range list {
				want, _ := byHand(q, list[i].Spacers)
				unitstest.Near(t, what, list[i].Fill, units.GaugePressure(want), close12)
			}
		}
	}
}

func TestSearchRefuses(t *testing.T) {
	thin := func(q *airspring.FillSearch) { q.Spec.SpacerVolume = 1e-9 }
	type change = func(*airspring.FillSearch)
	for _, c := range []struct {
		name   string
		change change
		want   []string
	}{
		{"good", func(*airspring.FillSearch) {}, nil},
		{"nothing", func(q *airspring.FillSearch) { *q = airspring.FillSearch{} },
			[]string{"spec.bore", "spec.travel", "spec.positive_volume", "spec.ambient", "spec.exponent", "at", "max_fill"}},
		{"nothing but a force", func(q *airspring.FillSearch) { *q = airspring.FillSearch{Force: 1} },
			[]string{"spec.bore", "spec.travel", "spec.positive_volume", "spec.ambient", "spec.exponent", "at", "max_fill"}},
		{"NaN", func(q *airspring.FillSearch) {
			q.Force, q.At, q.MaxFill = units.Force(nan), units.Length(nan), units.GaugePressure(nan)
		}, []string{"force", "at", "max_fill"}},
		{"no force at sag", func(q *airspring.FillSearch) { q.Force = units.Force(nan) }, []string{"force"}},
		{"no travel", func(q *airspring.FillSearch) { q.Spec.Travel = 0 }, []string{"spec.travel"}},
		{"at full travel", func(q *airspring.FillSearch) { q.At = q.Spec.Travel }, nil},
		{"beyond the travel", func(q *airspring.FillSearch) { q.At = 161 * mm }, []string{"at"}},
		{"a force, but nowhere", func(q *airspring.FillSearch) { q.At = 0 }, []string{"at"}},
		{"fewer than none", func(q *airspring.FillSearch) { q.First = -1 }, []string{"first"}},
		{"last before first", func(q *airspring.FillSearch) { q.First, q.Last = 4, 3 }, []string{"last"}},
		{"1000 spacers", func(q *airspring.FillSearch) { thin(q); q.First, q.Last = 1000, 1000 }, nil},
		{"1001 spacers", func(q *airspring.FillSearch) { thin(q); q.First, q.Last = 1001, 1001 }, []string{"first"}},
		{"up to 1001 spacers", func(q *airspring.FillSearch) { thin(q); q.Last = 1001 }, []string{"last"}},
		{"first leaves nothing", func(q *airspring.FillSearch) { q.First, q.Last = 11, 12 }, []string{"first"}},
		{"one spacer of no volume", func(q *airspring.FillSearch) { q.Spec.SpacerVolume, q.Last = 0, 1 }, []string{"spec.spacer_volume"}},
		{"no spacer needed", func(q *airspring.FillSearch) { q.Spec.SpacerVolume, q.Last = 0, 0 }, nil},
	} {
		q := search()
		c.change(&q)
		list, err := q.Trials()
		wantFields(t, c.name, err, c.want...)
		if (list == nil) != (c.want != nil) {
			t.Errorf("%s: %d trials", c.name, len(list))
		}
	}
}

// Budget: 4 µs for seven numbers of spacers, and two allocations, the list and the
// checks.
func BenchmarkTrials(b *testing.B) {
	q := search()
	q.Last = 6
	b.ReportAllocs()
	for b.Loop() {
		if _, err := q.Trials(); err != nil {
			b.Fatal(err)
		}
	}
}

func TestTrialsAllocateLittle(t *testing.T) {
	q := search()
	if n := testing.AllocsPerRun(50, func() { _, _ = q.Trials() }); n > 2 {
		t.Errorf("%v allocations", n)
	}
}
