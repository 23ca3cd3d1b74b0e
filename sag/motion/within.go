package motion

import (
	"errors"

	"example.com/wheelrate/spring/root"
)

// stopAtKink ends the last step at the first kink that it has crossed, on whose other side the next
// one is.
func (s *Solver) stopAtKink() {
	first, crossed := 1.0, -1
	for i, kink := range s.problem.Kinks {
		now := side(kink(s.t, s.y))
		if now == 0 || now == s.sides[i] {
			continue
		}
		if s.sides[i] == 0 {
			s.sides[i] = now
			continue
		}
		low, high := kink(s.from, s.before), kink(s.t, s.y)
		if side(low) != -now { // it began at the kink, and goes back
			s.sides[i] = now
			continue
		}
		if u, ok := s.root(kink, low, high); ok && u < first {
			first, crossed = u, i
		}
		if crossed < 0 {
			s.sides[i] = now
		}
	}
	if crossed < 0 {
		return
	}
	s.sides[crossed] = -s.sides[crossed]
	if at := s.from + first*(s.t-s.from); at > s.from {
		s.take(s.from, at-s.from)
		s.t, s.built = at, false
	}
}

// root returns the part of the last step after which a function is 0, by the interpolant. Where it
// jumps past 0, the part is next to the jump.
func (s *Solver) root(g func(t float64, y []float64) float64, low, high float64) (u float64, ok bool) {
	s.interpolant()
	h := s.t - s.from
	u, err := root.Refine(func(u float64) float64 {
		s.at(u, s.try)
		return g(s.from+u*h, s.try)
	}, 0, 1, low, high, 1e-13)
	return u, err == nil || errors.Is(err, root.ErrJump)
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
	if u, ok := s.root(g, low, high); ok {
		return s.from + u*(s.t-s.from), true
	}
	return s.t, true
}
