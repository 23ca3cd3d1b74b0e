package pivots

import (
	"math"
	"slices"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring/leastsquares"
	"example.com/wheelrate/units"
)

// Find returns the mechanism that is nearest to the targets in the sense of least squares, with the
// differences that remain and the bounds that are active. The answer always moves over its whole stroke.
//
// The search minimises by damped least squares (Levenberg and Marquardt's method) with the exact
// derivatives of the mechanism, within the bounds, from the points as given and from fifteen more
// places, the same ones every time, for each size of the shock. It finds local minima: there may be a
// better answer elsewhere. With more coordinates to move than the targets have features the
// answer is one of many.
//
// The error names every bad field:
//
//   - mechanism: [mechanism.New] takes it.
//   - move: there are from 1 to 12 points of bodies, each once, some with room to move.
//   - targets: there is one or more, each with as many values as shares of the stroke.
//   - drive: [drivetrain.New] takes it; it is required beside targets of chain and brake.
//   - shocks, keep_out, least_link, shock_clearance: they are within the ranges of their types.
func Find(s Search) (*Solution, error) {
	c := units.Checker{Package: "pivots"}
	s.check(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	start, _ := mechanism.New(s.Mechanism)
	p := &descent{given: s.Mechanism}
	p.listPoints()
	for _, move := range s.Move {
		for xy, b := range []Bounds{move.X, move.Y} {
			if b.Min < b.Max {
				p.axes = append(p.axes, axis{move.Point, xy, float64(b.Min), float64(b.Max)})
			}
		}
	}
	sizes := s.Shocks
	if len(sizes) == 0 {
		sizes = []Shock{{Length: start.ShockLength(), Stroke: s.Mechanism.Stroke}}
	}
	var result *Solution
	best := math.Inf(1)
	for _, size := range sizes {
		sized := s // with the stroke of this size
		sized.Mechanism.Stroke = size.Stroke
		p.Search, p.goals = &sized, s.Targets.goals(size.Stroke)
		if !s.AnyShock {
			p.shock = float64(size.Length)
		}
		for _, x := range p.starts() {
			end := p.descend(x)
			missed := p.shockMiss(end.x) * perMetre
			sum := end.sum + missed*missed
			if !better(sum, best) {
				continue
			}
			// The search follows the motion in long steps: its answer is solved once more in short ones.
			if r, err := p.solution(end.x); err == nil {
				best, result = sum, r
			}
		}
	}
	if result == nil {
		return nil, &units.FieldError{Package: "pivots", Field: "move", Class: mechanism.ErrLocks, Want: units.Want{Text: "bounds that have a mechanism with a shock asked for in them; all that were tried lock"}}
	}
	result.Tried, result.Locked = p.tried, p.locked
	return result, nil
}

// better reports whether the sum of a later start is less than the best by more than can be
// built. Of equals the first counts: the first start is the points as given.
func better(sum, best float64) bool { return sum < 0.99*best-1e-6 }

// starts returns where the search starts from: the points as given, four places spread over half the
// bounds, and eleven over all of them.
func (p *descent) starts() [][]float64 {
	list := [][]float64{make([]float64, len(p.axes))}
	for i := range 15 {
		x, share := make([]float64, len(p.axes)), 1.0
		if i < 4 {
			share = 0.5
		}
		for k, a := range p.axes {
			// Multiples of the golden ratio fill an interval evenly.
			_, f := math.Modf(float64(1+i*len(x)+k) * math.Phi)
			x[k] = (a.min+a.max)/2 + share*(f-0.5)*(a.max-a.min)
		}
		list = append(list, x)
	}
	return list
}

// descend returns the candidate with the least sum downhill from a start.
func (p *descent) descend(x []float64) *candidate {
	p.fitShock(x)
	start := p.at(x)
	if math.IsInf(start.sum, 1) {
		return start
	}
	return leastsquares.Problem[*candidate]{
		Squares: func(c *candidate) float64 { return c.sum }, Linear: p.linear, Moved: p.step, Room: p.room, Loose: len(p.goals),
		Steps: 100, Gain: 1e-9, Floor: 1e-10,
	}.Minimise(start)
}

// solution returns the answer with the axes moved.
func (p *descent) solution(x []float64) (*Solution, error) {
	end, err := p.solved(p.moved(x))
	if err != nil {
		return nil, err
	}
	start, _ := p.solved(p.given) // which the checks have found to be sound
	r := &Solution{Mechanism: end.m.Spec(), ShockLength: end.m.ShockLength()}
	before := p.Targets.goals(p.given.Stroke)
	for i, g := range p.goals {
		if n := len(r.Misses); n == 0 || r.Misses[n-1].Of != g.name {
			r.Misses = append(r.Misses, Miss{Of: g.name})
		}
		m := &r.Misses[len(r.Misses)-1]
		miss := g.missed(end)
		m.RMS, m.StartRMS = math.Hypot(m.RMS, miss), math.Hypot(m.StartRMS, before[i].missed(start))
		if worst := math.Abs(miss * g.root); worst >= m.Worst {
			m.Worst, m.WorstAt = worst, g.stroke
		}
	}
	for _, move := range p.Move {
		from, to := p.given.Points[move.Point], r.Mechanism.Points[move.Point]
		r.Moved = append(r.Moved, Movement{move.Point, to[0] - from[0], to[1] - from[1]})
	}
	for i, a := range p.axes {
		for _, bound := range []float64{a.min, a.max} {
			if math.Abs(x[i]-bound) < 0.0005*(a.max-a.min) {
				r.ActiveBounds = append(r.ActiveBounds, ActiveBound{a.point, "xy"[a.xy : a.xy+1], units.Length(bound)})
			}
		}
	}
	for _, v := range append(p.violationsOf(end.m), violation{field: "shocks", by: p.shockMiss(x)}) {
		const least = 1e-5 // m
		known := slices.IndexFunc(r.Violations, func(o Violation) bool { return o.Field == v.field && o.Point == v.point })
		switch by := units.Length(math.Abs(v.by)); {
		case by < least:
		case known < 0:
			r.Violations = append(r.Violations, Violation{v.field, v.point, by})
		default:
			r.Violations[known].By = max(r.Violations[known].By, by)
		}
	}
	return r, nil
}

// solved returns a mechanism followed in short steps, as a candidate.
func (p *descent) solved(spec mechanism.Spec) (*candidate, error) {
	m, err := mechanism.New(spec)
	if err != nil || p.Drive == nil {
		return &candidate{m: m}, err
	}
	d, err := drivetrain.New(m, *p.Drive)
	return &candidate{m: m, d: d}, err
}
