package visit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Cause is a stable code for what may not be as stated.
type Cause string

// Causes.
const (
	CauseLoad     Cause = "load"          // the rider's kit, mass or stance
	CauseRate     Cause = "rate"          // of the coil spring
	CausePreload  Cause = "preload"       // of the coil spring; below 0 it is loose by that much at full extension
	CauseFill     Cause = "fill"          // air lost, or a gauge that shows another pressure
	CauseFriction Cause = "friction"      // bushings or seals that stick
	CauseReading  Cause = "reading_error" // the ring was read, or slid, that much further off
)

// Explanation is one thing that would explain all the readings by itself, every other part being as
// stated.
type Explanation struct {
	Cause Cause `json:"cause"`
	// Stated is the value as stated, Needed the nearest to it that explains the readings, Change
	// the difference. Low and High bound all the values that do; they are nil where nothing bounds
	// them. All are quantities of package units: a Force for load and friction, a Stiffness for
	// rate, a Length for preload and reading_error, a GaugePressure for fill.
	Stated any `json:"stated"`
	Needed any `json:"needed"`
	Change any `json:"change"`
	Low    any `json:"low,omitempty"`
	High   any `json:"high,omitempty"`
	// Relative is the magnitude of Change over that of Stated, and what explanations are ordered
	// by. It says how large a change is needed, not how likely it is. It is 0 where Stated is 0:
	// such come last.
	Relative float64 `json:"relative"`
	// Turns is the preload's Change in turns of the collar; 0 where the pitch is unknown.
	Turns float64 `json:"turns,omitempty"`
	Text  string  `json:"text"`
}

// explainer collects explanations of readings on an end.
type explainer struct {
	*end
	Series
	list []Explanation
}

// explain returns what would explain the readings, each by itself, where what is stated does not:
// the smaller relative change first, and last those without one.
func explain(e *end, m Series) []Explanation {
	x := explainer{e, m, []Explanation{}}
	switch {
	case !(m.Load > 0):
	case m.Setting.Coil != nil:
		x.explainLoad()
		x.explainCoil()
	default:
		x.explainLoad()
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

// span returns the values of one part that explain every reading.
func (x *explainer) span(of need) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	for _, r := range x.Readings {
		l, h := r.span(of)
		low, high = max(low, l), min(high, h)
	}
	return low, high
}

// demand returns the force of the spring that holds the predicted load at a stroke with friction
// helping (−1) or hindering (+1) it.
func (x *explainer) demand(s units.Length, sign float64) float64 {
	return float64(x.Load)*x.Curve.LeverRatio(s) + sign*float64(x.Friction)
}

// quantity is a quantity that people read in two units.
type quantity interface {
	~float64
	Both() units.Dual
}

// add lists a part whose values from low to high explain the readings; an infinite bound is left
// out. The format is for the values needed and stated.
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
	if stated != 0 {
		e.Relative = math.Abs(float64((needed - stated) / stated))
	}
	e.Text = fmt.Sprintf(format, needed.Both(), stated.Both())
	x.list = append(x.list, e)
}

func (x *explainer) explainLoad() {
	low, high := x.span(loads(x.End, float64(x.Friction)))
	add(x, CauseLoad, x.Load, max(0, low), high, "A sprung load of %s on this wheel instead of %s: the rider's kit, mass or stance.")
}

func (x *explainer) explainCoil() {
	coil := x.Setting.Coil
	low, high := x.span(func(s units.Length, sign float64) (float64, bool) {
		return x.demand(s, sign) / float64(s+coil.Preload), true
	})
	add(x, CauseRate, coil.Rate, max(0, low), high, "A spring rate of %s instead of %s: measure the spring.")
	low, high = x.span(func(s units.Length, sign float64) (float64, bool) {
		return x.demand(s, sign)/float64(coil.Rate) - float64(s), true
	})
	before := len(x.list)
	add(x, CausePreload, coil.Preload, low, high, "A preload of %s instead of %s; below 0 the spring is loose at full extension.")
	for i := range x.list[before:] {
		e := &x.list[before+i]
		e.Turns = coil.Turns(e.Change.(units.Length))
	}
}

func (x *explainer) explainFill() {
	low, high := x.span(func(s units.Length, sign float64) (float64, bool) {
		switch fill, outcome := x.gas.SolveFill(units.Force(x.demand(s, sign)), s); outcome {
		case airspring.FillMet:
			return float64(fill), true
		case airspring.FillBeyond: // what an air spring may hold bounds it
			return float64(airspring.MaxFill), sign > 0
		case airspring.FillNone: // every fill is more than it takes
			return 0, sign < 0
		default:
			return 0, false
		}
	})
	add(x, CauseFill, x.gas.Fill, low, high, "A fill of %s instead of %s: air lost or gained since it was filled, or another gauge.")
}

func (x *explainer) explainFriction() {
	least := 0.0
	if x.Load > 0 {
		for _, r := range x.Readings {
			low, high := r.span(func(s units.Length, _ float64) (float64, bool) {
				return float64(x.Law.Force(s)) - float64(x.Load)*x.Curve.LeverRatio(s), true
			})
			least = max(least, low, -high)
		}
	} else {
		var most units.Force // friction of this size lets every reading agree with no load at all
		for _, r := range x.Readings {
			most = max(most, x.Law.Force(r.Stroke+r.Error))
		}
		f, err := root.Find(func(f float64) float64 { return x.overlap(f, 0) }, 0, float64(most), 1e-13*float64(most))
		if err != nil {
			return
		}
		least = f
	}
	add(x, CauseFriction, x.Friction, least, math.Inf(1), "A friction at the spring of %s instead of %s: look for bushings or seals that stick.")
}

// overlap returns by how much the loads that the readings agree with overlap, for a friction and an
// error added to each; below 0 they don't.
func (x *explainer) overlap(friction, more float64) float64 {
	wider := explainer{Series: Series{Readings: slices.Clone(x.Readings)}}
	for i := range wider.Readings {
		wider.Readings[i].Error += units.Length(more)
	}
	low, high := wider.span(loads(x.End, friction))
	return high - low
}

func (x *explainer) explainReadings() {
	stated, more := units.Length(0), math.Inf(-1)
	for _, r := range x.Readings {
		stated = max(stated, r.Error)
	}
	if x.Load > 0 {
		rest, _, err := x.SettleWithin(x.Load)
		if err != nil {
			return
		}
		rest = x.RestAt(rest.Stroke, x.Load) // with the band of friction at an end of the travel, too
		for _, r := range x.Readings {
			more = max(more, float64(max(rest.StrokeLow-r.Stroke, r.Stroke-rest.StrokeHigh)-r.Error))
		}
	} else {
		room, end := math.Inf(1), min(x.Law.Travel(), x.Curve.Stroke())
		for _, r := range x.Readings {
			room = min(room, float64(min(r.Stroke, end-r.Stroke)-r.Error))
		}
		d, err := root.Find(func(d float64) float64 { return x.overlap(float64(x.Friction), d) }, 0, room, 1e-13*room)
		if err != nil {
			return
		}
		more = d
	}
	add(x, CauseReading, stated, float64(stated)+more, math.Inf(1), "Readings that may be off by %s instead of %s: read the ring again.")
}
