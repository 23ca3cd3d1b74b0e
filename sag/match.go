package sag

import (
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// Target is what one end of the bike should do under its load.
type Target struct {
	Load units.Force `json:"load"` // sprung load at the wheel, more than 0
	Sag  float64     `json:"sag"`  // wheel travel used, as a fraction of all of it, between 0 and 1
}

// CoilRate is the coil spring that meets a target.
type CoilRate struct {
	Rate        units.Stiffness `json:"rate"`         // of the spring
	Stroke      units.Length    `json:"stroke"`       // of the shock, at the target
	SpringForce units.Force     `json:"spring_force"` // at the target
}

// RequiredRate returns the rate of the coil spring that brings a curve to
// rest exactly on target with a given preload:
//
//	k = load·LR(s*)/(s* + preload),  s* = s(sag·W)
//
// by virtual work, with W the wheel's full travel. The preload is a length, 0
// or more. The error names every bad field.
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
		c.Fail("load", target.Load, "a load that some rate carries at this preload", units.ErrRange)
		return CoilRate{}, c.Err()
	}
	return CoilRate{Rate: rate, Stroke: s, SpringForce: f}, nil
}

// RequiredPreload returns the preload that puts a spring of a given rate
// exactly on target: load·LR(s*)/k − s*. It is negative where the spring is
// too hard for any preload; the rate must be finite and more than 0.
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
		c.Fail("load", target.Load, "a load that some preload carries at this rate", units.ErrRange)
		return 0, c.Err()
	}
	return preload, nil
}

// RequiredFill returns the gauge pressure that puts an air spring on target.
// The spring's force is linear in its absolute fill, so the answer is closed
// form ([airspring.FillFor]); spec.Fill is ignored. A fill at or below the
// ambient, and every bad field, is an error. Static answers want
// spec.Exponent = 1: a gas at rest has the temperature of its surroundings.
func RequiredFill(curve *linkage.Curve, target Target, spec airspring.Spec) (units.GaugePressure, error) {
	c := units.Checker{Package: "sag"}
	target.Check(&c, curve)
	if !c.OK() {
		_, err := airspring.FillFor(spec, units.Newton, 0) // what is wrong with the spring besides
		for _, f := range units.Fields(err) {
			if f.Field != "force" && f.Field != "at" {
				c.Add("", f)
			}
		}
		return 0, c.Err()
	}
	s, f := target.AtSpring(curve)
	fill, err := airspring.FillFor(spec, f, s)
	return fill, asTarget(err)
}

// asTarget gives what the spring calls force and at the names they have in a
// target: its load and its sag are what a user can change.
func asTarget(err error) error {
	if err == nil {
		return nil
	}
	c := units.Checker{}
	for _, f := range units.Fields(err) {
		moved := *f
		switch f.Field {
		case "force":
			moved.Field = "load"
		case "at":
			moved.Field = "sag"
		}
		c.Add("", &moved)
	}
	return c.Err()
}

// Check records what is wrong with a target on a curve, which may be nil.
func (t Target) Check(c *units.Checker, curve *linkage.Curve) {
	if curve == nil {
		c.Fail("curve", nil, "a lever-ratio curve", units.ErrMissing)
	}
	units.Positive(c, "load", t.Load)
	CheckSag(c, t.Sag)
}

// AtSpring returns the stroke and the spring force that the target asks for.
func (t Target) AtSpring(curve *linkage.Curve) (units.Length, units.Force) {
	s := curve.StrokeAt(units.Length(t.Sag) * curve.Travel())
	return s, units.Force(float64(t.Load) * curve.LeverRatio(s))
}
