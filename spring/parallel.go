package spring

import (
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// Member is a spring in a parallel stack.
type Member struct {
	Law      Law          `json:"law"`
	StartsAt units.Length `json:"starts_at,omitempty"` // travel of the stack at which the spring begins to be compressed, 0 or more
}

// ParallelStack is the [Law] of springs side by side, such as one inside the
// other: their forces add. Make one with [NewParallel].
type ParallelStack struct {
	line   polyline // all members of constant rates, joined into one
	others []Member // the rest
	travel float64
}

// NewParallel returns the law of one or more springs side by side. A member
// adds nothing before its StartsAt, and from there on its own law from full
// extension: Fᵢ(x − startsᵢ). A member that is preloaded makes the force jump
// where it starts; Force is then the value after the jump, and [Settle] has no
// travel to give for a load inside it ([ErrJump]).
//
// The stack's travel ends where the first member is solid, at the smallest
// startsᵢ + travelᵢ. A member that would start only there or beyond is
// refused, because it would never be reached. The error names every bad
// field, such as members[1].law or members[1].starts_at; laws are checked as
// [NewSeries] does.
//
// Members of constant rate between kinks are joined once into a chain of
// straight segments; others are evaluated one by one.
func NewParallel(members ...Member) (*ParallelStack, error) {
	c := units.Checker{Package: "spring"}
	if len(members) == 0 {
		c.Fail("members", nil, "one or more springs", units.ErrMissing)
	}
	travel := math.Inf(1)
	for i, m := range members {
		field := fmt.Sprintf("members[%d]", i)
		ok := checkLaw(&c, field+".law", m.Law)
		if units.NonNegative(&c, field+".starts_at", m.StartsAt) && ok {
			travel = min(travel, float64(m.StartsAt+m.Law.Travel()))
		}
	}
	for i, m := range members {
		if m.StartsAt >= units.Length(travel) && !math.IsInf(float64(m.StartsAt), 0) {
			c.Fail(fmt.Sprintf("members[%d].starts_at", i), m.StartsAt,
				"less than "+fmt.Sprint(units.Length(travel))+", where the first spring is solid", units.ErrConflict)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	s := &ParallelStack{travel: travel}
	var lines []*polyline
	var starts []float64
	for _, m := range members {
		if line, ok := asPolyline(m.Law); ok {
			lines, starts = append(lines, &line), append(starts, float64(m.StartsAt))
		} else {
			s.others = append(s.others, m)
		}
	}
	if len(lines) > 0 {
		s.line = parallelLine(lines, starts, travel)
		s.line.travel = travel
	}
	switch {
	case lawWork(s) > maxWork:
		c.Fail("members", nil, "less deeply nested laws of varying rate", nil)
	case len(lines) > 0 && !s.line.sound(), len(s.others) > 0 && !answers(s):
		c.Fail("members", nil, "rates and travels whose force and energy can be told in float64", nil)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return s, nil
}

// Force returns the sum of the members' forces in N; x is clamped to
// [0, Travel].
func (s *ParallelStack) Force(x units.Length) units.Force {
	sum := s.line.Force(x)
	for i := range s.others {
		if at, on := s.reach(&s.others[i], x); on {
			sum += s.others[i].Law.Force(at)
		}
	}
	return sum
}

// Rate returns the sum of the rates in N/m of the members that have started; x
// is clamped to [0, Travel].
func (s *ParallelStack) Rate(x units.Length) units.Stiffness {
	sum := s.line.Rate(x)
	for i := range s.others {
		if at, on := s.reach(&s.others[i], x); on {
			sum += s.others[i].Law.Rate(at)
		}
	}
	return sum
}

// Energy returns the work in J done on all members from 0 to x; x is clamped
// to [0, Travel].
func (s *ParallelStack) Energy(x units.Length) units.Energy {
	sum := s.line.Energy(x)
	for i := range s.others {
		if at, on := s.reach(&s.others[i], x); on {
			sum += s.others[i].Law.Energy(at)
		}
	}
	return sum
}

// Travel returns the travel at which the first member is solid.
func (s *ParallelStack) Travel() units.Length { return units.Length(s.travel) }

// reach returns the travel of a member when the stack's is x, and whether it
// has started.
func (s *ParallelStack) reach(m *Member, x units.Length) (units.Length, bool) {
	x = Clamp(x, units.Length(s.travel))
	return x - m.StartsAt, x >= m.StartsAt
}
