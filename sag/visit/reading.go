package visit

import (
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Reading is where a ring on the shaft or the stanchion was after the rider had stood still on the
// bike.
type Reading struct {
	Stroke units.Length `json:"stroke"`         // of the shock, from full extension; more than 0 and less than its stroke
	Error  units.Length `json:"error"`          // the most that the reading may be off to either side; more than 0
	Date   string       `json:"date,omitempty"` // any text
	Note   string       `json:"note,omitempty"` // any text
}

// ImpliedLoad is the sprung load at the wheel that a reading implies.
type ImpliedLoad struct {
	Load units.Force `json:"load"` // if the reading is exact and there is no friction
	LoadBounds
	StandardError units.Force `json:"standard_error"` // of Load: (ErrorHigh − ErrorLow)/(2·√3)
}

// LoadBounds are the least and the greatest sprung load at the wheel that readings agree with.
type LoadBounds struct {
	ErrorLow  units.Force `json:"error_low"`  // the least within the error of the readings
	ErrorHigh units.Force `json:"error_high"` // the greatest within the error of the readings
	Low       units.Force `json:"low"`        // the least within error and friction together
	High      units.Force `json:"high"`       // the greatest within error and friction together
}

// ImpliedLoad returns the sprung loads at the wheel, in N, that a reading of the shock's stroke s
// agrees with. A wheel held by a dry friction f at the spring rests wherever
//
//	F_s(s) − f ≤ load·LR(s) ≤ F_s(s) + f
//
// where F_s is the force of the spring and LR the lever ratio. With a reading error e the bounds are
// the least (F_s − f)/LR and the greatest (F_s + f)/LR at 17 evenly spaced strokes from s − e to
// s + e, which is exact if the wheel force rises with travel. A lower bound below 0 is taken as 0.
// Load is that of [sag.End.LoadAt]. The standard error takes every error up to e as equally likely,
// which makes the standard uncertainty of the stroke e/√3 (JCGM 100:2008, 4.3.7; from memory).
//
// Strokes from s − e to s + e must lie between full extension and the end of the stroke, because at
// either a stop carries an unknown part of the load; e must be more than 0, and the friction from 0 to
// 1e12 N. The error returned names every bad field of curve, law, friction, stroke and error.
func (r Reading) ImpliedLoad(at sag.End) (ImpliedLoad, error) {
	c := units.Checker{Package: "sag"}
	e := &Assembly{end: at}
	if at.Check(&c); !c.OK() {
		e = nil
	}
	i := e.implied(&c, r)
	return i, c.Err()
}

// implied is Reading.ImpliedLoad. Of nil, an end with faults, the stroke has no upper limit and the result
// is empty.
func (e *Assembly) implied(c *units.Checker, r Reading) (i ImpliedLoad) {
	stroke := units.Length(math.Inf(1))
	if e != nil {
		stroke = e.stroke()
	}
	if !units.Inside(c, "stroke", r.Stroke, 0, stroke) {
		units.Positive(c, "error", r.Error)
	} else if room := min(r.Stroke, stroke-r.Stroke); !(r.Error > 0 && r.Error < room) {
		c.Fail("error", r.Error, units.MoreThan(0).And(units.LessThan(room)).With("the distance to the nearer end of the stroke"), units.ErrRange)
	}
	if e == nil || !c.OK() {
		return i
	}
	var err error
	i.Load, err = e.end.LoadAt(r.Stroke)
	if c.Add("", err); err != nil {
		return i
	}
	bounds := func(f units.Force) (units.Force, units.Force) {
		low, high := r.span(loads(e.end, float64(f)))
		return max(0, units.Force(low)), units.Force(high)
	}
	i.ErrorLow, i.ErrorHigh = bounds(0)
	i.Low, i.High = bounds(e.end.Friction)
	i.StandardError = (i.ErrorHigh - i.ErrorLow) / 2 / units.Force(math.Sqrt(3))
	return i
}

// need returns the value of one input that explains a stroke; NaN if there is none. Sign is −1 for
// the least value that friction permits and +1 for the greatest.
type need = func(s units.Length, sign float64) float64

// loads returns the need of the load at the wheel, for a friction.
func loads(e sag.End, friction float64) need {
	return func(s units.Length, sign float64) float64 {
		return (float64(e.Law.Force(s)) + sign*friction) / e.Curve.LeverRatio(s)
	}
}

// span returns the least of(s, −1) and the greatest of(s, +1) at 17 evenly spaced strokes within the
// error of a reading; +Inf and −Inf if all are NaN.
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
	Agrees         Verdict = "agrees"          // the prediction is within the error of the readings
	WithinFriction Verdict = "within_friction" // the prediction is within error and friction together
	Unexplained    Verdict = "unexplained"     // the prediction is beyond both: some input is not as stated
	Contradictory  Verdict = "contradictory"   // no load agrees with all the readings
)

// verdict compares a predicted load with the bounds. A load of 0 means that none was predicted.
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
