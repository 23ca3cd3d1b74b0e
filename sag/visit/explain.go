package visit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
)

// Cause is a stable code for an input that may not be as stated.
type Cause string

// Causes.
const (
	CauseLoad     Cause = "load"          // sprung load: the rider's kit, mass or stance
	CauseRate     Cause = "rate"          // rate of the coil spring; of one whose rate varies, up to the target
	CausePreload  Cause = "preload"       // preload of the coil spring; below 0 it is the play at full extension
	CauseFill     Cause = "fill"          // fill: air lost or gained, or a gauge that shows another pressure
	CauseFriction Cause = "friction"      // friction at the spring: bushings or seals that stick
	CauseReading  Cause = "reading_error" // error of the readings: the ring was misread, or slid further
)

// Explanation is one input that explains all the readings by itself, if it has another value than
// stated.
type Explanation struct {
	Cause Cause `json:"cause"`
	// Stated is the stated value of the input, Needed the value nearest to it that explains the
	// readings, and Change is Needed less Stated. Low and High are the least and the greatest value
	// that explain the readings; nil if there is no limit. All are quantities of package units: a
	// Force for load and friction, a Stiffness for rate, a Length for preload and reading_error, a
	// GaugePressure for fill.
	Stated any `json:"stated"`
	Needed any `json:"needed"`
	Change any `json:"change"`
	Low    any `json:"low,omitempty"`
	High   any `json:"high,omitempty"`
	// Relative is the magnitude of Change over that of Stated, and 0 if Stated is 0 or less than a
	// billionth of Needed. It says how large a change is needed, not how likely it is.
	Relative float64 `json:"relative"`
	Turns    float64 `json:"turns,omitempty"` // Change of a preload in turns of the collar; 0 if the pitch is unknown, and with spacers at hand
	Text     string  `json:"text"`            // for people, with both values in two units
}

// explainer collects explanations of readings on an end under a predicted load.
type explainer struct {
	*Assembly
	load     units.Force
	readings []Reading
	list     []Explanation
}

// explain returns what would explain the readings, each by itself, in the order of the relative
// change. Those without a relative change come last.
func (e *Assembly) explain(load units.Force, readings []Reading) []Explanation {
	x := explainer{e, load, readings, []Explanation{}}
	low, high := x.span(loads(e.end, float64(e.end.Friction)))
	add(&x, CauseLoad, load, max(0, low), high, "A sprung load of %s on this wheel instead of %s: the rider's kit, mass or stance.")
	if e.set.Coil != nil {
		x.explainCoil()
	} else {
		x.explainFill()
	}
	x.explainFriction()
	x.explainReadings()
	rank := func(e Explanation) float64 {
		if e.Relative > 0 {
			return e.Relative
		}
		return math.Inf(1)
	}
	slices.SortStableFunc(x.list, func(p, q Explanation) int { return cmp.Compare(rank(p), rank(q)) })
	return x.list
}

// span returns the least and the greatest value of one input that explain every reading.
func (x *explainer) span(of need) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	for _, r := range x.readings {
		l, h := r.span(of)
		low, high = max(low, l), min(high, h)
	}
	return low, high
}

// demand returns the spring force under the predicted load at a stroke. Sign is −1 for friction
// that carries a part of the load and +1 for friction that adds to it.
func (x *explainer) demand(s units.Length, sign float64) float64 {
	return float64(x.load)*x.end.Curve.LeverRatio(s) + sign*float64(x.end.Friction)
}

// quantity is a quantity whose text has two units.
type quantity interface {
	~float64
	Both() units.Dual
}

// add adds the explanation by an input of which the values from low to high explain the readings.
// It adds nothing if the stated value is one of them or if none is finite. The format is for the
// needed and the stated value.
func add[Q quantity](x *explainer, cause Cause, stated Q, low, high float64, format string) {
	needed := min(max(stated, Q(low)), Q(high))
	if !(low <= high) || needed == stated || math.IsInf(float64(needed), 0) {
		return
	}
	e := Explanation{Cause: cause, Stated: stated, Needed: needed, Change: needed - stated}
	if !math.IsInf(low, 0) {
		e.Low = Q(low)
	}
	if !math.IsInf(high, 0) {
		e.High = Q(high)
	}
	if math.Abs(float64(stated)) >= 1e-9*math.Abs(float64(needed)) { // not 0, since the two differ
		e.Relative = math.Abs(float64((needed - stated) / stated))
	}
	if cause == CausePreload {
		e.Turns = x.set.Coil.turns(units.Length(needed - stated))
	}
	e.Text = fmt.Sprintf(format, needed.Both(), stated.Both())
	x.list = append(x.list, e)
}

func (x *explainer) explainCoil() {
	preload, text := x.set.Coil.Preload, "A spring rate of %s instead of %s: measure the spring."
	if x.coil.Law != nil { // which pushes harder or softer everywhere
		text = "A spring whose rate up to the target is %s instead of %s: measure the spring."
	}
	rate := x.coil.RateAt(x.atTarget() + preload)
	low, high := x.span(func(s units.Length, sign float64) float64 {
		return x.demand(s, sign) / (float64(s+preload) * float64(x.coil.RateAt(s+preload)/rate))
	})
	add(x, CauseRate, rate, max(0, low), high, text)
	low, high = x.span(func(s units.Length, sign float64) float64 {
		return float64(x.coil.PreloadFor(units.Force(x.demand(s, sign)), s))
	})
	add(x, CausePreload, preload, low, high, "A preload of %s instead of %s; below 0 the spring is loose at full extension.")
}

func (x *explainer) explainFill() {
	still := x.gas
	still.Exponent = 1
	low, high := x.span(func(s units.Length, sign float64) float64 {
		switch fill, outcome := still.SolveFill(units.Force(x.demand(s, sign)), s); {
		case outcome == airspring.FillMet:
			return float64(fill)
		case outcome == airspring.FillBeyond && sign > 0: // no fill is too much
			return float64(airspring.MaxFill)
		case outcome == airspring.FillNone && sign < 0: // no fill is too little
			return 0
		}
		return math.NaN()
	})
	add(x, CauseFill, x.gas.Fill, low, high, "A fill of %s instead of %s: air lost or gained since it was filled, or another gauge.")
}

func (x *explainer) explainFriction() {
	low, high := x.span(func(s units.Length, _ float64) float64 {
		return float64(x.end.Law.Force(s)) - float64(x.load)*x.end.Curve.LeverRatio(s)
	})
	add(x, CauseFriction, x.end.Friction, max(0, low, -high), math.Inf(1), "A friction at the spring of %s instead of %s: look for bushings or seals that stick.")
}

func (x *explainer) explainReadings() {
	rest, _, err := x.end.SettleWithin(x.load)
	if err != nil {
		return
	}
	rest = x.end.RestAt(rest.Stroke, x.load) // which has the band of friction also at an end of the travel
	stated, more := units.Length(0), units.Length(math.Inf(-1))
	for _, r := range x.readings {
		stated, more = max(stated, r.Error), max(more, max(rest.StrokeLow-r.Stroke, r.Stroke-rest.StrokeHigh)-r.Error)
	}
	add(x, CauseReading, stated, float64(stated+more), math.Inf(1), "Readings that may be off by %s instead of %s: read the ring again.")
}
