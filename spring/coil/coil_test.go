package coil_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// shockSpring is an invented spring of a shock: the outputs below were
// computed with mpmath at 50 digits from the formulas of the doc comments.
var shockSpring = coil.Spec{
	WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 5, Ends: coil.SquaredGround, FreeLength: 115e-3,
	ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206000 * units.Megapascal, Density: 7850,
}

func coilOf(t testing.TB, spec coil.Spec) *coil.Spring {
	s, err := coil.New(spec)
	require.NoError(t, err)
	return s
}

func close12(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12*math.Abs(want)) {
		t.Errorf("%s = %.16g, want %.16g", what, got, want)
	}
}

func known[Q ~float64](t *testing.T, what string, want float64) func(Q, bool) {
	return func(got Q, ok bool) {
		t.Helper()
		if !ok {
			t.Errorf("%s is not known", what)
		}
		close12(t, what, float64(got), want)
	}
}

func TestCoilComputed(t *testing.T) {
	s := coilOf(t, shockSpring)
	close12(t, "index", s.Index(), 4.6)
	close12(t, "rate", s.Rate().NewtonsPerMillimetre(), 204.189611243528)
	close12(t, "Wahl", s.Wahl(), 1.34202898550725)
	close12(t, "Bergsträsser", s.Bergstrasser(), 1.32467532467532)
	close12(t, "solid length", s.SolidLength().Millimetres(), 70)
	close12(t, "stress", s.Stress(5500).Megapascals(), 853.434277699626)
	known[units.Stiffness](t, "rate, ends free", 203235.279842546)(s.RateEndsFree())
	known[units.Stiffness](t, "rate, ends held", 203464.227508811)(s.RateEndsHeld())
	known[units.Frequency](t, "surge", 338.507427258031)(s.SurgeFrequency())
	known[units.Mass](t, "mass", 0.623684976115839)(s.Mass())
}

func second2[T any](_ T, ok bool) bool { return ok }

func TestCoilSymmetries(t *testing.T) {
	s := coilOf(t, shockSpring)
	other := shockSpring
	other.MeanDiameter, other.OuterDiameter = 0, 56e-3
	other.ActiveCoils, other.TotalCoils = 0, 7
	close12(t, "rate by outer diameter and total coils", float64(coilOf(t, other).Rate()), float64(s.Rate()))
	other.OuterDiameter, other.InnerDiameter = 0, 36e-3
	close12(t, "rate by inner diameter", float64(coilOf(t, other).Rate()), float64(s.Rate()))
	close12(t, "outer", float64(s.OuterDiameter()), 56e-3)
	close12(t, "inner", float64(s.InnerDiameter()), 36e-3)
	other.Ends = ""
	close12(t, "ends left out", float64(coilOf(t, other).SolidLength()), float64(s.SolidLength()))

	// Four powers of wire, three of diameter, one of coils and of modulus.
	scaled := func(change func(*coil.Spec)) float64 {
		spec := shockSpring
		spec.FreeLength = 0
		change(&spec)
		return float64(coilOf(t, spec).Rate() / s.Rate())
	}
	close12(t, "wire", scaled(func(c *coil.Spec) { c.WireDiameter *= 1.1 }), 1.1*1.1*1.1*1.1)
	close12(t, "diameter", scaled(func(c *coil.Spec) { c.MeanDiameter *= 1.1 }), 1/(1.1*1.1*1.1))
	close12(t, "coils", scaled(func(c *coil.Spec) { c.ActiveCoils *= 1.1 }), 1/1.1)
	close12(t, "modulus", scaled(func(c *coil.Spec) { c.ShearModulus *= 1.1 }), 1.1)

	// ½√(k/m) with m the mass of the active wire is the surge frequency too.
	m := 7850 * math.Pi / 4 * 1e-4 * math.Pi * 46e-3 * 5
	known[units.Frequency](t, "surge by mass", math.Sqrt(float64(s.Rate())/m)/2)(s.SurgeFrequency())
	// A flat helix has the rate of torsion alone; held ends are stiffer than free ones.
	free, _ := s.RateEndsFree()
	held, _ := s.RateEndsHeld()
	if !(free < held && held < s.Rate()) {
		t.Errorf("rates %v free, %v held, %v flat", free, held, s.Rate())
	}
}

func TestWithPreload(t *testing.T) {
	s := coilOf(t, shockSpring)
	law, err := s.WithPreload(2e-3)
	require.NoError(t, err)
	close12(t, "travel", float64(law.Travel()), 43e-3)
	close12(t, "force at the top", float64(law.Force(0)), float64(s.Rate())*2e-3)
	top, _ := s.SolidForce()
	close12(t, "force when solid", float64(law.Force(1)), float64(top))
	for _, bad := range []units.Length{-1, 45e-3, units.Length(math.NaN())} {
		if _, err := s.WithPreload(bad); cmp.Diff([]string{"preload"}, fieldsOf(err)) != "" {
			t.Errorf("preload %v: %v", bad, err)
		}
	}
	spec := shockSpring
	spec.FreeLength = 0
	_, err = coilOf(t, spec).WithPreload(-1)
	if diff := cmp.Diff([]string{"free_length", "preload"}, fieldsOf(err)); diff != "" {
		t.Errorf("no free length (-want +got):\n%s", diff)
	}
}

func fieldsOf(err error) []string {
	var list []string
	for _, f := range units.Fields(err) {
		list = append(list, f.Field)
	}
	return list
}

func TestNewCoilRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		name   string
		change func(*coil.Spec)
		want   []string
	}{
		{"nothing", func(c *coil.Spec) { *c = coil.Spec{} }, []string{"wire_diameter", "mean_diameter", "active_coils", "shear_modulus"}},
		{"NaN", func(c *coil.Spec) {
			*c = coil.Spec{units.Length(nan), units.Length(nan), 0, 0, nan, 0, "round", units.Length(nan), units.Stress(nan), units.Stress(nan), units.Density(nan)}
		}, []string{"ends", "wire_diameter", "mean_diameter", "active_coils", "shear_modulus", "elastic_modulus", "density", "free_length"}},
		{"infinite", func(c *coil.Spec) { c.MeanDiameter = units.Length(math.Inf(1)) }, []string{"mean_diameter"}},
		{"wire as thick as the coil", func(c *coil.Spec) { c.WireDiameter = c.MeanDiameter }, []string{"wire_diameter"}},
		{"all three diameters", func(c *coil.Spec) { c.OuterDiameter, c.InnerDiameter = 56e-3, 36e-3 }, []string{"outer_diameter", "inner_diameter"}},
		{"both counts", func(c *coil.Spec) { c.TotalCoils = 7 }, []string{"total_coils"}},
		{"dead coils only", func(c *coil.Spec) { c.ActiveCoils, c.TotalCoils = 0, 2 }, []string{"total_coils"}},
		{"solid when free", func(c *coil.Spec) { c.FreeLength = 70e-3 }, []string{"free_length"}},
		{"softer in tension than in shear", func(c *coil.Spec) { c.ElasticModulus = c.ShearModulus }, []string{"elastic_modulus"}},
		{"a kilometre of wire", func(c *coil.Spec) { c.WireDiameter = 2000 }, []string{"wire_diameter"}},
	} {
		spec := shockSpring
		test.change(&spec)
		s, err := coil.New(spec)
		if diff := cmp.Diff(test.want, fieldsOf(err)); diff != "" || s != nil {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// answersOf is everything a coil spring says.
func answersOf(s *coil.Spring, load units.Force, fixity float64) map[string]float64 {
	m := map[string]float64{
		"index": s.Index(), "rate": float64(s.Rate()), "wahl": s.Wahl(), "bergstrasser": s.Bergstrasser(),
		"solid length": float64(s.SolidLength()), "wire length": float64(s.WireLength()),
		"stress": float64(s.Stress(load)), "stress wahl": float64(s.StressWahl(load)), "uncorrected": float64(s.StressUncorrected(load)),
		"load for stress": float64(s.LoadForStress(units.Stress(load))), "length for stress": float64(s.FreeLengthForStress(units.Stress(load))),
		"mean": float64(s.MeanDiameter()), "wire": float64(s.WireDiameter()), "outer": float64(s.OuterDiameter()),
		"inner": float64(s.InnerDiameter()), "active": s.ActiveCoils(), "total": s.TotalCoils(),
	}
	add := func(name string, v float64, ok bool) {
		if ok {
			m[name] = v
		} else if v != 0 && name != "solid force" && name != "solid stress" && name != "mass" {
			m[name] = math.NaN() // what is not known is 0
		}
	}
	p, ok := s.Pitch()
	add("pitch", float64(p), ok)
	a, ok := s.HelixAngle()
	add("helix", float64(a), ok)
	k, ok := s.RateEndsFree()
	add("free", float64(k), ok)
	k, ok = s.RateEndsHeld()
	add("held", float64(k), ok)
	x, ok := s.SolidTravel()
	add("solid travel", float64(x), ok)
	f, ok := s.SolidForce()
	add("solid force", float64(f), ok)
	q, ok := s.SolidStress()
	add("solid stress", float64(q), ok)
	w, ok := s.Mass()
	add("mass", float64(w), ok)
	h, ok := s.SurgeFrequency()
	add("surge", float64(h), ok)
	o, ok := s.OuterDiameterSolid()
	add("solid diameter", float64(o), ok)
	b, ok := s.Buckling(fixity)
	add("buckling", float64(b.Travel)+b.StableSlenderness, ok)
	l, ok := s.LoadTolerance(load, coil.Grade2)
	add("tolerance", float64(l), ok)
	y, ok := s.FreeLengthTolerance(coil.Grade2)
	add("free length tolerance", float64(y), ok)
	return m
}

// What a spring says costs no memory.
func TestSpringDoesNotAllocate(t *testing.T) {
	s := coilOf(t, shockSpring)
	var sum float64
	if n := testing.AllocsPerRun(100, func() {
		b, _ := s.Buckling(1)
		held, _ := s.RateEndsHeld()
		load, _ := s.LoadTolerance(5500, coil.Grade2)
		length, _ := s.FreeLengthTolerance(coil.Grade1)
		solid, _ := s.SolidStress()
		surge, _ := s.SurgeFrequency()
		outer, _ := s.OuterDiameterSolid()
		sum += float64(s.Rate()) + float64(s.Stress(5500)) + float64(b.Travel) + float64(held) + float64(load) + float64(length) + float64(solid) + float64(surge) + float64(outer)
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
	if !(sum > 0) {
		t.Errorf("nothing was computed: %v", sum)
	}
}

func TestZeroSpring(t *testing.T) {
	for name, v := range answersOf(&coil.Spring{}, 100, 1) {
		if v != 0 {
			t.Errorf("%s of nothing is %v", name, v)
		}
	}
}

// FuzzNewCoil: a refusal that names a field, or a spring all of whose answers
// are numbers.
func FuzzNewCoil(f *testing.F) {
	f.Add(10e-3, 46e-3, 0.0, 0.0, 5.0, 0.0, 3, 115e-3, 79500e6, 206000e6, 7850.0, 5500.0, 0.5)
	f.Add(1e-6, 1e3, 0.0, 0.0, 1e6, 0.0, 0, 1e3, 1.0, 1e15, 1e6, 1e15, 100.0)
	f.Add(1e3, 1e3, 0.0, 0.0, 1e-3, 0.0, 1, 0.0, 1e15, 0.0, 1e-3, 1e300, 0.01)
	f.Fuzz(func(t *testing.T, d, mean, outer, inner, n, total float64, ends int, free, g, e, rho, load, fixity float64) {
		kinds := []coil.Ends{coil.Plain, coil.PlainGround, coil.Squared, coil.SquaredGround, "", "else"}
		s, err := coil.New(coil.Spec{units.Length(d), units.Length(mean), units.Length(outer), units.Length(inner), n, total,
			kinds[uint(ends)%6], units.Length(free), units.Stress(g), units.Stress(e), units.Density(rho)})
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		for name, v := range answersOf(s, units.Force(load), fixity) {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s = %v", name, v)
			}
		}
		if !(s.Rate() > 0) {
			t.Fatalf("rate %v", s.Rate())
		}
	})
}
