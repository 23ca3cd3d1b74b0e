package spring

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// shockSpring is an invented spring of a shock: the outputs below were
// computed with mpmath at 50 digits from the formulas of the doc comments.
var shockSpring = Coil{
	WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 5, Ends: SquaredGround, FreeLength: 115e-3,
	ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206000 * units.Megapascal, Density: 7850,
}

func coilOf(t testing.TB, spec Coil) *CoilSpring {
	s, err := NewCoil(spec)
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

// A short, thick spring by the same computation.
func TestCoilHelixComputed(t *testing.T) {
	s := coilOf(t, Coil{WireDiameter: 3e-3, MeanDiameter: 12e-3, ActiveCoils: 3, FreeLength: 21e-3, ShearModulus: 81500e6})
	known[units.Length](t, "outer diameter when solid", 15.0673584076333e-3)(s.OuterDiameterSolid())
	known[units.Angle](t, "helix angle", 7.55499599921987*math.Pi/180)(s.HelixAngle())
	known[units.Stress](t, "stress when solid", 1496.66859946032e6)(s.SolidStress())
	close12(t, "wire length", float64(s.WireLength()), 188.495559215388e-3)
	close12(t, "Wahl stress", float64(s.StressWahl(600)), 953.232005825058e6)
	close12(t, "uncorrected stress", float64(s.StressUncorrected(-600)), 679.06109052542e6)
	// What needs what was not given is not known.
	for name, ok := range map[string]bool{
		"mass": second2(s.Mass()), "surge": second2(s.SurgeFrequency()), "free": second2(s.RateEndsFree()),
		"held": second2(s.RateEndsHeld()), "buckling": second2(s.Buckling(1)), "stability": second2(s.StableSlenderness(1)),
	} {
		if ok {
			t.Errorf("%s is known without density and modulus of elasticity", name)
		}
	}
}

func second2[T any](_ T, ok bool) bool { return ok }

// The exact torsion of a ring sector, 40-digit Galerkin, against the two
// textbook factors: errors in per cent, as in the package documentation.
func TestStressFactorsAgainstTheExactOnes(t *testing.T) {
	for _, row := range []struct{ index, exact, wahl, bergstrasser float64 }{
		{3, 1.55491773, 1.613, 0.041}, {4, 1.38275591, 1.518, 0.134}, {5, 1.29252143, 1.391, 0.123}, {6, 1.23683469, 1.267, 0.102},
		{8, 1.17161605, 1.059, 0.068}, {10, 1.13459575, 0.902, 0.048}, {12, 1.1107245, 0.784, 0.035},
	} {
		s := coilOf(t, Coil{WireDiameter: 0.01, MeanDiameter: units.Length(0.01 * row.index), ActiveCoils: 5, ShearModulus: 80e9})
		for name, pair := range map[string][2]float64{"Wahl": {s.Wahl(), row.wahl}, "Bergsträsser": {s.Bergstrasser(), row.bergstrasser}} {
			if got := 100 * (pair[0]/row.exact - 1); math.Abs(got-pair[1]) > 0.0006 {
				t.Errorf("%s at %v: %.4f %% off, want %.3f %%", name, row.index, got, pair[1])
			}
		}
	}
}

// Shigley's problem 10-1 (publisher's solutions, 10th ed.) prints that
// Bergsträsser's factor is 1.36 % below Wahl's at index 4, 0.743 % at 12.
func TestStressFactorsAgainstEachOther(t *testing.T) {
	for index, printed := range map[float64][2]float64{4: {1.36, 0.005}, 12: {0.743, 0.0005}} {
		s := coilOf(t, Coil{WireDiameter: 0.01, MeanDiameter: units.Length(0.01 * index), ActiveCoils: 5, ShearModulus: 80e9})
		if got := 100 * (s.Wahl() - s.Bergstrasser()) / s.Wahl(); math.Abs(got-printed[0]) > printed[1] {
			t.Errorf("at %v: %.4f %%, printed is %v %%", index, got, printed[0])
		}
	}
}

// Far below what is wound, by hand: at an index of 1.5 Wahl's factor is
// 5/2 + 0.41 and Bergsträsser's 8/3.
func TestStressFactorsOfAThickWire(t *testing.T) {
	s := coilOf(t, Coil{WireDiameter: 0.02, MeanDiameter: 0.03, ActiveCoils: 5, ShearModulus: 80e9})
	close12(t, "Wahl", s.Wahl(), 2.91)
	close12(t, "Bergsträsser", s.Bergstrasser(), 8.0/3)
}

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
	scaled := func(change func(*Coil)) float64 {
		spec := shockSpring
		spec.FreeLength = 0
		change(&spec)
		return float64(coilOf(t, spec).Rate() / s.Rate())
	}
	close12(t, "wire", scaled(func(c *Coil) { c.WireDiameter *= 1.1 }), 1.1*1.1*1.1*1.1)
	close12(t, "diameter", scaled(func(c *Coil) { c.MeanDiameter *= 1.1 }), 1/(1.1*1.1*1.1))
	close12(t, "coils", scaled(func(c *Coil) { c.ActiveCoils *= 1.1 }), 1/1.1)
	close12(t, "modulus", scaled(func(c *Coil) { c.ShearModulus *= 1.1 }), 1.1)

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

func TestCoilEnds(t *testing.T) {
	// Machinery's Handbook, 31st ed., table 3 on p. 318, worked for n = 5,
	// d = 10 mm, L₀ = 115 mm.
	for _, row := range []struct {
		ends                Ends
		total, solid, pitch float64
	}{
		{Plain, 5, 60, 105.0 / 5}, {PlainGround, 6, 60, 115.0 / 6}, {Squared, 7, 80, 85.0 / 5}, {SquaredGround, 7, 70, 95.0 / 5},
	} {
		spec := shockSpring
		spec.Ends = row.ends
		s := coilOf(t, spec)
		close12(t, string(row.ends)+" total", s.TotalCoils(), row.total)
		close12(t, string(row.ends)+" solid", float64(s.SolidLength()), row.solid*1e-3)
		known[units.Length](t, string(row.ends)+" pitch", row.pitch*1e-3)(s.Pitch())
		known[units.Length](t, string(row.ends)+" solid travel", (115-row.solid)*1e-3)(s.SolidTravel())
		known[units.Force](t, string(row.ends)+" solid force", float64(s.Rate())*(115-row.solid)*1e-3)(s.SolidForce())
	}
}

func TestBuckling(t *testing.T) {
	// Computed with mpmath at 50 digits; Shigley's and EN's forms agree to 40.
	spec := Coil{WireDiameter: 4.5e-3, MeanDiameter: 22.5e-3, ActiveCoils: 25, FreeLength: 220e-3, ShearModulus: 79500e6, ElasticModulus: 206000e6}
	s := coilOf(t, spec)
	b, ok := s.Buckling(0.5)
	if !ok || !b.Buckles {
		t.Fatalf("Buckling = %+v, %v", b, ok)
	}
	close12(t, "travel", float64(b.Travel), 27.7916836394179e-3)
	close12(t, "limit", b.StableSlenderness, 5.23110812376043)
	close12(t, "slenderness", b.Slenderness, 220/22.5)
	// Just shorter than the limit it never buckles, just longer it does, and
	// then near half its length: travel/L₀ = C₁ there.
	for _, part := range []float64{1 - 1e-9, 1 + 1e-9} {
		spec.FreeLength, spec.ActiveCoils = units.Length(22.5e-3*5.23110812376043*part), 5
		b, ok := coilOf(t, spec).Buckling(0.5)
		if !ok || b.Buckles != (part > 1) || (b.Travel > 0) != (part > 1) {
			t.Errorf("at %v of the limit: %+v, %v", part, b, ok)
		}
	}
	for _, end := range []float64{0.01, 100} {
		if b, ok := s.Buckling(end); !ok || !(b.StableSlenderness > 0) {
			t.Errorf("a fixity of %v is not answered: %+v", end, b)
		}
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1), 1e-3, 101} {
		b, ok := s.Buckling(bad)
		if limit, stable := s.StableSlenderness(bad); ok || stable || limit != 0 || b != (Buckling{}) {
			t.Errorf("a fixity of %v is answered", bad)
		}
	}
}

func TestLoadTolerance(t *testing.T) {
	// Computed with mpmath at 50 digits from the transcribed formula.
	s := coilOf(t, Coil{WireDiameter: 6e-3, MeanDiameter: 30.5e-3, ActiveCoils: 18, ShearModulus: 79500e6})
	for grade, want := range map[Grade]float64{Grade1: 71.0448100165245, Grade2: 112.769539708769, Grade3: 180.431263534031} {
		known[units.Force](t, "tolerance", want)(s.LoadTolerance(1500, grade))
	}
	for _, test := range []struct {
		load  units.Force
		grade Grade
	}{{0, Grade1}, {-1, Grade1}, {units.Force(math.NaN()), Grade1}, {2e15, Grade1}, {1500, 0}, {1500, 4}} {
		if _, ok := s.LoadTolerance(test.load, test.grade); ok {
			t.Errorf("load %v at grade %v is answered", test.load, test.grade)
		}
	}
	for name, spec := range map[string]Coil{
		"thick wire":  {WireDiameter: 17e-3, MeanDiameter: 100e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"wide":        {WireDiameter: 15e-3, MeanDiameter: 201e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"few coils":   {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 1.9, ShearModulus: 80e9},
		"small index": {WireDiameter: 6e-3, MeanDiameter: 23e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"large index": {WireDiameter: 6e-3, MeanDiameter: 121e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"long":        {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 50, FreeLength: 0.64, ShearModulus: 80e9},
	} {
		if x, ok := coilOf(t, spec).LoadTolerance(100, Grade1); ok || x != 0 {
			t.Errorf("%s: outside the scope, yet answered %v", name, x)
		}
		if x, ok := coilOf(t, spec).FreeLengthTolerance(Grade1); ok || x != 0 {
			t.Errorf("%s: outside the scope, yet answered %v", name, x)
		}
	}
	for name, spec := range map[string]Coil{
		"thinnest wire": {WireDiameter: 0.07e-3, MeanDiameter: 0.7e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"thickest wire": {WireDiameter: 16e-3, MeanDiameter: 100e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"widest":        {WireDiameter: 15e-3, MeanDiameter: 200e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"two coils":     {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 2, ShearModulus: 80e9},
		"index 4":       {WireDiameter: 6e-3, MeanDiameter: 24e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"index 20":      {WireDiameter: 6e-3, MeanDiameter: 120e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"longest":       {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 50, FreeLength: 0.63, ShearModulus: 80e9},
	} {
		if x, ok := coilOf(t, spec).LoadTolerance(0.1, Grade1); !ok || !(x > 0) {
			t.Errorf("%s: at the end of the scope, yet not answered", name)
		}
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

func TestWarmShearModulus(t *testing.T) {
	g, err := WarmShearModulus(81500*units.Megapascal, 0.25e-3, units.Celsius(-10))
	require.NoError(t, err)
	close12(t, "cold", g.Megapascals(), 82111.25)
	for _, test := range []struct {
		g    units.Stress
		r    float64
		t    units.Temperature
		want []string
	}{
		{0, -1, 0, []string{"shear_modulus", "coefficient", "temperature"}},
		{units.Stress(math.NaN()), math.NaN(), units.Temperature(math.NaN()), []string{"shear_modulus", "coefficient", "temperature"}},
		{80e9, 0.5, units.Celsius(30), []string{"temperature"}},
	} {
		_, err := WarmShearModulus(test.g, test.r, test.t)
		if diff := cmp.Diff(test.want, fieldsOf(err)); diff != "" {
			t.Errorf("%+v (-want +got):\n%s", test, diff)
		}
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
		change func(*Coil)
		want   []string
	}{
		{"nothing", func(c *Coil) { *c = Coil{} }, []string{"wire_diameter", "mean_diameter", "active_coils", "shear_modulus"}},
		{"NaN", func(c *Coil) {
			*c = Coil{units.Length(nan), units.Length(nan), 0, 0, nan, 0, "round", units.Length(nan), units.Stress(nan), units.Stress(nan), units.Density(nan)}
		}, []string{"ends", "wire_diameter", "mean_diameter", "active_coils", "shear_modulus", "elastic_modulus", "density", "free_length"}},
		{"infinite", func(c *Coil) { c.MeanDiameter = units.Length(math.Inf(1)) }, []string{"mean_diameter"}},
		{"wire as thick as the coil", func(c *Coil) { c.WireDiameter = c.MeanDiameter }, []string{"wire_diameter"}},
		{"all three diameters", func(c *Coil) { c.OuterDiameter, c.InnerDiameter = 56e-3, 36e-3 }, []string{"outer_diameter", "inner_diameter"}},
		{"both counts", func(c *Coil) { c.TotalCoils = 7 }, []string{"total_coils"}},
		{"dead coils only", func(c *Coil) { c.ActiveCoils, c.TotalCoils = 0, 2 }, []string{"total_coils"}},
		{"solid when free", func(c *Coil) { c.FreeLength = 70e-3 }, []string{"free_length"}},
		{"softer in tension than in shear", func(c *Coil) { c.ElasticModulus = c.ShearModulus }, []string{"elastic_modulus"}},
		{"a kilometre of wire", func(c *Coil) { c.WireDiameter = 2000 }, []string{"wire_diameter"}},
	} {
		spec := shockSpring
		test.change(&spec)
		s, err := NewCoil(spec)
		if diff := cmp.Diff(test.want, fieldsOf(err)); diff != "" || s != nil {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// answersOf is everything a coil spring says.
func answersOf(s *CoilSpring, load units.Force, fixity float64) map[string]float64 {
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
	l, ok := s.LoadTolerance(load, Grade2)
	add("tolerance", float64(l), ok)
	y, ok := s.FreeLengthTolerance(Grade2)
	add("free length tolerance", float64(y), ok)
	return m
}

// What a spring says costs no memory.
func TestCoilSpringDoesNotAllocate(t *testing.T) {
	s := coilOf(t, shockSpring)
	var sum float64
	if n := testing.AllocsPerRun(100, func() {
		b, _ := s.Buckling(1)
		held, _ := s.RateEndsHeld()
		load, _ := s.LoadTolerance(5500, Grade2)
		length, _ := s.FreeLengthTolerance(Grade1)
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

func TestZeroCoilSpring(t *testing.T) {
	for name, v := range answersOf(&CoilSpring{}, 100, 1) {
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
		kinds := []Ends{Plain, PlainGround, Squared, SquaredGround, "", "else"}
		s, err := NewCoil(Coil{units.Length(d), units.Length(mean), units.Length(outer), units.Length(inner), n, total,
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
