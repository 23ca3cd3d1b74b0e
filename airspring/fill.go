package airspring

import (
	"fmt"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// MaxFill is the highest fill of a spring, 1000 bar: what a fill is searched up to.
const MaxFill = gas.MaxFill

// FillOutcome is what came of the search for a fill.
type FillOutcome string

// The outcomes. The last three have no fill.
const (
	FillMet       FillOutcome = "met"        // the fill carries the force
	FillAtMarking FillOutcome = "at_marking" // carrying the force needs more than the marking permits, see [Search]
	FillGiven     FillOutcome = "given"      // the fill was given, see [Search]
	FillBeyond    FillOutcome = "beyond"     // carrying the force needs more than [MaxFill]
	FillNone      FillOutcome = "none"       // a fill of 0 has more force already
	FillPullsIn   FillOutcome = "pulls_in"   // so near to full extension more fill pulls in harder
)

// Why [FillFor] finds no fill. Each is a [units.ErrRange].
var (
	ErrFillBeyond  = fmt.Errorf("%w: the force needs a fill of more than 1000 bar", units.ErrRange)
	ErrNoFill      = fmt.Errorf("%w: the force is less than that of a fill of 0", units.ErrRange)
	ErrFillPullsIn = fmt.Errorf("%w: more fill pulls in harder at this travel", units.ErrRange)
)

// FillFor returns the fill with which a spring carries a force in N at a travel, as a
// gauge shows it at full extension. Compare it with the marking on the part, which it
// must not exceed. The spec is as for [New]; its Fill is ignored. The exponent is the
// spec's: for sag it should be 1.
//
// With V_p0, p_t and so on as in New, the force is linear in the absolute fill
// p_f,
//
//	F + outside = p_f·C
//	C = A_p·(V_p0/V_p)ⁿ − A_n·q·(V_n0/V_n)ⁿ,  q = V_p0/V_p(x_t)·V_n(x_t)/V_n0
//
// with outside = A_s·p_a, or A_p·p_a where there is no negative chamber, so the
// answer is closed form. With a second chamber the force is not linear, and the fill
// is a root found by [root.Find], to about 1e-12 of it. Where the second chamber joins
// in shortly before the travel, more fill makes it join in later, and two fills may
// carry the force: one of them is returned.
//
// The error names every bad field: at for a travel outside [0, travel]; at, with
// [ErrFillPullsIn], for one so near to full extension that C ≤ 0; force, with
// [ErrNoFill], for one below that of a fill of 0 above ambient; force, with
// [ErrFillBeyond], for one that needs more than [MaxFill].
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
	switch outcome {
	case FillPullsIn:
		c.Fail("at", at, "a travel at which more fill gives more force", ErrFillPullsIn)
	case FillNone:
		c.Fail("force", force, "more than what a fill of 0 above ambient would give there", ErrNoFill)
	case FillBeyond:
		c.Fail("force", force, "a force that a fill of at most 1000 bar gives there", ErrFillBeyond)
	}
	return fill, c.Err()
}

// SolveFill is [FillFor] for a spec that passes [Spec.Check], a finite force and a
// travel from 0 to the spec's. Its outcome is [FillMet] and the fill more than 0; or
// [FillPullsIn], [FillNone] or [FillBeyond] and the fill 0. With other arguments the
// outcome means nothing.
func (s Spec) SolveFill(force units.Force, at units.Length) (units.GaugePressure, FillOutcome) {
	if s.SecondVolume > 0 {
		return s.solveStaged(force, at)
	}
	unit := newSpring(&s, 1)
	outside := unit.outside
	unit.outside = 0
	coefficient := float64(unit.Force(at)) // of the gas alone, per pascal of absolute fill
	if !(coefficient > 0) {
		return 0, FillPullsIn
	}
	return permitted((float64(force)+outside)/coefficient - float64(s.Ambient))
}

// solveStaged is SolveFill with a second chamber.
func (s Spec) solveStaged(force units.Force, at units.Length) (units.GaugePressure, FillOutcome) {
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
	}
	fill, err := root.Find(excess, 0, float64(MaxFill), 1e-8)
	if err != nil {
		return 0, FillBeyond
	}
	return permitted(fill)
}

// permitted returns a fill if [New] takes it.
func permitted(fill float64) (units.GaugePressure, FillOutcome) {
	switch {
	case !(fill > 0):
		return 0, FillNone
	case !(fill <= float64(MaxFill)):
		return 0, FillBeyond
	}
	return units.GaugePressure(fill), FillMet
}
