package airspring

import (
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// Conditions are the temperature that a spring's gas has taken on, and the altitude,
// which gives the ambient pressure.
type Conditions struct {
	Temperature units.Temperature `json:"temperature"` // from 200 K to 400 K
	Altitude    units.Length      `json:"altitude"`    // geopotential, see [Atmosphere]; 0 is sea level
}

// FillAt returns what a gauge shows of a sealed chamber that was filled in one place
// and is brought to another:
//
//	g₂ = (g₁ + p_a1)·T₂/T₁ − p_a2
//
// at full extension, with the ambient pressures of [Atmosphere]. The result is below 0
// if the cold takes all of a small fill. The chamber is rigid and its gas ideal; for
// air at 20 bar the real drop from 20 to 0 °C is 7.2 % of the absolute pressure, and
// this has 6.8 % (computed from the equation of state of Lemmon et al., 2000).
//
// The fill is more than vacuum and at most 1000 bar. The error names every
// bad field, such as from.temperature.
func FillAt(fill units.GaugePressure, from, to Conditions) (units.GaugePressure, error) {
	c := units.Checker{Package: "airspring"}
	first := from.check(&c, "from")
	to.check(&c, "to")
	switch {
	case !(fill <= gas.MaxFill), first && !(float64(fill)+float64(atmosphere(from.Altitude).Pressure) > 0):
		c.Fail("fill", fill, "more than vacuum, up to 1000 bar", nil)
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	before, after := atmosphere(from.Altitude).Pressure, atmosphere(to.Altitude).Pressure
	warmer := units.AbsolutePressure(to.Temperature / from.Temperature)
	return (fill.Absolute(before) * warmer).Gauge(after), nil
}

// The temperatures that a spring may have; a bare number of degrees Celsius is
// outside.
const (
	coldest units.Temperature = 200
	hottest units.Temperature = 400
)

func checkTemperature(c *units.Checker, field string, t units.Temperature) {
	if !(t >= coldest && t <= hottest) {
		c.Fail(field, t, "from 200 K to 400 K", nil)
	}
}

func (at Conditions) check(c *units.Checker, path string) bool {
	own := c.Child(path)
	checkTemperature(&own, "temperature", at.Temperature)
	checkAltitude(&own, at.Altitude, LowestAltitude, HighestAltitude)
	return own.OK()
}

// SpecAt returns the spec of a sealed spring brought from one temperature to
// another, and to another ambient pressure, without any gas added or let out: the
// absolute pressure of every chamber is proportional to the temperature. With one
// chamber
//
//	F = A_p·(p_p·T₂/T₁ − p_a2)
//
// and with a negative one, where only the shaft feels the ambient,
//
//	F = (A_p·p_p − A_n·p_n)·T₂/T₁ − A_s·p_a2
//
// Temperatures are from 200 to 400 K. The error names every bad field: to_ambient if
// the fill, or second_fill, would not be more than 0 and at most 1000 bar.
func SpecAt(spec Spec, from, to units.Temperature, ambient units.AbsolutePressure) (Spec, error) {
	c := units.Checker{Package: "airspring"}
	spec.checkFilled(&c)
	checkTemperature(&c, "from", from)
	checkTemperature(&c, "to", to)
	gas.CheckAmbient(&c, "to_ambient", ambient)
	if err := c.Err(); err != nil {
		return Spec{}, err
	}
	warmer := units.AbsolutePressure(to / from)
	moved := spec
	moved.Ambient = ambient
	moved.Fill = (spec.Fill.Absolute(spec.Ambient) * warmer).Gauge(ambient)
	second := true
	if spec.SecondVolume > 0 {
		moved.SecondFill = (spec.SecondFill.Absolute(spec.Ambient) * warmer).Gauge(ambient)
		second = moved.SecondFill > 0 && moved.SecondFill <= gas.MaxFill
	}
	if !(moved.Fill > 0 && moved.Fill <= gas.MaxFill && second) {
		c.Fail("to_ambient", ambient, "an ambient that leaves every fill more than 0, up to 1000 bar", units.ErrConflict)
		return Spec{}, c.Err()
	}
	return moved, nil
}
