package coil_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// edgeCoil is a spring whose lengths are exact in float64: wire of 1/128 m, 4
// active coils of 1/32 m, solid at 6/128 m, and a travel to solid as wanted.
func edgeCoil(t *testing.T, travel units.Length) *coil.Spring {
	t.Helper()
	s := coilOf(t, coil.Spec{WireDiameter: 1.0 / 128, MeanDiameter: 1.0 / 32, ActiveCoils: 4, FreeLength: 6.0/128 + travel,
		ShearModulus: 80e9, ElasticModulus: 206e9})
	if got, _ := s.SolidTravel(); got != travel {
		t.Fatalf("travel to solid %v, want %v", got, travel)
	}
	return s
}

// findings are those of a fit, by code.
func findings(t *testing.T, s *coil.Spring, fit coil.Place) map[string]coil.Criterion {
	t.Helper()
	list, err := coil.CheckPlace(s, fit)
	require.NoError(t, err)
	m := map[string]coil.Criterion{}
	for _, f := range list {
		m[f.Code] = f
	}
	return m
}

func passed(t *testing.T, list map[string]coil.Criterion, code string, want bool) {
	t.Helper()
	if f, ok := list[code]; !ok || f.Passed != want {
		t.Errorf("%s passed: %v (%v), want %v", code, f.Passed, ok, want)
	}
}

// Which side of a limit the limit itself is on, as CheckFit's list has it.
func TestFitAtItsLimits(t *testing.T) {
	// Full travel that is the travel to solid is not less than it.
	s := edgeCoil(t, 1.0/32)
	passed(t, findings(t, s, coil.Place{Stroke: 1.0 / 32}), coil.GoesSolid, false)
	passed(t, findings(t, s, coil.Place{Stroke: 1.0/32 - 1e-9}), coil.GoesSolid, true)

	// EN's reserve: 1.5·4·(0.0015·2⁻¹⁰·2⁷ + 0.1·2⁻⁷) m; a gap of just that is enough.
	gap := 1.5 * 4 * units.Length(0.0015/8+0.1/128)
	s = edgeCoil(t, 1.0/128)
	solid, _ := s.SolidTravel()
	stroke := solid - gap
	if solid-stroke != gap {
		t.Fatal("the stroke is rounded")
	}
	passed(t, findings(t, s, coil.Place{Stroke: stroke}), coil.LittleReserveEN, true)
	passed(t, findings(t, s, coil.Place{Stroke: stroke + 1e-9}), coil.LittleReserveEN, false)

	// Shigley's overrun: 1.15 times full travel is enough.
	tiny := coilOf(t, coil.Spec{WireDiameter: 0x1p-19, MeanDiameter: 0x1p-17, ActiveCoils: 4, FreeLength: 6*0x1p-19 + 1.15*0x1p-6, ShearModulus: 80e9})
	if got, _ := tiny.SolidTravel(); got != 1.15*0x1p-6 {
		t.Fatalf("travel to solid %v", got)
	}
	passed(t, findings(t, tiny, coil.Place{Stroke: 0x1p-6}), coil.LittleReserve, true)
	passed(t, findings(t, tiny, coil.Place{Stroke: 0x1p-6 + 1e-12}), coil.LittleReserve, false)

	// A body as wide as the spring is inside rubs.
	s = edgeCoil(t, 1.0/32)
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Body: 3.0 / 128}), coil.RubsInside, false)
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Body: 3.0/128 - 1e-9}), coil.RubsInside, true)

	// So does a tube as narrow as the spring is when solid. The pitch m is twice
	// the wire d, D four times it: 2, 8 and 32 in 1/128 m.
	m, d := 2.0/128, 1.0/128
	outer := units.Length(5.0/128) + units.Length(0.1*(m*m-0.8*m*d-0.2*d*d)/(4*d))
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Tube: outer}), coil.RubsOutside, false)
	passed(t, findings(t, s, coil.Place{Stroke: 1e-3, Tube: outer + 1e-12}), coil.RubsOutside, true)

	// A spring that bows out at full travel bows out within it.
	long := coilOf(t, coil.Spec{WireDiameter: 4e-3, MeanDiameter: 20e-3, ActiveCoils: 10, FreeLength: 0.2, ShearModulus: 80e9, ElasticModulus: 206e9})
	b, ok := long.Buckling(0.5)
	require.True(t, ok && b.Buckles)
	passed(t, findings(t, long, coil.Place{Stroke: b.Travel}), coil.Bows, false)
	passed(t, findings(t, long, coil.Place{Stroke: b.Travel - 1e-9}), coil.Bows, true)
}

// A stress of just what the wire may take is within it. The strength is looked
// for, among neighbours in float64, at which the share comes to the stress.
func TestFitAtItsStresses(t *testing.T) {
	s := edgeCoil(t, 1.0/32)
	stroke := units.Length(1.0 / 64)
	bent := s.Stress(s.Rate().Times(stroke))
	force, _ := s.SolidForce()
	straight := s.StressUncorrected(force)
	for _, c := range []struct {
		code   string
		stress units.Stress
		share  units.Stress
	}{
		{coil.StressUnset, bent, 0.5}, {coil.StressPreset, bent, 0.65}, {coil.StressWhenSolidEN, straight, 0.56},
	} {
		// Of strengths a little off, some share is the stress itself: the last
		// one that passes and the first one whose share is less are neighbours.
		strength := c.stress / c.share
		equal := 0
		for i := -40; i <= 40; i++ {
			near := strength * (1 + units.Stress(i)*0x1p-53)
			list := findings(t, s, coil.Place{Stroke: stroke, TensileStrength: near, Wire: coil.Tempered})
			passed(t, list, c.code, c.share*near >= c.stress)
			if c.share*near == c.stress {
				equal++
			}
		}
		if equal == 0 {
			t.Errorf("%s: no strength is just enough", c.code)
		}
	}
}

// The limit that is told for a preset spring of tempered wire of 1000 MPa is
// 650 MPa, for one that is not 500 MPa, and 560 MPa when solid.
func TestFitTellsItsLimits(t *testing.T) {
	s := edgeCoil(t, 1.0/32)
	list := findings(t, s, coil.Place{Stroke: 1e-3, TensileStrength: 1e9, Wire: coil.Tempered})
	for code, limit := range map[string]string{coil.StressUnset: "500 MPa", coil.StressPreset: "650 MPa", coil.StressWhenSolidEN: "560 MPa"} {
		if got := list[code].Limit; got != limit {
			t.Errorf("%s is told to be limited by %q, want %q", code, got, limit)
		}
	}
}

// What is not known of the place is not looked at.
func TestFitOfAnUnknownPlace(t *testing.T) {
	list, err := coil.CheckPlace(edgeCoil(t, 1.0/32), coil.Place{Stroke: 1e-3})
	require.NoError(t, err)
	var codes []string
	for _, f := range list {
		codes = append(codes, f.Code)
	}
	if diff := cmp.Diff([]string{coil.GoesSolid, coil.LittleReserveEN, coil.LittleReserve, coil.Bows}, codes); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
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

// The working names what was measured, inside or outside, and what the sum is
// made of.
func TestCaliperWorkingSaysWhatWasMeasured(t *testing.T) {
	outer := coil.Caliper{WireDiameter: 8e-3, OuterDiameter: 51e-3, ActiveCoils: 6.5, ShearModulus: 79500e6,
		WireUncertainty: 2e-5, DiameterUncertainty: 8e-5, CoilUncertainty: 0.06, ModulusUncertainty: 5e8, Correlation: 0.4}
	inner := outer
	inner.OuterDiameter, inner.InnerDiameter = 0, 35e-3
	for _, c := range []struct {
		m               coil.Caliper
		formula, symbol string
		measured        units.Length
		factor          string
	}{
		{outer, "D = D_o − d", "D_o", 51e-3, "(4/d + 3/D)"}, {inner, "D = D_i + d", "D_i", 35e-3, "(4/d − 3/D)"},
	} {
		steps, err := c.m.Working()
		require.NoError(t, err)
		if got := steps[0]; got.Formula != c.formula || got.Given[0] != (units.Value{Symbol: c.symbol, Quantity: c.measured}) {
			t.Errorf("%+v", got)
		}
		for _, i := range []int{2, 6} { // the wire's part, and that of both readings
			if got := steps[i].Formula; !strings.Contains(got, c.factor) {
				t.Errorf("%s: %q has no %q", steps[i].Name, got, c.factor)
			}
		}
		var symbols []string
		for _, v := range steps[7].Given {
			symbols = append(symbols, v.Symbol)
		}
		if diff := cmp.Diff([]string{"k", "v_d", "v_D", "v_n", "v_G", "v_r"}, symbols); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
}
