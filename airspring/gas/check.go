package gas

import (
	"fmt"

	"example.com/wheelrate/units"
)

// The limits of a chamber. They lie far beyond any chamber that is built, and every result
// within them is finite. Volumes and pressures entered as bare numbers in cubic centimetres
// and bar or psi lie outside.
const (
	MinVolume units.Volume        = 1e-9
	MaxVolume units.Volume        = 1
	MaxFill   units.GaugePressure = 1e8
)

// CheckFill checks a pressure above ambient: more than 0, up to [MaxFill].
func CheckFill(c *units.Checker, field string, fill units.GaugePressure) {
	if !(fill > 0 && fill <= MaxFill) {
		c.Fail(field, fill, "more than 0 above ambient, up to "+fmt.Sprint(MaxFill), nil)
	}
}

// CheckAmbient checks the absolute pressure around a spring: from 1 kPa, that at 31 km, to 1 MPa.
func CheckAmbient(c *units.Checker, field string, ambient units.AbsolutePressure) {
	if ambient == 0 {
		c.Fail(field, nil, "the air pressure around the spring, above vacuum, such as 101.325 kPa(a)", units.ErrMissing)
		return
	}
	units.Between(c, field, ambient, 1e3, 1e6)
}

// checkWarm checks the fields of a gas that exchanges heat.
func checkWarm(c *units.Checker, fill units.GaugePressure, ambient units.AbsolutePressure, heatRatio float64) {
	CheckFill(c, "fill", fill)
	CheckAmbient(c, "ambient", ambient)
	units.Between(c, "heat_ratio", heatRatio, 1, 2)
}
