package visit

import (
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Reading is where a ring on the shaft, or on the stanchion, stood after the rider had stood still
// on the bike.
type Reading struct {
	Stroke units.Length `json:"stroke"`         // from full extension
	Error  units.Length `json:"error"`          // how far the reading may be off either way
	Date   string       `json:"date,omitempty"` // for people
	Note   string       `json:"note,omitempty"` // for people
}

// ImpliedLoad is the sprung load at the wheel that a reading implies.
type ImpliedLoad struct {
	Load units.Force `json:"load"` // at the reading itself, without friction
	LoadBounds
	StandardError units.Force `json:"standard_error"` // of Load: (ErrorHigh − ErrorLow)/(2·√3)
}

// LoadBounds are the sprung loads at the wheel that readings agree with.
type LoadBounds struct {
	ErrorLow  units.Force `json:"error_low"` // by the error of the readings alone, as is the next
	ErrorHigh units.Force `json:"error_high"`
	Low       units.Force `json:"low"` // by error and friction together, as is the next
	High      units.Force `json:"high"`
}

// ImpliedLoad returns the sprung loads at the wheel, in N, that a reading of the shock's stroke s
// agrees with. A wheel held by a dry friction f at the spring rests wherever
//
//	F_s(s) − f ≤ load·LR(s) ≤ F_s(s) + f
//
// so with a reading error e the bounds are the least (F_s − f)/LR and the greatest (F_s + f)/LR
// over [s − e, s + e], of 17 strokes: exact for a wheel force that rises with travel. Bounds below
// 0 are 0. Load itself is that of [sag.End.LoadAt]. Its standard uncertainty is that of a
// rectangular distribution, e/√3 (JCGM 100:2008, 4.3.7; from memory).
//
// The whole of [s − e, s + e] must lie inside the stroke, as the stops carry an unknown part of the
// load at its ends; e must be more than 0, friction from 0 to 1e12 N. The error names every bad
// field of curve, law, friction, stroke, error.
func (r Reading) ImpliedLoad(e sag.End) (ImpliedLoad, error) {
	c := units.Checker{Package: "sag"}
	e.Check(&c)
	i := r.implied(&c, e, c.OK())
	return i, c.Err()
}

// implied is ImpliedLoad at an end that was checked. A reading at one that is not good may be of
// any stroke, and implies nothing.
func (r Reading) implied(c *units.Checker, e sag.End, good bool) (i ImpliedLoad) {
	stroke := units.Length(math.Inf(1))
	if good {
		stroke = min(e.Law.Travel(), e.Curve.Stroke())
	}
	if !units.Inside(c, "stroke", r.Stroke, 0, stroke) {
		units.Positive(c, "error", r.Error)
	} else if room := min(r.Stroke, stroke-r.Stroke); !(r.Error > 0 && r.Error < room) {
		c.Fail("error", r.Error, "more than 0 and less than "+room.String()+", for a stop must have no part in the reading", units.ErrRange)
	}
	if !good || !c.OK() {
		return i
	}
	var err error
	i.Load, err = e.LoadAt(r.Stroke)
	if c.Add("", err); err != nil {
		return i
	}
	bounds := func(f units.Force) (units.Force, units.Force) {
		low, high := r.span(loads(e, float64(f)))
		return max(0, units.Force(low)), units.Force(high)
	}
	i.ErrorLow, i.ErrorHigh = bounds(0)
	i.Low, i.High = bounds(e.Friction)
	i.StandardError = (i.ErrorHigh - i.ErrorLow) / 2 / units.Force(math.Sqrt(3))
	return i
}

// need returns the value of one part that explains a stroke with the friction helping (−1) or
// hindering (+1); NaN if no value does.
type need = func(s units.Length, sign float64) float64

// loads returns the loads that an end with a friction carries.
func loads(e sag.End, friction float64) need {
	return func(s units.Length, sign float64) float64 {
		return (float64(e.Law.Force(s)) + sign*friction) / e.Curve.LeverRatio(s)
	}
}

// span returns the least of(s, −1) and the greatest of(s, +1) over 17 strokes that a reading may
// stand for; +Inf and −Inf if all are NaN.
func (r Reading) span(of need) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := -8; i <= 8; i++ {
		s := r.Stroke + r.Error*units.Length(float64(i)/8)
		if x := of(s, -1); x < low {
			low = x
		}
		if x := of(s, +1); x > high {
			high = x
		}
	}
	return low, high
}

// Verdict is a stable code for whether readings agree with a prediction.
type Verdict string

// Verdicts.
const (
	NotCompared    Verdict = "not_compared"    // no load was predicted
	Agrees         Verdict = "agrees"          // within the error of the readings alone
	WithinFriction Verdict = "within_friction" // within error and friction together
	Unexplained    Verdict = "unexplained"     // beyond both: some stated part is not as stated
	Contradictory  Verdict = "contradictory"   // no single load agrees with all the readings
)

// verdict compares a predicted load, 0 for none, with the bounds.
func (b LoadBounds) verdict(load units.Force) Verdict {
	switch {
	case !(b.Low <= b.High):
		return Contradictory
	case load == 0:
		return NotCompared
	case load >= b.ErrorLow && load <= b.ErrorHigh:
		return Agrees
	case load >= b.Low && load <= b.High:
		return WithinFriction
	default:
		return Unexplained
	}
}
