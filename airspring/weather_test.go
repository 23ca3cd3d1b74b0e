package airspring_test

import (
	"fmt"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// An independent computation (mpmath, 40 digits) for sealed rigid chambers:
// fill in bar, °C and m before and after, bore in mm, then the gauge pressure in
// Pa and the force at full extension in N.
var conditionRows = []struct{ fill, t1, t2, h1, h2, bore, after, force float64 }{
	{5.5, 20, 0, 0, 0, 34, 505563.70458809484, 459.0115386538682},
	{5.5, 20, 0, 0, 2000, 34, 527393.4890775557, 478.83124263193287},
	{4.0, 15, 40, 500, 500, 34, 442986.3646835247, 402.1963028808308},
	{16.0, 20, 0, 0, 0, 40, 1483928.0231963159, 1864.758950451828},
	{16.0, 20, -10, 200, 3000, 40, 1454972.3437578862, 1828.3721705304395},
	{5.5, 20, 20, 0, 2500, 34, 576642.4663385426, 523.5453877031518},
}

func TestConditions(t *testing.T) {
	for _, r := range conditionRows {
		from := airspring.Conditions{Temperature: units.Celsius(r.t1), Altitude: units.Length(r.h1)}
		to := airspring.Conditions{Temperature: units.Celsius(r.t2), Altitude: units.Length(r.h2)}
		fill, err := airspring.FillAt(units.BarGauge(r.fill), from, to)
		wantFields(t, "fill", err)
		unitstest.Near(t, "fill", fill, units.GaugePressure(r.after), close12)
		back, err := airspring.FillAt(fill, to, from)
		wantFields(t, "back", err)
		unitstest.Near(t, "and back", back, units.BarGauge(r.fill), close12)

		low, _ := airspring.Atmosphere(from.Altitude)
		high, _ := airspring.Atmosphere(to.Altitude)
		spec := one(r.bore, 100, 150, r.fill, 1.3)
		spec.Ambient = low.Pressure
		moved, err := airspring.SpecAt(spec, from.Temperature, to.Temperature, high.Pressure)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "fill of the spec", moved.Fill, units.GaugePressure(r.after), close12)
		unitstest.Near(t, "force", make1(t, moved).Force(0), units.Force(r.force), close12)
	}
}

// Two chambers at 40 mm, from 20 °C at sea level to 0 °C at 2000 m (mpmath, 40
// digits): both chambers cool, and only the shaft feels the ambient.
func TestTwoChambersMoved(t *testing.T) {
	spec := twoRows[0].spec()
	unitstest.Near(t, "force before", make1(t, spec).Force(40*mm), 419.17821064098456, close12)
	moved, err := airspring.SpecAt(spec, units.Celsius(20), units.Celsius(0), 79495.2155105391)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "force after", make1(t, moved).Force(40*mm), 391.75157804322663, close12)
}

func TestConditionsRefuse(t *testing.T) {
	good := airspring.Conditions{Temperature: 293.15}
	for _, c := range []struct {
		name     string
		fill     units.GaugePressure
		from, to airspring.Conditions
		want     []string
	}{
		{"NaN", units.GaugePressure(nan), good, good, []string{"fill"}},
		{"NaN everywhere", units.GaugePressure(nan), airspring.Conditions{Temperature: units.Temperature(nan), Altitude: units.Length(nan)},
			airspring.Conditions{Temperature: units.Temperature(nan), Altitude: units.Length(nan)},
			[]string{"fill", "from.altitude", "from.temperature", "to.altitude", "to.temperature"}},
		{"degrees taken for kelvin", 5e5, airspring.Conditions{Temperature: 20}, good, []string{"from.temperature"}},
		{"stratosphere", 5e5, good, airspring.Conditions{Temperature: 293, Altitude: 12000}, []string{"to.altitude"}},
		{"missing", 5e5, airspring.Conditions{}, airspring.Conditions{}, []string{"from.temperature", "to.temperature"}},
	} {
		_, err := airspring.FillAt(c.fill, c.from, c.to)
		wantFields(t, c.name, err, c.want...)
	}
	_, err := airspring.SpecAt(airspring.Spec{}, units.Temperature(nan), 500, 0)
	wantFields(t, "all", err, "bore", "travel", "positive_volume", "fill", "ambient", "exponent", "from", "to", "to_ambient")
	// A small fill in the cold is a gauge below 0, not an error.
	fill, err := airspring.FillAt(0, good, airspring.Conditions{Temperature: 283.15})
	wantFields(t, "fill", err)
	unitstest.Near(t, "fill", fill, units.GaugePressure(101325*(283.15/293.15-1)), unitstest.Rel(1e-11))
}

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

// geopotential is r·Z/(r + Z) with the standard's radius of the earth: what the same work lifts to where
// gravity does not fall with the altitude Z.
func geopotential(z float64) units.Length { return units.Length(6356766 * z / (6356766 + z)) }

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
		unitstest.Near(t, "geopotential", geopotential(r.geometric), units.Length(r.altitude), close12)
	}
	// The geometric table of the same standard, as quoted in the tests of a
	// public library: printed to 0.01 hPa and 0.001 K.
	for _, r := range []struct{ z, kelvin, hectopascals float64 }{{500, 284.900, 954.61}, {1000, 281.651, 898.76}} {
		air, err := airspring.Atmosphere(geopotential(r.z))
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

func TestAltitudesTakeTheirLimitsOnly(t *testing.T) {
	for _, h := range []units.Length{airspring.LowestAltitude, airspring.HighestAltitude} {
		got, err := airspring.Atmosphere(h)
		if wantFields(t, "atmosphere", err); got.Pressure == 0 {
			t.Errorf("the pressure at %v is 0", h)
		}
	}
	for _, h := range []units.Length{units.Length(nan), units.Length(inf), units.Length(-inf), airspring.LowestAltitude - 0.1, airspring.HighestAltitude + 0.1, -6356766} {
		got, err := airspring.Atmosphere(h)
		if wantFields(t, "atmosphere", err, "altitude"); got != (airspring.Air{}) {
			t.Errorf("%v beside the error", got)
		}
	}
}

// The gauge may show less than the ambient, down to vacuum; a fill that is to stay
// one is more than 0 after all.
func TestConditionsAtTheirLimits(t *testing.T) {
	level := airspring.Conditions{Temperature: 293.15, Altitude: 0}
	for _, c := range []struct {
		fill float64
		want []string
	}{
		{-101324.5, nil}, {-101325, []string{"fill"}}, {-101326, []string{"fill"}}, {1e8, nil}, {1.2e8, []string{"fill"}},
	} {
		got, err := airspring.FillAt(units.GaugePressure(c.fill), level, level)
		wantFields(t, fmt.Sprint(c.fill), err, c.want...)
		if c.want != nil && got != 0 {
			t.Errorf("%v beside the error", got)
		}
	}
	low, high := airspring.Conditions{Temperature: 200, Altitude: -500}, airspring.Conditions{Temperature: 400, Altitude: 11000}
	for _, c := range [][2]airspring.Conditions{{low, high}, {high, low}} {
		_, err := airspring.FillAt(units.BarGauge(1000), c[0], c[1])
		wantFields(t, "conditions", err)
	}
	_, err := airspring.FillAt(5e5, airspring.Conditions{Temperature: 199.9}, airspring.Conditions{Temperature: 400.1})
	wantFields(t, "too cold, too hot", err, "from.temperature", "to.temperature")
	_, err = airspring.SpecAt(one(36, 160, 230, 50, 1), 199.9, 400.1, airspring.SeaLevel)
	wantFields(t, "too cold, too hot", err, "from", "to")
	_, err = airspring.SpecAt(one(36, 160, 230, 50, 1), 400.1, 199.9, airspring.SeaLevel)
	wantFields(t, "too hot, too cold", err, "from", "to")
	first := func(s *airspring.Spec, fill units.GaugePressure) { s.Fill = fill }
	second := func(s *airspring.Spec, fill units.GaugePressure) { s.SecondVolume, s.SecondFill = 40*cm3, fill }
	for name, set := range map[string]func(*airspring.Spec, units.GaugePressure){"first": first, "second": second} {
		for _, c := range []struct {
			fill          units.GaugePressure
			ambient, then units.AbsolutePressure
			good          bool
		}{
			{1e5, 1e5, 2e5, false},      // nothing above ambient is left
			{1e5, 1e5, 199999.5, true},  // half a pascal is
			{1e5, 1e5, 200000.5, false}, // less than nothing
			{1e8, 1e5, 1e5, true},
			{1e8, 1e5, 0.9e5, false}, // 1000 bar and 0.1 bar
			{5e6, 1e5, 1e6, true},
			{5e6, 1e5, 1e3, true},
			{5e6, 1e5, 1.2e6, false}, // that is no ambient
		} {
			s := roomy()
			s.Ambient, s.Fill = c.ambient, 5e6
			set(&s, c.fill)
			moved, err := airspring.SpecAt(s, 300, 300, c.then)
			if c.good {
				wantFields(t, name, err)
				continue
			}
			wantFields(t, fmt.Sprint(name, " ", c.fill, " to ", c.then), err, "to_ambient")
			if moved != (airspring.Spec{}) {
				t.Errorf("%s: a spec beside the error", name)
			}
		}
	}
}
