package airspring_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The force that a fill gives is answered with that fill: rows of the tables
// turned round.
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

// By hand: a single chamber, half swept, slow: p = 2·p_f, so for a force F the
// absolute fill is (F/A + p_a)/2.
func TestFillForByHand(t *testing.T) {
	s := one(40, 100, 200, 0, 1)
	a := math.Pi / 4 * 0.04 * 0.04
	half := units.Length(200e-6 / a / 2)
	fill, err := airspring.FillFor(s, 900, half)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "fill", fill, units.GaugePressure((900/a+101325)/2-101325), close12)
}

func TestFillForRoundTrip(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		s := randomSpec(rng)
		x := s.Travel * units.Length(0.2+0.8*rng.Float64())
		f := make1(t, s).Force(x)
		fill, err := airspring.FillFor(s, f, x)
		if err != nil {
			t.Fatalf("%+v: %v", s, err)
		}
		unitstest.Near(t, "fill", fill, s.Fill, unitstest.Rel(1e-9))
		s.Fill = fill
		unitstest.Near(t, "force", make1(t, s).Force(x), f, unitstest.Rel(1e-10))
	}
}

// With a second chamber the fill comes back to the last digits that the force
// allows; where two fills carry the force, the force at least does.
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
}

func TestFillForRefuses(t *testing.T) {
	s := one(36, 160, 230, 0, 1)
	two := twoRows[0].spec()
	two.Exponent = 1
	for _, c := range []struct {
		name  string
		spec  airspring.Spec
		force units.Force
		at    units.Length
		want  []string
	}{
		{"no force", s, 0, 0.04, []string{"force"}},
		{"pulling", s, -100, 0.04, []string{"force"}},
		{"what no gauge pressure gives too", s, 20, 0.04, []string{"force"}},
		{"too much", s, 1e9, 0.04, []string{"force"}},
		{"NaN", s, units.Force(nan), units.Length(nan), []string{"at", "force"}},
		{"infinite", s, units.Force(inf), units.Length(inf), []string{"at", "force"}},
		{"before full extension", s, 500, -0.001, []string{"at"}},
		{"beyond full travel", s, 500, 0.1601, []string{"at"}},
		{"where fill pulls in", two, 100, 0, []string{"at"}},
		{"everything", airspring.Spec{}, units.Force(nan), -1, []string{"bore", "travel", "positive_volume", "ambient", "exponent", "force", "at"}},
	} {
		fill, err := airspring.FillFor(c.spec, c.force, c.at)
		wantFields(t, c.name, err, c.want...)
		if fill != 0 {
			t.Errorf("%s: fill %v beside the error", c.name, fill)
		}
	}
}
