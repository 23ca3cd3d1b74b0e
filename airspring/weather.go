package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// Air is the state of the air around a spring.
type Air struct {
	Pressure    units.AbsolutePressure `json:"pressure"`
	Temperature units.Temperature      `json:"temperature"`
}

// The troposphere of the U.S. Standard Atmosphere, 1976 (NOAA/NASA/USAF), the same layer as in
// ICAO Doc 7488 and ISO 2533. The constants are exact by definition of the standard; its text
// was not opened, they are as public implementations that quote it have them.
const (
	seaLevelTemperature = 288.15    // K
	lapse               = 0.0065    // K/m, of geopotential altitude
	gasConstant         = 8.31432   // J/(mol K); not the present value
	molarMass           = 0.0289644 // kg/mol
	airExponent         = units.StandardGravity * molarMass / (gasConstant * lapse)
)

// The geopotential altitudes that [Atmosphere] takes.
const (
	LowestAltitude  units.Length = -500
	HighestAltitude units.Length = 11000 // where the stratosphere begins
)

// Atmosphere returns the standard pressure and temperature at a geopotential altitude H from -500 m
// to 11 000 m, by
//
//	T = 288.15 K − 0.0065 K/m·H,  p = 101 325 Pa·(T/288.15 K)^(g₀M/(R*·L))
//
// of the U.S. Standard Atmosphere, 1976, with R* = 8.31432 J/(mol K), M = 0.0289644 kg/mol,
// g₀ = 9.80665 m/s² and L = 0.0065 K/m. ICAO's gas constant, 287.05287 J/(kg K), differs in the 7th
// digit. The altitude on a map is geometric, 4 m more at 5 km, which is 28 Pa. The
// weather is not modelled: it changes the pressure by ±3 kPa, as much as 200 m of altitude. The error
// names altitude.
func Atmosphere(altitude units.Length) (Air, error) {
	c := units.Checker{Package: "airspring"}
	air := atmosphere(&c, altitude)
	return air, c.Err()
}

// atmosphere checks the altitude. The air of a bad one is the zero value.
func atmosphere(c *units.Checker, altitude units.Length) Air {
	if !(altitude >= LowestAltitude && altitude <= HighestAltitude) {
		c.Fail("altitude", altitude, units.From(LowestAltitude, HighestAltitude), nil)
		return Air{}
	}
	share := 1 - lapse/seaLevelTemperature*float64(altitude)
	return Air{
		Pressure:    SeaLevel * units.AbsolutePressure(math.Pow(share, airExponent)),
		Temperature: units.Temperature(seaLevelTemperature * share),
	}
}

// Conditions are the temperature of a spring's gas, and the altitude, which gives the ambient
// pressure.
type Conditions struct {
	Temperature units.Temperature `json:"temperature"` // from 200 K to 400 K
	Altitude    units.Length      `json:"altitude"`    // geopotential, see [Atmosphere]; 0 is sea level
}

const coldest, hottest units.Temperature = 200, 400 // a bare number of degrees Celsius is outside

// ambient checks the conditions and returns the ambient pressure, 0 if the altitude is refused.
func (at Conditions) ambient(c *units.Checker, path string) units.AbsolutePressure {
	own := c.Child(path)
	units.Between(&own, "temperature", at.Temperature, coldest, hottest)
	return atmosphere(&own, at.Altitude).Pressure
}

// FillAt returns the gauge pressure of a sealed chamber that was filled in one place and is brought
// to another, at full extension and with the ambient pressures of [Atmosphere]:
//
//	g₂ = (g₁ + p_a1)·T₂/T₁ − p_a2
//
// The result may be below 0: a small fill that is cooled may fall below the ambient. The chamber is
// rigid and its gas ideal. Air at 20 bar really loses 7.2 % of its absolute pressure from 20 to 0 °C,
// and 6.8 % by this equation (computed from the equation of state of Lemmon et al., 2000). The fill is
// above vacuum and at most 1000 bar. The error names every bad field, such as from.temperature.
func FillAt(fill units.GaugePressure, from, to Conditions) (units.GaugePressure, error) {
	c := units.Checker{Package: "airspring"}
	before, after := from.ambient(&c, "from"), to.ambient(&c, "to")
	if !(fill <= gas.MaxFill) || before > 0 && !(fill.Absolute(before) > 0) {
		c.Fail("fill", fill, units.AtMost(gas.MaxFill).With("more than vacuum"), nil)
	}
	warmer := units.AbsolutePressure(to.Temperature / from.Temperature)
	return units.Checked(&c, (fill.Absolute(before) * warmer).Gauge(after))
}

// SpecAt returns the spec of a sealed spring brought from one temperature to another, and to
// another ambient pressure, without any gas added or let out: the absolute pressure of every
// chamber is proportional to the temperature. With one chamber
//
//	F = A_p·(p_p·T₂/T₁ − p_a2)
//
// and with a negative one, where only the shaft feels the ambient,
//
//	F = (A_p·p_p − A_n·p_n)·T₂/T₁ − A_s·p_a2
//
// Temperatures are from 200 to 400 K, the ambient from 1 kPa to 1 MPa above vacuum. The error names
// every bad field. It names to_ambient if the fill or the second_fill becomes 0 or less, or more than
// 1000 bar.
func SpecAt(spec Spec, from, to units.Temperature, ambient units.AbsolutePressure) (Spec, error) {
	c := units.Checker{Package: "airspring"}
	spec.checkFilled(&c)
	units.Between(&c, "from", from, coldest, hottest)
	units.Between(&c, "to", to, coldest, hottest)
	gas.CheckAmbient(&c, "to_ambient", ambient)
	fills := []*units.GaugePressure{&spec.Fill}
	if spec.SecondVolume > 0 {
		fills = append(fills, &spec.SecondFill)
	}
	for _, fill := range fills {
		*fill = (fill.Absolute(spec.Ambient) * units.AbsolutePressure(to/from)).Gauge(ambient)
		if !(*fill > 0 && *fill <= gas.MaxFill) && c.OK() {
			c.Fail("to_ambient", ambient, "an ambient that leaves every fill more than 0, up to 1000 bar", units.ErrConflict)
		}
	}
	spec.Ambient = ambient
	return units.Checked(&c, spec)
}
