package coil_test

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// FuzzCoilsForRate: a coil that can be made and meets its rate, or a field named.
func FuzzCoilsForRate(f *testing.F) {
	f.Add(0.010, 0.046, 79.5e9, 80e3, 0.25)
	f.Add(0.010, 0.046, 79.5e9, 80e3, 0.0)
	f.Add(1e-6, 1e3, 1.0, 1e-300, 1e300)
	f.Fuzz(func(t *testing.T, wire, mean, shear, rate, step float64) {
		d, err := coil.CoilsForRate(coil.Spec{WireDiameter: units.Length(wire), MeanDiameter: units.Length(mean), ShearModulus: units.Stress(shear)},
			units.Stiffness(rate), step)
		if err != nil {
			named(t, "coils", err)
			return
		}
		made, err := coil.New(d.Coil)
		if err != nil || !finite(d.Miss) || !(d.ExactCoils > 0) || !finite(d.ExactCoils) {
			t.Fatalf("%+v: %v", d, err)
		}
		if made.Rate() != d.Rate {
			t.Fatalf("rate %v, of the coil found %v", float64(d.Rate), float64(made.Rate()))
		}
		if step == 0 && !(math.Abs(d.Miss) < 1e-9) {
			t.Fatalf("exact coils miss the rate by %v", d.Miss)
		}
		if coils := d.Coil.ActiveCoils; step > 0 && math.Abs(coils/step-math.Round(coils/step)) > 1e-6*coils/step {
			t.Fatalf("%v coils are no whole steps of %v", coils, step)
		}
	})
}

// FuzzWarmShearModulus: falls with temperature and stays more than 0.
func FuzzWarmShearModulus(f *testing.F) {
	f.Add(79.5e9, 0.25e-3, 353.15)
	f.Add(1e300, 1e300, 293.15)
	f.Add(1.0, 0.4e-3, 5e-324)
	f.Fuzz(func(t *testing.T, at20, coefficient, kelvin float64) {
		g, err := coil.WarmShearModulus(units.Stress(at20), coefficient, units.Temperature(kelvin))
		if err != nil {
			named(t, "modulus", err)
			return
		}
		if !(g > 0) || !finite(float64(g)) || kelvin > 293.15 && !(g <= units.Stress(at20)*(1+1e-12)) || kelvin < 293.15 && !(g >= units.Stress(at20)*(1-1e-12)) {
			t.Fatalf("%v at %v K with %v per K, of %v at 20 °C", float64(g), kelvin, coefficient, at20)
		}
	})
}

// FuzzWorking: the working of a caliper's rate is the rate, in finite numbers.
func FuzzWorking(f *testing.F) {
	f.Add(0.01, 0.056, 5.0, 79.5e9, 2e-5, 2e-5, 0.1, 8e8, 0.5, 1500.0)
	f.Add(1e-300, 1.0, 5e-324, 1e300, 1.0, 1.0, 0.0, 0.0, -1.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, d, od, n, g, ud, uo, un, ug, r, force float64) {
		m := coil.Caliper{
			WireDiameter: units.Length(d), OuterDiameter: units.Length(od), ActiveCoils: n, ShearModulus: units.Stress(g),
			WireUncertainty: units.Length(ud), DiameterUncertainty: units.Length(uo), CoilUncertainty: un, ModulusUncertainty: units.Stress(ug), Correlation: r,
		}
		rate, rateErr := m.Rate()
		steps, err := m.Working()
		if (err == nil) != (rateErr == nil) {
			t.Fatalf("the rate: %v; its working: %v", rateErr, err)
		}
		if err != nil {
			named(t, "working", err)
		} else {
			soundSteps(t, steps)
			if !holds(steps, float64(rate.Rate)) {
				t.Fatalf("no step comes to the rate %v", float64(rate.Rate))
			}
		}
		s, err := coil.New(coil.Spec{WireDiameter: units.Length(d), OuterDiameter: units.Length(od), ActiveCoils: n, ShearModulus: units.Stress(g)})
		if err != nil {
			named(t, "coil", err)
			return
		}
		steps = s.Working(units.Force(force))
		soundSteps(t, steps)
		if !holds(steps, float64(s.Rate())) {
			t.Fatalf("no step comes to the rate %v", float64(s.Rate()))
		}
	})
}

// number is the SI number of a value; 0 for a text.
func number(v units.Value) float64 {
	if r := reflect.ValueOf(v.Quantity); r.CanFloat() {
		return r.Float()
	}
	return 0
}

// holds tells whether some step comes to v.
func holds(steps []units.Step, v float64) bool {
	return slices.ContainsFunc(steps, func(s units.Step) bool { return number(s.Result) == v })
}

// soundSteps holds that every step says what it is, how and from where, in
// finite numbers.
func soundSteps(t *testing.T, steps []units.Step) {
	t.Helper()
	if len(steps) == 0 {
		t.Fatal("no working")
	}
	for _, s := range steps {
		if s.Name == "" || s.Formula == "" || s.Source == "" {
			t.Fatalf("%+v", s)
		}
		for _, v := range append(slices.Clip(s.Given), s.Result) {
			if v.Quantity == nil || !finite(number(v)) {
				t.Fatalf("%+v", s)
			}
		}
	}
}
