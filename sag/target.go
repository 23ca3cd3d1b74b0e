package sag

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// Finding is a stable code for what speaks for or against a spring or a fill.
type Finding string

// The findings.
const (
	OnTarget       Finding = "on_target"
	TooSoft        Finding = "too_soft"        // sags more than wanted
	TooHard        Finding = "too_hard"        // sags less than wanted
	PreloadAtMax   Finding = "preload_at_max"  // would need more than the collar gives
	PreloadAtMin   Finding = "preload_at_min"  // would need less than the collar gives
	Loose          Finding = "loose"           // less preload than the collar's least: it may rattle or turn
	GoesSolid      Finding = "goes_solid"      // binds before the end of the stroke
	SolidUnknown   Finding = "solid_unknown"   // where it binds is not known
	HeldAtTop      Finding = "held_at_top"     // preload or fill carries the load with no sag
	Collapses      Finding = "collapses"       // the load takes it to full travel
	FillAtMax      Finding = "fill_at_max"     // would need more than the marking permits
	FillImpossible Finding = "fill_impossible" // no fill above ambient meets the target
	OutOfGeometry  Finding = "out_of_geometry" // the spacers leave too little chamber
	NearestEnd     Finding = "nearest_full"    // nearest to the wanted force at full travel
	FullOutOfReach Finding = "full_unreached"  // no number of spacers gives the wanted force at full travel

	NextReading      Finding = "next_reading"      // a step: the ring is to be read with this fill
	ReadingsDisagree Finding = "readings_disagree" // readings of gauge and ring differ by more than their errors
	BoreDiffers      Finding = "bore_differs"      // the readings give another bore than stated
)

// MostSprings is the most springs of a shelf or a range: far more than any has, and few enough that
// no job takes noticeable time.
const MostSprings = 1000

// Target is what one end of the bike should do under its load.
type Target struct {
	Load units.Force `json:"load"` // sprung load at the wheel, more than 0
	Sag  float64     `json:"sag"`  // wheel travel over full wheel travel, from a millionth to below 1
}

// CoilRate is the coil spring that meets a target.
type CoilRate struct {
	Rate        units.Stiffness `json:"rate"`         // of the spring
	Stroke      units.Length    `json:"stroke"`       // of the shock, at the target
	SpringForce units.Force     `json:"spring_force"` // at the target
}

// RequiredRate returns the rate of the coil spring that brings a curve to rest exactly on target
// with a preload in m, 0 or more:
//
//	k = load·LR(s*)/(s* + preload),  s* = s(sag·W)
//
// by virtual work, with W the wheel's full travel. The error names every bad field: load also if
// the rate overflows or underflows.
//
// Not modelled: friction, see [End.Settle].
func RequiredRate(curve *linkage.Curve, target Target, preload units.Length) (CoilRate, error) {
	c := units.Checker{Package: "sag"}
	target.Check(&c, curve)
	units.NonNegative(&c, "preload", preload)
	if err := c.Err(); err != nil {
		return CoilRate{}, err
	}
	s, f := target.AtSpring(curve)
	rate := units.Stiffness(float64(f) / float64(s+preload))
	if !(rate > 0) || math.IsInf(float64(rate), 0) {
		c.Fail("load", target.Load, "a load that some rate carries at this preload", nil)
		return CoilRate{}, c.Err()
	}
	return CoilRate{Rate: rate, Stroke: s, SpringForce: f}, nil
}

// RequiredPreload returns the preload that puts a spring of a rate in N/m, finite and more than 0,
// exactly on target:
//
//	preload = load·LR(s*)/k − s*
//
// It is negative for a spring that is too hard for any preload. The error names every bad field:
// load also if the preload overflows.
//
// Not modelled: friction, and how far the collar goes.
func RequiredPreload(curve *linkage.Curve, target Target, rate units.Stiffness) (units.Length, error) {
	c := units.Checker{Package: "sag"}
	target.Check(&c, curve)
	units.Positive(&c, "rate", rate)
	if err := c.Err(); err != nil {
		return 0, err
	}
	s, f := target.AtSpring(curve)
	preload := units.Length(float64(f)/float64(rate)) - s
	if math.IsInf(float64(preload), 0) {
		c.Fail("load", target.Load, "a load that some preload carries at this rate", nil)
		return 0, c.Err()
	}
	return preload, nil
}

// RequiredFill returns the fill that puts an air spring on target: [airspring.FillFor] for the
// force load·LR(s*) at the stroke s*. The spec's Fill is ignored. Its Exponent should be 1: at rest
// a gas has the temperature of its surroundings. The marking on the part may be below the fill; it
// must not be exceeded.
//
// The error names every bad field: load for one that no fill carries, with [airspring.ErrNoFill] or
// [airspring.ErrFillBeyond]; sag for one beyond the spring's travel or, with
// [airspring.ErrFillPullsIn], so near to full extension that more fill pulls in harder.
//
// Not modelled: friction, see [End.Settle].
func RequiredFill(curve *linkage.Curve, target Target, spec airspring.Spec) (units.GaugePressure, error) {
	c := units.Checker{Package: "sag"}
	target.Check(&c, curve)
	spec.Check(&c)
	if err := c.Err(); err != nil {
		return 0, err
	}
	s, f := target.AtSpring(curve)
	if s > spec.Travel {
		c.Fail("sag", target.Sag, fmt.Sprintf("a sag within the spring's travel of %.4g", spec.Travel), units.ErrConflict)
		return 0, c.Err()
	}
	fill, outcome := spec.SolveFill(f, s)
	target.checkFill(&c, outcome)
	return fill, c.Err()
}

// checkFill records why there is no fill for a target.
func (t Target) checkFill(c *units.Checker, outcome airspring.FillOutcome) {
	switch outcome {
	case airspring.FillPullsIn:
		c.Fail("sag", t.Sag, "a sag at which more fill carries more", airspring.ErrFillPullsIn)
	case airspring.FillNone:
		c.Fail("load", t.Load, "more than what a fill of 0 above ambient carries there", airspring.ErrNoFill)
	case airspring.FillBeyond:
		c.Fail("load", t.Load, "a load that a fill of at most 1000 bar carries there", airspring.ErrFillBeyond)
	}
}

// Check records what is wrong with a target on a curve. A nil curve is recorded as missing.
func (t Target) Check(c *units.Checker, curve *linkage.Curve) {
	CheckCurve(c, curve)
	units.Positive(c, "load", t.Load)
	CheckSag(c, t.Sag)
}

// CheckSag records a target sag that is less than a millionth, or not less than 1.
func CheckSag(c *units.Checker, sag float64) {
	const least = 1e-6 // below it answers leave the range of float64
	if units.Inside(c, "sag", sag, 0, 1) && sag < least {
		c.Fail("sag", sag, "a millionth of the travel, or more", nil)
	}
}

// CheckCurve records a curve that is missing or has no stroke.
func CheckCurve(c *units.Checker, curve *linkage.Curve) {
	if curve == nil || !(curve.Stroke() > 0) {
		c.Fail("curve", nil, "a lever-ratio curve", units.ErrMissing)
	}
}

// AtSpring returns the stroke s* of the target in m and the force load·LR(s*) in N that the spring
// carries there. The target must pass [Target.Check].
func (t Target) AtSpring(curve *linkage.Curve) (units.Length, units.Force) {
	s := curve.StrokeAt(units.Length(t.Sag) * curve.Travel())
	return s, units.Force(float64(t.Load) * curve.LeverRatio(s))
}
