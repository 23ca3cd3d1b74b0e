package pivots

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Find returns the mechanism whose lever ratio is nearest to the wanted one in the sense
// of least squares, with the differences that remain and the bounds that are active. The
// answer always moves over its whole stroke.
//
// The search minimises by damped least squares (Levenberg and Marquardt's method) within the
// bounds, from the points as given and from four more places, the same ones every time. It finds
// local minima: there may be a better answer elsewhere. With more coordinates to move than the
// curve has features the answer is one of many.
//
// The error names every bad field:
//
//   - mechanism: [mechanism.New] takes it.
//   - move: there are from 1 to 12 points of bodies, each once, with bounds from 0 to 1 m, not
//     all of them 0.
//   - stroke, lever_ratio: from 2 to 200 strokes within the mechanism's, rising, and as many
//     ratios, from 0.001 to 1000.
//   - shock_length: it is 0, or up to 1 km and more than the stroke, and 0 beside any_shock.
//   - drive: [drivetrain.New] takes it; it is required beside anti_squat.
//   - anti_squat: its stroke is within the mechanism's, its value finite, its weight from 0 to
//     1000.
func Find(s Search) (*Solution, error) {
	p, err := newProblem(s)
	if err != nil {
		return nil, err
	}
	result, err := p.result(make([]float64, len(p.axes))) // as it was given
	if err != nil {
		return nil, err
	}
	best := math.Inf(1)
	for _, from := range p.starts() {
		x, sum := p.descend(from)
		if !better(sum, best) {
			continue
		}
		// The search follows the motion in long steps: its answer is solved once more in short ones.
		if r, err := p.result(x); err == nil {
			best, result = sum, r
		}
	}
	result.Tried, result.Locked = p.tried, p.locked
	return result, nil
}

// better reports whether the sum of a later start is less than the best by more than can be
// built. Of equals the first counts: the first start is the points as given.
func better(sum, best float64) bool { return sum < 0.99*best-1e-10 }

// problem is a checked search.
type problem struct {
	Search
	start *mechanism.Mechanism
	axes  []axis
	shock float64 // wanted length, m; 0 for any

	tried, locked int
}

// axis is a coordinate that may move, by up to bound, in m, either way.
type axis struct {
	point string
	xy    int
	bound float64
}

// newProblem checks a search and lists the coordinates that may move.
func newProblem(s Search) (*problem, error) {
	c := units.Checker{Package: "pivots"}
	m, err := mechanism.New(s.Mechanism)
	c.Add("mechanism", err)
	p := &problem{Search: s, start: m}
	p.addMoves(&c)
	checkWanted(&c, s)
	if s.ShockLength != 0 {
		units.Between(&c, "shock_length", s.ShockLength, 1e-6*units.Metre, 1e3*units.Metre)
		if s.AnyShock {
			c.Fail("shock_length", s.ShockLength, "no length beside any_shock", units.ErrConflict)
		} else if !(s.ShockLength > s.Mechanism.Stroke) {
			c.Fail("shock_length", s.ShockLength, fmt.Sprintf("more than the stroke, %v", s.Mechanism.Stroke), units.ErrConflict)
		}
	}
	if m != nil && !s.AnyShock {
		if p.shock = float64(s.ShockLength); p.shock == 0 {
			p.shock = float64(m.ShockLength())
		}
	}
	switch {
	case s.Drive != nil && m != nil:
		_, err := drivetrain.New(m, *s.Drive)
		c.Add("drive", err)
	case s.Drive != nil:
		drive := c.Child("drive")
		s.Drive.Check(&drive)
	case s.AntiSquat != nil:
		c.Fail("drive", nil, "a drive beside the wanted anti_squat", units.ErrMissing)
	}
	if a := s.AntiSquat; a != nil {
		c := c.Child("anti_squat")
		checkStroke(&c, "at", a.At, s)
		units.Finite(&c, "value", a.Value)
		units.Between(&c, "weight", a.Weight, 0, 1000)
	}
	return units.Checked(&c, p)
}

func (p *problem) addMoves(c *units.Checker) {
	if n := len(p.Move); n < 1 || n > 12 {
		c.Fail("move", n, "from 1 to 12 points that may move", nil)
	}
	free := map[string]bool{} // points of bodies that no move has named yet
	for _, points := range p.Mechanism.Bodies {
		for _, point := range points {
			free[point] = true
		}
	}
	for i, move := range p.Move {
		c := c.Element("move", i)
		if p.start != nil && !free[move.Point] {
			c.Fail("point", move.Point, "a point of a body, each once", units.ErrUnknown)
		}
		delete(free, move.Point)
		for xy, bound := range []units.Length{move.X, move.Y} {
			if units.Between(&c, "xy"[xy:xy+1], bound, 0, units.Metre) && bound > 0 {
				p.axes = append(p.axes, axis{move.Point, xy, float64(bound)})
			}
		}
	}
	if len(p.axes) == 0 && c.OK() {
		c.Fail("move", nil, "at least one bound of more than 0", nil)
	}
}

func checkStroke(c *units.Checker, field string, stroke units.Length, s Search) bool {
	return units.Between(c, field, stroke, 0, s.Mechanism.Stroke*(1+1e-9))
}

func checkWanted(c *units.Checker, s Search) {
	if n := len(s.Stroke); n < 2 || n > 200 {
		c.Fail("stroke", n, "from 2 to 200 strokes", nil)
		return
	}
	if len(s.LeverRatio) != len(s.Stroke) {
		c.Fail("lever_ratio", len(s.LeverRatio), fmt.Sprintf("as many values as stroke has, %d", len(s.Stroke)), units.ErrConflict)
	}
	for i, stroke := range s.Stroke {
		field := fmt.Sprintf("stroke[%d]", i)
		if checkStroke(c, field, stroke, s) && i > 0 && !(stroke > s.Stroke[i-1]) {
			c.Fail(field, stroke, fmt.Sprintf("more than %v before it", s.Stroke[i-1]), nil)
		}
	}
	for i, r := range s.LeverRatio {
		units.Between(c, fmt.Sprintf("lever_ratio[%d]", i), r, 1e-3, 1e3)
	}
}

// result returns the answer with each coordinate moved by its share of the bound.
func (p *problem) result(x []float64) (*Solution, error) {
	m, err := mechanism.New(p.moved(x))
	if err != nil {
		return nil, err
	}
	r := &Solution{Mechanism: m.Spec(), ShockLength: m.ShockLength()}
	r.StartRMS, _, _ = p.misses(p.start)
	r.RMS, r.Worst, r.WorstAt = p.misses(m)
	if a := p.AntiSquat; a != nil {
		d, err := drivetrain.New(m, *p.Drive)
		if err != nil {
			return nil, err
		}
		value := d.At(a.At).AntiSquat
		r.AntiSquat = &value
	}
	for _, move := range p.Move {
		from, to := p.Mechanism.Points[move.Point], r.Mechanism.Points[move.Point]
		r.Moved = append(r.Moved, Movement{move.Point, to[0] - from[0], to[1] - from[1]})
	}
	for i, a := range p.axes {
		if math.Abs(x[i]) > 0.999 {
			r.ActiveBounds = append(r.ActiveBounds, ActiveBound{a.point, "xy"[a.xy : a.xy+1], units.Length(math.Copysign(a.bound, x[i]))})
		}
	}
	return r, nil
}

// misses returns the differences between a mechanism's lever ratio and the wanted one: the
// root mean square, the greatest and its stroke.
func (p *problem) misses(m *mechanism.Mechanism) (rms, worst float64, at units.Length) {
	for i, s := range p.Stroke {
		miss := math.Abs(m.Pose(s).LeverRatio - p.LeverRatio[i])
		rms += miss * miss
		if miss >= worst {
			worst, at = miss, s
		}
	}
	return math.Sqrt(rms / float64(len(p.Stroke))), worst, at
}
