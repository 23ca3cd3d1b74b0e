package airspring

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// MaxFill is the highest fill of a spring, 1000 bar: what a fill is searched up to.
const MaxFill = gas.MaxFill

// FillOutcome is the outcome of the search for a fill.
type FillOutcome string

// The outcomes. The last three have no fill.
const (
	FillMet       FillOutcome = "met"        // the fill carries the force
	FillAtMarking FillOutcome = "at_marking" // carrying the force needs more than the marking permits, see [FillSearch]
	FillGiven     FillOutcome = "given"      // the fill was given, see [FillSearch]
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

// FillFor returns the fill with which a spring carries a force in N at a travel, as a gauge
// shows it at full extension. Compare it with the marking on the part, which it must not exceed.
// The spec is as for [New]; its Fill is ignored, its exponent should be 1 for sag.
//
// With V_p0, p_t and so on as in New, the force is linear in the absolute fill p_f,
//
//	F + outside = p_f·C
//	C = A_p·(V_p0/V_p)ⁿ − A_n·q·(V_n0/V_n)ⁿ,  q = V_p0/V_p(x_t)·V_n(x_t)/V_n0
//
// with outside = A_s·p_a, or A_p·p_a without a negative chamber. With a second chamber the force is
// not linear, and the fill is a root found as by [root.Find], to about 1e-12 of it. Where that chamber
// joins in shortly before the travel, two fills may carry the force: one of them is returned.
//
// The error names every bad field: at for a travel outside [0, travel]; at, with [ErrFillPullsIn],
// for one so near to full extension that C ≤ 0; force, with [ErrNoFill], for one below that of a
// fill of 0 above ambient; force, with [ErrFillBeyond], for one that needs more than [MaxFill].
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

// SolveFill is [FillFor] for a spec that passes [Spec.Check], a finite force and a travel from 0
// to the spec's. Its outcome is [FillMet] and the fill more than 0; or [FillPullsIn], [FillNone]
// or [FillBeyond] and the fill 0. With other arguments the outcome is meaningless.
func (s Spec) SolveFill(force units.Force, at units.Length) (units.GaugePressure, FillOutcome) {
	var fill float64
	if s.SecondVolume == 0 {
		unit := newSpring(&s, 1)
		outside := unit.outside
		unit.outside = 0
		coefficient := float64(unit.Force(at)) // of the gas alone, per pascal of absolute fill
		if !(coefficient > 0) {
			return 0, FillPullsIn
		}
		fill = (float64(force)+outside)/coefficient - float64(s.Ambient)
	} else {
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
		fill, _ = root.Refine(excess, 0, float64(MaxFill), least, most, 1e-8)
	}
	switch {
	case !(fill > 0):
		return 0, FillNone
	case !(fill <= float64(MaxFill)):
		return 0, FillBeyond
	}
	return units.GaugePressure(fill), FillMet
}

// VolumeFor returns the volume of the empty positive chamber, the PositiveVolume of a [Spec],
// with which a spring of a given fill and exponent has a wanted force in N at full travel. The
// spec's own PositiveVolume is ignored, its oil and spacers are not. For one chamber, with
// A = A_p and L the travel, the volume beside oil and spacers is
//
//	V₀ = A·L·r/(r − 1),  r = ((F/A + p_a)/p_f)^(1/n)
//
// With a negative or a second chamber V₀ is a root found by [root.Find].
//
// The error names every bad field, and force if no chamber of at most 1 m³ has that force.
// [FillSearch] has the whole number of spacers that comes nearest.
func VolumeFor(spec Spec, force units.Force) (units.Volume, error) {
	c := units.Checker{Package: "airspring"}
	spec.PositiveVolume = gas.MaxVolume // stands for the one sought
	spec.checkFilled(&c)
	units.Finite(&c, "force", force)
	if err := c.Err(); err != nil {
		return 0, err
	}
	taken := units.Volume(spec.filled())
	spec.OilVolume, spec.Spacers = 0, 0
	volume := units.Volume(spec.swept()/spec.shareFor(float64(force))) + taken
	if !(volume > 0 && volume <= gas.MaxVolume) {
		c.Fail("force", force, "a force at full travel that a chamber of at most 1 m³ gives with this fill", nil)
		return 0, c.Err()
	}
	return volume, nil
}

// shareFor returns the share of the chamber that the travel sweeps, (r − 1)/r for one chamber,
// with which the spring has a force at full travel; NaN if no share has.
func (s Spec) shareFor(force float64) float64 {
	if s.NegativeVolume == 0 && s.SecondVolume == 0 {
		u := math.Log((force/area(s.Bore)+float64(s.Ambient))/s.absolute()) / s.Exponent
		if share := -math.Expm1(-u); share > 0 && share <= mostSwept {
			return share
		}
		return math.NaN()
	}
	swept := s.swept()
	share, err := root.Find(func(share float64) float64 {
		s.PositiveVolume = units.Volume(swept / share)
		filled := newSpring(&s, s.absolute())
		return float64(filled.Force(s.Travel)) - force
	}, swept/float64(gas.MaxVolume), mostSwept, 1e-13)
	if err != nil {
		return math.NaN()
	}
	return share
}
