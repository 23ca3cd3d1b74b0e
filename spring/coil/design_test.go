package coil_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Active coils for a rate as books print them: Bhandari 10.4 and 10.5, Wentzell
// 8.2 (which prints total coils, 12.79) and Jindal 8-4 (which prints the solid
// length of squared and ground ends, 26.18 mm) as worked in published textbook
// companions, and Mott, 4th ed., section 19-6.
func TestCoilsForRatePublished(t *testing.T) {
	jindal := (26.18e-3)/2.337e-3 - 2
	for _, row := range []struct {
		name          string
		wire, mean    units.Length
		shear         units.Stress
		rate          units.Stiffness
		coils, within float64 // half a unit in the last printed digit
	}{
		{"Bhandari 10.4", 4e-3, 24e-3, 81370e6, 30e3, 6.278549, 0.5e-6},
		{"Bhandari 10.5", 7e-3, 42e-3, 81370e6, 15e3, 21.974923, 0.5e-6},
		{"Wentzell 8.2", 0.105 * units.Inch, 0.62 * units.Inch, 11.85 * units.Mpsi, 70 * units.PoundForcePerInch, 12.79 - 2, 0.005},
		{"Jindal 8-4", 2.337e-3, 22.2e-3, 81000e6, 3e3, jindal, 0.005e-3 / 2.337e-3},
		{"Mott 19-6", 0.0625 * units.Inch, 0.6 * units.Inch, 11.2 * units.Mpsi, 8 * units.PoundForcePerInch, 12.36, 0.005},
	} {
		d, err := coil.CoilsForRate(coil.Spec{WireDiameter: row.wire, MeanDiameter: row.mean, ShearModulus: row.shear}, row.rate, 0)
		require.NoError(t, err)
		if math.Abs(d.ExactCoils-row.coils) > row.within {
			t.Errorf("%s: %v coils, printed are %v", row.name, d.ExactCoils, row.coils)
		}
		close12(t, row.name+" rate", float64(d.Rate), float64(row.rate))
	}
}

func TestCoilsForRateRounds(t *testing.T) {
	// By hand: 79 500·10⁴/(8·46³) = 1020.948 N/mm per coil.
	spec := coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 79500e6}
	perCoil := 79500e6 * 1e-8 / (8 * 46e-3 * 46e-3 * 46e-3)
	for _, row := range []struct{ rate, step, coils float64 }{
		{perCoil / 5.1, 1, 5}, {perCoil / 5.1, 0.25, 5}, {perCoil / 5.2, 0.25, 5.25}, {perCoil / 5.1, 0, 5.1}, {perCoil * 50, 0.25, 0.25},
	} {
		d, err := coil.CoilsForRate(spec, units.Stiffness(row.rate), row.step)
		require.NoError(t, err)
		close12(t, "coils", d.Coil.ActiveCoils, row.coils)
		close12(t, "exact coils", d.ExactCoils, perCoil/row.rate)
		close12(t, "rate", float64(d.Rate), perCoil/row.coils)
		if math.Abs(d.Miss-(perCoil/row.coils/row.rate-1)) > 1e-12 || d.ExactWire != 10e-3 || d.NextStockWires != nil {
			t.Errorf("design %+v", d)
		}
	}
}

func TestWireForRate(t *testing.T) {
	// By hand: 8·80 N/mm·4.6³·5/79 500 MPa = 3.917912… mm of wire.
	exact := 8 * 80e3 * 4.6 * 4.6 * 4.6 * 5 / 79500e6
	goal := coil.RateTarget{Rate: 80e3, Index: 4.6, ActiveCoils: 5, ShearModulus: 79500e6}
	d, err := coil.WireForRate(goal)
	require.NoError(t, err)
	close12(t, "wire", float64(d.Coil.WireDiameter), exact)
	close12(t, "coils", d.Coil.ActiveCoils, 5)
	close12(t, "rate", float64(d.Rate), 80e3)

	goal.Stock, goal.CoilStep = []units.Length{5e-3, 3.5e-3, 4e-3, 3e-3}, 0.25
	d, err = coil.WireForRate(goal)
	require.NoError(t, err)
	if diff := cmp.Diff([]units.Length{3.5e-3, 4e-3}, d.NextStockWires); diff != "" || d.Coil.WireDiameter != 4e-3 {
		t.Errorf("wire %v (-want +got):\n%s", d.Coil.WireDiameter, diff)
	}
	close12(t, "index kept", float64(d.Coil.MeanDiameter/d.Coil.WireDiameter), 4.6)
	close12(t, "exact coils", d.ExactCoils, 5*4e-3/exact)
	close12(t, "coils", d.Coil.ActiveCoils, 5) // 5.105 to the next quarter
	close12(t, "rate", float64(d.Rate), 80e3*4e-3/exact)

	// The nearer one may be the thinner one.
	goal.Stock = []units.Length{3.9e-3, 4e-3}
	d, err = coil.WireForRate(goal)
	require.NoError(t, err)
	if d.Coil.WireDiameter != 3.9e-3 {
		t.Errorf("wire %v, 3.9 mm is nearer to %v", d.Coil.WireDiameter, d.ExactWire)
	}

	goal.Stock = []units.Length{3e-3}
	d, err = coil.WireForRate(goal)
	require.NoError(t, err)
	if d.Coil.WireDiameter != 3e-3 || len(d.NextStockWires) != 1 {
		t.Errorf("the only wire in stock: %+v", d)
	}
}

func TestDesignRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		name string
		err  error
		want []string
	}{
		{"coils: nothing", second(coil.CoilsForRate(coil.Spec{}, 0, -1)), []string{"rate", "coil_step", "wire_diameter", "mean_diameter", "shear_modulus"}},
		{"coils: given already", second(coil.CoilsForRate(coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 80e9, ActiveCoils: 5, TotalCoils: 7, FreeLength: 1}, 80e3, nan)),
			[]string{"coil_step", "active_coils", "total_coils", "free_length"}},
		{"coils: none would do", second(coil.CoilsForRate(coil.Spec{WireDiameter: 10e-3, MeanDiameter: 46e-3, ShearModulus: 80e9}, 1e-300, 0)), []string{"rate"}},
		{"wire: nothing", second(coil.WireForRate(coil.RateTarget{})), []string{"rate", "index", "active_coils", "shear_modulus"}},
		{"wire: NaN", second(coil.WireForRate(coil.RateTarget{units.Stiffness(nan), nan, nan, units.Stress(nan), "odd", []units.Length{1e-3, units.Length(nan)}, nan})),
			[]string{"rate", "coil_step", "index", "active_coils", "shear_modulus", "ends", "stock[1]"}},
		{"wire: none is so thick", second(coil.WireForRate(coil.RateTarget{Rate: 1e300, Index: 5, ActiveCoils: 5, ShearModulus: 80e9})), []string{"rate"}},
	} {
		if diff := cmp.Diff(test.want, fieldsOf(test.err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

func second[T any](_ T, err error) error { return err }

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

// FuzzDesign: a coil that NewCoil takes, or a refusal that names a field.
func FuzzDesign(f *testing.F) {
	f.Add(80e3, 4.6, 5.0, 79500e6, 4e-3, 0.25)
	f.Add(1e-9, 1.0000001, 1e6, 1.0, 1e3, 1e-3)
	f.Fuzz(func(t *testing.T, rate, index, coils, shear, stock, step float64) {
		d, err := coil.WireForRate(coil.RateTarget{units.Stiffness(rate), index, coils, units.Stress(shear), "", []units.Length{units.Length(stock)}, step})
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		if _, err := coil.New(d.Coil); err != nil || math.IsNaN(d.Miss) || math.IsInf(d.Miss, 0) {
			t.Fatalf("%+v: %v", d, err)
		}
	})
}

// FuzzFromTarget: a coil that NewCoil takes and a wire that bears its load, or
// refusals that name a field.
func FuzzFromTarget(f *testing.F) {
	f.Add(4e-3, 30.0, 85e9, 12.5e3, 1000.0, 5.0, 700e6)
	f.Add(1e3, 1e6, 1e15, 1e300, 1e300, 1000.0, 1.0)
	f.Fuzz(func(t *testing.T, wire, coils, shear, rate, load, index, stress float64) {
		d, err := coil.DiameterForRate(coil.Spec{WireDiameter: units.Length(wire), ActiveCoils: coils, ShearModulus: units.Stress(shear)}, units.Stiffness(rate))
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
		} else if _, err := coil.New(d.Coil); err != nil || !(math.Abs(d.Miss) < 1e-9) {
			t.Fatalf("%+v: %v", d, err)
		}
		thick, err := coil.WireForLoad(units.Force(load), index, units.Stress(stress))
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
		} else if !(thick >= 1e-6 && thick <= 1e3) {
			t.Fatalf("wire of %v", thick)
		}
	})
}
