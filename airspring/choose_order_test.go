package airspring_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A hundred thin spacers: the nearest at full travel first, where all meet the
// sag; the nearest at sag first, where the marking stands in the way of all; and
// those that meet the sag before those that don't.
func TestChooseOrder(t *testing.T) {
	w := wish()
	w.Spec.SpacerVolume, w.MaxSpacers = 0.8*cm3, 100
	for _, c := range []struct {
		name string
		full units.Force
		max  units.GaugePressure
	}{
		{"met", 2200, 8e5}, {"met", 2600, 8e5}, {"met", 3300, 8e5}, {"met", 1000, 8e5}, {"met", 9000, 8e5},
		{"marked", 2600, 3e5}, {"marked", 900, 3e5},
		{"between", 2600, 4.5e5}, {"between", 3300, 4.4e5},
	} {
		w.FullForce, w.MaxFill = c.full, c.max
		options, err := airspring.Choose(w)
		if err != nil || len(options) != 101 {
			t.Fatalf("%s: %d options, %v", c.name, len(options), err)
		}
		met := 0
		for i, o := range options {
			_, full := byHand(w, o.Spacers)
			unitstest.Near(t, "full force", o.FullForce, units.Force(full), close12)
			if o.SagMiss == 0 {
				met++
			}
			if i == 0 {
				continue
			}
			before := options[i-1]
			switch a, b := -before.SagMiss, -o.SagMiss; {
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
}

// Spacers of next to no volume change nothing: all are equally near, and the
// lowest number comes first.
func TestFewestSpacersOfEqual(t *testing.T) {
	w := wish()
	w.Spec.SpacerVolume = 1e-30
	options, err := airspring.Choose(w)
	if err != nil {
		t.Fatal(err)
	}
	for i, o := range options {
		if o.Spacers != i {
			t.Errorf("place %d has %d spacers", i, o.Spacers)
		}
	}
	spec := w.Spec
	spec.Fill = 5e5
	for _, force := range []units.Force{1000, 9000} {
		got, err := airspring.SpacersFor(spec, force, 8)
		if err != nil || got.Spacers != 0 {
			t.Errorf("%d spacers for %v, %v", got.Spacers, force, err)
		}
	}
}

// What the spec of a wish says of fill and spacers is not looked at, were it
// nonsense; nor what that of a search, of SpacersFor or of FillFor does.
func TestLeftOutOfAccount(t *testing.T) {
	for _, spacers := range []int{0, -5, 7, 5000} {
		for _, fill := range []float64{0, -1, 3e5, 1e12, nan} {
			what := fmt.Sprint(spacers, " spacers, fill ", fill)
			w := wish()
			w.Spec.Spacers, w.Spec.Fill = spacers, units.GaugePressure(fill)
			options, err := airspring.Choose(w)
			wantFields(t, "Choose, "+what, err)
			for _, o := range options {
				want, full := byHand(w, o.Spacers)
				unitstest.Near(t, "fill", o.Fill, units.GaugePressure(want), close12)
				unitstest.Near(t, "full force", o.FullForce, units.Force(full), close12)
			}
			q := search()
			q.Spec.Spacers, q.Spec.Fill = spacers, units.GaugePressure(fill)
			trials, err := airspring.TrySpacers(q)
			wantFields(t, "TrySpacers, "+what, err)
			if len(trials) != 9 {
				t.Errorf("TrySpacers, %s: %d trials", what, len(trials))
			}
			spec := one(36, 160, 250, 6, 1.35)
			spec.SpacerVolume, spec.Spacers = 8*cm3, spacers
			got, err := airspring.SpacersFor(spec, 1e7, 4)
			if err != nil || got.Spacers != 4 {
				t.Errorf("SpacersFor, %s: %d, %v", what, got.Spacers, err)
			}
			spec.Spacers, spec.Fill = 0, units.GaugePressure(fill)
			back, err := airspring.FillFor(spec, 600, 40*mm)
			wantFields(t, "FillFor, "+what, err)
			a := math.Pi / 4 * 0.036 * 0.036
			unitstest.Near(t, "fill", back, units.GaugePressure((600/a+101325)*math.Pow((250e-6-a*0.04)/250e-6, 1.35)-101325), close12)
		}
	}
	// Nor does a spring that takes none need the volume of a spacer.
	w := wish()
	w.Spec.SpacerVolume, w.MaxSpacers = 0, 0
	if options, err := airspring.Choose(w); err != nil || len(options) != 1 {
		t.Errorf("%d options, %v", len(options), err)
	}
}

// Wishes, searches and numbers of spacers at their bounds.
func TestChooseBounds(t *testing.T) {
	thin := func(s *airspring.Spec) { s.SpacerVolume = 1e-9 }
	for _, c := range []struct {
		name   string
		change func(*airspring.Wish)
		want   []string
	}{
		{"sag at full travel", func(w *airspring.Wish) { w.SagTravel = w.Spec.Travel }, nil},
		{"as firm at sag as at the end", func(w *airspring.Wish) { w.FullForce = w.SagForce }, []string{"full_force"}},
		{"1000 spacers", func(w *airspring.Wish) { thin(&w.Spec); w.MaxSpacers = 1000 }, nil},
		{"1001 spacers", func(w *airspring.Wish) { thin(&w.Spec); w.MaxSpacers = 1001 }, []string{"max_spacers"}},
		{"one spacer of no volume", func(w *airspring.Wish) { w.Spec.SpacerVolume, w.MaxSpacers = 0, 1 }, []string{"spec.spacer_volume"}},
		{"no force at the end", func(w *airspring.Wish) { w.FullForce = units.Force(nan) }, []string{"full_force"}},
		{"no force at sag", func(w *airspring.Wish) { w.SagForce = units.Force(nan) }, []string{"sag_force"}},
		{"no travel", func(w *airspring.Wish) { w.Spec.Travel = 0 }, []string{"spec.travel"}},
	} {
		w := wish()
		c.change(&w)
		_, err := airspring.Choose(w)
		wantFields(t, c.name, err, c.want...)
	}
	for _, c := range []struct {
		name   string
		change func(*airspring.Search)
		want   []string
	}{
		{"at full travel", func(q *airspring.Search) { q.At = q.Spec.Travel }, nil},
		{"1000 spacers", func(q *airspring.Search) { thin(&q.Spec); q.First, q.Last = 1000, 1000 }, nil},
		{"1001 spacers", func(q *airspring.Search) { thin(&q.Spec); q.First, q.Last = 1001, 1001 }, []string{"first"}},
		{"up to 1001 spacers", func(q *airspring.Search) { thin(&q.Spec); q.Last = 1001 }, []string{"last"}},
		{"one spacer of no volume", func(q *airspring.Search) { q.Spec.SpacerVolume, q.Last = 0, 1 }, []string{"spec.spacer_volume"}},
	} {
		q := search()
		c.change(&q)
		_, err := airspring.TrySpacers(q)
		wantFields(t, c.name, err, c.want...)
	}
	spec := one(36, 160, 250, 6, 1.35)
	spec.SpacerVolume = 8 * cm3
	for most, want := range map[int][]string{0: {"most"}, 1: nil, 1000: nil, 1001: {"most"}} {
		_, err := airspring.SpacersFor(spec, 2000, most)
		wantFields(t, fmt.Sprint("at most ", most), err, want...)
	}
}

// The volume that comes out counts oil and spacers, and with them is 1 m³ at
// most. By the formula of one chamber, the force of a chamber of 0.9 m³.
func TestVolumeForBounds(t *testing.T) {
	const a, travel = math.Pi / 4 * 0.5 * 0.5, 1.0
	spec := airspring.Spec{Bore: 0.5, Travel: travel, Fill: 5e5, Ambient: airspring.SeaLevel, Exponent: 1.3}
	force := func(v float64) units.Force {
		return units.Force(a * (601325*math.Pow(v/(v-a*travel), 1.3) - 101325))
	}
	for _, c := range []struct {
		volume, oil float64
		good        bool
	}{{0.9, 0, true}, {0.9, 0.09, true}, {0.9, 0.11, false}, {0.9999, 0, true}, {1.0001, 0, false}, {1.4, 0, false}, {1.4, 0.5, false}} {
		spec.OilVolume = units.Volume(c.oil)
		v, err := airspring.VolumeFor(spec, force(c.volume))
		if !c.good {
			wantFields(t, fmt.Sprint(c.volume), err, "force")
			if v != 0 {
				t.Errorf("%v beside the error", v)
			}
			continue
		}
		wantFields(t, fmt.Sprint(c.volume), err)
		unitstest.Near(t, "volume", float64(v), c.volume+c.oil, unitstest.Rel(1e-11))
	}
	// The greatest negative chamber there may be is one still, as is a second one.
	for name, change := range map[string]func(*airspring.Spec){
		"negative": func(s *airspring.Spec) { s.Shaft, s.NegativeVolume, s.PortTravel = 0.2, 1, 0.1 },
		"second":   func(s *airspring.Spec) { s.SecondVolume, s.SecondFill = 1, 6e5 },
	} {
		s := spec
		s.OilVolume, s.PositiveVolume = 0, 0.5
		change(&s)
		want, _ := textbook(s, travel)
		v, err := airspring.VolumeFor(s, units.Force(want))
		wantFields(t, name, err)
		unitstest.Near(t, name, float64(v), 0.5, unitstest.Rel(1e-9))
	}
}

// A fill is found up to 1000 bar and down to a fraction of a pascal. At full
// extension F = A·g, by hand; at 131072 Pa, a power of two, no digit of the ambient
// is rounded, so that no force needs a fill of 0 exactly.
func TestFillForBounds(t *testing.T) {
	s := one(36, 160, 230, 0, 1)
	a := math.Pi / 4 * 0.036 * 0.036
	s.Ambient = 131072
	for _, c := range []struct {
		fill float64
		good bool
	}{{0, false}, {0.5, true}, {0.99e8, true}, {1.2e8, false}} {
		got, err := airspring.FillFor(s, units.Force(a*c.fill), 0)
		if !c.good {
			wantFields(t, fmt.Sprint(c.fill), err, "force")
			continue
		}
		wantFields(t, fmt.Sprint(c.fill), err)
		unitstest.Near(t, "fill", float64(got), c.fill, unitstest.Rel(1e-9))
	}
}

// A spring of two stages too is told to need no fill from one that needs too much;
// and a fill of a round 10 bar is found like any other.
func TestStagedFillOutcomes(t *testing.T) {
	q := search()
	q.Last = 0
	q.Spec.SecondVolume, q.Spec.SecondFill = 60*cm3, units.BarGauge(9)
	for force, want := range map[units.Force]airspring.FillOutcome{5: airspring.FillNone, 500: airspring.FillMet, 1e7: airspring.FillBeyond} {
		q.Force = force
		list, err := airspring.TrySpacers(q)
		if err != nil || len(list) != 1 || list[0].Outcome != want {
			t.Errorf("%v: %v, %v, want %s", force, describe(list), err, want)
		}
	}
	for _, second := range []float64{9, 12} { // behind its stop at 100 mm, and off it
		for _, n := range []float64{1, 1.3} {
			s := one(36, 160, 250, 10, n)
			s.SecondVolume, s.SecondFill = 60*cm3, units.BarGauge(second)
			force, _ := textbook(s, 0.1)
			got, err := airspring.FillFor(s, units.Force(force), 100*mm)
			wantFields(t, "10 bar", err)
			unitstest.Near(t, "10 bar", got.Bar(), 10, unitstest.Rel(1e-12))
		}
	}
}

// Where a spacer costs force at sag, short of a port deep in the travel as in
// TestSpacersRaiseTheFill, and all stay at the marking, each number misses the sag
// by more than the one below it, were it nearer at full travel.
func TestChooseWhereSpacersCostSag(t *testing.T) {
	w := wish()
	w.Spec.PositiveVolume, w.Spec.SpacerVolume = 203*cm3, 0.3*cm3
	w.Spec.Shaft, w.Spec.NegativeVolume, w.Spec.PortTravel = 17*mm, 98*cm3, 110*mm
	w.SagTravel, w.SagForce, w.FullForce, w.MaxFill, w.MaxSpacers = 95*mm, 1000, 1e5, 5e5, 50
	options, err := airspring.Choose(w)
	if err != nil || len(options) != 51 {
		t.Fatalf("%d options, %v", len(options), err)
	}
	for i, o := range options {
		spec := w.Spec
		spec.Fill, spec.Exponent, spec.Spacers = w.MaxFill, 1, o.Spacers
		sag, _ := textbook(spec, 0.095)
		unitstest.Near(t, "sag miss", float64(o.SagMiss), sag-1000, unitstest.Rel(1e-9))
		if o.Spacers != i {
			t.Errorf("place %d has %d spacers", i, o.Spacers)
		}
		if i == 0 {
			continue
		}
		if before := options[i-1]; !(o.SagMiss < before.SagMiss && o.SagMiss > before.SagMiss-1) || !(math.Abs(float64(o.FullMiss)) < math.Abs(float64(before.FullMiss))) {
			t.Errorf("place %d: %v and %v after %v and %v", i, o.SagMiss, o.FullMiss, before.SagMiss, before.FullMiss)
		}
	}
}
