package sag

import (
	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// End is one end of the bike as it stands: a spring behind a lever-ratio curve. [End.Under] returns
// all that it does under a load.
//
// The methods return an error that names every bad field: a missing curve or law, a law that
// [linkage.AtWheel] refuses, an exponent outside 1 to 2, an exponent above 1 without Fast or Fast
// without an exponent, and a friction outside 0 to 1e12 N.
type End struct {
	Curve *linkage.Curve
	// Law is the spring standing still, its gas at the temperature around it. It decides where the
	// bike rests.
	Law spring.Law
	// Fast is the spring over a stroke too fast for its gas to exchange heat. It decides what is
	// felt and what is left. It is nil for a spring without gas.
	Fast spring.Law
	// Exponent is the polytropic exponent of the gas over a fast stroke, 1 to 2: about its rest the
	// spring is that many times as stiff as standing still. It goes with Fast; without Fast, 0
	// counts as 1.
	Exponent float64
	Friction units.Force // dry, at the spring; 0 gives no band
}

// AirEnd returns the end with an air spring behind a curve. Standing still, the gas has the
// temperature around it, which is an exponent of 1. Over a fast stroke it has the exponent of spec.
// The error is that of [airspring.New].
func AirEnd(curve *linkage.Curve, spec airspring.Spec) (End, error) {
	fast, err := airspring.New(spec)
	if err != nil {
		return End{}, err
	}
	e := End{Curve: curve, Fast: fast, Exponent: spec.Exponent}
	spec.Exponent = 1
	e.Law, err = airspring.New(spec)
	return e, err
}

// Wheel returns the spring as laws at the wheel: standing still, and over a stroke too fast for its
// gas to exchange heat. For a spring without gas they are the same.
func (e End) Wheel() (still, fast *linkage.WheelLaw, err error) {
	c := units.Checker{Package: "sag"}
	if e.Check(&c); !c.OK() {
		return nil, nil, c.Err()
	}
	return e.still(), e.fast(), nil
}

// still returns the law at the wheel of a checked end standing still.
func (e *End) still() *linkage.WheelLaw { return atWheel(e.Curve, e.Law) }

// fast returns the law at the wheel of a checked end over a fast stroke.
func (e *End) fast() *linkage.WheelLaw {
	if e.Fast == nil {
		return e.still()
	}
	return atWheel(e.Curve, e.Fast)
}

// atWheel is [linkage.AtWheel] for a curve and a law that have been checked.
func atWheel(curve *linkage.Curve, law spring.Law) *linkage.WheelLaw {
	wheel, _ := linkage.AtWheel(curve, law)
	return wheel
}

// stroke returns the lesser of the travel of the spring and the stroke of the curve.
func (e *End) stroke() units.Length { return min(e.Law.Travel(), e.Curve.Stroke()) }

// Check records what is wrong with an end.
func (e End) Check(c *units.Checker) {
	CheckCurve(c, e.Curve)
	checkLaw(c, "law", e.Curve, e.Law)
	if e.Fast != nil {
		checkLaw(c, "fast", e.Curve, e.Fast)
	}
	if e.Exponent == 0 && e.Fast != nil {
		c.Fail("exponent", nil, "the exponent of the fast stroke, from 1 to 2", units.ErrMissing)
	}
	if e.Exponent != 0 && units.Between(c, "exponent", e.Exponent, 1, 2) && e.Exponent > 1 && e.Fast == nil {
		c.Fail("fast", nil, "the spring over a fast stroke, since there is an exponent", units.ErrMissing)
	}
	CheckFriction(c, e.Friction)
}

// checkLaw records what is wrong with a law behind a curve, unless the curve itself is bad.
func checkLaw(c *units.Checker, field string, curve *linkage.Curve, law spring.Law) {
	if linkage.CheckLaw(c, field, law) && curve != nil && curve.Stroke() > 0 && !(curve.TravelAt(min(law.Travel(), curve.Stroke())) > 0) {
		c.Fail(field, nil, "a spring whose travel moves the wheel", nil)
	}
}

// CheckFriction records a dry friction at the spring outside 0 to 1e12 N.
func CheckFriction(c *units.Checker, friction units.Force) {
	const most = 1e12 * units.Newton // far above the friction of any spring
	if units.NonNegative(c, "friction", friction) && friction > most {
		c.Fail("friction", friction, "a friction that some spring has", nil)
	}
}

// CheckLoad records a sprung load at the wheel that is less than 1e-150 N or not finite.
func CheckLoad(c *units.Checker, load units.Force) {
	const least = 1e-150 * units.Newton // so that nothing overflows when it is divided by the load
	if units.Positive(c, "load", load) && load < least {
		c.Fail("load", load, "a load that some wheel carries", nil)
	}
}
