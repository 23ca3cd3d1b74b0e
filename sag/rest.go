package sag

import (
	"errors"
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Rest is where an end of the bike comes to rest under a load.
type Rest struct {
	Travel units.Length `json:"travel"` // vertical travel of the wheel
	Stroke units.Length `json:"stroke"` // travel of the shock, or along the stanchion
	Sag    float64      `json:"sag"`    // Travel over the wheel's full travel
	// ShockSag is Stroke over the full stroke. It differs from Sag where the lever ratio changes.
	ShockSag float64 `json:"shock_sag"`
	// TravelLow and TravelHigh bound where friction may hold the wheel: any reading between them
	// agrees with the prediction. Both equal Travel where no friction was given.
	TravelLow  units.Length `json:"travel_low"`
	TravelHigh units.Length `json:"travel_high"`
	StrokeLow  units.Length `json:"stroke_low"`
	StrokeHigh units.Length `json:"stroke_high"`

	WheelRate  units.Stiffness `json:"wheel_rate"`  // dF/dw at Travel
	SpringRate units.Stiffness `json:"spring_rate"` // dF/ds at Stroke
	LeverRatio float64         `json:"lever_ratio"` // dw/ds at Stroke
	Frequency  units.Frequency `json:"frequency"`   // of small undamped bounce
}

// Settle returns where an end comes to rest under a load: the sprung load at the wheel in N, finite
// and more than 0. By virtual work the load equals the wheel force
//
//	F_w(w) = F_s(s(w))/LR
//
// With a friction f at the spring the wheel may stop anywhere between the rests for spring forces
// F_s + f and F_s − f, cut off at the ends of the travel. The frequency in Hz is √(k_w·g₀/load)/2π.
//
// Every error is a [units.FieldError], or joins some. A load below the wheel force at full extension gives one of class
// [spring.ErrToppedOut], and one above that at full travel [spring.ErrBottomedOut], with the load and
// both forces. A law whose force jumps past the load, or is not a number in between, gives
// [spring.ErrLaw].
//
// Where the lever ratio rises so fast that the wheel force falls as the travel grows, the wheel may
// rest at several travels under one load. One of them is returned; the band of friction about it
// need not reach the others. [linkage.WheelLaw.MinRate] finds such a curve.
//
// Not modelled: damping, seat and tyre compliance, friction that depends on load or position.
func (e End) Settle(load units.Force) (Rest, error) {
	r, finding, err := e.SettleWithin(load)
	class, note := spring.ErrToppedOut, "or it tops out"
	switch finding {
	case HeldAtTop:
	case Collapses:
		class, note = spring.ErrBottomedOut, "or it bottoms out"
	default:
		return r, err
	}
	at := func(s units.Length) units.Force { return units.Force(float64(e.Law.Force(s)) / e.Curve.LeverRatio(s)) }
	want := units.From(at(0), at(e.stroke())).With(note)
	return Rest{}, &units.FieldError{Package: "sag", Field: "load", Value: load, Want: want, Class: class}
}

// SettleWithin is [End.Settle] with no error for a load out of the spring's range. The rest is then
// the end of the travel that the load pushes the wheel against, and the finding is held_at_top or
// collapses.
func (e End) SettleWithin(load units.Force) (Rest, Finding, error) {
	c := units.Checker{Package: "sag"}
	units.Positive(&c, "load", load)
	if e.Check(&c); !c.OK() {
		return Rest{}, "", c.Err()
	}
	return e.settleWithin(load)
}

// settleWithin is SettleWithin for an end and a load that have been checked.
func (e *End) settleWithin(load units.Force) (Rest, Finding, error) {
	low, high := e.excess(load, 0), e.excess(load, e.stroke())
	s, finding, err := e.between(load, 0, 0, e.stroke(), low, high)
	if err != nil {
		return Rest{}, "", err
	}
	r := e.restAt(s, load)
	if finding == "" {
		r = e.banded(r, load, low, high)
	}
	return r, finding, nil
}

// LoadAt returns the sprung load at the wheel in N that holds the shock at a measured stroke,
// F_s(s)/LR(s). The stroke in m is more than 0 and less than the full stroke: at the ends of the
// travel the stops carry an unknown part of the load. A stroke at which the spring does not push is
// refused too.
func (e End) LoadAt(stroke units.Length) (units.Force, error) {
	c := units.Checker{Package: "sag"}
	if e.Check(&c); c.OK() {
		units.Inside(&c, "stroke", stroke, 0, e.stroke())
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	load := units.Force(float64(e.Law.Force(stroke)) / e.Curve.LeverRatio(stroke))
	if !(load > 0) {
		c.Fail("stroke", stroke, "a stroke at which this spring carries a load", units.ErrConflict)
		return 0, c.Err()
	}
	return load, nil
}

// settleTolerance is how near a rest position is found, as a fraction of the stroke.
const settleTolerance = 1e-13

// excess returns by how much the spring at a stroke pushes more than a load at the wheel asks of
// it, F_s(s) − load·LR(s), which a linear spring on a straight lever ratio makes a straight line.
// It is exactly 0 for a load of F_s/LR.
func (e *End) excess(load units.Force, at units.Length) float64 {
	ratio := e.Curve.LeverRatio(at)
	return (float64(e.Law.Force(at))/ratio - float64(load)) * ratio
}

// carries returns the stroke at which the spring carries a load at the wheel, or the end of the
// stroke that the load pushes it against.
func (e *End) carries(load units.Force) units.Length {
	s, _, _ := e.between(load, 0, 0, e.stroke(), e.excess(load, 0), e.excess(load, e.stroke()))
	return s
}

// between returns the stroke between from and to at which the spring with a constant force added
// carries a load at the wheel, or the end that the load pushes it against and a finding. Low and
// high are the excess at both, with that force.
func (e *End) between(load, extra units.Force, from, to units.Length, low, high float64) (units.Length, Finding, error) {
	switch {
	case low == 0:
		return from, "", nil
	case high == 0:
		return to, "", nil
	case low > 0:
		return from, HeldAtTop, nil
	case high < 0:
		return to, Collapses, nil
	}
	s, err := root.Refine(func(s float64) float64 {
		return e.excess(load, units.Length(s)) + float64(extra)
	}, float64(from), float64(to), low, high, settleTolerance*float64(to-from))
	switch {
	case err == nil:
		return units.Length(s), "", nil
	case errors.Is(err, root.ErrJump):
		return from, "", &units.FieldError{Package: "sag", Field: "law", Want: units.Want{Text: "a law whose force does not jump past the load"}, Class: spring.ErrJump}
	}
	return from, "", &units.FieldError{Package: "sag", Field: "law", Want: units.Want{Text: "a law whose force is finite"}, Class: spring.ErrLaw}
}

// RestAt returns the rest at a stroke in m that is known to carry the load, and the band about it
// that friction allows. The end must pass [End.Check] and the load [CheckLoad], and the stroke must
// be within the spring's travel and the curve's stroke.
func (e End) RestAt(s units.Length, load units.Force) Rest {
	return e.banded(e.restAt(s, load), load, e.excess(load, 0), e.excess(load, e.stroke()))
}

// banded returns a rest with the band that friction allows. Low and high are the excess at the ends
// of the stroke.
func (e *End) banded(r Rest, load units.Force, low, high float64) Rest {
	if f := float64(e.Friction); f > 0 {
		// On either side of the rest by itself: where the wheel force falls, other rests lie
		// beyond. Past its ends the wheel does not go.
		here := e.excess(load, r.Stroke)
		r.StrokeLow, _, _ = e.between(load, e.Friction, 0, r.Stroke, low+f, here+f)
		r.StrokeHigh, _, _ = e.between(load, -e.Friction, r.Stroke, e.stroke(), here-f, high-f)
		r.TravelLow, r.TravelHigh = e.Curve.TravelAt(r.StrokeLow), e.Curve.TravelAt(r.StrokeHigh)
	}
	return r
}

// restAt is RestAt with no band.
func (e *End) restAt(s units.Length, load units.Force) Rest {
	w, lr, k := e.Curve.TravelAt(s), e.Curve.LeverRatio(s), e.Law.Rate(s)
	r := Rest{
		Travel: w, Stroke: s,
		TravelLow: w, TravelHigh: w, StrokeLow: s, StrokeHigh: s,
		Sag:        float64(w / e.Curve.Travel()),
		ShockSag:   float64(s / e.Curve.Stroke()),
		SpringRate: k, LeverRatio: lr,
		WheelRate: WheelRate(k, e.Law.Force(s), lr, e.Curve.LeverRatioSlope(s)),
	}
	r.Frequency = Frequency(r.WheelRate, load)
	return r
}

// WheelRate returns the rate at the wheel in N/m of a spring with rate k in N/m and force f in N,
// behind a lever ratio lr = dw/ds whose slope dLR/ds is in 1/m:
//
//	k_w = k_s/LR² − F_s·LR′/LR³
//
// It is F_s(s)/LR(s) differentiated by w, with dw = LR ds. It is 0 if lr is not more than 0, an input
// is not finite or the rate is beyond float64.
func WheelRate(k units.Stiffness, f units.Force, lr float64, slope units.RatioSlope) units.Stiffness {
	rate := (float64(k) - float64(f)*(float64(slope)/lr)) / lr / lr
	if !(lr > 0) || !(math.Abs(rate) <= math.MaxFloat64) {
		return 0
	}
	return units.Stiffness(rate)
}

// Frequency returns the undamped natural frequency in Hz of a mass bouncing on a wheel rate k_w in
// N/m, √(k_w·g₀/load)/2π, with load the weight of the mass in N. It is 0 if rate or load is not
// finite and more than 0.
func Frequency(wheelRate units.Stiffness, load units.Force) units.Frequency {
	f := math.Sqrt(float64(wheelRate)*units.StandardGravity/float64(load)) / (2 * math.Pi)
	if !(wheelRate > 0) || !(load > 0) || !(f < math.MaxFloat64) {
		return 0
	}
	return units.Frequency(f)
}
