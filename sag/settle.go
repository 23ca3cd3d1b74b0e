package sag

import (
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Rest is where an end of the bike comes to rest under a load.
type Rest struct {
	Travel units.Length `json:"travel"` // vertical travel of the wheel
	Stroke units.Length `json:"stroke"` // travel of the shock, or along the stanchion
	Sag    float64      `json:"sag"`    // Travel over the wheel's full travel

	// ShockSag is Stroke over the full stroke. It differs from Sag where the
	// lever ratio changes.
	ShockSag float64 `json:"shock_sag"`

	// TravelLow and TravelHigh bound where friction may hold the wheel: any
	// reading between them agrees with the prediction. Both equal Travel
	// where no friction was given.
	TravelLow  units.Length `json:"travel_low"`
	TravelHigh units.Length `json:"travel_high"`
	StrokeLow  units.Length `json:"stroke_low"`
	StrokeHigh units.Length `json:"stroke_high"`

	WheelRate  units.Stiffness `json:"wheel_rate"`  // dF/dw at Travel
	SpringRate units.Stiffness `json:"spring_rate"` // dF/ds at Stroke
	LeverRatio float64         `json:"lever_ratio"` // dw/ds at Stroke
	Frequency  units.Frequency `json:"frequency"`   // of small undamped bounce
}

// Settle returns where a spring behind a curve comes to rest under a load.
//
// The load is the sprung load at the wheel in N, finite and more than 0. It
// balances the wheel force F_w(w) = F_s(s(w))/LR, virtual work without
// friction. Friction is a dry force in N at the spring, finite and 0 or more:
// with it the wheel may stop anywhere between the rest positions for spring
// forces F_s + f and F_s − f, cut off at the ends of the travel. The
// frequency is √(k_w·g₀/load)/2π.
//
// A load below the wheel force at full extension gives [spring.ErrToppedOut],
// one above that at full travel [spring.ErrBottomedOut]; a bad field or a nil
// curve or law gives an error naming it.
//
// Where the lever ratio rises so fast that the wheel force falls as the travel
// grows, the wheel may rest at several travels under one load; one of them is
// returned, and the band of friction reaches it, but not all of the others.
// [linkage.WheelLaw.MinRate] tells of such a curve.
//
// Not modelled: damping, seat and tyre compliance, friction that depends on
// load or position. There is no default friction: none has been published for
// these parts that could be trusted.
func Settle(curve *linkage.Curve, law spring.Law, load, friction units.Force) (Rest, error) {
	c := units.Checker{Package: "sag"}
	units.Positive(&c, "load", load)
	if units.NonNegative(&c, "friction", friction) && friction > mostFriction {
		c.Fail("friction", friction, "a friction that some spring has", units.ErrRange)
	}
	atWheel(&c, curve, law)
	if err := c.Err(); err != nil {
		return Rest{}, err
	}
	over := overStroke(curve, law)
	return over.settle(load, friction)
}

// settle is Settle for what is checked already.
func (l *strokeLaw) settle(load, friction units.Force) (Rest, error) {
	s, err := spring.Settle(l, load)
	if err != nil {
		return Rest{}, err
	}
	return l.restWithin(s, load, friction), nil
}

// restWithin is the rest at stroke s, which carries the load, and the band
// about it that friction allows.
func (l *strokeLaw) restWithin(s units.Length, load, friction units.Force) Rest {
	r := restAt(l.curve, l.law, s, load)
	if friction > 0 {
		// On either side of s by itself: where the wheel force falls, other
		// rests lie beyond.
		full := l.stroke
		l.stroke, l.shift = s, friction
		r.StrokeLow = settleClamped(l, load)
		l.from, l.stroke, l.shift = s, full, -friction
		r.StrokeHigh = s + settleClamped(l, load)
		l.from, l.shift = 0, 0
		r.TravelLow, r.TravelHigh = l.curve.TravelAt(r.StrokeLow), l.curve.TravelAt(r.StrokeHigh)
	}
	return r
}

// mostFriction is far above the friction of any spring, and far below what
// could overflow.
const mostFriction = 1e12 * units.Newton

// restAt fills in what holds at stroke s under a load, with no band.
func restAt(curve *linkage.Curve, law spring.Law, s units.Length, load units.Force) Rest {
	w := curve.TravelAt(s)
	lr := curve.LeverRatio(s)
	k := law.Rate(s)
	r := Rest{
		Travel: w, Stroke: s,
		TravelLow: w, TravelHigh: w, StrokeLow: s, StrokeHigh: s,
		Sag:        float64(w / curve.Travel()),
		ShockSag:   float64(s / curve.Stroke()),
		SpringRate: k, LeverRatio: lr,
		WheelRate: wheelRate(k, law.Force(s), lr, curve.LeverRatioSlope(s)),
	}
	r.Frequency = Frequency(r.WheelRate, load)
	return r
}

// wheelRate is k_w = k_s/LR² − F_s·LR′/LR³, from differentiating F_s(s)/LR(s)
// by w with dw = LR ds.
func wheelRate(k units.Stiffness, f units.Force, lr float64, slope units.RatioSlope) units.Stiffness {
	return units.Stiffness(float64(k)/(lr*lr) - float64(f)*float64(slope)/(lr*lr*lr))
}

// Frequency returns the undamped natural frequency of a load bouncing on a
// wheel rate: √(k_w·g₀/load)/2π in Hz, the load in N being the weight of the
// mass that bounces. It is 0 where rate or load is not more than 0 or not
// finite.
func Frequency(wheelRate units.Stiffness, load units.Force) units.Frequency {
	f := math.Sqrt(float64(wheelRate)*units.StandardGravity/float64(load)) / (2 * math.Pi)
	if !(wheelRate > 0) || !(load > 0) || !(f < math.MaxFloat64) {
		return 0
	}
	return units.Frequency(f)
}

// atWheel checks curve and law and joins them.
func atWheel(c *units.Checker, curve *linkage.Curve, law spring.Law) *linkage.WheelLaw {
	if curve == nil {
		c.Fail("curve", nil, "a lever-ratio curve", units.ErrMissing)
	}
	if law == nil {
		c.Fail("law", nil, "a spring", units.ErrMissing)
	}
	if curve == nil || law == nil {
		return nil
	}
	wheel, err := linkage.AtWheel(curve, law)
	c.Add("", err)
	return wheel
}

// settleClamped is spring.Settle with a load out of range answered by the end
// of the travel that it pushes against.
func settleClamped(law spring.Law, load units.Force) units.Length {
	x, err := spring.Settle(law, load)
	switch {
	case err == nil:
		return x
	case load > law.Force(law.Travel()):
		return law.Travel()
	default:
		return 0
	}
}

// strokeLaw is the force at the wheel over the stroke of the shock, or over a
// part of it, with a constant force at the spring added: dry friction, in the
// sense that helps or hinders it. It rises with the stroke wherever it rises
// with the travel, and is cheaper to turn round, since the travel at a stroke is
// no root. Settling goes through a pointer, so that one of these serves spring
// after spring.
type strokeLaw struct {
	curve  *linkage.Curve
	law    spring.Law
	stroke units.Length // where it ends
	shift  units.Force
	from   units.Length // where it begins
}

func overStroke(curve *linkage.Curve, law spring.Law) strokeLaw {
	return strokeLaw{curve: curve, law: law, stroke: min(law.Travel(), curve.Stroke())}
}

func (l strokeLaw) Force(x units.Length) units.Force {
	s := l.from + x
	return units.Force(float64(l.law.Force(s)+l.shift) / l.curve.LeverRatio(s))
}
func (l strokeLaw) Rate(units.Length) units.Stiffness { return 0 }
func (l strokeLaw) Energy(units.Length) units.Energy  { return 0 }
func (l strokeLaw) Travel() units.Length              { return l.stroke - l.from }
