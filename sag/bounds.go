package sag

import "example.com/wheelrate/units"

// The least that a target, the share of a wheel and a collar may be: below them
// answers leave the range of float64.
const (
	leastSag   = 1e-6
	leastShare = 1e-6
)

// CheckSag records a target sag that is not between a millionth and 1.
func CheckSag(c *units.Checker, sag float64) {
	if units.Inside(c, "sag", sag, 0, 1) && sag < leastSag {
		c.Fail("sag", sag, "a millionth of the travel, or more", nil)
	}
}
