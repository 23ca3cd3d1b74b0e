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

// wish asks for the same with a force at full travel.
func wish() airspring.FillSearch {
	q := search()
	q.FullForce = 2600
	return q
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
		if o.Outcome != airspring.FillMet || o.Miss != 0 || o.FullMiss != 0 {
			t.Errorf("%d spacers: %s, misses %v and %v", o.Spacers, o.Outcome, o.Miss, o.FullMiss)
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
	for _, full := range []units.Force{0, 2600} {
		q.Last, q.FullForce = 1000, full
		if list := trials(t, q); len(list) != 11 {
			t.Errorf("%d trials", len(list))
		}
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
			if o.Outcome != airspring.FillMet {
				unitstest.Near(t, "miss", o.Miss, law.Force(q.At)-q.Force, unitstest.Exact)
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
	if o := try(q); o.Outcome != airspring.FillAtMarking || o.Fill != q.MaxFill || o.FillWanted != wanted || !(o.Miss < 0) {
		t.Errorf("just above the marking: %s", o.Outcome)
	}
	q.Force = 1e6
	if o := try(q); o.Outcome != airspring.FillBeyond || o.Fill != q.MaxFill || o.FillWanted != 0 || !(o.Miss < 0) {
		t.Errorf("beyond all: %s %v", o.Outcome, o.Fill)
	}
	q.Force = 1
	if o := try(q); o.Outcome != airspring.FillNone || o.Fill != units.KilopascalGauge(1) || o.FillWanted != 0 || !(o.Miss > 0) {
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

func deepPort(q airspring.FillSearch) airspring.FillSearch {
	q.Spec.PositiveVolume = 203 * cm3
	q.Spec.Shaft, q.Spec.NegativeVolume, q.Spec.PortTravel = 17*mm, 98*cm3, 110*mm
	return q
}

// A hundred thin spacers and a force wanted at full travel: the nearest there first,
// where all meet the sag; the nearest at sag first, where the marking stands in the way
// of all; and those that meet the sag before those that don't.
func TestTrialsBestFirst(t *testing.T) {
	q := wish()
	q.Spec.SpacerVolume, q.Last = 0.8*cm3, 100
	for _, c := range []struct {
		name string
		full units.Force
		max  units.GaugePressure
	}{
		{"met", 2200, 8e5}, {"met", 2600, 8e5}, {"met", 3300, 8e5}, {"met", 1000, 8e5}, {"met", 9000, 8e5},
		{"marked", 2600, 3e5}, {"marked", 900, 3e5},
		{"between", 2600, 4.5e5}, {"between", 3300, 4.4e5},
	} {
		q.FullForce, q.MaxFill = c.full, c.max
		list := trials(t, q)
		if len(list) != 101 {
			t.Fatalf("%s: %d trials", c.name, len(list))
		}
		met := 0
		for i := range list {
			o := &list[i]
			fill, full := byHand(q, o.Spacers)
			unitstest.Near(t, "fill", o.Fill, units.GaugePressure(fill), close12)
			unitstest.Near(t, "miss at full travel", o.FullMiss, units.Force(full)-c.full, unitstest.Abs(1e-8*units.Newton))
			if o.Miss == 0 {
				met++
			}
			if i == 0 {
				continue
			}
			before := &list[i-1]
			switch a, b := -before.Miss, -o.Miss; {
			case a > b:
				t.Errorf("%s, place %d misses the sag by %v, the one before by %v", c.name, i, b, a)
			case a == b && math.Abs(float64(before.FullMiss)) > math.Abs(float64(o.FullMiss)):
				t.Errorf("%s, place %d misses full travel by %v, the one before by %v", c.name, i, o.FullMiss, before.FullMiss)
			}
		}
		if (c.name == "met") != (met == 101) || (c.name == "marked") != (met == 0) {
			t.Errorf("%s: %d meet the sag", c.name, met)
		}
	}

	// What no fill at all could carry gets all that the marking permits, and the most
	// spacers carry the most.
	q = wish()
	q.Force, q.FullForce = 5e5, 6e5
	list := trials(t, q)
	if want := []int{8, 7, 6, 5, 4, 3, 2, 1, 0}; !slices.Equal(spacers(list), want) {
		t.Errorf("%v spacers, want %v", spacers(list), want)
	}
	// Spacers of next to no volume change nothing, and the fewest come first.
	for _, kept := range []bool{false, true} {
		q = wish()
		q.Spec.SpacerVolume = 1e-30
		if kept {
			q.Force, q.At = 0, 0
		}
		if list := trials(t, q); !slices.IsSorted(spacers(list)) {
			t.Errorf("%v spacers of no volume", spacers(list))
		}
	}
	// Those that no fill helps come last: by hand, A·p_a·A·x/(V − A·x) is 20 N without
	// spacers and 29 N with eight.
	q = wish()
	q.Force = 24
	list = trials(t, q)
	helped := slices.IndexFunc(list, func(o airspring.Trial) bool { return o.Outcome == airspring.FillNone })
	if helped < 1 || slices.ContainsFunc(list[helped:], func(o airspring.Trial) bool { return o.Outcome != airspring.FillNone }) {
		t.Errorf("%d are helped of %d", helped, len(list))
	}
}

// Spacers may make more fill pull in harder, short of a port deep in the travel: those
// numbers come last.
func TestTrialsThatPullInComeLast(t *testing.T) {
	q := deepPort(wish())
	mixed := 0
	for at := units.Length(1); at < 95; at++ {
		q.At = at * mm
		list := trials(t, q)
		pulls := func(o airspring.Trial) bool { return o.Outcome == airspring.FillPullsIn }
		first := slices.IndexFunc(list, pulls)
		if first < 1 {
			continue
		}
		mixed++
		if slices.ContainsFunc(list[first:], func(o airspring.Trial) bool { return !pulls(o) }) {
			t.Errorf("at %v one that pulls in comes before one that doesn't", q.At)
		}
	}
	if mixed == 0 {
		t.Error("nowhere do some numbers of spacers pull in")
	}
}

// Where a spacer costs force at sag, short of a port deep in the travel, and all stay
// at the marking, each number misses the sag by more than the one below it, were it
// nearer at full travel, and needs more fill for the sag.
func TestTrialsWhereSpacersCostSag(t *testing.T) {
	q := deepPort(wish())
	q.Spec.SpacerVolume = 0.3 * cm3
	q.At, q.Force, q.FullForce, q.MaxFill, q.Last = 95*mm, 1000, 1e5, 5e5, 50
	list := trials(t, q)
	if len(list) != 51 {
		t.Fatalf("%d trials", len(list))
	}
	for i := range list {
		o := &list[i]
		spec := q.Spec
		spec.Fill, spec.Exponent, spec.Spacers = q.MaxFill, 1, o.Spacers
		sag, _ := textbook(spec, 0.095)
		unitstest.Near(t, "sag miss", float64(o.Miss), sag-1000, unitstest.Rel(1e-9))
		if o.Spacers != i {
			t.Errorf("place %d has %d spacers", i, o.Spacers)
		}
		if i == 0 {
			continue
		}
		if before := &list[i-1]; o.Outcome == airspring.FillAtMarking && !(o.FillWanted > before.FillWanted) {
			t.Errorf("%d spacers need %v, one less %v", o.Spacers, o.FillWanted, before.FillWanted)
		} else if !(o.Miss < before.Miss && o.Miss > before.Miss-1) || !(math.Abs(float64(o.FullMiss)) < math.Abs(float64(before.FullMiss))) {
			t.Errorf("place %d: %v and %v after %v and %v", i, o.Miss, o.FullMiss, before.Miss, before.FullMiss)
		}
	}
}

// With the fill kept, the nearest number of spacers at full travel comes first: by the
// formula of one chamber, a force a little nearer to one of two neighbours gets that
// one.
func TestTrialsWithTheFillKept(t *testing.T) {
	q := airspring.FillSearch{Spec: one(36, 160, 250, 6, 1.35), Last: 20}
	q.Spec.SpacerVolume = 8 * cm3
	full := func(n int) float64 {
		a := math.Pi / 4 * 0.036 * 0.036
		v := 250e-6 - float64(n)*8e-6
		return a * (701325*math.Pow(v/(v-a*0.16), 1.35) - 101325)
	}
	for n := range 10 {
		for want, share := range map[int]float64{n: 0.49, n + 1: 0.51} {
			force := full(n) + share*(full(n+1)-full(n))
			q.FullForce = units.Force(force)
			got := trials(t, q)[0]
			if got.Spacers != want || got.Outcome != airspring.FillGiven || got.Fill != q.Spec.Fill || got.FillWanted != 0 || got.Miss != 0 {
				t.Errorf("%d spacers for %.0f N, want %d: %s at %v", got.Spacers, force, want, got.Outcome, got.Fill)
			}
			unitstest.Near(t, "force", float64(got.Fast.Force(q.Spec.Travel)), full(want), close12)
			unitstest.Near(t, "miss", float64(got.FullMiss), full(want)-force, unitstest.Abs(1e-8))
		}
	}
	// No more than fit, and none where the wish is softer than all; 10 leave 7.1 cm³.
	for _, c := range []struct {
		force      units.Force
		last, want int
	}{{1e7, 20, 10}, {1e7, 4, 4}, {1, 20, 0}} {
		q.FullForce, q.Last = c.force, c.last
		if got := trials(t, q)[0].Spacers; got != c.want {
			t.Errorf("%d spacers for %v of at most %d, want %d", got, c.force, c.last, c.want)
		}
	}
}

// The spec's own number of spacers is ignored, and so is its fill where one is sought,
// were they nonsense.
func TestIgnoredFillAndSpacers(t *testing.T) {
	for _, number := range []int{0, -5, 7, 5000} {
		for _, fill := range []float64{0, -1, 3e5, 1e12, nan} {
			what := fmt.Sprint(number, " spacers, fill ", fill)
			for _, q := range []airspring.FillSearch{search(), wish()} {
				q.Spec.Spacers, q.Spec.Fill = number, units.GaugePressure(fill)
				list, err := q.Trials()
				wantFields(t, what, err)
				for i := range list {
					want, _ := byHand(q, list[i].Spacers)
					unitstest.Near(t, what, list[i].Fill, units.GaugePressure(want), close12)
				}
			}
			kept := airspring.FillSearch{Spec: search().Spec, FullForce: 1e7, Last: 4}
			kept.Spec.Spacers = number
			if got := trials(t, kept)[0].Spacers; got != 4 {
				t.Errorf("the fill kept, %s: %d", what, got)
			}
		}
	}
}

func TestSearchRefuses(t *testing.T) {
	thin := func(q *airspring.FillSearch) { q.Spec.SpacerVolume = 1e-9 }
	keep := func(q *airspring.FillSearch) { q.At, q.Force = 0, 0 }
	type change = func(*airspring.FillSearch)
	for _, c := range []struct {
		name   string
		change change
		want   []string
	}{
		{"good", func(*airspring.FillSearch) {}, nil},
		{"nothing", func(q *airspring.FillSearch) { *q = airspring.FillSearch{} },
			[]string{"spec.bore", "spec.travel", "spec.positive_volume", "spec.ambient", "spec.exponent", "spec.fill"}},
		{"nothing but a force", func(q *airspring.FillSearch) { *q = airspring.FillSearch{Force: 1} },
			[]string{"spec.bore", "spec.travel", "spec.positive_volume", "spec.ambient", "spec.exponent", "at", "max_fill"}},
		{"NaN", func(q *airspring.FillSearch) {
			q.Force, q.At, q.MaxFill, q.FullForce = units.Force(nan), units.Length(nan), units.GaugePressure(nan), units.Force(nan)
		}, []string{"force", "at", "max_fill", "full_force"}},
		{"no force at sag", func(q *airspring.FillSearch) { q.Force = units.Force(nan) }, []string{"force"}},
		{"no travel", func(q *airspring.FillSearch) { q.Spec.Travel = 0 }, []string{"spec.travel"}},
		{"at full travel", func(q *airspring.FillSearch) { q.At = q.Spec.Travel }, nil},
		{"beyond the travel", func(q *airspring.FillSearch) { q.At = 161 * mm }, []string{"at"}},
		{"a force, but nowhere", func(q *airspring.FillSearch) { q.At = 0 }, []string{"at"}},
		{"end softer than sag", func(q *airspring.FillSearch) { q.FullForce = 500 }, []string{"full_force"}},
		{"as firm at sag as at the end", func(q *airspring.FillSearch) { q.FullForce = q.Force }, []string{"full_force"}},
		{"pulling at the end", func(q *airspring.FillSearch) { keep(q); q.FullForce = -1 }, []string{"full_force"}},
		{"infinite at the end", func(q *airspring.FillSearch) { q.FullForce = units.Force(inf) }, []string{"full_force"}},
		{"a fill to keep", func(q *airspring.FillSearch) { keep(q); q.MaxFill = 0 }, nil},
		{"no fill to keep", func(q *airspring.FillSearch) { keep(q); q.Spec.Fill = 0 }, []string{"spec.fill"}},
		{"fewer than none", func(q *airspring.FillSearch) { q.First = -1 }, []string{"first"}},
		{"last before first", func(q *airspring.FillSearch) { q.First, q.Last = 4, 3 }, []string{"last"}},
		{"1000 spacers", func(q *airspring.FillSearch) { thin(q); q.First, q.Last = 1000, 1000 }, nil},
		{"1001 spacers", func(q *airspring.FillSearch) { thin(q); q.First, q.Last = 1001, 1001 }, []string{"first"}},
		{"up to 1001 spacers", func(q *airspring.FillSearch) { thin(q); q.Last = 1001 }, []string{"last"}},
		{"first leaves nothing", func(q *airspring.FillSearch) { q.First, q.Last = 11, 12 }, []string{"first"}},
		{"one spacer of no volume", func(q *airspring.FillSearch) { q.Spec.SpacerVolume, q.Last = 0, 1 }, []string{"spec.spacer_volume"}},
		{"no spacer needed", func(q *airspring.FillSearch) { q.Spec.SpacerVolume, q.Last = 0, 0 }, nil},
	} {
		q := wish()
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
	for _, q := range []airspring.FillSearch{search(), wish()} {
		if n := testing.AllocsPerRun(50, func() { _, _ = q.Trials() }); n > 2 {
			t.Errorf("%v allocations", n)
		}
	}
}
