package refdata_test

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

// The dataset's factors are the very ones of package units; the gravity is
// its StandardGravity.
func TestConstantsAgreeWithUnits(t *testing.T) {
	for name, want := range map[string]float64{
		"standard_gravity":     units.StandardGravity,
		"inch":                 float64(units.Inch),
		"foot":                 float64(units.Foot),
		"pound":                float64(units.Pound),
		"ounce":                float64(units.Ounce),
		"pound_force":          float64(units.PoundForce),
		"kilogram_force":       float64(units.KilogramForce),
		"bar":                  float64(units.BarAbsolute),
		"standard_atmosphere":  float64(units.StandardAtmosphere),
		"psi":                  float64(units.PSIAbsolute),
		"pound_force_per_inch": float64(units.PoundForcePerInch),
		"celsius_zero":         float64(units.Celsius(0)),
		"fahrenheit_degree":    float64(units.Fahrenheit(1) - units.Fahrenheit(0)),
	} {
		c, err := refdata.ConstantNamed(name)
		require.NoError(t, err)
		if math.Abs(c.Value/want-1) > 1e-13 || !c.Exact() {
			t.Errorf("%s: dataset %v (exact %v), package units %v", name, c.Value, c.Exact(), want)
		}
	}
}

// What can be derived from other constants is, in exact rational arithmetic.
func TestConstantsAgreeWithEachOther(t *testing.T) {
	rat := func(s string) *big.Rat {
		r, ok := new(big.Rat).SetString(s)
		require.True(t, ok)
		return r
	}
	over := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }
	by := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
	for name, want := range map[string]*big.Rat{
		"yard":                                 by(rat("0.0254"), rat("36")),
		"torr":                                 rat("101325/760"),
		"conventional_millimetre_of_mercury":   by(rat("13.5951"), rat("9.80665")),
		"kilogram_force_per_square_centimetre": by(rat("9.80665"), rat("10000")),
		"atmosphere_pressure_exponent":         over(by(rat("9.80665"), rat("0.0289644")), by(rat("8.31432"), rat("0.0065"))),
		"molar_gas_constant":                   by(rat("1.380649e-23"), rat("6.02214076e23")),
	} {
		c, err := refdata.ConstantNamed(name)
		require.NoError(t, err)
		if exact, _ := want.Float64(); math.Abs(c.Value/exact-1) > 1e-15 {
			t.Errorf("%s: %v, want %v", name, c.Value, exact)
		}
	}
}

func TestConstantsAreComplete(t *testing.T) {
	list := refdata.Constants()
	if len(list) != 28 {
		t.Errorf("%d constants, want 28", len(list))
	}
	seen := map[string]bool{}
	for _, c := range list {
		check := units.Checker{Package: "refdata"}
		c.Source.Check(&check, c.Standing)
		if err := check.Err(); err != nil || c.Source.Title == "" {
			t.Errorf("%s: source %v: %v", c.Name, c.Source, err)
		}
		if seen[c.Name] {
			t.Errorf("%s comes twice", c.Name)
		}
		seen[c.Name] = true
		if !(c.Value > 0) || c.Unit == "" || !(c.Uncertainty >= 0) {
			t.Errorf("%s: value %v, unit %q, uncertainty %v", c.Name, c.Value, c.Unit, c.Uncertainty)
		}
	}
	_, err := refdata.ConstantNamed("speed_of_light")
	require.ErrorIs(t, err, units.ErrUnknown)
	if f := units.Fields(err); len(f) != 1 || f[0].Field != "constant" || len(f[0].Want.OneOf) != len(refdata.Constants()) {
		t.Errorf("%v", err)
	}
}
