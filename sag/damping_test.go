package sag_test

import (
	"testing"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// By hand: 2·√(10 000 N/m · 40 kg) = 1264.911 N·s/m. Outside its range it is 0, see
// TestFrequencyAndDampingOutsideAreZero.
func TestDampingForARatio(t *testing.T) {
	weight := units.Force(40 * g0)
	near(t, "critical", float64(sag.DampingFor(1, 10e3, weight)), 1264.9110640673518, 1e-14)
	near(t, "a quarter", float64(sag.DampingFor(0.25, 10e3, weight)), 316.22776601683795, 1e-14)
	near(t, "back", sag.DampingRatio(sag.DampingFor(0.25, 10e3, weight), 10e3, weight), 0.25, 1e-14)
	near(t, "at the shock", float64(sag.DampingAtShock(300, 2.5)), 1875, 1e-14)
}
