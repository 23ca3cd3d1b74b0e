package airspring

import (
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// MaxFill is the highest fill of a spring, 1000 bar above ambient.
const MaxFill = gas.MaxFill

// FillOutcome is the outcome of the search for a fill.
type FillOutcome string

// The outcomes. With the last three no fill carries the force.
const (
	FillMet       FillOutcome = "met"        // the fill carries the force
	FillAtMarking FillOutcome = "at_marking" // the force needs more than the marking permits, see [FillSearch]
	FillBeyond    FillOutcome = "beyond"     // the force needs more than [MaxFill]
	FillNone      FillOutcome = "none"       // the force is less than that of a fill of 0
	FillPullsIn   FillOutcome = "pulls_in"   // the travel is so near to full extension that more fill pulls in harder
)

// The errors of [FillFor] where no fill carries the force. Each is a [units.ErrRange], with the
// code fill_beyond, no_fill or fill_pulls_in.
var (
	ErrFillBeyond  = units.NewClass("fill_beyond", "the force needs a fill of more than 1000 bar", units.ErrRange)
	ErrNoFill      = units.NewClass("no_fill", "the force is less than that of a fill of 0", units.ErrRange)
	ErrFillPullsIn = units.NewClass("fill_pulls_in", "more fill pulls in harder at this travel", units.ErrRange)
)

// fail records why no fill carries a force at a travel.
func (o FillOutcome) fail(c *units.Checker, force units.Force, at units.Length) {
	switch o {
	case FillPullsIn:
		c.Fail("at", at, "a travel at which more fill gives more force", ErrFillPullsIn)
	case FillNone:
		c.Fail("force", force, "more than what a fill of 0 above ambient would give there", ErrNoFill)
	case FillBeyond:
		c.Fail("force", force, "a force that a fill of at most 1000 bar gives there", ErrFillBeyond)
	}
}

// met returns a fill in Pa above ambient with its outcome, or 0 if no spring may have it.
func met(fill float64) (units.GaugePressure, FillOutcome) {
	switch {
	case !(fill > 0):
		return 0, FillNone
	case !(fill <= float64(MaxFill)):
		return 0, FillBeyond
	}
	return units.GaugePressure(fill), FillMet
}

// FillFor returns the fill with which a spring carries a force in N at a travel, as a gauge
// shows it at full extension. Compare it with the marking on the part, which it must not exceed.
// The spec is as for [New], but its Fill is ignored. Its exponent should be 1 for sag. The force is
// finite and the travel from 0 to the spec's.
//
// In the symbols of New, the force is linear in the absolute fill p_f,
//
//	F + outside = p_f·C
//	C = A_p·(V_p0/V_p)ⁿ − A_n·q·(V_n0/V_n)ⁿ,  q = V_p0/V_p(x_t)·V_n(x_t)/V_n0
//
// with outside = A_s·p_a, or A_p·p_a without a negative chamber. With a second chamber the force is
// not linear in the fill, which is then a root, found to a relative 1e-12. If that chamber opens
// shortly before the travel, two fills may carry the force: one of them is returned.
//
// The error names every bad field: at, with [ErrFillPullsIn], for a travel so near to full extension
// that C ≤ 0, and force, with [ErrNoFill] or [ErrFillBeyond], for one that no fill carries.
func FillFor(spec Spec, force units.Force, at units.Length) (units.GaugePressure, error) {
	c := units.Checker{Package: "airspring"}
	spec.Check(&c)
	units.Finite(&c, "force", force)
	if c.Bad("travel") {
		units.NonNegative(&c, "at", at)
	} else {
		units.Between(&c, "at", at, 0, spec.Travel)
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	fill, outcome := spec.SolveFill(force, at)
	outcome.fail(&c, force, at)
	return fill, c.Err()
}

// SolveFill is [FillFor] for arguments that pass its checks; for others the results are meaningless. It
// returns a fill of more than 0 and [FillMet], or 0 and [FillPullsIn], [FillNone] or [FillBeyond].
func (s Spec) SolveFill(force units.Force, at units.Length) (units.GaugePressure, FillOutcome) {
	if s.SecondVolume == 0 {
		unit := newSpring(&s, 1)
		outside := unit.outside
		unit.outside = 0
		coefficient := float64(unit.Force(at)) // of the gas alone, per pascal of absolute fill
		if !(coefficient > 0) {
			return 0, FillPullsIn
		}
		return met((float64(force)+outside)/coefficient - float64(s.Ambient))
	}
	excess := func(fill float64) float64 {
		filled := newSpring(&s, fill+float64(s.Ambient))
		return float64(filled.Force(at) - force)
	}
	least, most := excess(0), excess(float64(MaxFill))
	switch {
	case !(most > least):
		return 0, FillPullsIn
	case least > 0:
		return 0, FillNone
	case most < 0:
		return 0, FillBeyond
	}
	fill, _ := root.Refine(excess, 0, float64(MaxFill), least, most, 1e-8)
	return met(fill)
}
