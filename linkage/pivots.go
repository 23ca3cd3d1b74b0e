package linkage

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"example.com/wheelrate/units"
)

// Movable is a point that may be moved to make a lever ratio come out as
// wanted, and how far from its place in either direction; 0 for not at all.
type Movable struct {
	Point string       `json:"point"`
	X     units.Length `json:"x,omitempty"`
	Y     units.Length `json:"y,omitempty"`
}

// PivotSearch asks where pivots must be for a wanted lever-ratio curve.
type PivotSearch struct {
	// Mechanism is what to start from; it must move over its whole stroke.
	Mechanism Mechanism `json:"mechanism"`
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
	Drive     *DriveSpec     `json:"drive,omitempty"`
	AntiSquat *AntiSquatWish `json:"anti_squat,omitempty"`
}

// AntiSquatWish is a wanted anti-squat at one stroke.
type AntiSquatWish struct {
	At     units.Length `json:"at"`
	Value  float64      `json:"value"`
	Weight float64      `json:"weight"`
}

// PivotFit is the answer to a [PivotSearch].
type PivotFit struct {
	Mechanism Mechanism `json:"mechanism"` // with the points moved
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
	// these came to a dead point.
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

// pivots is a search at work.
type pivots struct {
	ask    PivotSearch
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

// FitPivots moves the points that may move until the lever ratio comes as near
// as it can to the wanted one, in the sense of least squares, and says how
// near that is and which bounds are in the way. No mechanism that comes to a
// dead point inside its stroke is ever an answer.
//
// The search starts at the points as given and at four more places within the
// bounds, always the same ones, and goes downhill from each with Newton's
// method on the squares' curvature (Gauss and Newton), as gonum/optimize does
// it. It finds a best answer near where it starts; there may be a better one
// elsewhere. More points that may move than the curve has features make the
// answer one of many.
//
// The input is refused with one error that names every bad field: a mechanism
// that [NewMechanism] refuses, points to move that there are none of or that
// belong to no body, bounds that aren't from 0 to 1 m, or all 0 (move),
// strokes and ratios as said at [PivotSearch] (stroke, lever_ratio, the latter
// from 0.001 to 1000), a shock length that isn't more than the stroke
// (shock_length), a drive that [NewDrive] refuses or that is missing beside a
// wanted anti-squat (drive), a weight that isn't from 0 to 1000
// (anti_squat.weight).
func FitPivots(ask PivotSearch) (*PivotFit, error) {
	p := &pivots{ask: ask}
	k, err := p.check()
	if err != nil {
		return nil, err
	}
	start := p.residuals(make([]float64, len(p.axes)))
	best, bestX := math.Inf(1), make([]float64, len(p.axes))
	if start == nil { // can't be: the mechanism was made above
		return nil, locks(k.Stroke(), 0, "the mechanism can't be made twice")
	}
	for _, from := range p.starts() {
		x, sum := p.descend(from)
		// The start as given comes first: another that is better by less than
		// anybody could measure is only further away.
		if sum < 0.99*best-1e-10 || math.IsInf(best, 1) && !math.IsInf(sum, 1) {
			best, bestX = sum, x
		}
	}
	return p.answer(k, bestX)
}

// check checks what was asked and lists the coordinates that may move.
func (p *pivots) check() (*Kinematics, error) {
	c := units.Checker{Package: "linkage"}
	ask := &p.ask
	k, err := NewMechanism(ask.Mechanism)
	c.Add("mechanism", err)
	if n := len(ask.Move); n < 1 || n > 12 {
		c.Fail("move", n, "from 1 to 12 points that may move", nil)
	}
	for i, move := range ask.Move {
		field := fmt.Sprintf("move[%d].", i)
		known := slices.ContainsFunc(ask.Move[:i], func(other Movable) bool { return other.Point == move.Point })
		if k != nil && (known || len(k.t.owners[move.Point]) == 0) {
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
		units.Between(&c, "shock_length", ask.ShockLength, minLength, maxLength)
		if ask.AnyShock {
			c.Fail("shock_length", ask.ShockLength, "no length beside any_shock", units.ErrConflict)
		} else if !(ask.ShockLength > ask.Mechanism.Stroke) {
			c.Fail("shock_length", ask.ShockLength, fmt.Sprintf("more than the stroke, %v", ask.Mechanism.Stroke), units.ErrConflict)
		}
	}
	if k != nil && !ask.AnyShock {
		if p.shock = float64(ask.ShockLength); p.shock == 0 {
			p.shock = k.t.length * k.t.size
		}
	}
	switch {
	case ask.Drive != nil && k != nil:
		_, err := NewDrive(k, *ask.Drive)
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

func (p *pivots) checkWanted(c *units.Checker) {
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
		units.Between(c, fmt.Sprintf("lever_ratio[%d]", i), r, minRatio, maxRatio)
	}
}

// moved returns the mechanism with each coordinate moved by its share of the
// bound, from −1 to 1.
func (p *pivots) moved(x []float64) Mechanism {
	m := p.ask.Mechanism.clone()
	for i, a := range p.axes {
		at := m.Points[a.point]
		at[a.axis] += units.Length(x[i] * a.bound)
		m.Points[a.point] = at
	}
	return m
}

// shockWeight is what a metre too much or too little of shock weighs as lever
// ratio: a hundredth of a millimetre as much as 0.1 all along, so that the
// length that is wanted comes before the curve.
const shockWeight = 1e4

// residuals returns what is missed with the coordinates moved, or nil where
// the mechanism locks: the lever ratios, each over the root of their number,
// the shock's length and the anti-squat.
func (p *pivots) residuals(x []float64) []float64 {
	p.tried++
	k, err := follow(p.moved(x), true)
	if err != nil {
		p.locked++
		return nil
	}
	n := len(p.ask.Stroke)
	r := make([]float64, n, n+2)
	for i, s := range p.ask.Stroke {
		r[i] = (k.Pose(s).LeverRatio - p.ask.LeverRatio[i]) / math.Sqrt(float64(n))
	}
	if p.shock > 0 {
		r = append(r, (k.t.length*k.t.size-p.shock)*shockWeight)
	}
	if a := p.ask.AntiSquat; a != nil {
		d, err := NewDrive(k, *p.ask.Drive)
		if err != nil {
			p.locked++
			return nil
		}
		r = append(r, (d.AntiSquat(a.At)-a.Value)*a.Weight)
	}
	return r
}

// starts returns where the search starts from: the points as given, and four
// places spread over half the bounds.
func (p *pivots) starts() [][]float64 {
	list := [][]float64{make([]float64, len(p.axes))}
	for i := range 4 {
		z := make([]float64, len(p.axes))
		for k := range z {
			// Multiples of the golden ratio fill an interval evenly.
			_, f := math.Modf(float64(1+i*len(z)+k) * (math.Sqrt(5) - 1) / 2)
			z[k] = (f - 0.5) * math.Pi / 3
		}
		list = append(list, z)
	}
	return list
}

// descend goes downhill from a start and returns where it ends and the sum of
// the squares there. Coordinates are the sine of what is searched, which keeps
// them within their bounds.
func (p *pivots) descend(z []float64) ([]float64, float64) {
	n := len(z)
	at := func(z []float64) []float64 {
		x := make([]float64, n)
		for i, v := range z {
			x[i] = math.Sin(v)
		}
		return x
	}
	sum := func(z []float64) float64 {
		r := p.residuals(at(z))
		if r == nil {
			return math.Inf(1)
		}
		return mat.Dot(mat.NewVecDense(len(r), r), mat.NewVecDense(len(r), r))
	}
	if math.IsInf(sum(z), 1) {
		return nil, math.Inf(1)
	}
	// Gradient and curvature are asked for at the same places.
	var lastZ []float64
	var lastJ *mat.Dense
	var lastR *mat.VecDense
	linear := func(z []float64) (*mat.Dense, *mat.VecDense) {
		if !slices.Equal(z, lastZ) {
			lastZ = slices.Clone(z)
			lastJ, lastR = p.linearise(at(z), z)
		}
		return lastJ, lastR
	}
	problem := optimize.Problem{
		Func: sum,
		Grad: func(grad, z []float64) {
			if j, r := linear(z); j != nil {
				mat.NewVecDense(n, grad).MulVec(j.T(), r)
				for i := range grad {
					grad[i] *= 2
				}
			} else {
				clear(grad) // a place at the very edge of what moves: stay
			}
		},
		Hess: func(hess *mat.SymDense, z []float64) {
			hess.Zero()
			if j, _ := linear(z); j != nil {
				hess.SymOuterK(2, j.T())
			}
			for i := range n {
				hess.SetSym(i, i, hess.At(i, i)*(1+1e-9)+1e-12)
			}
		},
	}
	settings := &optimize.Settings{
		MajorIterations: 50,
		Converger:       &optimize.FunctionConverge{Absolute: 1e-14, Relative: 1e-6, Iterations: 3},
	}
	// The error of a search that can't go on says no more than where it ended.
	result, _ := optimize.Minimize(problem, z, settings, &optimize.Newton{Linesearcher: &optimize.Backtracking{}})
	if result == nil || !(result.F < math.Inf(1)) {
		return at(z), sum(z)
	}
	return at(result.X), result.F
}

// linearise returns the derivatives of the residuals by z, from central
// differences in the coordinates, and the residuals; nil where that takes a
// mechanism that locks.
func (p *pivots) linearise(x, z []float64) (*mat.Dense, *mat.VecDense) {
	r := p.residuals(x)
	if r == nil {
		return nil, nil
	}
	j := mat.NewDense(len(r), len(x), nil)
	for i, a := range p.axes {
		// A micrometre or so: the residuals are exact to 1e-13, and smooth over
		// centimetres.
		const step = 2e-6
		h := step / a.bound
		moved := slices.Clone(x)
		moved[i] = x[i] + h
		after := p.residuals(moved)
		moved[i] = x[i] - h
		before := p.residuals(moved)
		if after == nil || before == nil {
			return nil, nil
		}
		for row := range r {
			j.Set(row, i, (after[row]-before[row])/(2*h)*math.Cos(z[i]))
		}
	}
	return j, mat.NewVecDense(len(r), r)
}

// answer says what came out.
func (p *pivots) answer(start *Kinematics, x []float64) (*PivotFit, error) {
	fit := &PivotFit{Mechanism: p.moved(x), Tried: p.tried, Locked: p.locked}
	k, err := NewMechanism(fit.Mechanism)
	if err != nil {
		return nil, err
	}
	fit.StartRMS, _, _ = p.misses(start)
	fit.RMS, fit.Worst, fit.WorstAt = p.misses(k)
	fit.ShockLength = units.Length(k.t.length * k.t.size)
	if a := p.ask.AntiSquat; a != nil {
		d, err := NewDrive(k, *p.ask.Drive)
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
func (p *pivots) misses(k *Kinematics) (rms, worst float64, at units.Length) {
	for i, s := range p.ask.Stroke {
		miss := math.Abs(k.Pose(s).LeverRatio - p.ask.LeverRatio[i])
		rms += miss * miss
		if miss >= worst {
			worst, at = miss, s
		}
	}
	return math.Sqrt(rms / float64(len(p.ask.Stroke))), worst, at
}
