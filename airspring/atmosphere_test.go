package airspring_test

import (
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// U.S. Standard Atmosphere, 1976: printed are the six-figure pressures of the
// geopotential table, as seen in a public tabulation (0: not seen). Pressure
// and geometric altitude are an independent evaluation (mpmath, 40 digits)
// that agrees with another implementation to 1e-15.
var atmosphereRows = []struct{ altitude, kelvin, printed, pascals, geometric float64 }{
	{-500, 291.40, 0, 107477.5067020584, -499.96067491906115},
	{0, 288.15, 101325, 101325, 0},
	{500, 284.90, 95460.8, 95460.8393423059, 500.03933126776},
	{1000, 281.65, 89874.6, 89874.57050221063, 1000.1573374476027},
	{1500, 278.40, 84556.0, 84556.00484136965, 1500.3540371087536},
	{2000, 275.15, 79495.2, 79495.2155105391, 2000.6294488262824},
	{2500, 271.90, 74682.5, 74682.5336614574, 2500.9835911811056},
	{3000, 268.65, 70108.5, 70108.54467002589, 3001.4164827599884},
	{3500, 265.40, 65764.1, 65764.08437088766, 3501.9281421555465},
	{4000, 262.15, 61640.2, 61640.235303506044, 4002.51858796625},
	{4500, 258.90, 57728.3, 57728.322969845634, 4503.187838796423},
	{5000, 255.65, 54019.9, 54019.91210376207, 5003.93591325625},
}

func TestAtmosphere(t *testing.T) {
	for _, r := range atmosphereRows {
		air, err := airspring.Atmosphere(units.Length(r.altitude))
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "pressure", air.Pressure, units.AbsolutePressure(r.pascals), close12)
		unitstest.Near(t, "temperature", air.Temperature, units.Temperature(r.kelvin), close12)
		if r.printed > 0 {
			unitstest.Near(t, "printed", air.Pressure, units.AbsolutePressure(r.printed), unitstest.Abs(0.05*units.PascalAbsolute))
		}
		z, err := airspring.GeometricAltitude(units.Length(r.altitude))
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "geometric", z, units.Length(r.geometric), close12)
		h, err := airspring.GeopotentialAltitude(z)
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "geopotential", h, units.Length(r.altitude), close12)
	}
	// The geometric table of the same standard, as quoted in the tests of a
	// public library: printed to 0.01 hPa and 0.001 K.
	for _, r := range []struct{ z, kelvin, hectopascals float64 }{{500, 284.900, 954.61}, {1000, 281.651, 898.76}} {
		h, _ := airspring.GeopotentialAltitude(units.Length(r.z))
		air, err := airspring.Atmosphere(h)
		if err != nil {
			t.Error(err)
		}
		unitstest.Near(t, "pressure", air.Pressure, units.AbsolutePressure(r.hectopascals*100), unitstest.Abs(0.5*units.PascalAbsolute))
		unitstest.Near(t, "temperature", air.Temperature, units.Temperature(r.kelvin), unitstest.Abs(0.0005*units.Kelvin))
	}
}

// The pressure falls by the weight of the air passed: dp/dH = −p·g₀·M/(R*·T).
func TestAtmosphereIsHydrostatic(t *testing.T) {
	const step = 1.0
	for h := -499.0; h < 10999; h += 123 {
		at := func(h float64) float64 {
			air, err := airspring.Atmosphere(units.Length(h))
			if err != nil {
				t.Fatal(err)
			}
			return float64(air.Pressure)
		}
		air, _ := airspring.Atmosphere(units.Length(h))
		want := -float64(air.Pressure) * 9.80665 * 0.0289644 / (8.31432 * float64(air.Temperature))
		unitstest.Near(t, "gradient", (at(h+step)-at(h-step))/(2*step), want, unitstest.Rel(1e-6))
	}
}

func TestAtmosphereRefuses(t *testing.T) {
	for _, v := range []float64{nan, inf, -inf, -500.1, 11000.1, 20000} {
		_, err := airspring.Atmosphere(units.Length(v))
		wantFields(t, "atmosphere", err, "altitude")
	}
	for _, v := range []float64{nan, inf, -inf, -10001, 100001, -6356766} {
		_, err := airspring.GeopotentialAltitude(units.Length(v))
		wantFields(t, "geopotential", err, "altitude")
		_, err = airspring.GeometricAltitude(units.Length(v))
		wantFields(t, "geometric", err, "altitude")
	}
	for _, v := range []units.Length{airspring.LowestAltitude, airspring.HighestAltitude} {
		if air, err := airspring.Atmosphere(v); err != nil || !(air.Pressure > 0) {
			t.Errorf("%v: %v %v", v, air, err)
		}
	}
}
