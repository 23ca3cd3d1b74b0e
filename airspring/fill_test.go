package airspring_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The force of each row of the tables takes the fill of that row.
func TestFillForTables(t *testing.T) {
	for _, r := range oneRows {
		s := one(r.bore, r.travel, r.volume, 0, r.n)
		fill, err := airspring.FillFor(s, units.Force(r.f), units.Length(r.x)*mm)
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "fill", fill, units.BarGauge(r.fill), close12)
	}
	for _, r := range twoRows {
		for _, a := range r.at {
			fill, err := airspring.FillFor(r.spec(), units.Force(a.f), units.Length(a.x)*mm)
			if err != nil {
				t.Error(err)
				continue
			}
			unitstest.Near(t, "fill", fill, units.BarGauge(r.fill), unitstest.Rel(1e-11))
		}
	}
}

// With a second chamber a force takes the fill that it came from, to a relative 1e-12, or,
// where two fills carry it, another one with the same force.
func TestFillForStaged(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 9))
	unique, other := 0, 0
	for range 500 {
		s := randomSpec(rng)
		s.SecondVolume, s.SecondFill = s.PositiveVolume/3, s.Fill*units.GaugePressure(0.8+2*rng.Float64())
		x := s.Travel * units.Length(0.3+0.7*rng.Float64())
		force := make1(t, s).Force(x)
		got, err := airspring.FillFor(s, force, x)
		if err != nil {
			wantFields(t, "pulled in", err, "at")
			continue
		}
		back := s
		back.Fill = got
		unitstest.Near(t, "force", make1(t, back).Force(x), force, unitstest.Rel(1e-12), unitstest.Abs(1e-9*units.Newton))
		if math.Abs(float64(got/s.Fill)-1) < 1e-3 {
			unitstest.Near(t, "fill", got, s.Fill, unitstest.Rel(1e-12))
			unique++
		} else {
			other++
		}
	}
	if unique < 450 || other > 20 {
		t.Errorf("%d fills come back, %d times it is another one", unique, other)
	}
	// A fill of a round 10 bar is found like any other, the second chamber behind its
	// stop at 100 mm and off it.
	for _, second := range []float64{9, 12} {
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

func TestFillForRefuses(t *testing.T) {
	s := one(36, 160, 230, 0, 1)
	two := twoRows[0].spec()
	two.Exponent = 1
	staged := s
	staged.SecondVolume, staged.SecondFill = 45*cm3, units.BarGauge(9)
	pulling := two
	pulling.SecondVolume, pulling.SecondFill = 45*cm3, units.BarGauge(9)
	none := airspring.ErrNoFill
	for _, c := range []struct {
		name  string
		spec  airspring.Spec
		force units.Force
		at    units.Length
		class error
		want  []string
	}{
		{"no force", s, 0, 0.04, none, []string{"force"}},
		{"pulling", s, -100, 0.04, none, []string{"force"}},
		{"what no gauge pressure gives too", s, 20, 0.04, none, []string{"force"}},
		{"too much", s, 1e9, 0.04, airspring.ErrFillBeyond, []string{"force"}},
		{"where fill pulls in", two, 100, 0, airspring.ErrFillPullsIn, []string{"at"}},
		{"staged, no force", staged, 0, 0.04, none, []string{"force"}},
		{"staged, too much", staged, 1e9, 0.04, airspring.ErrFillBeyond, []string{"force"}},
		{"staged, where fill pulls in", pulling, 100, 0, airspring.ErrFillPullsIn, []string{"at"}},
		{"NaN", s, units.Force(nan), units.Length(nan), units.ErrRange, []string{"at", "force"}},
		{"infinite", s, units.Force(inf), units.Length(inf), units.ErrRange, []string{"at", "force"}},
		{"before full extension", s, 500, -0.001, units.ErrRange, []string{"at"}},
		{"beyond full travel", s, 500, 0.1601, units.ErrRange, []string{"at"}},
		{"everything", airspring.Spec{}, units.Force(nan), -1, units.ErrMissing, []string{"bore", "travel", "positive_volume", "ambient", "exponent", "force", "at"}},
	} {
		fill, err := airspring.FillFor(c.spec, c.force, c.at)
		wantFields(t, c.name, err, c.want...)
		if fill != 0 || !errors.Is(err, c.class) {
			t.Errorf("%s: fill %v beside %v, want the class %v", c.name, fill, err, c.class)
		}
	}
}

// A fill is found up to 1000 bar and down to a fraction of a pascal. At full
// extension F = A·g, by hand; at 131072 Pa, a power of two, no digit of the ambient
// is rounded, so that no force needs a fill of 0 exactly.
func TestFillForLeastAndGreatest(t *testing.T) {
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

// V₀ = A·L·r/(r − 1), computed with mpmath in 40 digits for an invented fork. A spring
// of the volume that is returned has the force.
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
	oily := s
	oily.OilVolume = 300 * cm3
	two := twoRows[0].spec()
	for _, c := range []struct {
		name  string
		spec  airspring.Spec
		force float64
		want  []string
	}{
		{"no more than at full extension", s, 508, []string{"force"}},
		{"less than at full extension, and oil", oily, 50, []string{"force"}},
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

// The volume that comes out counts oil and spacers, and with them is 1 m³ at
// most. By the formula of one chamber, the force of a chamber of 0.9 m³.
func TestVolumeForGreatest(t *testing.T) {
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
