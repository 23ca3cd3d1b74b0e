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

// NewParallel returns the law of one or more springs side by side, such as one inside the other:
// their forces add. A member adds nothing before its StartsAt, and from there on its own law from
// full extension: Fᵢ(x − startsᵢ). A member that is preloaded makes the force jump where it starts;
// Force is then the value after the jump, and [Settle] returns [ErrJump] for a load inside it.
//
// The stack's travel ends where the first member is solid, at the smallest startsᵢ + travelᵢ. A
// member that would start only there or beyond is refused. The error names every bad field, such
// as members[1].law or members[1].starts_at; laws are checked as [NewSeries] does.
//
// Members that are a [Polyline] are joined into one chain; with no others, the stack is a Polyline
// too. A stack may have 1000 straight segments, and an answer may take 3000 evaluations of others.
func NewParallel(members ...Member) (Law, error) {
	c := units.Checker{Package: "spring"}
	if len(members) == 0 {
		c.Fail("members", nil, "one or more springs", units.ErrMissing)
	}
	laws := make([]Law, len(members))
	for i, m := range members {
		laws[i] = m.Law
	}
	s := &parallel{travel: units.Length(math.Inf(1))}
	var lines []*chain
	var starts []units.Length
	list := gather(&c, "members", laws, mostEvaluations, 1)
	for i := range list {
		m, at, start := &list[i], c.Element("members", i), members[i].StartsAt
		good := m.check(&at, "law")
		if units.NonNegative(&at, "starts_at", start) && good {
			s.travel = min(s.travel, start+m.travel)
		}
		if m.line != nil {
			lines, starts = append(lines, m.line), append(starts, start)
		} else {
			s.members, s.evaluations = append(s.members, members[i]), s.evaluations+m.evaluations
		}
	}
	for i, m := range members {
		if m.StartsAt >= s.travel && finite(float64(m.StartsAt)) {
			at := c.Element("members", i)
			at.Fail("starts_at", m.StartsAt, units.LessThan(s.travel).With("where the first spring is solid"), units.ErrConflict)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	switch line := inParallel(lines, starts, s.travel); {
	case !line.sound():
	case len(s.members) == 0:
		return &line, nil
	default:
		if len(lines) > 0 {
			s.members = append(s.members, Member{Law: &line})
		}
		if answers(s) {
			return s, nil
		}
	}
	c.Fail("members", nil, tooGreat, nil)
	return nil, c.Err()
}

// parallel is the law of springs side by side of which some are no chains, or of one that is preloaded: it
// starts before travel 0.
type parallel struct {
	units.Opaque[parallel]
	members     []Member // those that are chains are joined into one
	travel      units.Length
	evaluations float64      // of those that are no chains, for an answer
	stored      units.Energy // at travel 0
}

func (s *parallel) cost() float64 { return s.evaluations }

func (s *parallel) Travel() units.Length { return s.travel }

func (s *parallel) String() string { return Describe(s) }

func (s *parallel) Force(x units.Length) units.Force { return total(s, x, Law.Force) }

func (s *parallel) Rate(x units.Length) units.Stiffness { return total(s, x, Law.Rate) }

func (s *parallel) Energy(x units.Length) units.Energy { return total(s, x, Law.Energy) - s.stored }

// total adds what the members that have started give.
func total[Q ~float64](s *parallel, x units.Length, of func(Law, units.Length) Q) (sum Q) {
	x = Clamp(x, s.travel)
	for _, m := range s.members {
		if x >= m.StartsAt {
			sum += of(m.Law, min(x-m.StartsAt, m.Law.Travel())) // rounded beyond it at most
		}
	}
	return sum
}
