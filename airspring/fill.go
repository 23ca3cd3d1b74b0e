package airspring

import (
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// FillFor returns the fill, as a gauge shows it at full extension, with which a
// spring carries a force in N at a travel; compare it with the marking on the part,
// which it must not exceed. The spec is as for [New], with its Fill left out of
// account. The exponent is the spec's: for sag it should be 1.
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
// 1e-12 of it. Where the second chamber joins in shortly before the travel, more
// fill makes it join in later, and two fills may carry the force: one of them is
// returned.
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
	fill, found := fillFor(&spec, float64(force), at)
	switch found {
	case unfit:
		c.Fail("at", at, "a travel at which more fill gives more force", nil)
	case tooLittle:
		c.Fail("force", force, "more than what a fill of 0 above ambient would give there", nil)
	case tooMuch:
		c.Fail("force", force, "a force that a fill of at most 1000 bar gives there", nil)
	default:
		return units.GaugePressure(fill), nil
	}
	return 0, c.Err()
}

// finding is what came of the search for a fill.
type finding int

const (
	met       finding = iota
	unfit             // more fill would pull in harder at that travel
	tooLittle         // a fill of 0 above ambient has more force already
	tooMuch           // more than 1000 bar would be needed
)

// fillFor solves for the fill of a checked spec.
func fillFor(spec *Spec, force float64, at units.Length) (float64, finding) {
	if spec.SecondVolume > 0 {
		return stagedFillFor(spec, force, at)
	}
	unit := newSpring(spec, 1)
	outside := unit.outside
	unit.outside = 0
	coefficient := float64(unit.Force(at)) // of the gas alone, per pascal of absolute fill
	if !(coefficient > 0) {
		return 0, unfit
	}
	return within((force+outside)/coefficient - float64(spec.Ambient))
}

// within tells whether a fill is one that [New] takes.
func within(fill float64) (float64, finding) {
	switch {
	case !(fill > 0):
		return 0, tooLittle
	case !(fill <= float64(gas.MaxFill)):
		return 0, tooMuch
	}
	return fill, met
}
