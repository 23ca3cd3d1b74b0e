package airspring

import (
	"math"

	"example.com/wheelrate/units"
)

// Air is the state of the air around a spring.
type Air struct {
	Pressure    units.AbsolutePressure `json:"pressure"`
	Temperature units.Temperature      `json:"temperature"`
}

// The troposphere of the U.S. Standard Atmosphere, 1976 (NOAA/NASA/USAF), the
// same layer as in ICAO Doc 7488 and ISO 2533. The constants are exact by
// definition of the standard; its text was not opened, they are as public
// implementations that quote it have them.
const (
	seaLevelTemperature = 288.15    // K
	lapse               = 0.0065    // K/m, of geopotential altitude
	gasConstant         = 8.31432   // J/(mol K); not the present value
	molarMass           = 0.0289644 // kg/mol
	earthRadius         = 6356766   // m, for geopotential altitude
	// How the pressure follows the temperature: 5.255876….
	airExponent = units.StandardGravity * molarMass / (gasConstant * lapse)
)

// Altitudes that [Atmosphere] answers for, geopotential.
const (
	LowestAltitude  units.Length = -500
	HighestAltitude units.Length = 11000 // where the stratosphere begins
)

// Atmosphere returns the standard pressure and temperature at a geopotential
// altitude H, from -500 m to 11 000 m:
//
//	T = 288.15 K − 0.0065 K/m·H,  p = 101 325 Pa·(T/288.15 K)^(g₀M/(R*·L))
//
// the U.S. Standard Atmosphere, 1976, with R* = 8.31432 J/(mol K) and
// M = 0.0289644 kg/mol. Outside that range it is an error naming altitude.
//
// The altitude on a map is geometric and up to 4 m more at 5 km, see
// [GeopotentialAltitude]: 28 Pa there. Weather moves the pressure by ±3 kPa, more
// than the difference of 200 m of altitude, and is not modelled. ICAO's gas
// constant, 287.05287 J/(kg K), differs in the 7th digit.
func Atmosphere(altitude units.Length) (Air, error) {
	c := units.Checker{Package: "airspring"}
	checkAltitude(&c, altitude)
	if err := c.Err(); err != nil {
		return Air{}, err
	}
	return atmosphere(altitude), nil
}

func checkAltitude(c *units.Checker, altitude units.Length) {
	if !(altitude >= LowestAltitude && altitude <= HighestAltitude) {
		c.Fail("altitude", altitude, "from -500 m to 11000 m", nil)
	}
}

func atmosphere(altitude units.Length) Air {
	share := 1 - lapse/seaLevelTemperature*float64(altitude)
	return Air{
		Pressure:    SeaLevel * units.AbsolutePressure(math.Pow(share, airExponent)),
		Temperature: units.Temperature(seaLevelTemperature * share),
	}
}

// GeopotentialAltitude returns the geopotential altitude r·Z/(r + Z) of a
// geometric one Z, with r = 6 356 766 m: the altitude in a field of constant
// gravity that takes the same work. From -10 km to 100 km; the error names
// altitude. (U.S. Standard Atmosphere, 1976.)
func GeopotentialAltitude(geometric units.Length) (units.Length, error) {
	if err := checkFar(geometric); err != nil {
		return 0, err
	}
	return earthRadius * geometric / (earthRadius + geometric), nil
}

// GeometricAltitude returns the geometric altitude r·H/(r − H) of a
// geopotential one; it is [GeopotentialAltitude] turned round, with the same
// limits.
func GeometricAltitude(geopotential units.Length) (units.Length, error) {
	if err := checkFar(geopotential); err != nil {
		return 0, err
	}
	return earthRadius * geopotential / (earthRadius - geopotential), nil
}

func checkFar(altitude units.Length) error {
	c := units.Checker{Package: "airspring"}
	if !(altitude >= -10e3 && altitude <= 100e3) {
		c.Fail("altitude", altitude, "from -10000 m to 100000 m", nil)
	}
	return c.Err()
}
