package spring

import (
	"math"

	"example.com/wheelrate/units"
)

// Member is a spring in a parallel stack.
type Member struct {
	Law      Law          `json:"law"`
	StartsAt units.Length `json:"starts_at,omitempty"` // travel of the stack at which the spring begins to be compressed, 0 or more
}

// NewParallel returns the law of one or more springs side by side, such as one
// inside the other: their forces add. A member adds nothing before its StartsAt,
// and from there on its own law from full extension: Fᵢ(x − startsᵢ). A member
// that is preloaded makes the force jump where it starts; Force is then the value
// after the jump, and [Settle] returns [ErrJump] for a load inside it.
//
// The stack's travel ends where the first member is solid, at the smallest
// startsᵢ + travelᵢ. A member that would start only there or beyond is
// refused, because it would never be reached. The error names every bad
// field, such as members[1].law or members[1].starts_at; laws are checked as
// [NewSeries] does.
//
// Members that are a [Polyline] are joined into one chain; with no others, the
// stack is a Polyline too. Other laws are evaluated one by one. A stack may have
// 1000 straight segments, and an answer may take 3000 evaluations of other laws.
func NewParallel(members ...Member) (Law, error) {
	c := units.Checker{Package: "spring"}
	if len(members) == 0 {
		c.Fail("members", nil, "one or more springs", units.ErrMissing)
	}
	laws := make([]Law, len(members))
	for i, m := range members {
		laws[i] = m.Law
	}
	s := &parallel{travel: math.Inf(1)}
	var lines []*chain
	var starts []float64
	if !gather(laws, parallelCost, func(i int, m member, want string) {
		at, start := c.Element("members", i), members[i].StartsAt
		if want != "" {
			at.Fail("law", nil, want, ErrLaw)
		}
		if units.NonNegative(&at, "starts_at", start) && want == "" {
			s.travel = min(s.travel, float64(start)+m.travel)
		}
		if m.line != nil {
			lines, starts = append(lines, m.line), append(starts, float64(start))
		} else {
			s.others, s.evaluations = append(s.others, members[i]), s.evaluations+m.evaluations
		}
	}) {
		c.Fail("members", nil, limits, nil)
	}
	for i, m := range members {
		if float64(m.StartsAt) >= s.travel && !math.IsInf(float64(m.StartsAt), 0) {
			at := c.Element("members", i)
			at.Fail("starts_at", m.StartsAt, "less than "+s.Travel().String()+", where the first spring is solid", units.ErrConflict)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	sound := true
	if len(lines) > 0 {
		s.line = inParallel(lines, starts, s.travel)
		sound = s.line.sound()
	}
	switch {
	case sound && len(s.others) == 0:
		return &s.line, nil
	case sound && answers(s):
		return s, nil
	}
	c.Fail("members", nil, tooGreat, nil)
	return nil, c.Err()
}

// parallelCost is how many evaluations of laws of varying rate side by side,
// which take so many each, make an answer.
func parallelCost(_ int, evaluations float64) float64 { return evaluations }

// parallel is the law of springs side by side of which some are no chains.
type parallel struct {
	line        chain    // all members that are chains, joined into one
	others      []Member // the rest, one or more
	travel      float64  // m
	evaluations float64  // of the others, for an answer
}

func (s *parallel) cost() float64 { return s.evaluations }

func (s *parallel) Travel() units.Length { return units.Length(s.travel) }

func (s *parallel) String() string { return Describe(s) }

func (s *parallel) Force(x units.Length) units.Force {
	sum := s.line.Force(x)
	for i := range s.others {
		if at, on := s.reach(i, x); on {
			sum += s.others[i].Law.Force(at)
		}
	}
	return sum
}

func (s *parallel) Rate(x units.Length) units.Stiffness {
	sum := s.line.Rate(x)
	for i := range s.others {
		if at, on := s.reach(i, x); on {
			sum += s.others[i].Law.Rate(at)
		}
	}
	return sum
}

func (s *parallel) Energy(x units.Length) units.Energy {
	sum := s.line.Energy(x)
	for i := range s.others {
		if at, on := s.reach(i, x); on {
			sum += s.others[i].Law.Energy(at)
		}
	}
	return sum
}

// reach returns the travel of one of the others when the stack's is x, and
// whether it has started.
func (s *parallel) reach(i int, x units.Length) (units.Length, bool) {
	x = Clamp(x, s.Travel())
	start := s.others[i].StartsAt
	return x - start, x >= start
}
