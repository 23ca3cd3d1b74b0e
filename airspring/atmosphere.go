package airspring

import (
	"fmt"
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
	// The exponent of the pressure in the temperature, 5.255876….
	airExponent = units.StandardGravity * molarMass / (gasConstant * lapse)
)

// The geopotential altitudes that [Atmosphere] takes.
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
// The altitude on a map is geometric. At 5 km it is 4 m more, which is 28 Pa; see
// [GeopotentialAltitude]. Weather moves the pressure by ±3 kPa, as much as 200 m of
// altitude, and is not modelled. ICAO's gas
// constant, 287.05287 J/(kg K), differs in the 7th digit.
func Atmosphere(altitude units.Length) (Air, error) {
	c := units.Checker{Package: "airspring"}
	if !checkAltitude(&c, altitude, LowestAltitude, HighestAltitude) {
		return Air{}, c.Err()
	}
	return atmosphere(altitude), nil
}

// checkAltitude writes the limits in metres.
func checkAltitude(c *units.Checker, altitude, low, high units.Length) bool {
	if !(altitude >= low && altitude <= high) {
		c.Fail("altitude", altitude, fmt.Sprintf("from %.0f m to %.0f m", low.Metres(), high.Metres()), nil)
	}
	return c.OK()
}

func atmosphere(altitude units.Length) Air {
	share := 1 - lapse/seaLevelTemperature*float64(altitude)
	return Air{
		Pressure:    SeaLevel * units.AbsolutePressure(math.Pow(share, airExponent)),
		Temperature: units.Temperature(seaLevelTemperature * share),
	}
}

// The altitudes that are converted.
const lowestConverted, highestConverted units.Length = -10e3, 100e3

// GeopotentialAltitude returns the geopotential altitude r·Z/(r + Z) of a geometric
// altitude Z, with r = 6 356 766 m: the altitude in a field of constant gravity that
// takes the same work to reach. Z is from -10 km to 100 km; the error names altitude.
// (U.S. Standard Atmosphere, 1976.)
func GeopotentialAltitude(geometric units.Length) (units.Length, error) {
	return convertAltitude(geometric, earthRadius*geometric/(earthRadius+geometric))
}

// GeometricAltitude returns the geometric altitude r·H/(r − H) of a geopotential
// altitude H. It is the inverse of [GeopotentialAltitude] and has the same limits.
func GeometricAltitude(geopotential units.Length) (units.Length, error) {
	return convertAltitude(geopotential, earthRadius*geopotential/(earthRadius-geopotential))
}

func convertAltitude(altitude, converted units.Length) (units.Length, error) {
	c := units.Checker{Package: "airspring"}
	if !checkAltitude(&c, altitude, lowestConverted, highestConverted) {
		return 0, c.Err()
	}
	return converted, nil
}
