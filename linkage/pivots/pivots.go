package pivots

import (
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Movable is a point that may be moved to make a lever ratio come out as
// wanted, and how far from its place in either direction; 0 for not at all.
type Movable struct {
	Point string       `json:"point"`
	X     units.Length `json:"x,omitempty"`
	Y     units.Length `json:"y,omitempty"`
}

// Search asks where pivots must be for a wanted lever-ratio curve.
type Search struct {
	// Mechanism is what to start from; it must move over its whole stroke.
	Mechanism mechanism.Spec `json:"mechanism"`
	// Move names the points that may move, at most 12.
	Move []Movable `json:"move"`
	// Stroke and LeverRatio are the wanted curve: at least two strokes within
	// the mechanism's, rising, at most 200, and the ratio at each.
	Stroke     []units.Length `json:"stroke"`
	LeverRatio []float64      `json:"lever_ratio"`
	// ShockLength is the length, eye to eye at full extension, that the shock
	// has; 0 for as the mechanism has it. It is met to well below a hundredth
	// of a millimetre unless nothing within the bounds meets it.
	ShockLength units.Length `json:"shock_length,omitempty"`
	// AnyShock lets the shock's length come out as it may.
	AnyShock bool `json:"any_shock,omitempty"`
	// Drive and AntiSquat ask for an anti-squat beside the lever ratio: at the
	// stroke At it shall be Value, a fraction, of which a miss of 1 weighs as
	// much as a miss of Weight in the lever ratio all along.
	Drive     *drivetrain.Spec `json:"drive,omitempty"`
	AntiSquat *AntiSquat       `json:"anti_squat,omitempty"`
}

// AntiSquat is a wanted anti-squat at one stroke.
type AntiSquat struct {
	At     units.Length `json:"at"`
	Value  float64      `json:"value"`
	Weight float64      `json:"weight"`
}

// Result is the answer to a [Search].
type Result struct {
	Mechanism mechanism.Spec `json:"mechanism"` // with the points moved
	// RMS and Worst are by how much the lever ratio misses the wanted one:
	// root mean square and greatest over the wanted strokes, and where that is.
	RMS      float64      `json:"rms"`
	Worst    float64      `json:"worst"`
	WorstAt  units.Length `json:"worst_at"`
	StartRMS float64      `json:"start_rms"` // of the mechanism as it was given
	// ShockLength is that of the shock, eye to eye at full extension.
	ShockLength units.Length `json:"shock_length"`
	// AntiSquat is what it comes out as, where one was asked for.
	AntiSquat *float64 `json:"anti_squat,omitempty"`
	// Moved is how far each point went, in the order asked.
	Moved []Movement `json:"moved"`
	// Leans lists the bounds that the answer lies at: with more room there it
	// would come nearer.
	Leans []Lean `json:"leans,omitempty"`
	// Tried is how many mechanisms were looked at, and Locked how many of
	// these came to a dead point, or were none that [drivetrain.New] takes.
	Tried  int `json:"tried"`
	Locked int `json:"locked"`
}

// Movement is how far a point was moved.
type Movement struct {
	Point string       `json:"point"`
	X     units.Length `json:"x"`
	Y     units.Length `json:"y"`
}

// Lean is a bound that an answer lies at.
type Lean struct {
	Point string       `json:"point"`
	Axis  string       `json:"axis"`  // "x" or "y"
	Bound units.Length `json:"bound"` // the move it may not exceed, with its sign
}

// search is a search at work.
type search struct {
	ask    Search
	axes   []moveAxis
	shock  float64 // wanted length, m; 0 for any
	tried  int
	locked int
}

// moveAxis is one coordinate that may move.
type moveAxis struct {
	point string
	axis  int
	bound float64 // m
}

// Find moves the points that may move until the lever ratio comes as near
// as it can to the wanted one, in the sense of least squares, and says how
// near that is and which bounds are in the way. No mechanism that comes to a
// dead point inside its stroke is ever an answer.
//
// The search starts at the points as given and at four more places within the
// bounds, always the same ones, and goes downhill from each by damped least
// squares within the bounds (Levenberg and Marquardt's method). It finds a best
// answer near where it starts; there may be a better one elsewhere. More points
// that may move than the curve has features make the answer one of many.
//
// The input is refused with one error that names every bad field: a mechanism
// that [mechanism.New] refuses, points to move that there are none of or that
// belong to no body, bounds that aren't from 0 to 1 m, or all 0 (move),
// strokes and ratios as said at [Search] (stroke, lever_ratio, the latter
// from 0.001 to 1000), a shock length that isn't more than the stroke
// (shock_length), a drive that [drivetrain.New] refuses or that is missing beside a
// wanted anti-squat (drive), a weight that isn't from 0 to 1000
// (anti_squat.weight).
func Find(ask Search) (*Result, error) {
	p := &search{ask: ask}
	k, err := p.check()
	if err != nil {
		return nil, err
	}
	fit, err := p.answer(k, make([]float64, len(p.axes))) // as it was given
	if err != nil {
		return nil, err
	}
	best := math.Inf(1)
	for _, from := range p.starts() {
		x, sum := p.descend(from)
		if !better(sum, best) {
			continue
		}
		// What the search took for a mechanism that moves is looked at once more
		// in shorter steps.
		if found, err := p.answer(k, x); err == nil {
			best, fit = sum, found
		}
	}
	fit.Tried, fit.Locked = p.tried, p.locked
	return fit, nil
}

// better tells whether the answer from a later start is to be taken. The start
// as given comes first: another that is better by less than anybody could
// measure is only further away.
func better(sum, best float64) bool {
	return sum < 0.99*best-1e-10
}

// check checks what was asked and lists the coordinates that may move.
func (p *search) check() (*mechanism.Mechanism, error) {
	c := units.Checker{Package: "pivots"}
	ask := &p.ask
	k, err := mechanism.New(ask.Mechanism)
	c.Add("mechanism", err)
	if n := len(ask.Move); n < 1 || n > 12 {
		c.Fail("move", n, "from 1 to 12 points that may move", nil)
	}
	for i, move := range ask.Move {
		field := fmt.Sprintf("move[%d].", i)
		known := slices.ContainsFunc(ask.Move[:i], func(other Movable) bool { return other.Point == move.Point })
		if k != nil && (known || !belongs(ask.Mechanism, move.Point)) {
			c.Fail(field+"point", move.Point, "a point of a body, each once", units.ErrUnknown)
		}
		for axis, bound := range []units.Length{move.X, move.Y} {
			if units.Between(&c, field+"xy"[axis:axis+1], bound, 0, units.Metre) && bound > 0 {
				p.axes = append(p.axes, moveAxis{move.Point, axis, float64(bound)})
			}
		}
	}
	if len(p.axes) == 0 && c.OK() {
		c.Fail("move", nil, "at least one bound of more than 0", nil)
	}
	p.checkWanted(&c)
	if ask.ShockLength != 0 {
		units.Between(&c, "shock_length", ask.ShockLength, 1e-6*units.Metre, 1e3*units.Metre)
		if ask.AnyShock {
			c.Fail("shock_length", ask.ShockLength, "no length beside any_shock", units.ErrConflict)
		} else if !(ask.ShockLength > ask.Mechanism.Stroke) {
			c.Fail("shock_length", ask.ShockLength, fmt.Sprintf("more than the stroke, %v", ask.Mechanism.Stroke), units.ErrConflict)
		}
	}
	if k != nil && !ask.AnyShock {
		if p.shock = float64(ask.ShockLength); p.shock == 0 {
			p.shock = float64(k.ShockLength())
		}
	}
	switch {
	case ask.Drive != nil && k != nil:
		_, err := drivetrain.New(k, *ask.Drive)
		c.Add("drive", err)
	case ask.Drive == nil && ask.AntiSquat != nil:
		c.Fail("drive", nil, "a drive beside the wanted anti_squat", units.ErrMissing)
	}
	if a := ask.AntiSquat; a != nil {
		units.Between(&c, "anti_squat.at", a.At, 0, ask.Mechanism.Stroke*(1+1e-9))
		units.Finite(&c, "anti_squat.value", a.Value)
		units.Between(&c, "anti_squat.weight", a.Weight, 0, 1000)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return k, nil
}

// belongs reports whether a point belongs to a body.
func belongs(m mechanism.Spec, point string) bool {
	for _, points := range m.Bodies {
		if slices.Contains(points, point) {
			return true
		}
	}
	return false
}

func (p *search) checkWanted(c *units.Checker) {
	ask := &p.ask
	if n := len(ask.Stroke); n < 2 || n > 200 {
		c.Fail("stroke", n, "from 2 to 200 strokes", nil)
		return
	}
	if len(ask.LeverRatio) != len(ask.Stroke) {
		c.Fail("lever_ratio", len(ask.LeverRatio), fmt.Sprintf("as many values as stroke has, %d", len(ask.Stroke)), units.ErrConflict)
	}
	for i, s := range ask.Stroke {
		if units.Between(c, fmt.Sprintf("stroke[%d]", i), s, 0, ask.Mechanism.Stroke*(1+1e-9)) && i > 0 && !(s > ask.Stroke[i-1]) {
			c.Fail(fmt.Sprintf("stroke[%d]", i), s, fmt.Sprintf("more than %v before it", ask.Stroke[i-1]), nil)
		}
	}
	for i, r := range ask.LeverRatio {
		units.Between(c, fmt.Sprintf("lever_ratio[%d]", i), r, 1e-3, 1e3)
	}
}

// answer says what came out.
func (p *search) answer(start *mechanism.Mechanism, x []float64) (*Result, error) {
	fit := &Result{}
	k, err := mechanism.New(p.moved(x))
	if err != nil {
		return nil, err
	}
	fit.Mechanism = k.Spec()
	fit.StartRMS, _, _ = p.misses(start)
	fit.RMS, fit.Worst, fit.WorstAt = p.misses(k)
	fit.ShockLength = k.ShockLength()
	if a := p.ask.AntiSquat; a != nil {
		d, err := drivetrain.New(k, *p.ask.Drive)
		if err != nil {
			return nil, err
		}
		value := d.AntiSquat(a.At)
		fit.AntiSquat = &value
	}
	for _, move := range p.ask.Move {
		from, to := p.ask.Mechanism.Points[move.Point], fit.Mechanism.Points[move.Point]
		fit.Moved = append(fit.Moved, Movement{move.Point, to[0] - from[0], to[1] - from[1]})
	}
	for i, a := range p.axes {
		if math.Abs(x[i]) > 0.999 {
			fit.Leans = append(fit.Leans, Lean{a.point, "xy"[a.axis : a.axis+1], units.Length(math.Copysign(a.bound, x[i]))})
		}
	}
	return fit, nil
}

// misses returns by how much a mechanism misses the wanted lever ratio.
func (p *search) misses(k *mechanism.Mechanism) (rms, worst float64, at units.Length) {
	for i, s := range p.ask.Stroke {
		miss := math.Abs(k.Pose(s).LeverRatio - p.ask.LeverRatio[i])
		rms += miss * miss
		if miss >= worst {
			worst, at = miss, s
		}
	}
	return math.Sqrt(rms / float64(len(p.ask.Stroke))), worst, at
}
