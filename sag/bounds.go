package sag

import "example.com/wheelrate/units"

// The least that a target, the share of a wheel and a collar may be: below them
// answers leave the range of float64.
const (
	leastSag   = 1e-6
	leastShare = 1e-6
	leastPitch = 1e-6 * units.Metre
)

// checkSag checks a target.
func checkSag(c *units.Checker, sag float64) {
	if units.Inside(c, "sag", sag, 0, 1) && sag < leastSag {
		c.Fail("sag", sag, "a millionth of the travel, or more", nil)
	}
}

// checkPitch checks the advance of a collar; 0 is unknown.
func checkPitch(c *units.Checker, pitch units.Length) {
	if units.NonNegative(c, "thread_pitch", pitch) && pitch > 0 && pitch < leastPitch {
		c.Fail("thread_pitch", pitch, leastPitch.String()+" or more, or 0 where it is unknown", nil)
	}
}
