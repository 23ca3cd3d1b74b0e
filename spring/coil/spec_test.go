package coil_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

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

func TestHalfACoil(t *testing.T) {
	const g, d, mean, rho = 79500e6, 10e-3, 46e-3, 0.5
	s := coilOf(t, coil.Spec{WireDiameter: d, MeanDiameter: mean, ActiveCoils: 0.5, ShearModulus: g, Density: rho})
	k := g * d * d * d * d / (8 * mean * mean * mean * 0.5)
	close12(t, "rate", float64(s.Rate()), k)
	mass := rho * math.Pi * d * d / 4 * math.Pi * mean // of one coil
	known[units.Mass](t, "mass of 2.5 coils", 2.5*mass)(s.Mass())
	known[units.Frequency](t, "surge", math.Sqrt(k/(0.5*mass))/2)(s.SurgeFrequency())
	// By hand: K_B = (4·4.6 + 2)/(4·4.6 − 3).
	load := 1e9 * math.Pi * d * d * d / (8 * mean) * 15.4 / 20.4
	close12(t, "load at 1 GPa", float64(s.LoadForStress(1e9)), load)
}

func TestNewRefuses(t *testing.T) {
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
		{"a coil of no size", func(c *coil.Spec) { c.MeanDiameter = units.Length(math.NaN()) }, []string{"mean_diameter"}},
		{"moduli of half a pascal", func(c *coil.Spec) { c.ShearModulus, c.ElasticModulus = 0.4, 0.5 }, []string{"shear_modulus", "elastic_modulus"}},
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

func TestSpecBounds(t *testing.T) {
	try := func(change func(c *coil.Spec, v float64)) func(float64) error {
		return func(v float64) error {
			c := coil.Spec{WireDiameter: 1e-6, MeanDiameter: 1e-5, ActiveCoils: 5, ShearModulus: 80e9}
			change(&c, v)
			return second(coil.New(c))
		}
	}
	bounds(t, "wire_diameter", 1e-6, 1e3, try(func(c *coil.Spec, v float64) {
		c.WireDiameter, c.MeanDiameter, c.InnerDiameter = units.Length(v), 0, 1
	}))
	bounds(t, "mean_diameter", 1.0005e-6, 1e3, try(func(c *coil.Spec, v float64) { c.MeanDiameter = units.Length(v) }))
	refuses(t, try(func(c *coil.Spec, v float64) { c.MeanDiameter, c.OuterDiameter = 0, units.Length(v) })(2.001e-6))
	bounds(t, "inner_diameter", 1e-6, 1e3, try(func(c *coil.Spec, v float64) { c.MeanDiameter, c.InnerDiameter = 0, units.Length(v) }))
	bounds(t, "active_coils", 1e-3, 1e6, try(func(c *coil.Spec, v float64) { c.ActiveCoils = v }))
	bounds(t, "total_coils", 1e-3, 1e6, try(func(c *coil.Spec, v float64) { c.ActiveCoils, c.TotalCoils, c.Ends = 0, v, coil.Plain }))
	bounds(t, "shear_modulus", 1, 1e15, try(func(c *coil.Spec, v float64) { c.ShearModulus = units.Stress(v) }))
	bounds(t, "elastic_modulus", 1.0005, 1e15, try(func(c *coil.Spec, v float64) { c.ShearModulus, c.ElasticModulus = 1, units.Stress(v) }))
	bounds(t, "density", 1e-3, 1e6, try(func(c *coil.Spec, v float64) { c.Density = units.Density(v) }))
	bounds(t, "free_length", 1.0015e-6, 1e3, try(func(c *coil.Spec, v float64) { // solid at 1.001 µm
		c.ActiveCoils, c.Ends, c.FreeLength = 1e-3, coil.Plain, units.Length(v)
	}))
}

// refused checks that nothing but 0 comes with an error.
func refused[Q ~float64](t *testing.T, name string) func(Q, error) {
	return func(got Q, err error) {
		t.Helper()
		if got != 0 || err == nil {
			t.Errorf("%s is %v, %v", name, float64(got), err)
		}
	}
}

func TestNothingComesWithARefusal(t *testing.T) {
	refused[units.Stress](t, "strength of nothing")(coil.TensileStrength(coil.StrengthFit{}, 1))
	refused[units.Stress](t, "no strength left")(coil.TensileStrength(coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: 1e8, PerDecade: 1e8}, 10e-3))
	refused[units.Stress](t, "modulus of nothing")(coil.WarmShearModulus(0, 0, 0))
	refused[units.Stress](t, "no modulus left")(coil.WarmShearModulus(80e9, 0.5, units.Celsius(30)))
}

// unknown checks that nothing but 0 comes with a false.
func unknown[Q ~float64](t *testing.T, name string) func(Q, bool) {
	return func(got Q, ok bool) {
		t.Helper()
		if got != 0 || ok {
			t.Errorf("%s is %v, %v", name, float64(got), ok)
		}
	}
}

func TestNothingComesWithAFalse(t *testing.T) {
	bare := coilOf(t, coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: 5, ShearModulus: 79500e6})
	full := coilOf(t, shockSpring)
	unknown[float64](t, "stable slenderness without E")(bare.StableSlenderness(0.5))
	unknown[float64](t, "stable slenderness of hardly a fixity")(full.StableSlenderness(0.00999))
	unknown[float64](t, "stable slenderness of too much fixity")(full.StableSlenderness(100.1))
	unknown[units.Frequency](t, "surge without a density")(bare.SurgeFrequency())
	unknown[units.Mass](t, "mass without a density")(bare.Mass())
	unknown[units.Length](t, "tolerance of no grade")(full.FreeLengthTolerance(0))
	unknown[units.Force](t, "load tolerance of no grade")(full.LoadTolerance(1500, 0))
	unknown[units.Force](t, "tolerance of a load beyond all")(full.LoadTolerance(1.001e15, coil.Grade1))
	if load, ok := full.LoadTolerance(1e15, coil.Grade2); !ok || !(load > 0.015e15) {
		t.Errorf("tolerance of the greatest load: %v, %v", load, ok)
	}

	// What the free length is needed for is not told without it, whatever else
	// is known.
	spec := shockSpring
	spec.FreeLength = 0
	loose := coilOf(t, spec)
	unknown[units.Length](t, "pitch")(loose.Pitch())
	unknown[units.Angle](t, "helix angle")(loose.HelixAngle())
	unknown[units.Stiffness](t, "rate with free ends")(loose.RateEndsFree())
	unknown[units.Stiffness](t, "rate with held ends")(loose.RateEndsHeld())
	unknown[units.Length](t, "solid diameter")(loose.OuterDiameterSolid())
	if b, ok := loose.Buckling(0.5); ok || b != (coil.Buckling{}) {
		t.Errorf("bows out without a free length: %+v", b)
	}
}

// Loads and stresses count by their size, up to 1e15 N and 1 PPa, and NaN as 0.
func TestLoadsAndStressesAreLimited(t *testing.T) {
	s, nan := coilOf(t, shockSpring), math.NaN()
	if s.StressUncorrected(units.Force(nan)) != 0 || s.LoadForStress(units.Stress(nan)) != 0 {
		t.Error("NaN is not taken as 0")
	}
	close12(t, "stress of twice the greatest load", float64(s.Stress(2e15)), float64(s.Stress(1e15)))
	close12(t, "stress of the greatest load", float64(s.Stress(1e15)), 2*float64(s.Stress(-0.5e15)))
	close12(t, "load for twice the greatest stress", float64(s.LoadForStress(2e15)), float64(s.LoadForStress(1e15)))
	close12(t, "load for the greatest stress", float64(s.LoadForStress(1e15)), 2*float64(s.LoadForStress(-0.5e15)))
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

// told puts a value into m if it is known, and NaN if it is not and yet not 0.
func told[Q ~float64](m map[string]float64, name string) func(Q, bool) {
	return func(v Q, ok bool) {
		if m[name] = float64(v); !ok && v != 0 {
			m[name] = math.NaN()
		}
	}
}

// answersOf is everything a coil spring says.
func answersOf(s *coil.Spring, load units.Force, fixity float64) map[string]float64 {
	m := map[string]float64{
		"index": s.Index(), "rate": float64(s.Rate()), "wahl": s.Wahl(), "bergstrasser": s.Bergstrasser(),
		"solid length": float64(s.SolidLength()), "wire length": float64(s.WireLength()),
		"stress": float64(s.Stress(load)), "stress wahl": float64(s.StressWahl(load)), "uncorrected": float64(s.StressUncorrected(load)),
		"load for stress": float64(s.LoadForStress(units.Stress(load))),
		"mean":            float64(s.MeanDiameter()), "wire": float64(s.WireDiameter()), "outer": float64(s.OuterDiameter()),
		"inner": float64(s.InnerDiameter()), "active": s.ActiveCoils(), "total": s.TotalCoils(),
	}
	told[units.Length](m, "pitch")(s.Pitch())
	told[units.Angle](m, "helix")(s.HelixAngle())
	told[units.Stiffness](m, "free")(s.RateEndsFree())
	told[units.Stiffness](m, "held")(s.RateEndsHeld())
	told[units.Length](m, "solid travel")(s.SolidTravel())
	told[units.Force](m, "solid force")(s.SolidForce())
	told[units.Stress](m, "solid stress")(s.SolidStress())
	told[units.Mass](m, "mass")(s.Mass())
	told[units.Frequency](m, "surge")(s.SurgeFrequency())
	told[units.Length](m, "solid diameter")(s.OuterDiameterSolid())
	told[units.Force](m, "tolerance")(s.LoadTolerance(load, coil.Grade2))
	told[units.Length](m, "free length tolerance")(s.FreeLengthTolerance(coil.Grade2))
	b, ok := s.Buckling(fixity)
	told[float64](m, "buckling")(float64(b.Travel)+b.StableSlenderness, ok)
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

func TestZeroSpringAnswersZero(t *testing.T) {
	for name, v := range answersOf(&coil.Spring{}, 100, 1) {
		if v != 0 {
			t.Errorf("%s of nothing is %v", name, v)
		}
	}
}

// FuzzNew: a refusal that names a field, or a spring all of whose answers
// are numbers.
func FuzzNew(f *testing.F) {
	f.Add(10e-3, 46e-3, 0.0, 0.0, 5.0, 0.0, 3, 115e-3, 79500e6, 206000e6, 7850.0, 5500.0, 0.5)
	f.Add(1e-6, 1e3, 0.0, 0.0, 1e6, 0.0, 0, 1e3, 1.0, 1e15, 1e6, 1e15, 100.0)
	f.Add(1e3, 1e3, 0.0, 0.0, 1e-3, 0.0, 1, 0.0, 1e15, 0.0, 1e-3, 1e300, 0.01)
	f.Fuzz(func(t *testing.T, d, mean, outer, inner, n, total float64, ends int, free, g, e, rho, load, fixity float64) {
		kinds := []coil.Ends{coil.Plain, coil.PlainGround, coil.Squared, coil.SquaredGround, "", "else"}
		s, err := coil.New(coil.Spec{units.Length(d), units.Length(mean), units.Length(outer), units.Length(inner), n, total,
			kinds[uint(ends)%6], units.Length(free), units.Stress(g), units.Stress(e), units.Density(rho)})
		if err != nil {
			named(t, "refused", err)
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

func TestCoilOfMaterial(t *testing.T) {
	m := coil.Material{Name: "invented", ShearModulus: 80e9, ElasticModulus: 200e9, Density: 7800}
	got := coil.Spec{ElasticModulus: 206e9}.Of(m)
	if want := (coil.Spec{ShearModulus: 80e9, ElasticModulus: 206e9, Density: 7800}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := (coil.Spec{ShearModulus: 1, Density: 2}).Of(m); got.ShearModulus != 1 || got.Density != 2 || got.ElasticModulus != 200e9 {
		t.Errorf("%+v", got)
	}
}

// Budynas and Nisbett, Shigley's Mechanical Engineering Design, problem 10-3
// (publisher's solutions, 10th ed.), which prints index 11.4, 13 active coils,
// 1.314 N/mm, 35 mm solid and a Bergsträsser factor of 1.117.
func ExampleNew() {
	s := coilOr(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, OuterDiameter: 31 * units.Millimetre, TotalCoils: 14,
		Ends: coil.PlainGround, ShearModulus: 81 * units.Gigapascal,
	})
	fmt.Printf("index %.1f, %.0f active coils\n", s.Index(), s.ActiveCoils())
	fmt.Printf("rate %.3f, solid %.0f, factor %.3f\n", s.Rate(), s.SolidLength(), s.Bergstrasser())
	// Output:
	// index 11.4, 13 active coils
	// rate 1.314 N/mm, solid 35 mm, factor 1.117
}

// A bad spec names every bad field at once.
func ExampleNew_refused() {
	_, err := coil.New(coil.Spec{
		WireDiameter: 9.5, MeanDiameter: 50 * units.Millimetre, // nine and a half metres of wire: a unit is missing
		ActiveCoils: 5, ShearModulus: -1,
	})
	fmt.Println(err)
	// Output:
	// coil: wire_diameter 9500 mm: want less than mean_diameter 50 mm
	// coil: shear_modulus -1e-06 MPa: want from 1e-06 MPa to 1000000000 MPa
}

func ExampleSpec_Of() {
	// An invented steel.
	steel := coil.Material{Name: "invented steel", ShearModulus: 79.5 * units.Gigapascal, ElasticModulus: 206 * units.Gigapascal, Density: 7850 * units.KilogramPerCubicMetre}
	s := coilOr(coil.Spec{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5}.Of(steel))
	fmt.Printf("%.2f\n", s.Rate())
	// Output: 204.19 N/mm
}

func ExampleSpring_Rate() {
	s := coilOr(coil.Spec{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5, ShearModulus: 79.5 * units.Gigapascal})
	// By hand: 79 500 MPa · (10 mm)⁴ / (8 · (46 mm)³ · 5).
	fmt.Printf("%.2f, which is %.0f lbf/in\n", s.Rate(), s.Rate().PoundsForcePerInch())
	// Output: 204.19 N/mm, which is 1166 lbf/in
}

func ExampleSpring_Mass() {
	s := coilOr(coil.Spec{
		WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5,
		ShearModulus: 79.5 * units.Gigapascal, Density: 7850 * units.KilogramPerCubicMetre,
	})
	m, _ := s.Mass()
	// By hand: π · 46 mm · 7 of wire; 7850 kg/m³ · π/4 · (10 mm)² of that.
	fmt.Printf("%.1f of wire, %.4f\n", s.WireLength(), m)
	// Output: 1011.6 mm of wire, 0.6237 kg
}

func ExampleSpring_WithPreload() {
	law, err := exampleCoil().WithPreload(2 * units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	// 45 mm to solid less 2 mm; 204.19 N/mm · 2 mm.
	fmt.Printf("%.0f of travel, %.0f at the top\n", law.Travel(), law.Force(0))
	// Output: 43 mm of travel, 408 N at the top
}

// Springs print with units.
func ExampleSpring_String() {
	fmt.Println(exampleCoil())
	// Output: 5 coils of 10 mm wire on 46 mm: 204.19 N/mm
}
