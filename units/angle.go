package units

import "math"

// Angle is a plane angle, stored in radians, counter-clockwise positive.
type Angle float64

// Units of angle. The degree is π/180 rad, rounded once to a float64.
const (
	Radian Angle = 1
	Degree Angle = math.Pi / 180
)

// Radians returns the angle in rad.
func (a Angle) Radians() float64 { return float64(a) }

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

var angleCodec = codec{kind: "angle", goal: "Angle", si: 1, tight: true, units: []unit{
	{symbols: []string{"°", "deg"}, scale: float64(Degree)},
	{symbols: []string{"rad"}, scale: 1},
},
	metric: shown{"°", 2},
}
