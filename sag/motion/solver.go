package motion

import (
	"math"
	"slices"

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
	// Events are functions of time and state. Steps end where one of them changes its sign: where
	// something happens, or the slope has a kink, which keeps steps long and the error small. Where one
	// jumps, the step ends next to the jump. One that changes its sign twice within a step is not seen.
	// They must not keep y; nil for none.
	Events []Event
}

// Event is a function of time and state whose sign tells on which side of an event they are.
type Event = func(t float64, y []float64) float64

// Check records every bad field: a missing slope, no scale, a scale that is not more than 0, a
// tolerance outside 1e-14 to 0.1, and events that are nil.
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
			at.Fail("", s, units.MoreThan(0), nil)
		}
	}
	units.Between(c, "tolerance", p.Tolerance, 1e-14, 0.1)
	for i, event := range p.Events {
		if event == nil {
			at := c.Element("events", i)
			at.Fail("", nil, "a function", units.ErrMissing)
		}
	}
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
	units.Opaque[Solver]
	problem Problem
	t, next float64 // the time reached, and how long a step is tried next
	y       []float64
	from    float64 // where the last step began
	before  []float64
	slopes  [stages][]float64
	dense   [5][]float64 // of the interpolant
	built   bool         // whether dense is of the last step
	try     []float64
	sides   []float64 // of the events on which the state is: −1, 1, or 0 for neither yet
	event   int       // at which the last step ended, or −1
	off     float64   // the error of the last step, as a part of the permitted one
	steps   int       // since the start
	err     *units.Class
}

const (
	stages    = 7       // of a step, the last of which is the first of the next
	mostSteps = 1 << 18 // after a start
)

// Why a step is not taken.
var (
	ErrUnbounded = units.NewClass("unbounded", "motion: no step is short enough: the solution grows without bound, or its slope is not finite", nil)
	ErrSteps     = units.NewClass("too_many_steps", "motion: more than 262144 steps", nil)
)

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
	s.problem.Events, s.sides = slices.Clone(p.Events), make([]float64, len(p.Events))
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
	s.t, s.next, s.off, s.steps, s.err = t, step, 1, 0, nil
	copy(s.y, y)
	s.rest()
	s.problem.Slope(t, s.y, s.slopes[stages-1])
	for i, event := range s.problem.Events {
		s.sides[i] = side(event(t, s.y))
	}
}

// side returns the sign of a value, 0 for NaN.
func side(v float64) float64 {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}

// Time returns the time that is reached.
func (s *Solver) Time() float64 { return s.t }

// State returns the state at [Solver.Time]. It is valid until the next call of a method, and is not to
// be changed.
func (s *Solver) State() []float64 { return s.y }

// Last returns the time and the state at which the last step began, valid as long as that of
// [Solver.State].
func (s *Solver) Last() (t float64, y []float64) { return s.from, s.before }

// Event returns the place among the problem's events of that at which the last step ended, or −1.
func (s *Solver) Event() int { return s.event }

// Err returns why the last call of [Solver.Step] has not reached its time: [ErrUnbounded], [ErrSteps],
// or nil.
func (s *Solver) Err() error {
	if s.err == nil {
		return nil
	}
	return s.err
}

// Step takes one step, not beyond a time. It reports whether the time has advanced. It has not if it
// had reached that time, and where [Solver.Err] says why: no step is short enough, or there were 262144
// steps since the start.
func (s *Solver) Step(until float64) bool {
	s.err = nil
	if !(s.t < until) {
		return false
	}
	if s.steps++; s.steps > mostSteps {
		s.err = ErrSteps
		return false
	}
	h := s.next
	last := s.t+1.01*h >= until // leaves no sliver
	if last {
		h = until - s.t
	}
	from, tried := s.t, s.next
	s.before, s.y = s.y, s.before
	s.slopes[0], s.slopes[stages-1] = s.slopes[stages-1], s.slopes[0] // the last slope is the next step's first
	rejected := false
	for from+h > from {
		off := s.take(from, h)
		s.from, s.t, s.built, s.event = from, from+h, false, -1
		if !(off <= 1) {
			shrink := 0.1
			if g := 0.9 * math.Pow(off, -0.2); g > shrink { // not NaN
				shrink = min(g, 0.5)
			}
			if _, u := s.crossed(); !rejected && u < 1 { // once, a little beyond what may be a kink
				shrink = min(u+1e-3, 1)
			}
			h *= shrink
			last, rejected = false, true
			continue
		}
		off = max(off, 1e-4)
		grow := 0.9 * math.Pow(off, -0.17) * math.Pow(s.off, 0.04) // no more than 4.3
		if rejected {
			grow = min(grow, 1)
		}
		s.next = h * grow
		if s.off = off; last { // which says nothing on longer steps
			s.t, s.next = until, max(s.next, tried)
		}
		s.stopAtEvent()
		return true
	}
	s.t = from
	copy(s.y, s.before)
	copy(s.slopes[stages-1], s.slopes[0])
	s.rest()
	s.err = ErrUnbounded
	return false
}

// rest makes the last step one of no length.
func (s *Solver) rest() {
	s.from, s.built, s.event = s.t, true, -1
	copy(s.before, s.y)
	copy(s.dense[0], s.y)
	for _, part := range s.dense[1:] {
		clear(part)
	}
}

// take computes a step of length h from the state before, and returns its error as a multiple of the
// permitted one.
func (s *Solver) take(from, h float64) float64 {
	n, slope := len(s.y), s.problem.Slope
	y, at, next, scale := s.before[:n], s.try[:n], s.y[:n], s.problem.Scale[:n]
	a, b, c, d := s.slopes[0][:n], s.slopes[1][:n], s.slopes[2][:n], s.slopes[3][:n]
	e, g, last := s.slopes[4][:n], s.slopes[5][:n], s.slopes[6][:n]
	h1 := h * (1. / 5)
	for i := range at {
		at[i] = y[i] + h1*a[i]
	}
	slope(from+h/5, at, b)
	h1, h2 := h*(3./40), h*(9./40)
	for i := range at {
		at[i] = y[i] + h1*a[i] + h2*b[i]
	}
	slope(from+h*3/10, at, c)
	h1, h2, h3 := h*(44./45), h*(-56./15), h*(32./9)
	for i := range at {
		at[i] = y[i] + h1*a[i] + h2*b[i] + h3*c[i]
	}
	slope(from+h*4/5, at, d)
	h1, h2, h3, h4 := h*(19372./6561), h*(-25360./2187), h*(64448./6561), h*(-212./729)
	for i := range at {
		at[i] = y[i] + h1*a[i] + h2*b[i] + h3*c[i] + h4*d[i]
	}
	slope(from+h*8/9, at, e)
	h1, h2, h3, h4, h5 := h*(9017./3168), h*(-355./33), h*(46732./5247), h*(49./176), h*(-5103./18656)
	for i := range at {
		at[i] = y[i] + h1*a[i] + h2*b[i] + h3*c[i] + h4*d[i] + h5*e[i]
	}
	slope(from+h, at, g)
	h1, h2, h3, h4, h5 = h*(35./384), h*(500./1113), h*(125./192), h*(-2187./6784), h*(11./84)
	for i := range next {
		next[i] = y[i] + h1*a[i] + h2*c[i] + h3*d[i] + h4*e[i] + h5*g[i]
	}
	slope(from+h, next, last)
	h1, h2, h3, h4, h5 = h*(71./57600), h*(-71./16695), h*(71./1920), h*(-17253./339200), h*(22./525)
	h6, off := h*(-1./40), 0.0
	for i := range next {
		off = max(off, math.Abs(h1*a[i]+h2*c[i]+h3*d[i]+h4*e[i]+h5*g[i]+h6*last[i])/scale[i])
	}
	return off / s.problem.Tolerance
}
