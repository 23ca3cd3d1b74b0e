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

// Estimate is what a series of readings says about the sprung load at the wheel.
type Estimate struct {
	Count int `json:"count"`
	// Load is the mean of the implied loads, weighted by 1/u² of their
	// standard errors u: the least-squares estimate.
	Load units.Force `json:"load"`
	// StatedError is the standard error of Load from the stated errors of the
	// readings, 1/√Σ(1/u²), and ScatterError that from how much they scatter,
	// StatedError·√(χ²/(n − 1)) with χ² = Σ(residual/u)²; it is 0 for a single
	// reading, which has no scatter. Where the second is much the larger, the readings
	// are worse than stated, or friction holds them apart. Neither holds the
	// friction: a mean does not average out where it always pulls one way.
	StatedError  units.Force `json:"stated_error"`
	ScatterError units.Force `json:"scatter_error"`
	// ErrorLow and ErrorHigh bound the loads that all the readings agree with
	// by their errors alone, Low and High by error and friction. Each is the
	// overlap of the readings' own bounds, so that every reading narrows it. A
	// low bound above the high one means that there is no such load.
	ErrorLow  units.Force `json:"error_low"`
	ErrorHigh units.Force `json:"error_high"`
	Low       units.Force `json:"low"`
	High      units.Force `json:"high"`
}

// estimate pools readings, one or more, whose standard errors are more than 0,
// and fills in what each is beside the others.
func estimate(readings []ReadingReport) Estimate {
	e := Estimate{Count: len(readings), ErrorHigh: units.Force(math.Inf(1)), High: units.Force(math.Inf(1))}
	loads := make([]units.Force, len(readings))
	least := readings[0].StandardError // taken out of the weights, that they neither overflow nor vanish
	for _, r := range readings {
		least = min(least, r.StandardError)
	}
	sum, mean := 0.0, 0.0
	for i, r := range readings {
		loads[i] = r.Load
		w := math.Pow(float64(least/r.StandardError), 2)
		sum += w
		mean += w * float64(r.Load-readings[0].Load)
		e.ErrorLow, e.ErrorHigh = max(e.ErrorLow, r.ErrorLow), min(e.ErrorHigh, r.ErrorHigh)
		e.Low, e.High = max(e.Low, r.Low), min(e.High, r.High)
	}
	e.Load = readings[0].Load + units.Force(mean/sum)
	e.StatedError = least / units.Force(math.Sqrt(sum))
	middle, chi2 := median(loads), 0.0
	for i := range readings {
		r := &readings[i]
		r.Residual = r.Load - e.Load
		r.Outlier = len(readings) > 2 && !(middle >= r.Low && middle <= r.High)
		chi2 += math.Pow(float64(r.Residual/r.StandardError), 2)
	}
	if n := len(readings); n > 1 {
		e.ScatterError = e.StatedError * units.Force(math.Sqrt(chi2/float64(n-1)))
	}
	return e
}

func median(loads []units.Force) units.Force {
	slices.Sort(loads)
	n := len(loads)
	return loads[(n-1)/2] + (loads[n/2]-loads[(n-1)/2])/2
}

// verdict holds a predicted load, 0 for none, against all readings.
func (e Estimate) verdict(load units.Force) Verdict {
	if !(e.Low <= e.High) {
		return Contradictory
	}
	return ImpliedLoad{ErrorLow: e.ErrorLow, ErrorHigh: e.ErrorHigh, Low: e.Low, High: e.High}.verdict(load)
}

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

// explain lists what would explain the readings, each by itself. It is called
// where what is stated does not.
func explain(b end, m Series) []Explanation {
	x := explainer{end: b, load: float64(m.Load), readings: m.Readings, list: []Explanation{}}
	if x.load > 0 {
		x.explainLoad()
		if b.Coil != nil {
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
	load     float64 // predicted; 0 for none
	readings []Reading
	list     []Explanation
}

// demand is the force of the spring that holds the predicted load at a stroke
// with friction helping (−1) or hindering (+1) it.
func (x *explainer) demand(s units.Length, sign float64) float64 {
	return x.load*x.End.Curve.LeverRatio(s) + sign*float64(x.End.Friction)
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
		return (float64(x.Law.Force(s)) + sign*float64(x.End.Friction)) / x.End.Curve.LeverRatio(s), true
	})
	add(x, CauseLoad, units.Force(x.load), units.Force(max(0, low)), units.Force(high), bothForces,
		"A sprung load of %s on this wheel instead of %s: the rider's kit, mass or stance.")
}

func (x *explainer) explainCoil() {
	k, p := float64(x.Coil.Rate), float64(x.Coil.Preload)
	low, high := x.span(func(s units.Length, sign float64) (float64, bool) {
		return x.demand(s, sign) / (float64(s) + p), true
	})
	add(x, CauseRate, x.Coil.Rate, units.Stiffness(max(0, low)), units.Stiffness(high), func(k units.Stiffness) string {
		return fmt.Sprintf("%.2f N/mm (%.0f lbf/in)", k.NewtonsPerMillimetre(), k.PoundsForcePerInch())
	}, "A spring rate of %s instead of %s: measure the spring.")
	low, high = x.span(func(s units.Length, sign float64) (float64, bool) {
		return x.demand(s, sign)/k - float64(s), true
	})
	before := len(x.list)
	add(x, CausePreload, x.Coil.Preload, units.Length(low), units.Length(high), bothLengths,
		"A preload of %s instead of %s; below 0 the spring is loose at full extension.")
	if len(x.list) > before && x.Coil.ThreadPitch > 0 {
		e := &x.list[before]
		e.Turns = float64(e.Change.(units.Length) / x.Coil.ThreadPitch)
	}
}

// mostFill bounds a fill from above where no air spring could hold it; as in
// package airspring.
const mostFill = 1e8

func (x *explainer) explainFill() {
	low, high := x.span(func(s units.Length, sign float64) (float64, bool) {
		force := units.Force(x.demand(s, sign))
		fill, err := airspring.FillFor(x.air, force, s)
		switch {
		case err == nil:
			return float64(fill), true
		case len(units.Fields(err)) != 1 || units.Fields(err)[0].Field != "force":
			return 0, false
		case force > x.Law.Force(s):
			return mostFill, sign > 0 // what may be held bounds it
		default: // every fill is more than it takes
			return 0, sign < 0
		}
	})
	add(x, CauseFill, x.air.Fill, units.GaugePressure(low), units.GaugePressure(high), func(p units.GaugePressure) string {
		return fmt.Sprintf("%.2f bar (%.1f psi)", p.Bar(), p.PSI())
	}, "A fill of %s instead of %s: air lost or gained since it was filled, or another gauge.")
}

func (x *explainer) explainFriction() {
	least := 0.0
	if x.load > 0 {
		for _, r := range x.readings {
			low, high := r.span(func(s units.Length, _ float64) (float64, bool) {
				return float64(x.Law.Force(s)) - x.load*x.End.Curve.LeverRatio(s), true
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
	add(x, CauseFriction, x.End.Friction, units.Force(least), units.Force(math.Inf(1)), bothForces,
		"A friction at the spring of %s instead of %s: look for bushings or seals that stick.")
}

// overlap is by how much the loads that the readings agree with overlap, for
// a friction and an error added to each; below 0 they don't.
func (x *explainer) overlap(friction, more float64) float64 {
	least, most := math.Inf(-1), math.Inf(1)
	for _, r := range x.readings {
		r.Error += units.Length(more)
		low, high := r.span(func(s units.Length, sign float64) (float64, bool) {
			return (float64(x.Law.Force(s)) + sign*friction) / x.End.Curve.LeverRatio(s), true
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
		low, high := x.restBand()
		for _, r := range x.readings {
			more = max(more, float64(max(low-r.Stroke, r.Stroke-high)-r.Error))
		}
	} else {
		room, end := math.Inf(1), min(x.Law.Travel(), x.End.Curve.Stroke())
		for _, r := range x.readings {
			room = min(room, float64(min(r.Stroke, end-r.Stroke)-r.Error))
		}
		d, err := root.Find(func(d float64) float64 { return x.overlap(float64(x.End.Friction), d) }, 0, room, 1e-13*room)
		if err != nil {
			return
		}
		more = d
	}
	add(x, CauseReading, stated, stated+units.Length(more), units.Length(math.Inf(1)), bothLengths,
		"Readings that may be off by %s instead of %s: read the ring again.")
}

// restBand returns the strokes between which friction may hold the predicted load.
func (x *explainer) restBand() (low, high units.Length) {
	rest, _, err := x.End.SettleWithin(units.Force(x.load))
	if err != nil {
		return 0, 0
	}
	return rest.StrokeLow, rest.StrokeHigh
}

func bothForces(f units.Force) string {
	return fmt.Sprintf("%.0f N (%.0f lbf)", f.Newtons(), f.PoundsForce())
}

func bothLengths(l units.Length) string {
	return fmt.Sprintf("%.1f mm (%.2f in)", l.Millimetres(), l.Inches())
}
