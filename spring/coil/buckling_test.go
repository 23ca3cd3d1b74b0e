package coil_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestBucklingByLengthAndFixity(t *testing.T) {
	spec := coil.Spec{WireDiameter: 4.5e-3, MeanDiameter: 22.5e-3, ActiveCoils: 25, FreeLength: 220e-3, ShearModulus: 79500e6, ElasticModulus: 206000e6}
	s := coilOf(t, spec)
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
		if limit, stable := s.StableSlenderness(bad); ok || stable || limit != 0 || b != (coil.Buckling{}) {
			t.Errorf("a fixity of %v is answered", bad)
		}
	}
}

// λ² = C₂ is the first slenderness at which a spring bows out, L₀·C₁ below its
// free length, which is far beyond solid.
func TestBucklesFromTheStableSlendernessOn(t *testing.T) {
	spec := coil.Spec{WireDiameter: 0.01, MeanDiameter: 1, ActiveCoils: 5, ShearModulus: 80e9, ElasticModulus: 200e9}
	stable, _ := coilOf(t, spec).StableSlenderness(0.5)
	close12(t, "stable slenderness", stable, math.Sqrt(2*math.Pi*math.Pi*120/360)/0.5)
	spec.FreeLength = units.Length(stable) // of a mean diameter of 1 m
	b, ok := coilOf(t, spec).Buckling(0.5)
	if !ok || !b.Buckles {
		t.Fatalf("%+v, %v", b, ok)
	}
	close12(t, "travel", float64(b.Travel), stable*200/(2*120))
	spec.FreeLength = units.Length(math.Nextafter(stable, 0))
	if b, ok = coilOf(t, spec).Buckling(0.5); !ok || b.Buckles {
		t.Errorf("just below: %+v, %v", b, ok)
	}
}

func ExampleSpring_Buckling() {
	s := coilOr(coil.Spec{
		WireDiameter: 4.5 * units.Millimetre, MeanDiameter: 22.5 * units.Millimetre, ActiveCoils: 25, FreeLength: 220 * units.Millimetre,
		ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206000 * units.Megapascal,
	})
	b, _ := s.Buckling(0.5) // seated flat at both ends
	fmt.Printf("%.2f mean diameters long, stable to %.2f, bows at %.1f\n", b.Slenderness, b.StableSlenderness, b.Travel)
	// Output: 9.78 mean diameters long, stable to 5.23, bows at 27.8 mm
}

func ExampleSpring_StableSlenderness() {
	s := coilOr(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, MeanDiameter: 28.5 * units.Millimetre, ActiveCoils: 13,
		ShearModulus: 79.3 * units.Gigapascal, ElasticModulus: 207 * units.Gigapascal,
	})
	// Shigley has the constant of steel as 2.63, over the fixity (publisher's
	// solutions, problem 10-3).
	pivoted, _ := s.StableSlenderness(1)
	flat, _ := s.StableSlenderness(0.5)
	fmt.Printf("%.2f on pivots, %.2f on flat seats\n", pivoted, flat)
	// Output: 2.63 on pivots, 5.25 on flat seats
}
