package motion

import (
	"errors"
	"math"

	"example.com/wheelrate/spring/root"
)

// stopAtEvent ends the last step at the first event whose side it has changed. A shorter step may have
// changed that of another, where the whole one had gone back.
func (s *Solver) stopAtEvent() {
	s.event = -1
	for range s.problem.Events {
		first, u := s.crossed()
		if first < 0 {
			break
		}
		s.event = first
		// The time advances whatever the event, or a step could end at the same one for ever.
		if t := max(s.from+u*(s.t-s.from), math.Nextafter(s.from, s.t)); t < s.t {
			s.take(s.from, t-s.from)
			s.t, s.built = t, false
		}
	}
	for i, event := range s.problem.Events {
		if s.sides[i] == 0 { // the solution began at this event
			s.sides[i] = side(event(s.t, s.y))
		}
	}
	if s.event >= 0 {
		s.sides[s.event] = -s.sides[s.event]
	}
}

// crossed returns the first event but the one at which the last step ends whose side that step has
// changed, and the part of the step after which it did: −1 and 1 for none.
func (s *Solver) crossed() (first int, part float64) {
	first, part = -1, 1
	for i, event := range s.problem.Events {
		high, was := event(s.t, s.y), s.sides[i]
		if i == s.event || was == 0 || side(high) != -was {
			continue
		}
		u := 0.0 // the step before ended there too: at another event, or by rounding on this side
		if low := event(s.from, s.before); side(low) == was {
			u = s.root(event, low, high)
		}
		if first < 0 || u < part {
			first, part = i, u
		}
	}
	return first, part
}

// root returns the part of the last step after which a function is 0, by the interpolant. Where it
// jumps past 0, the part is next to the jump, and where it is not finite, the end.
func (s *Solver) root(g Event, low, high float64) float64 {
	s.interpolant()
	h := s.t - s.from
	u, err := root.Refine(func(u float64) float64 {
		s.at(u, s.try)
		return g(s.from+u*h, s.try)
	}, 0, 1, low, high, 1e-13)
	if err != nil && !errors.Is(err, root.ErrJump) {
		return 1
	}
	return u
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
// [Solver.At]; g must not keep it, nor call the solver. Steps do not end there: what they should end at
// is one of the problem's events.
func (s *Solver) Find(g Event) (t float64, ok bool) {
	low, high := g(s.from, s.before), g(s.t, s.y)
	if !(low < 0 && high >= 0) {
		return 0, false
	}
	return s.from + s.root(g, low, high)*(s.t-s.from), true
}
