package gas

import (
	"example.com/wheelrate/units"
)

// The limits of a chamber, 1 mm³, 1 m³ and 1000 bar above ambient. They lie far beyond any chamber
// that is built, and every result within them is finite. A volume in cubic centimetres taken for
// cubic metres lies outside.
const (
	MinVolume units.Volume        = 1e-9
	MaxVolume units.Volume        = 1
	MaxFill   units.GaugePressure = 1e8
)

// CheckFill records in c, under the name of a field, a fill that is not more than 0 and at most
// [MaxFill].
func CheckFill(c *units.Checker, field string, fill units.GaugePressure) {
	if !(fill > 0 && fill <= MaxFill) {
		c.Fail(field, fill, units.MoreThan(0).And(units.AtMost(MaxFill)).With("above ambient"), nil)
	}
}

// CheckAmbient records in c, under the name of a field, a pressure around a spring that is not from
// 1 kPa to 1 MPa above vacuum. One of 0 is missing. The air has 1 kPa at an altitude of 31 km.
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
