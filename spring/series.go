package spring

import (
	"math"

	"example.com/wheelrate/units"
)

// NewSeries returns the law of one or more springs on end. A member stands
// still at full extension until the force reaches its force there, moves, and
// stands still again once it has used all its travel. The stack's travel is
// the sum of theirs, its rate 1/Σ 1/kᵢ over the members that move, and its
// energy the sum of theirs. Where one member is used up before the next starts
// to move, the force jumps; Force is then the value after the jump, and
// [Settle] returns [ErrJump] for a load inside it.
//
// Members that are a [Polyline] are joined into one chain, whose answers are
// closed forms; with no others, the stack is a Polyline too. Beside other laws
// the force that all share is solved for by Newton's method, in about five
// evaluations of each such law, and where that does not converge, at a jump for
// one, by [root.Refine], with every law inverted at each force tried. A series in
// a series counts as its members.
//
// Every member is checked at 17 travels. One that is nil, panics, answers NaN or
// an infinity, has no travel, a falling force or segments that are not its own is
// refused, and the error names it, such as laws[1], with the class [ErrLaw]. A law
// that breaks the contract of [Law] between these travels alone is not noticed,
// and spoils the stack's answers. A stack may have 1000 straight segments and 32
// other laws, and an answer may take 3000 evaluations of such laws, which
// bounds how deep stacks are nested.
func NewSeries(laws ...Law) (Law, error) {
	c := units.Checker{Package: "spring"}
	if len(laws) == 0 {
		c.Fail("laws", nil, "one or more springs", units.ErrMissing)
	}
	s := &series{}
	var lines []*chain
	flat, index := flatten(laws)
	if !gather(flat, seriesCost, func(i int, m member, want string) {
		if s.travel += m.travel; want != "" {
			element := c.Element("laws", index[i])
			element.Fail("", nil, want, ErrLaw)
		} else if m.line != nil {
			lines = append(lines, m.line)
		} else {
			s.others = append(s.others, m)
			s.evaluations += m.evaluations
		}
	}) {
		c.Fail("laws", nil, limits, nil)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	sound := true
	if len(lines) > 0 {
		s.line = inSeries(lines)
		sound = s.line.sound()
	}
	switch {
	case !sound:
	case len(s.others) == 0:
		return &s.line, nil
	default:
		s.follow()
		if answers(s) {
			return s, nil
		}
	}
	c.Fail("laws", nil, tooGreat, nil)
	return nil, c.Err()
}

// flatten puts the members of a series in a series in its place, and returns the
// index that each had.
func flatten(laws []Law) (flat []Law, index []int) {
	for i, law := range laws {
		parts := []Law{law}
		if inner, ok := law.(*series); ok {
			parts = parts[:0]
			for _, m := range inner.others {
				parts = append(parts, m.law)
			}
			if len(inner.line.knots) > 0 {
				parts = append(parts, &inner.line)
			}
		}
		for _, part := range parts {
			flat, index = append(flat, part), append(index, i)
		}
	}
	return flat, index
}

// mostOthers is how many laws of varying rate a series may have.
const mostOthers = 32

// seriesCost is how many evaluations of n laws of varying rate on end, which
// take so many together, make an answer.
func seriesCost(n int, evaluations float64) float64 {
	if n > mostOthers {
		return math.Inf(1)
	}
	return 8 * evaluations
}

// series is the law of springs on end of which some are no chains.
type series struct {
	line        chain    // all members that are chains, joined into one
	others      []member // the rest, one or more
	travel      float64  // m
	evaluations float64  // of each of the others once

	// The stack at the forces at which something may change, kinks of the line
	// and ends of the others, and at some in between. Between two neighbours the
	// line is straight.
	levels []level
	parts  []float64 // m, travels of the others at each level, one row after the other

	fullCompliance float64 // m/N, at full travel
}

func (s *series) cost() float64 { return seriesCost(len(s.others), s.evaluations) }

func (s *series) Travel() units.Length { return units.Length(s.travel) }

func (s *series) String() string { return Describe(s) }

func (s *series) Force(x units.Length) units.Force {
	var st seriesState
	s.solve(&st, x)
	return units.Force(st.force)
}

func (s *series) Rate(x units.Length) units.Stiffness {
	var st seriesState
	s.solve(&st, x)
	if st.x >= s.travel {
		return units.Stiffness(1 / s.fullCompliance)
	}
	left := st.x - st.line
	compliance := st.a.compliance
	for i := range s.others {
		m, part := &s.others[i], st.parts[i]
		left -= part
		if m.high() <= st.a.force || m.low() >= st.b.force {
			continue // it stands still
		}
		// Inside a jump of its force it stands still as well.
		if st.smooth || math.Abs(float64(m.law.Force(units.Length(part)))-st.force) <= 1e-9*(m.high()-m.low()) {
			compliance += 1 / float64(m.law.Rate(units.Length(part+snap*m.travel)))
		}
	}
	if st.a.force == st.b.force || !st.smooth && math.Abs(left) > 1e-12*s.travel+1e-15*compliance*math.Abs(st.force) {
		return 0 // level ground
	}
	return units.Stiffness(min(1/compliance, math.MaxFloat64))
}

func (s *series) Energy(x units.Length) units.Energy {
	var st seriesState
	s.solve(&st, x)
	sum, left := s.line.Energy(units.Length(st.line)), st.x-st.line
	for i := range s.others {
		part := st.parts[i]
		sum, left = sum+s.others[i].law.Energy(units.Length(part)), left-part
	}
	return sum + units.Energy(left*st.force) // what is left is level ground, or rounding
}
