package pivots

import (
	"cmp"
	"maps"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

const (
	searchSteps = 16  // even steps in which a mechanism is followed during the search
	perMetre    = 1e6 // Withins that weigh as much as 1 m of a violation: what is required comes first
)

// goal is one wanted value.
type goal struct {
	*quantity
	stroke units.Length
	wanted float64
	root   float64 // of the number of values
	weight float64 // of a miss: 1/within/root
}

// missed returns the weighted difference of a candidate from what is wanted.
func (g *goal) missed(c *candidate) float64 { return (g.value(c, g.stroke) - g.wanted) * g.weight }

// goals lists the wanted values at a full stroke.
func (t *Targets) goals(stroke units.Length) (list []goal) {
	for i := range quantities {
		q := &quantities[i]
		at, values, within, ok := q.target(t)
		if !ok {
			continue
		}
		if q.overall {
			at = []float64{1}
		}
		root := math.Sqrt(float64(len(at)))
		for k, v := range values {
			list = append(list, goal{q, stroke * units.Length(at[k]), v, root, 1 / cmp.Or(within, q.within) / root})
		}
	}
	return list
}

// axis is a coordinate that may move, by from min to max, in m.
type axis struct {
	point    string
	xy       int
	min, max float64
}

// descent is a search with one size of the shock.
type descent struct {
	*Search // with the stroke of that size
	given   mechanism.Spec
	axes    []axis
	goals   []goal
	shock   float64             // wanted length, m; 0 for any
	owners  map[string][]string // of each point
	links   [][2]string         // pivots of one body
	others  []string            // points of bodies, without the shock's eyes

	tried, locked int
}

// candidate is a mechanism with its points moved.
type candidate struct {
	x   []float64 // how far each axis has moved, in m
	m   *mechanism.Mechanism
	d   *drivetrain.Drive
	sum float64 // of the squares of the residuals; infinite where it locks

	misses     []float64 // of each goal, weighted
	violations []violation
	gradients  map[units.Length]*drivetrain.PoseGradient // of the drive, once they are known
}

// moved returns the mechanism with each axis moved.
func (p *descent) moved(x []float64) mechanism.Spec {
	m := p.Mechanism
	m.Points = maps.Clone(m.Points)
	for i, a := range p.axes {
		at := m.Points[a.point]
		at[a.xy] += units.Length(x[i])
		m.Points[a.point] = at
	}
	return m
}

// at returns the candidate with the axes moved.
func (p *descent) at(x []float64) *candidate {
	p.tried++
	c := &candidate{x: x, sum: math.Inf(1), gradients: map[units.Length]*drivetrain.PoseGradient{}}
	var err error
	if c.m, err = mechanism.NewCoarse(p.moved(x), searchSteps); err == nil && p.Drive != nil {
		c.d, err = drivetrain.New(c.m, *p.Drive)
	}
	if err != nil {
		p.locked++
		return c
	}
	c.sum = 0
	for _, g := range p.goals {
		miss := g.missed(c)
		c.misses = append(c.misses, miss)
		c.sum += miss * miss
	}
	c.violations = p.violationsOf(c.m)
	for _, v := range c.violations {
		c.sum += v.by * v.by * perMetre * perMetre
	}
	return c
}

// step returns the candidate after a step of the axes, within their bounds. The shock is given its length
// again, so that long steps are possible.
func (p *descent) step(from *candidate, step []float64) *candidate {
	x := floats.AddTo(make([]float64, len(step)), from.x, step)
	for i, a := range p.axes {
		x[i] = min(max(x[i], a.min), a.max)
	}
	p.fitShock(x)
	return p.at(x)
}

// room returns how far the axes of a candidate may go.
func (p *descent) room(c *candidate) (down, up []float64) {
	for i, a := range p.axes {
		down, up = append(down, a.min-c.x[i]), append(up, a.max-c.x[i])
	}
	return down, up
}

// linear returns the derivatives of a candidate's residuals by the axes, and the residuals.
func (p *descent) linear(c *candidate) (*mat.Dense, []float64) {
	n, rows := len(c.misses), len(c.misses)+len(c.violations)
	grows, _, sum := p.shockGrowth(c.x, 0)
	keeps := p.shock > 0 && sum > leastGrowth // the shock, the length that it has
	if keeps {
		rows++
	}
	j, r := mat.NewDense(rows, len(p.axes), nil), make([]float64, rows)
	copy(r, c.misses)
	if keeps {
		floats.ScaleTo(j.RawRowView(rows-1), perMetre, grows)
	}
	for row, g := range p.goals {
		gradient := g.gradient(c, g.stroke)
		for k, a := range p.axes {
			j.Set(row, k, g.weight*c.m.PointGradient(gradient, a.point)[a.xy])
		}
	}
	for i, v := range c.violations {
		r[n+i] = v.by * perMetre
		for _, part := range v.parts {
			for k, d := range p.placeGradient(c, part.point, v.stroke) {
				j.Set(n+i, k, j.At(n+i, k)+perMetre*dot(part.direction, d))
			}
		}
	}
	return j, r
}

// driveGradient returns the gradients of chain and brake at a stroke.
func (c *candidate) driveGradient(stroke units.Length) *drivetrain.PoseGradient {
	if c.gradients[stroke] == nil {
		g := c.d.PoseGradient(stroke)
		c.gradients[stroke] = &g
	}
	return c.gradients[stroke]
}

// fitShock moves the shock's ends in place, if they may move, by as little as gives
// the shock the wanted length, or as near to it as the bounds permit.
func (p *descent) fitShock(x []float64) {
	for range 20 {
		miss := p.shockMiss(x)
		_, free, sum := p.shockGrowth(x, miss)
		if !(math.Abs(miss) > 1e-13) || !(sum > leastGrowth) {
			return
		}
		for i, a := range p.axes {
			x[i] = min(max(x[i]+free[i]*miss/sum, a.min), a.max)
		}
	}
}

const leastGrowth = 1e-6 // of the shock per way of its ends, squared: with less its length is not theirs to change

// alongShock returns the way from the shock's first end to its second.
func (p *descent) alongShock(x []float64) complex128 {
	m := p.moved(x)
	return place(m.Points[m.Shock[1]]) - place(m.Points[m.Shock[0]])
}

// shockMiss returns by how much the shock is shorter than wanted; 0 where any length will do.
func (p *descent) shockMiss(x []float64) float64 {
	if p.shock == 0 {
		return 0
	}
	return p.shock - abs(p.alongShock(x))
}

// shockGrowth returns by how much the shock's length grows with each axis; the same for those
// that are free, which have room to make up for a miss, or both ways for one of 0; and the sum of their
// squares.
func (p *descent) shockGrowth(x []float64, miss float64) (grows, free []float64, sum float64) {
	along := away(0, p.alongShock(x))
	grows, free = make([]float64, len(x)), make([]float64, len(x))
	for i, a := range p.axes {
		part := [2]float64{real(along), imag(along)}[a.xy]
		switch a.point {
		case p.Mechanism.Shock[0]:
			grows[i] = -part
		case p.Mechanism.Shock[1]:
			grows[i] = part
		}
		if way := grows[i] * miss; x[i] >= a.max && way >= 0 || x[i] <= a.min && way <= 0 {
			continue
		}
		free[i] = grows[i]
		sum += free[i] * free[i]
	}
	return grows, free, sum
}
