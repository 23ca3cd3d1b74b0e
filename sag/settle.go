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
// Not modelled: damping, seat and tyre compliance, friction that depends on
// load or position. There is no default friction: none has been published for
// these parts that could be trusted.
func Settle(curve *linkage.Curve, law spring.Law, load, friction units.Force) (Rest, error) {
	c := units.Checker{Package: "sag"}
	units.Positive(&c, "load", load)
	units.NonNegative(&c, "friction", friction)
	wheel := atWheel(&c, curve, law)
	if err := c.Err(); err != nil {
		return Rest{}, err
	}
	w, err := spring.Settle(wheel, load)
	if err != nil {
		return Rest{}, err
	}
	r := restAt(curve, law, w, load)
	r.TravelLow, r.TravelHigh = w, w
	if friction > 0 {
		stiff, errStiff := linkage.AtWheel(curve, shifted{law, friction})
		soft, errSoft := linkage.AtWheel(curve, shifted{law, -friction})
		if errStiff != nil || errSoft != nil {
			c.Fail("friction", friction, "a friction that some spring has", units.ErrRange)
			return Rest{}, c.Err()
		}
		r.TravelLow, r.TravelHigh = settleClamped(stiff, load), settleClamped(soft, load)
	}
	r.StrokeLow, r.StrokeHigh = curve.StrokeAt(r.TravelLow), curve.StrokeAt(r.TravelHigh)
	return r, nil
}

// restAt fills in what holds at wheel travel w under a load.
func restAt(curve *linkage.Curve, law spring.Law, w units.Length, load units.Force) Rest {
	s := curve.StrokeAt(w)
	lr := curve.LeverRatio(s)
	k := law.Rate(s)
	r := Rest{
		Travel: w, Stroke: s,
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

// shifted is a law with a constant force added: dry friction, in the sense
// that helps or hinders the spring.
type shifted struct {
	spring.Law
	by units.Force
}

func (s shifted) Force(x units.Length) units.Force { return s.Law.Force(x) + s.by }

func (s shifted) Energy(x units.Length) units.Energy {
	return s.Law.Energy(x) + units.Energy(float64(s.by)*float64(spring.Clamp(x, s.Travel())))
}
