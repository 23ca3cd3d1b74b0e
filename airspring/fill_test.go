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
