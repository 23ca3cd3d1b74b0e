package airspring

import (
	"example.com/wheelrate/units"
)

// FillFor returns the fill, as a gauge shows it at full extension, with which a
// spring carries a force in N at a travel. The spec is as for [New], with its
// Fill left out of account. The exponent is the spec's: for sag it should be 1.
//
// With V_p0, p_t and so on as in New, the force is linear in the absolute fill
// p_f,
//
//	F + outside = p_f·C
//	C = A_p·(V_p0/V_p)ⁿ − A_n·q·(V_n0/V_n)ⁿ,  q = V_p0/V_p(x_t)·V_n(x_t)/V_n0
//
// with outside = A_s·p_a (A_p·p_a where there is no negative chamber), so the
// answer is closed form. With a second chamber it is not linear: the fill is
// then found by [spring.Settle] and one step of the secant method, to about
// 1e-12 of it.
//
// A travel outside [0, travel] is refused, as is one so near to full extension
// that more fill would pull in harder, C ≤ 0 (at). So is a force that a fill of
// 0 above ambient would already exceed, or that needs more than 1000 bar
// (force). The error names every bad field.
func FillFor(spec Spec, force units.Force, at units.Length) (units.GaugePressure, error) {
	c := units.Checker{Package: "airspring"}
	spec.Fill = 0
	spec.check(&c)
	units.Finite(&c, "force", force)
	switch {
	case c.Bad("travel"):
		units.NonNegative(&c, "at", at)
	default:
		units.Between(&c, "at", at, 0, spec.Travel)
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	solve := fillFor
	if spec.SecondVolume > 0 {
		solve = stagedFillFor
	}
	fill := solve(&c, &spec, float64(force), at)
	return units.GaugePressure(fill), c.Err()
}

// fillFor solves for the fill of a checked spec.
func fillFor(c *units.Checker, spec *Spec, force float64, at units.Length) float64 {
	unit := newSpring(spec, 1)
	outside := unit.outside
	unit.outside = 0
	coefficient := float64(unit.Force(at)) // of the gas alone, per pascal of absolute fill
	if !(coefficient > 0) {
		c.Fail("at", at, "a travel at which more fill gives more force", nil)
		return 0
	}
	fill := (force+outside)/coefficient - float64(spec.Ambient)
	return within(c, units.Force(force), fill)
}

// within checks that a fill is one that [New] takes.
func within(c *units.Checker, force units.Force, fill float64) float64 {
	switch {
	case !(fill > 0):
		c.Fail("force", force, "more than what a fill of 0 above ambient would give there", nil)
		return 0
	case !(fill <= mostFill):
		c.Fail("force", force, "a force that a fill of at most 1000 bar gives there", nil)
		return 0
	}
	return fill
}
