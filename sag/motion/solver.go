package motion

import (
	"errors"
	"math"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Problem is an ordinary differential equation ẏ = f(t, y) and how accurately to solve it. A state y
// is a list of numbers, in units that the equation decides.
type Problem struct {
	// Slope writes f(t, y) to slope, which is as long as y. It must not change y, nor keep either.
	Slope func(t float64, y, slope []float64)
	// Scale is what the errors of each component of y are measured by, more than 0. There are as many
	// components as scales. A component with the scale +Inf is not controlled.
	Scale []float64
	// Tolerance is the permitted error of a step, as a fraction of the scale: from 1e-14 to 0.1. Each
	// component keeps it. The error of the whole path is of the order of the tolerance times the
	// number of steps, more where neighbouring paths part.
	Tolerance float64
}

// Check records every bad field: a missing slope, no scale, a scale that is not more than 0, and a
// tolerance outside 1e-14 to 0.1.
func (p Problem) Check(c *units.Checker) {
	if p.Slope == nil {
		c.Fail("slope", nil, "a function that writes the slope of a state", units.ErrMissing)
	}
	if len(p.Scale) == 0 {
		c.Fail("scale", nil, "a scale for each component of the state", units.ErrMissing)
	}
	for i, s := range p.Scale {
		if !(s > 0) {
			at := c.Element("scale", i)
			at.Fail("", s, "more than 0", nil)
		}
	}
	units.Between(c, "tolerance", p.Tolerance, 1e-14, 0.1)
}

// Solver follows the solution of a [Problem] from a state, a step at a time. It is made by
// [NewSolver] and set off by [Solver.Start]. It does not allocate after it is made.
//
// The method is that of Dormand and Prince, of order 5 with an error estimate of order 4 and the
// interpolant of order 4 over each step (J. Comp. Appl. Math. 6 (1980) 19–26; the interpolant in
// Hairer, Nørsett and Wanner, Solving Ordinary Differential Equations I, section II.6; both from
// memory). Steps are as long as the tolerance permits. Where f has a kink or jumps, steps get short
// until its error is below the tolerance.
//
// Not modelled: stiff equations, whose steps stay as short as their fastest part asks for.
type Solver struct {
	problem Problem
	t, next float64 // the time reached, and how long a step is tried next
	y       []float64
	from    float64 // where the last step began
	before  []float64
	slopes  [stages][]float64
	dense   [5][]float64 // of the interpolant
	built   bool         // whether dense is of the last step
	try     []float64
}

const stages = 7

// NewSolver returns a solver of a problem. The error names every bad field, see [Problem.Check].
func NewSolver(p Problem) (*Solver, error) {
	c := units.Checker{Package: "motion"}
	if p.Check(&c); !c.OK() {
		return nil, c.Err()
	}
	n := len(p.Scale)
	all := make([]float64, (4+stages+5)*n)
	part := func() []float64 {
		one := all[:n:n]
		all = all[n:]
		return one
	}
	s := &Solver{problem: p, y: part(), before: part(), try: part()}
	s.problem.Scale = part()
	copy(s.problem.Scale, p.Scale)
	for i := range s.slopes {
		s.slopes[i] = part()
	}
	for i := range s.dense {
		s.dense[i] = part()
	}
	return s, nil
}

// Start begins at time t with a state, of which it keeps a copy. Step is how long the first step is
// tried, more than 0. It is also what to call where f jumps at a known time, such as that of an impact.
// Start panics if the state has another length than the problem's scales.
func (s *Solver) Start(t float64, y []float64, step float64) {
	if len(y) != len(s.y) {
		panic("motion: the state and the scales of the problem differ in length")
	}
	s.t, s.next = t, step
	copy(s.y, y)
	s.rest()
	s.problem.Slope(t, s.y, s.slopes[stages-1])
}

// Time returns the time that is reached.
func (s *Solver) Time() float64 { return s.t }

// State returns the state at [Solver.Time]. It is valid until the next call of a method, and is not to
// be changed.
func (s *Solver) State() []float64 { return s.y }

// Last returns the time and the state at which the last step began, valid as long as that of
// [Solver.State].
func (s *Solver) Last() (t float64, y []float64) { return s.from, s.before }

// Step takes one step, not beyond a time. It reports whether the time has advanced. It has not if it
// had reached that time, and where no step is short enough: where f is not finite, or the solution
// grows without bound.
func (s *Solver) Step(until float64) bool {
	h := s.next
	cut := s.t+1.01*h >= until // leaves no sliver
	if cut {
		h = until - s.t
	}
	if !(s.t+h > s.t) {
		return false
	}
	from, tried, last := s.t, s.next, cut
	s.before, s.y = s.y, s.before
	s.slopes[0], s.slopes[stages-1] = s.slopes[stages-1], s.slopes[0] // the last slope is the next step's first
	for from+h > from {
		off := s.take(from, h)
		grow := 0.9 * math.Pow(max(off, 1e-10), -0.2)
		if !(off <= 1) {
			if math.IsNaN(grow) {
				grow = 0
			}
			h *= min(max(grow, 0.1), 0.5)
			cut, last = false, false
			continue
		}
		s.from, s.t, s.built = from, from+h, false
		if last {
			s.t = until
		}
		s.next = h * min(grow, 5)
		if cut { // which says nothing on longer steps
			s.next = max(s.next, tried)
		}
		return true
	}
	copy(s.y, s.before)
	copy(s.slopes[stages-1], s.slopes[0])
	s.rest()
	return false
}

// rest makes the last step one of no length.
func (s *Solver) rest() {
	s.from, s.built = s.t, true
	copy(s.before, s.y)
	copy(s.dense[0], s.y)
	for _, part := range s.dense[1:] {
		clear(part)
	}
}

// take computes a step of length h from the state before, and returns its error as a multiple of the
// permitted one.
func (s *Solver) take(from, h float64) float64 {
	y, at, slope := s.before, s.try, s.problem.Slope
	a, b, c, d, e, g := s.slopes[0], s.slopes[1], s.slopes[2], s.slopes[3], s.slopes[4], s.slopes[5]
	for i := range at {
		at[i] = y[i] + h/5*a[i]
	}
	slope(from+h/5, at, b)
	for i := range at {
		at[i] = y[i] + h*(3./40*a[i]+9./40*b[i])
	}
	slope(from+h*3/10, at, c)
	for i := range at {
		at[i] = y[i] + h*(44./45*a[i]-56./15*b[i]+32./9*c[i])
	}
	slope(from+h*4/5, at, d)
	for i := range at {
		at[i] = y[i] + h*(19372./6561*a[i]-25360./2187*b[i]+64448./6561*c[i]-212./729*d[i])
	}
	slope(from+h*8/9, at, e)
	for i := range at {
		at[i] = y[i] + h*(9017./3168*a[i]-355./33*b[i]+46732./5247*c[i]+49./176*d[i]-5103./18656*e[i])
	}
	slope(from+h, at, g)
	next, last := s.y, s.slopes[stages-1]
	for i := range next {
		next[i] = y[i] + h*(35./384*a[i]+500./1113*c[i]+125./192*d[i]-2187./6784*e[i]+11./84*g[i])
	}
	slope(from+h, next, last)
	off := 0.0
	for i, scale := range s.problem.Scale {
		part := h * (71./57600*a[i] - 71./16695*c[i] + 71./1920*d[i] - 17253./339200*e[i] + 22./525*g[i] - 1./40*last[i])
		off = max(off, math.Abs(part)/scale)
	}
	return off / s.problem.Tolerance
}

// Cut takes the last step anew, so that it ends at a time within it, and the solution goes on from
// there. A time outside the last step is clamped to it. The state there is that of a step, and so may
// lie on either side of what [Solver.Find] found; the next step may then find it again.
func (s *Solver) Cut(t float64) {
	t = min(max(t, s.from), s.t)
	if !(t < s.t) {
		return
	}
	s.take(s.from, t-s.from)
	if h := t - s.from; h > 0 {
		s.next = min(s.next, 5*h)
	}
	s.t, s.built = t, false
}

// At writes the state at a time within the last step to y, by the interpolant. A time outside the
// step is clamped to it. Y must be as long as the state.
func (s *Solver) At(t float64, y []float64) {
	s.interpolant()
	u := 1.0
	if h := s.t - s.from; h > 0 {
		u = min(max((t-s.from)/h, 0), 1)
	}
	s.at(u, y)
}

// at writes the state after a part u of the last step.
func (s *Solver) at(u float64, y []float64) {
	v := 1 - u
	for i, start := range s.dense[0] {
		y[i] = start + u*(s.dense[1][i]+v*(s.dense[2][i]+u*(s.dense[3][i]+v*s.dense[4][i])))
	}
}

// interpolant computes the interpolant of the last step.
func (s *Solver) interpolant() {
	if s.built {
		return
	}
	s.built = true
	h, k := s.t-s.from, &s.slopes
	for i, y := range s.before {
		rise := s.y[i] - y
		bend := h*k[0][i] - rise
		s.dense[0][i], s.dense[1][i], s.dense[2][i] = y, rise, bend
		s.dense[3][i] = rise - h*k[6][i] - bend
		s.dense[4][i] = h * (-12715105075./11282082432*k[0][i] + 87487479700./32700410799*k[2][i] -
			10690763975./1880347072*k[3][i] + 701980252875./199316789632*k[4][i] -
			1453857185./822651844*k[5][i] + 69997945./29380423*k[6][i])
	}
}

// Find returns the time within the last step at which a function of time and state is 0, and whether
// there is one: the function is below 0 at the step's beginning, and 0 or more at its end. Where it
// jumps from one side to the other, the time is next to the jump. The state in between is that of
// [Solver.At]; g must not keep it, nor call the solver.
func (s *Solver) Find(g func(t float64, y []float64) float64) (t float64, ok bool) {
	low, high := g(s.from, s.before), g(s.t, s.y)
	if !(low < 0 && high >= 0) {
		return 0, false
	}
	s.interpolant()
	h := s.t - s.from
	t, err := root.Refine(func(u float64) float64 {
		s.at(u, s.try)
		return g(s.from+u*h, s.try)
	}, 0, 1, low, high, 1e-13)
	if err != nil && !errors.Is(err, root.ErrJump) {
		return s.t, true
	}
	return s.from + t*h, true
}
