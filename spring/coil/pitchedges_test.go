package coil_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// A spring of one pitch is straight up to full travel, whatever n·g/n rounds
// to: its rate at the end is what it is at the start.
func TestOnePitchIsStraightToTheEnd(t *testing.T) {
	rounded := 0
	for i := range 200 {
		coils, gap := 3+0.1*float64(i), 1e-3+1e-5*float64(i)
		s, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: 10e-3, MeanDiameter: 46e-3, ActiveCoils: coils, ShearModulus: 79500e6,
			FirstGap: units.Length(gap), LastGap: units.Length(gap)})
		require.NoError(t, err)
		full := s.Travel()
		if float64(full)/coils > gap {
			rounded++
		}
		if s.Rate(full) != s.Rate(0) {
			t.Errorf("%v coils, gap %v: %v at full travel, %v before", coils, gap, s.Rate(full), s.Rate(0))
		}
		close12(t, "force at full travel", float64(s.Force(full)), float64(s.Rate(0))*coils*gap)
		close12(t, "energy at full travel", float64(s.Energy(full)), float64(s.Rate(0))*coils*gap*coils*gap/2)
	}
	if rounded == 0 {
		t.Error("no travel of the table is rounded up")
	}
}

// Refused is a spring whose rate, a thousand times the first one where it
// stops growing, is too large for float64, or too small to be of full
// precision. With D = 2·d the rate of one coil is G·d/64.
func TestPitchThatFloat64CannotTell(t *testing.T) {
	pitch := func(perTurn, coils, gap float64) error {
		_, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: 1, MeanDiameter: 2, ActiveCoils: coils, ShearModulus: units.Stress(64 * perTurn),
			FirstGap: units.Length(gap), LastGap: units.Length(gap)})
		return err
	}
	refused := []string{"active_coils"}
	for _, row := range []struct {
		name                string
		perTurn, coils, gap float64
		want                []string
	}{
		{"rates of 1.5e308", 1.5e305, 1, 1e-150, nil},
		{"rates of 2e308", 2e305, 1, 1e-150, refused},
		{"rates of 2e308 of a coil that is a hundredth", 2e303, 0.01, 1e-150, refused},
		{"rates of 1.5e308 of ten coils", 1.5e306, 10, 1e-150, nil},
		{"rates of 1e-306", 1e-309, 1, 1, refused},          // whose energy is below full precision
		{"an energy of 2^-1022", 0x1p-901, 1, 0x1p-60, nil}, // 2^-901·2^-120/2
		{"an energy of less", 0x1p-901, 1, 0x1p-60 * (1 - 0x1p-52), refused},
		{"an energy beyond all", 1e300, 1, 1e10, refused},
		{"a force beyond all", 1e305, 1e10, 1e4, refused},
		{"no travel", 1e300, 1, 5e-324, refused},
	} {
		if diff := cmp.Diff(row.want, fieldsOf(pitch(row.perTurn, row.coils, row.gap))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, diff)
		}
	}
}

// Rates that float64 can't tell are refused, not answered with 0.
func TestMeasuredRateOfNothing(t *testing.T) {
	_, err := coil.Caliper{WireDiameter: 1e-3, OuterDiameter: 1e3, ActiveCoils: 1, ShearModulus: 5e-324}.Rate()
	if diff := cmp.Diff([]string{"wire_diameter"}, fieldsOf(err)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// A correlation is from −1 to 1.
func TestCorrelationBounds(t *testing.T) {
	for r, want := range map[float64][]string{-1: nil, 1: nil, -1.001: {"correlation"}, 1.001: {"correlation"}} {
		_, err := coil.Caliper{WireDiameter: 1e-2, OuterDiameter: 5e-2, ActiveCoils: 5, ShearModulus: 8e10, WireUncertainty: 1e-5, DiameterUncertainty: 1e-5, Correlation: r}.Rate()
		if diff := cmp.Diff(want, fieldsOf(err)); diff != "" {
			t.Errorf("%v (-want +got):\n%s", r, diff)
		}
	}
}

// Effects that cancel leave nothing, or a rounding, but never the root of
// less than nothing: with an inner diameter of D − d and r = 1 the variance is
// ((4/d − 3/D)·u_d − 3/D·u_D)².
func TestCaliperEffectsThatCancel(t *testing.T) {
	for i := range 500 {
		d, inner, u := 8e-3+1e-6*float64(i), 35e-3+3e-6*float64(i), 1e-5+1e-8*float64(i)
		mean := inner + d
		got, err := coil.Caliper{WireDiameter: units.Length(d), InnerDiameter: units.Length(inner), ActiveCoils: 5, ShearModulus: 8e10,
			WireUncertainty: units.Length(u), DiameterUncertainty: units.Length(u * (4/d - 3/mean) / (3 / mean)), Correlation: 1}.Rate()
		if err != nil {
			t.Fatalf("wire %v: %v", d, err)
		}
		if !(got.RelativeUncertainty >= 0 && got.RelativeUncertainty < 1e-9) || math.IsNaN(float64(got.RateUncertainty)) {
			t.Errorf("wire %v: %v is left", d, got.RelativeUncertainty)
		}
	}
}

// The closing force of coil groups may be from 2^-1022 N, the least of full
// precision, to the greatest float64.
func TestGroupsUpToTheGreatest(t *testing.T) {
	for _, g := range []spring.Group{{Rate: 0x1p1023, Gap: 2 - 0x1p-52}, {Rate: 0x1p-522, Gap: 0x1p-500}} {
		if _, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{g}}); err != nil {
			t.Errorf("%+v: %v", g, err)
		}
	}
	for _, g := range []spring.Group{{Rate: 0x1p1023, Gap: 2}, {Rate: 0x1p-523, Gap: 0x1p-500}} {
		if _, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{g}}); cmp.Diff([]string{"groups[0].rate"}, fieldsOf(err)) != "" {
			t.Errorf("%+v: %v", g, err)
		}
	}
}
