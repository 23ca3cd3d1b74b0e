package coil_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// A design's coil is the spec that was given, and what was looked for.
func TestDesignKeepsTheSpec(t *testing.T) {
	spec := coil.Spec{WireDiameter: 10e-3, OuterDiameter: 56e-3, Ends: coil.Squared, ShearModulus: 79500e6, ElasticModulus: 206e9, Density: 7850}
	d, err := coil.CoilsForRate(spec, 204189.611243528, 1)
	require.NoError(t, err)
	want := spec
	want.ActiveCoils = 5
	if diff := cmp.Diff(want, d.Coil); diff != "" {
		t.Errorf("coils (-want +got):\n%s", diff)
	}

	spec = coil.Spec{WireDiameter: 10e-3, TotalCoils: 7, Ends: coil.Squared, FreeLength: 115e-3, ShearModulus: 79500e6, ElasticModulus: 206e9, Density: 7850}
	d, err = coil.DiameterForRate(spec, 204189.611243528)
	require.NoError(t, err)
	close12(t, "diameter", float64(d.Coil.MeanDiameter), 46e-3)
	if d.ExactCoils != 5 || d.ExactWire != 10e-3 {
		t.Errorf("%+v", d)
	}
	want, d.Coil.MeanDiameter = spec, 0
	if diff := cmp.Diff(want, d.Coil); diff != "" {
		t.Errorf("diameter (-want +got):\n%s", diff)
	}
}

// Miss is the rate found over the rate wanted, less 1, down to the rounding
// that is all that an exact diameter misses by.
func TestMissIsToldToTheLastPlace(t *testing.T) {
	missed := 0
	for i := range 50 {
		rate := units.Stiffness(50e3 + 1234.5*float64(i))
		d, err := coil.DiameterForRate(coil.Spec{WireDiameter: 10e-3, ActiveCoils: 5, ShearModulus: 79500e6}, rate)
		require.NoError(t, err)
		if want := float64(d.Rate/rate) - 1; d.Miss != want || !(want < 1e-14 && want > -1e-14) {
			t.Errorf("misses %v by %v, want %v", rate, d.Miss, want)
		}
		if d.Miss != 0 {
			missed++
		}
	}
	if missed == 0 {
		t.Error("no rate of the table is rounded")
	}
}

// Of two sizes that are equally near, the thinner is taken. By hand: the exact
// wire is 64·k/G = 1 m.
func TestWireBetweenTwoOfStock(t *testing.T) {
	for _, stock := range [][]units.Length{{0.75, 1.25}, {1.25, 0.75, 3}} {
		d, err := coil.WireForRate(coil.RateTarget{Rate: 1e3, Index: 2, ActiveCoils: 1, ShearModulus: 64e3, Stock: stock})
		require.NoError(t, err)
		if d.ExactWire != 1 || d.Coil.WireDiameter != 0.75 || !cmp.Equal(d.NextStockWires, []units.Length{0.75, 1.25}) {
			t.Errorf("%+v", d)
		}
	}
	d, err := coil.WireForRate(coil.RateTarget{Rate: 1e3, Index: 2, ActiveCoils: 1, ShearModulus: 64e3, Stock: []units.Length{0.75, 1.2}})
	require.NoError(t, err)
	if d.Coil.WireDiameter != 1.2 {
		t.Errorf("%+v", d)
	}
	// A size that fits exactly stands once.
	d, err = coil.WireForRate(coil.RateTarget{Rate: 1e3, Index: 2, ActiveCoils: 1, ShearModulus: 64e3, Stock: []units.Length{0.75, 1, 1.25}})
	require.NoError(t, err)
	if d.Coil.WireDiameter != 1 || !cmp.Equal(d.NextStockWires, []units.Length{1}) {
		t.Errorf("%+v", d)
	}
}
