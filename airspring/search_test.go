package airspring_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func search() airspring.Search {
	s := one(36, 160, 250, 3, 1.35)
	s.SpacerVolume, s.Spacers = 8*cm3, 2
	return airspring.Search{Spec: s, Force: 600, At: 40 * mm, MaxFill: units.BarGauge(8), Last: 8}
}

// By the formulas of one chamber, written out in choose_test.go.
func TestTrySpacers(t *testing.T) {
	q := search()
	q.First = 1
	trials, err := airspring.TrySpacers(q)
	if err != nil || len(trials) != 8 {
		t.Fatalf("%d trials, %v", len(trials), err)
	}
	w := wish()
	for i := range trials {
		o := &trials[i]
		if o.Spacers != i+1 || o.Outcome != airspring.FillMet {
			t.Errorf("trial %d: %d spacers, %s", i, o.Spacers, o.Outcome)
		}
		fill, full := byHand(w, o.Spacers)
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
		if i > 0 && !(o.Fill < trials[i-1].Fill) {
			t.Errorf("%d spacers need %v, one less %v", o.Spacers, o.Fill, trials[i-1].Fill)
		}
	}
}

// Whatever the chambers, a trial is FillFor and New, limited by the marking; with a
// second chamber too.
func TestTrySpacersIsFillFor(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 32))
	seen := map[airspring.FillOutcome]int{}
	for i := range 400 {
		spec := randomSpec(rng)
		spec.SpacerVolume, spec.Spacers = units.Volume(float64(spec.PositiveVolume)*0.02), 0
		if i%4 == 0 {
			spec.SecondVolume, spec.SecondFill = spec.PositiveVolume/3, spec.Fill*2
		}
		q := airspring.Search{Spec: spec, At: spec.Travel * units.Length(0.02+0.5*rng.Float64()), MaxFill: spec.Fill, Last: 3}
		q.Force = units.Force(math.Pow(10, 1+3*rng.Float64()))
		trials, err := airspring.TrySpacers(q)
		if err != nil {
			t.Fatal(err)
		}
		for k := range trials {
			o := &trials[k]
			seen[o.Outcome]++
			slow := spec
			slow.Exponent, slow.Spacers = 1, o.Spacers
			fill, err := airspring.FillFor(slow, q.Force, q.At)
			switch o.Outcome {
			case airspring.FillMet, airspring.FillAtMarking:
				unitstest.Near(t, "fill", o.FillWanted, fill, unitstest.Exact)
				if o.Fill != min(fill, q.MaxFill) || (o.Outcome == airspring.FillMet) != (fill <= q.MaxFill) {
					t.Errorf("%s: %v of %v, marked %v", o.Outcome, o.Fill, fill, q.MaxFill)
				}
			default:
				want := "force"
				if o.Outcome == airspring.FillPullsIn {
					want = "at"
				}
				wantFields(t, string(o.Outcome), err, want)
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
func TestTrySpacersOutcomes(t *testing.T) {
	q := search()
	q.Last = 0
	try := func(q airspring.Search) airspring.Trial {
		t.Helper()
		list, err := airspring.TrySpacers(q)
		if err != nil || len(list) != 1 {
			t.Fatalf("%d trials, %v", len(list), err)
		}
		return list[0]
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
}

// A negative chamber can turn round what spacers do to the fill, where the spring
// rests short of a port deep in its travel (an invented and unlikely one). By the equation of FillFor, worked out for both numbers.
func TestSpacersRaiseTheFill(t *testing.T) {
	q := search()
	q.Spec.PositiveVolume = 203 * cm3
	q.Spec.Shaft, q.Spec.NegativeVolume, q.Spec.PortTravel = 17*mm, 98*cm3, 110*mm
	q.Last, q.MaxFill = 1, units.BarGauge(50)
	for _, c := range []struct {
		at     units.Length
		force  units.Force
		raises bool
	}{{95 * mm, 60, true}, {130 * mm, 900, false}} {
		q.At, q.Force = c.at, c.force
		list, err := airspring.TrySpacers(q)
		if err != nil || len(list) != 2 {
			t.Fatal(err)
		}
		var fill [2]float64
		for n := range fill {
			ap, as := math.Pi/4*0.036*0.036, math.Pi/4*0.017*0.017
			an := ap - as
			v, vn, xt, x := 203e-6-float64(n)*8e-6, 98e-6, 0.11, float64(c.at)
			coefficient := ap*v/(v-ap*x) - an*(v/(v-ap*xt)*(vn+an*xt)/vn)*vn/(vn+an*x)
			fill[n] = (float64(c.force)+as*101325)/coefficient - 101325
			unitstest.Near(t, "fill", float64(list[n].FillWanted), fill[n], unitstest.Rel(1e-11))
		}
		if (fill[1] > fill[0]) != c.raises {
			t.Errorf("at %v a spacer takes the fill from %g to %g", c.at, fill[0], fill[1])
		}
	}
}

func TestTrySpacersRefuses(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*airspring.Search)
		want   []string
	}{
		{"good", func(*airspring.Search) {}, nil},
		{"nothing", func(q *airspring.Search) { *q = airspring.Search{} },
			[]string{"spec.bore", "spec.travel", "spec.positive_volume", "spec.ambient", "spec.exponent", "at", "max_fill"}},
		{"NaN", func(q *airspring.Search) {
			q.Force, q.At, q.MaxFill = units.Force(nan), units.Length(nan), units.GaugePressure(nan)
		}, []string{"force", "at", "max_fill"}},
		{"beyond the travel", func(q *airspring.Search) { q.At = 161 * mm }, []string{"at"}},
		{"below none", func(q *airspring.Search) { q.First = -1 }, []string{"first"}},
		{"last before first", func(q *airspring.Search) { q.First, q.Last = 4, 3 }, []string{"last"}},
		{"too many", func(q *airspring.Search) { q.Last = 1001 }, []string{"last"}},
		{"first leaves nothing", func(q *airspring.Search) { q.First, q.Last = 11, 12 }, []string{"first"}},
		{"no spacer", func(q *airspring.Search) { q.Spec.SpacerVolume = 0 }, []string{"spec.spacer_volume"}},
		{"no spacer needed", func(q *airspring.Search) { q.Spec.SpacerVolume, q.Last = 0, 0 }, nil},
	} {
		q := search()
		c.change(&q)
		list, err := airspring.TrySpacers(q)
		wantFields(t, c.name, err, c.want...)
		if (list == nil) != (c.want != nil) {
			t.Errorf("%s: %d trials", c.name, len(list))
		}
	}
	q := search()
	q.Last = 1000 // (250 − 162.9)/8 leaves 10
	if list, err := airspring.TrySpacers(q); err != nil || len(list) != 11 {
		t.Errorf("%d trials, %v", len(list), err)
	}
}

// Budget: 1.5 µs for seven numbers of spacers, and one allocation, the list.
func BenchmarkTrySpacers(b *testing.B) {
	q := search()
	q.Last = 6
	b.ReportAllocs()
	for b.Loop() {
		if _, err := airspring.TrySpacers(q); err != nil {
			b.Fatal(err)
		}
	}
}

func TestTrySpacersAllocatesItsListOnly(t *testing.T) {
	q := search()
	if n := testing.AllocsPerRun(50, func() { _, _ = airspring.TrySpacers(q) }); n > 1 {
		t.Errorf("%v allocations", n)
	}
}
