package coil_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestScopeOfTolerances(t *testing.T) {
	s := coilOf(t, coil.Spec{WireDiameter: 6e-3, MeanDiameter: 30.5e-3, ActiveCoils: 18, ShearModulus: 79500e6})
	for _, test := range []struct {
		load  units.Force
		grade coil.Grade
	}{{0, coil.Grade1}, {-1, coil.Grade1}, {units.Force(math.NaN()), coil.Grade1}, {2e15, coil.Grade1}, {1500, 0}, {1500, 4}} {
		if _, ok := s.LoadTolerance(test.load, test.grade); ok {
			t.Errorf("load %v at grade %v is answered", test.load, test.grade)
		}
	}
	for name, spec := range map[string]coil.Spec{
		"thick wire":  {WireDiameter: 17e-3, MeanDiameter: 100e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"wide":        {WireDiameter: 15e-3, MeanDiameter: 201e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"few coils":   {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 1.9, ShearModulus: 80e9},
		"small index": {WireDiameter: 6e-3, MeanDiameter: 23e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"large index": {WireDiameter: 6e-3, MeanDiameter: 121e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"long":        {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 50, FreeLength: 0.64, ShearModulus: 80e9},
	} {
		if x, ok := coilOf(t, spec).LoadTolerance(100, coil.Grade1); ok || x != 0 {
			t.Errorf("%s: outside the scope, yet answered %v", name, x)
		}
		if x, ok := coilOf(t, spec).FreeLengthTolerance(coil.Grade1); ok || x != 0 {
			t.Errorf("%s: outside the scope, yet answered %v", name, x)
		}
	}
	for name, spec := range map[string]coil.Spec{
		"thinnest wire": {WireDiameter: 0.07e-3, MeanDiameter: 0.7e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"thickest wire": {WireDiameter: 16e-3, MeanDiameter: 100e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"widest":        {WireDiameter: 15e-3, MeanDiameter: 200e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"two coils":     {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 2, ShearModulus: 80e9},
		"index 4":       {WireDiameter: 6e-3, MeanDiameter: 24e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"index 20":      {WireDiameter: 6e-3, MeanDiameter: 120e-3, ActiveCoils: 5, ShearModulus: 80e9},
		"longest":       {WireDiameter: 6e-3, MeanDiameter: 30e-3, ActiveCoils: 50, FreeLength: 0.63, ShearModulus: 80e9},
	} {
		if x, ok := coilOf(t, spec).LoadTolerance(0.1, coil.Grade1); !ok || !(x > 0) {
			t.Errorf("%s: at the end of the scope, yet not answered", name)
		}
	}
}

func ExampleSpring_LoadTolerance() {
	s := coilOr(coil.Spec{
		WireDiameter: 6 * units.Millimetre, MeanDiameter: 30.5 * units.Millimetre, ActiveCoils: 18, ShearModulus: 79500 * units.Megapascal,
	})
	for _, grade := range []coil.Grade{coil.Grade1, coil.Grade2, coil.Grade3} {
		f, _ := s.LoadTolerance(1500*units.Newton, grade)
		fmt.Printf("grade %d: ±%.1f\n", grade, f)
	}
	// Output:
	// grade 1: ±71.0 N
	// grade 2: ±112.8 N
	// grade 3: ±180.4 N
}

// The tolerances of an invented fork spring, computed with mpmath at 50 digits.
func ExampleSpring_FreeLengthTolerance() {
	s := coilOr(coil.Spec{
		WireDiameter: 6 * units.Millimetre, MeanDiameter: 30.5 * units.Millimetre, ActiveCoils: 18, ShearModulus: 79500 * units.Megapascal,
	})
	for _, grade := range []coil.Grade{coil.Grade1, coil.Grade2, coil.Grade3} {
		x, _ := s.FreeLengthTolerance(grade)
		fmt.Printf("grade %d: ±%.2f\n", grade, x)
	}
	// Output:
	// grade 1: ±2.26 mm
	// grade 2: ±3.58 mm
	// grade 3: ±5.73 mm
}

// 0.024 over 0.0012 is more than 20 in float64: rounding is no reason to refuse.
func TestToleranceForgivesRounding(t *testing.T) {
	s := coilOf(t, coil.Spec{WireDiameter: mm(1.2), MeanDiameter: mm(24), ActiveCoils: 5, ShearModulus: 79500e6})
	if _, ok := s.FreeLengthTolerance(coil.Grade1); !(s.Index() > 20) || !ok {
		t.Errorf("no tolerance at index %v", s.Index())
	}
}
