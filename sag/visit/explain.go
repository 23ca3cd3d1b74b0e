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

// Explanation is one thing that would explain all the readings by itself, every
// other part being as stated.
type Explanation struct {
	Cause Cause `json:"cause"`
	// Stated is the value as stated, Needed the nearest to it that explains
	// the readings, Change the difference. Low and High bound all the values
	// that do; they are nil where nothing bounds them. All are
	// quantities of package units: a Force for load and friction, a Stiffness
	// for rate, a Length for preload and reading_error, a GaugePressure for fill.
	Stated any `json:"stated"`
	Needed any `json:"needed"`
	Change any `json:"change"`
	Low    any `json:"low,omitempty"`
	High   any `json:"high,omitempty"`
	// Relative is the magnitude of Change over that of Stated, and what explanations are
	// ordered by. It says how large a change is needed, not how likely it is.
	// It is 0 where Stated is 0: such come last.
	Relative float64 `json:"relative"`
	// Turns is the preload's Change in turns of the collar; 0 where the pitch is unknown.
	Turns float64 `json:"turns,omitempty"`
	Text  string  `json:"text"`
}

// explain returns what would explain the readings, each by itself, where what is
// stated does not.
func explain(e end, m Series) []Explanation {
	x := explainer{end: e, set: m.Setting, load: float64(m.Load), readings: m.Readings, list: []Explanation{}}
	if x.load > 0 {
		x.explainLoad()
		if m.Setting.Coil != nil {
			x.explainCoil()
		} else {
			x.explainFill()
		}
	}
	x.explainFriction()
	x.explainReadings()
	slices.SortStableFunc(x.list, func(p, q Explanation) int { return cmp.Compare(p.rank(), q.rank()) })
	return x.list
}

// rank is what explanations are ordered by: the smaller change first, and last
// those that have no relative size.
func (e *Explanation) rank() float64 {
	if e.Relative > 0 {
		return e.Relative
	}
	return math.Inf(1)
}

type explainer struct {
	end
	set      Setting
	load     float64 // predicted; 0 for none
	readings []Reading
	list     []Explanation
}

// demand is the force of the spring that holds the predicted load at a stroke
// with friction helping (−1) or hindering (+1) it.
func (x *explainer) demand(s units.Length, sign float64) float64 {
	return x.load*x.Curve.LeverRatio(s) + sign*float64(x.Friction)
}

// span returns the values of one part that explain every reading.
func (x *explainer) span(need func(s units.Length, sign float64) (float64, bool)) (low, high float64) {
	low, high = math.Inf(-1), math.Inf(1)
	for _, r := range x.readings {
		l, h := r.span(need)
		low, high = max(low, l), min(high, h)
	}
	return low, high
}

// add lists a part whose values from low to high explain the readings; an
// infinite bound is none. Show prints one for people.
func add[Q ~float64](x *explainer, cause Cause, stated, low, high Q, show func(Q) string, format string) {
	needed := min(max(stated, low), high)
	if !(low <= high) || needed == stated || math.IsInf(float64(needed), 0) {
		return
	}
	e := Explanation{Cause: cause, Stated: stated, Needed: needed, Change: needed - stated}
	if !math.IsInf(float64(low), 0) {
		e.Low = low
	}
	if !math.IsInf(float64(high), 0) {
		e.High = high
	}
	if stated != 0 {
		e.Relative = math.Abs(float64((needed - stated) / stated))
	}
	e.Text = fmt.Sprintf(format, show(needed), show(stated))
	x.list = append(x.list, e)
}

func (x *explainer) explainLoad() {
	low, high := x.span(func(s units.Length, sign float64) (float64, bool) {
		return loadAt(x.End, s, sign*float64(x.Friction)), true
	})
	add(x, CauseLoad, units.Force(x.load), units.Force(max(0, low)), units.Force(high), bothForces,
		"A sprung load of %s on this wheel instead of %s: the rider's kit, mass or stance.")
}

func (x *explainer) explainCoil() {
	k, p := float64(x.set.Coil.Rate), float64(x.set.Coil.Preload)
	low, high := x.span(func(s units.Length, sign float64) (float64, bool) {
		return x.demand(s, sign) / (float64(s) + p), true
	})
	add(x, CauseRate, x.set.Coil.Rate, units.Stiffness(max(0, low)), units.Stiffness(high), func(k units.Stiffness) string {
		return fmt.Sprintf("%.2f N/mm (%.0f lbf/in)", k.NewtonsPerMillimetre(), k.PoundsForcePerInch())
	}, "A spring rate of %s instead of %s: measure the spring.")
	low, high = x.span(func(s units.Length, sign float64) (float64, bool) {
		return x.demand(s, sign)/k - float64(s), true
	})
	before := len(x.list)
	add(x, CausePreload, x.set.Coil.Preload, units.Length(low), units.Length(high), bothLengths,
		"A preload of %s instead of %s; below 0 the spring is loose at full extension.")
	if len(x.list) > before && x.set.Coil.ThreadPitch > 0 {
		e := &x.list[before]
		e.Turns = float64(e.Change.(units.Length) / x.set.Coil.ThreadPitch)
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
	add(x, CauseFill, x.gas.Fill, units.GaugePressure(low), units.GaugePressure(high), func(p units.GaugePressure) string {
		return fmt.Sprintf("%.2f bar (%.1f psi)", p.Bar(), p.PSI())
	}, "A fill of %s instead of %s: air lost or gained since it was filled, or another gauge.")
}

func (x *explainer) explainFriction() {
	least := 0.0
	if x.load > 0 {
		for _, r := range x.readings {
			low, high := r.span(func(s units.Length, _ float64) (float64, bool) {
				return float64(x.Law.Force(s)) - x.load*x.Curve.LeverRatio(s), true
			})
			least = max(least, low, -high)
		}
	} else {
		var most units.Force // friction of this size lets every reading agree with no load at all
		for _, r := range x.readings {
			most = max(most, x.Law.Force(r.Stroke+r.Error))
		}
		f, err := root.Find(func(f float64) float64 { return x.overlap(f, 0) }, 0, float64(most), 1e-13*float64(most))
		if err != nil {
			return
		}
		least = f
	}
	add(x, CauseFriction, x.Friction, units.Force(least), units.Force(math.Inf(1)), bothForces,
		"A friction at the spring of %s instead of %s: look for bushings or seals that stick.")
}

// overlap is by how much the loads that the readings agree with overlap, for
// a friction and an error added to each; below 0 they don't.
func (x *explainer) overlap(friction, more float64) float64 {
	least, most := math.Inf(-1), math.Inf(1)
	for _, r := range x.readings {
		r.Error += units.Length(more)
		low, high := r.span(func(s units.Length, sign float64) (float64, bool) {
			return loadAt(x.End, s, sign*friction), true
		})
		least, most = max(least, low), min(most, high)
	}
	return most - least
}

func (x *explainer) explainReadings() {
	stated, more := units.Length(0), math.Inf(-1)
	for _, r := range x.readings {
		stated = max(stated, r.Error)
	}
	if x.load > 0 {
		rest, _, err := x.SettleWithin(units.Force(x.load))
		if err != nil {
			return
		}
		rest = x.RestAt(rest.Stroke, units.Force(x.load)) // of a load held at an end the friction may hold some of the travel too
		for _, r := range x.readings {
			more = max(more, float64(max(rest.StrokeLow-r.Stroke, r.Stroke-rest.StrokeHigh)-r.Error))
		}
	} else {
		room, end := math.Inf(1), min(x.Law.Travel(), x.Curve.Stroke())
		for _, r := range x.readings {
			room = min(room, float64(min(r.Stroke, end-r.Stroke)-r.Error))
		}
		d, err := root.Find(func(d float64) float64 { return x.overlap(float64(x.Friction), d) }, 0, room, 1e-13*room)
		if err != nil {
			return
		}
		more = d
	}
	add(x, CauseReading, stated, stated+units.Length(more), units.Length(math.Inf(1)), bothLengths,
		"Readings that may be off by %s instead of %s: read the ring again.")
}

func bothForces(f units.Force) string {
	return fmt.Sprintf("%.0f N (%.0f lbf)", f.Newtons(), f.PoundsForce())
}

func bothLengths(l units.Length) string {
	return fmt.Sprintf("%.1f mm (%.2f in)", l.Millimetres(), l.Inches())
}
