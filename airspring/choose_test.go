package airspring_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// V₀ = A·L·r/(r − 1), computed with mpmath in 40 digits for an invented fork; and
// whatever comes out, put back in, has the force.
func TestVolumeFor(t *testing.T) {
	s := one(36, 160, 0, 5, 1.3)
	v, err := airspring.VolumeFor(s, 3500)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "volume", v, 0.0002188196270777138, close12)
	s.OilVolume, s.SpacerVolume, s.Spacers = 4*cm3, 7*cm3, 2
	more, err := airspring.VolumeFor(s, 3500)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "with oil and spacers", more, v+18*cm3, close12)

	rng := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		s := randomSpec(rng)
		if rng.IntN(3) == 0 {
			s.SecondVolume, s.SecondFill = 40*cm3, s.Fill*units.GaugePressure(0.9+2*rng.Float64())
		}
		force := make1(t, s).Force(s.Travel)
		v, err := airspring.VolumeFor(s, force)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "volume", v, s.PositiveVolume, unitstest.Rel(1e-9))
		s.PositiveVolume = v
		unitstest.Near(t, "force", make1(t, s).Force(s.Travel), force, unitstest.Rel(1e-9))
	}
}

func TestVolumeForRefuses(t *testing.T) {
	s := one(36, 160, 0, 5, 1.3)
	two := twoRows[0].spec()
	for _, c := range []struct {
		name  string
		spec  airspring.Spec
		force float64
		want  []string
	}{
		{"no more than at full extension", s, 508, []string{"force"}},
		{"pulling", s, -2000, []string{"force"}},
		{"beyond any chamber", s, 1e20, []string{"force"}},
		{"NaN", s, nan, []string{"force"}},
		{"hardly more than at full extension", s, 508.95, []string{"force"}},
		{"two chambers, too soft", two, 1, []string{"force"}},
		{"two chambers, too hard", two, 1e25, []string{"force"}},
		{"nothing", airspring.Spec{}, inf, []string{"bore", "travel", "fill", "ambient", "exponent", "force"}},
	} {
		v, err := airspring.VolumeFor(c.spec, units.Force(c.force))
		wantFields(t, c.name, err, c.want...)
		if v != 0 {
			t.Errorf("%s: %v beside the error", c.name, v)
		}
	}
}

func wish() airspring.Wish {
	s := one(36, 160, 250, 0, 1.35)
	s.SpacerVolume = 8 * cm3
	return airspring.Wish{Spec: s, SagForce: 600, SagTravel: 40 * mm, FullForce: 2600, MaxFill: units.BarGauge(8), MaxSpacers: 8}
}

// By the formulas of one chamber, written out: the fill for the sag with n spacers
// and the force of the fast stroke at the end.
func byHand(w airspring.Wish, n int) (fill, full float64) {
	a := math.Pi / 4 * float64(w.Spec.Bore*w.Spec.Bore)
	v := float64(w.Spec.PositiveVolume) - float64(n)*float64(w.Spec.SpacerVolume)
	absolute := (float64(w.SagForce)/a + 101325) * (v - a*float64(w.SagTravel)) / v
	absolute = min(absolute, float64(w.MaxFill)+101325)
	return absolute - 101325, a * (absolute*math.Pow(v/(v-a*float64(w.Spec.Travel)), w.Spec.Exponent) - 101325)
}

func TestChoose(t *testing.T) {
	w := wish()
	options, err := airspring.Choose(w)
	if err != nil {
		t.Fatal(err)
	}
	if len(options) != 9 {
		t.Fatalf("%d options", len(options))
	}
	best, nearest := -1, math.Inf(1)
	for n := range 9 {
		if _, full := byHand(w, n); math.Abs(full-2600) < nearest {
			best, nearest = n, math.Abs(full-2600)
		}
	}
	if options[0].Spacers != best || best == 0 || best == 8 {
		t.Errorf("%d spacers, want %d", options[0].Spacers, best)
	}
	for i, o := range options {
		fill, full := byHand(w, o.Spacers)
		unitstest.Near(t, "fill", o.Fill, units.GaugePressure(fill), close12)
		unitstest.Near(t, "wanted", o.FillWanted, o.Fill, unitstest.Exact)
		unitstest.Near(t, "full force", o.FullForce, units.Force(full), close12)
		unitstest.Near(t, "sag force", o.SagForce, 600, close12)
		unitstest.Near(t, "miss", o.FullMiss, units.Force(full-2600), unitstest.Abs(1e-8*units.Newton))
		if o.SagMiss != 0 {
			t.Errorf("misses the sag by %v", o.SagMiss)
		}
		if i > 0 && math.Abs(float64(o.FullMiss)) < math.Abs(float64(options[i-1].FullMiss)) {
			t.Errorf("option %d is nearer than the one before", i)
		}
	}
}

// The marked pressure is never exceeded, and what it costs is told.
func TestChooseAtMarking(t *testing.T) {
	w := wish()
	w.MaxFill = units.BarGauge(4.3)
	options, err := airspring.Choose(w)
	if err != nil {
		t.Fatal(err)
	}
	for i, o := range options {
		if o.Fill != w.MaxFill || !(o.FillWanted > w.MaxFill) || !(o.SagMiss < 0) {
			t.Errorf("%+v", o)
		}
		fill, full := byHand(w, o.Spacers)
		unitstest.Near(t, "fill", o.Fill, units.GaugePressure(fill), close12)
		unitstest.Near(t, "full force", o.FullForce, units.Force(full), close12)
		// More spacers carry more at sag, so they miss it by less.
		if i > 0 && !(o.SagMiss < options[i-1].SagMiss && o.Spacers < options[i-1].Spacers) {
			t.Errorf("option %d: %+v after %+v", i, o, options[i-1])
		}
	}
	// Between: some numbers of spacers meet the sag, and come first.
	mid := (options[0].FillWanted + options[len(options)-1].FillWanted) / 2
	w.MaxFill = mid
	if options, err = airspring.Choose(w); err != nil {
		t.Fatal(err)
	}
	met := true
	for _, o := range options {
		if o.SagMiss == 0 && !met {
			t.Error("one that meets the sag after one that doesn't")
		}
		met = o.SagMiss == 0
		if o.Fill > mid {
			t.Errorf("%v is above the marking", o.Fill)
		}
	}
	if met || options[0].SagMiss != 0 {
		t.Error("all meet the sag, or none")
	}
}

// What no fill at all could carry gets all that the marking permits.
func TestChooseBeyondEveryFill(t *testing.T) {
	w := wish()
	w.SagForce, w.FullForce = 5e5, 6e5
	options, err := airspring.Choose(w)
	if err != nil || len(options) != 9 {
		t.Fatalf("%d options, %v", len(options), err)
	}
	for i, o := range options {
		if o.Fill != w.MaxFill || o.FillWanted != 0 || !(o.SagMiss < 0) {
			t.Errorf("%+v", o)
		}
		if o.Spacers != 8-i {
			t.Errorf("place %d has %d spacers: the most carry the most", i, o.Spacers)
		}
	}
}

func TestChooseLeavesOut(t *testing.T) {
	w := wish()
	w.MaxSpacers = 100 // (250 − 162.9)/8 leaves 10
	options, err := airspring.Choose(w)
	if err != nil || len(options) != 11 {
		t.Errorf("%d options, %v", len(options), err)
	}
	for _, c := range []struct {
		name   string
		change func(*airspring.Wish)
		want   []string
	}{
		{"nothing", func(w *airspring.Wish) { *w = airspring.Wish{} }, []string{"spec.bore", "spec.travel", "spec.positive_volume", "spec.ambient", "spec.exponent", "sag_force", "sag_travel", "full_force", "max_fill"}},
		{"NaN", func(w *airspring.Wish) {
			w.SagForce, w.SagTravel, w.FullForce, w.MaxFill = units.Force(nan), units.Length(nan), units.Force(nan), units.GaugePressure(nan)
		}, []string{"sag_force", "sag_travel", "full_force", "max_fill"}},
		{"end softer than sag", func(w *airspring.Wish) { w.FullForce = 500 }, []string{"full_force"}},
		{"sag beyond the travel", func(w *airspring.Wish) { w.SagTravel = 0.2 }, []string{"sag_travel"}},
		{"no spacer", func(w *airspring.Wish) { w.Spec.SpacerVolume = 0 }, []string{"spec.spacer_volume"}},
		{"fewer than none", func(w *airspring.Wish) { w.MaxSpacers = -1 }, []string{"max_spacers"}},
		{"no fill is as little", func(w *airspring.Wish) { w.SagForce, w.FullForce = 5, 50 }, []string{"sag_force"}},
	} {
		w := wish()
		c.change(&w)
		options, err := airspring.Choose(w)
		wantFields(t, c.name, err, c.want...)
		if options != nil {
			t.Errorf("%s: options beside the error", c.name)
		}
	}
}
