package coil_test

import (
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestBuckling(t *testing.T) {
	// Computed with mpmath at 50 digits; Shigley's and EN's forms agree to 40.
	spec := coil.Spec{WireDiameter: 4.5e-3, MeanDiameter: 22.5e-3, ActiveCoils: 25, FreeLength: 220e-3, ShearModulus: 79500e6, ElasticModulus: 206000e6}
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
		if limit, stable := s.StableSlenderness(bad); ok || stable || limit != 0 || b != (coil.Buckling{}) {
			t.Errorf("a fixity of %v is answered", bad)
		}
	}
}
