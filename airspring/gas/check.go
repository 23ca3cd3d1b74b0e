package gas

import (
	"fmt"

	"example.com/wheelrate/units"
)

// The limits of a chamber: far more than any holds, and little enough that nothing
// computed from it leaves the range of float64. Volumes and pressures entered as bare
// numbers in cubic centimetres and bar or psi are outside.
const (
	MinVolume  units.Volume           = 1e-9
	MaxVolume  units.Volume           = 1
	MaxFill    units.GaugePressure    = 1e8
	MinAmbient units.AbsolutePressure = 1e3 // at 31 km
	MaxAmbient units.AbsolutePressure = 1e6
)

// CheckFill checks a pressure above ambient: more than 0, up to [MaxFill].
func CheckFill(c *units.Checker, field string, fill units.GaugePressure) {
	if !(fill > 0 && fill <= MaxFill) {
		c.Fail(field, fill, "more than 0 above ambient, up to "+fmt.Sprint(MaxFill), nil)
	}
}

// CheckAmbient checks a field "ambient": from [MinAmbient] to [MaxAmbient].
func CheckAmbient(c *units.Checker, ambient units.AbsolutePressure) {
	if ambient == 0 {
		c.Fail("ambient", nil, "the air pressure around the spring, above vacuum, such as 101.325 kPa(a)", units.ErrMissing)
		return
	}
	units.Between(c, "ambient", ambient, MinAmbient, MaxAmbient)
}
