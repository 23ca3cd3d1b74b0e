package spring

import (
	"math"
	"slices"
	"sort"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// NewSeries returns the law of one or more springs in series. A member stands still at full extension
// until the force reaches its force there, moves, and stands still again once it has used all its
// travel. The stack's travel and energy are the sums of theirs, its rate is 1/Σ 1/kᵢ over the
// members that move. Where one member is used up before the next starts to move, the force jumps;
// Force is then the value after the jump, and [Settle] returns [ErrJump] for a load inside it.
//
// Members that are a [Polyline] are joined into one chain, whose answers are closed forms; with no
// others, the stack is a Polyline too. Beside other laws the force that all share is solved for by
// Newton's method, or by [root.Refine] where that does not converge, as at a jump. A series in a
// series counts as its members.
//
// Every member is checked at 17 travels. One that is nil, panics, answers NaN or an infinity, has
// no travel, a falling force or segments that are not its own is refused with the class [ErrLaw];
// the error names it, such as laws[1]. A law that breaks the contract of [Law] only between these
// travels is not noticed, and spoils the answers. A stack may have 1000 straight segments and 32
// other laws, and an answer may take 3000 evaluations of such laws.
func NewSeries(laws ...Law) (Law, error) {
	c := units.Checker{Package: "spring"}
	if len(laws) == 0 {
		c.Fail("laws", nil, "one or more springs", units.ErrMissing)
	}
	s := &series{}
	var lines []*chain
	flat, index := flatten(laws)
	list := gather(&c, "laws", flat, mostOthers, evaluationsEach)
	for i := range list {
		m, at := &list[i], c.Element("laws", index[i])
		good := m.check(&at, "")
		switch s.travel += m.travel; {
		case !good:
		case m.line != nil:
			lines = append(lines, m.line)
		default:
			s.members, s.evaluations = append(s.members, *m), s.evaluations+m.evaluations
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	switch line := inSeries(lines); {
	case len(lines) > 0 && !line.sound():
	case len(s.members) == 0:
		return &line, nil
	default:
		if len(lines) > 0 {
			joined := member{law: &line, line: &line}
			joined.inspect()
			s.members = append(s.members, joined)
		}
		if s.follow(); answers(s) {
			return s, nil
		}
	}
	c.Fail("laws", nil, tooGreat, nil)
	return nil, c.Err()
}

// flatten puts the members of a series in a series in its place, and returns the index that each
// had.
func flatten(laws []Law) (flat []Law, index []int) {
	for i, law := range laws {
		if inner, ok := law.(*series); ok {
			for _, m := range inner.members {
				flat = append(flat, m.law)
			}
		} else {
			flat = append(flat, law)
		}
		for len(index) < len(flat) {
			index = append(index, i)
		}
	}
	return flat, index
}

// mostOthers is how many laws of varying rate a series may have, and evaluationsEach how often each
// of them is evaluated for an answer.
const mostOthers, evaluationsEach = 32, 8

// series is the law of springs in series of which some are no chains.
type series struct {
	units.Opaque[series]
	members     []member // those that are chains are joined into one, the last
	travel      units.Length
	evaluations float64 // of each of those that are no chains once

	// The stack at the forces at which something may change, kinks and ends of its members, and at
	// some in between.
	levels []level
	parts  []units.Length // travels of the members at each level, one row after the other
}

func (s *series) cost() float64 { return evaluationsEach * s.evaluations }

func (s *series) Travel() units.Length { return s.travel }

func (s *series) String() string { return Describe(s) }

func (s *series) Force(x units.Length) units.Force {
	return s.solve(x).force
}

func (s *series) Rate(x units.Length) units.Stiffness {
	st := s.solve(x)
	left, sum := st.x, compliance(0)
	for i := range s.members {
		m, part := &s.members[i], st.parts[i]
		left -= part
		switch {
		case st.x >= s.travel: // all move that end at the greatest force, rounding forgiven
			if m.high() >= st.force-1e-12*abs(st.force) {
				sum += m.compliance(m.travel)
			}
		case !m.moves(st.a, st.b):
		case st.smooth || abs(m.law.Force(part)-st.force) <= 1e-9*(m.high()-m.low()): // else it stands still inside a jump
			sum += m.compliance(part + snap*m.travel)
		}
	}
	if st.x < s.travel && (st.a.force == st.b.force || !st.smooth && abs(left) > 1e-12*s.travel+1e-15*abs(sum.times(st.force))) {
		return 0 // level ground
	}
	return units.Stiffness(min(1/sum, math.MaxFloat64))
}

func (s *series) Energy(x units.Length) units.Energy {
	st := s.solve(x)
	sum, left := units.Energy(0), st.x
	for i := range s.members {
		sum += s.members[i].law.Energy(st.parts[i])
		left -= st.parts[i]
	}
	return sum + units.Energy(float64(left)*float64(st.force)) // what is left is level ground, or rounding
}

// seriesState is the stack at a travel x, between two levels a and b.
type seriesState struct {
	a, b   *level
	x      units.Length
	force  units.Force
	parts  [mostOthers + 1]units.Length
	smooth bool // whether every law shows the force at its part
}

// solve computes the state at a travel.
func (s *series) solve(x units.Length) (st seriesState) {
	st.x = Clamp(x, s.travel)
	i := sort.Search(len(s.levels)-2, func(i int) bool { return s.levels[i+1].from > st.x })
	n := len(s.members)
	from, to := s.parts[i*n:][:n], s.parts[(i+1)*n:][:n]
	a, b := &s.levels[i], &s.levels[i+1]
	st.a, st.b, st.smooth = a, b, true
	share := 0.0 // of the way from a to b
	switch {
	case st.x >= s.travel:
		share = 1
	case st.x > a.x && a.force < b.force:
		share = float64((st.x - a.x) / (b.x - a.x))
	}
	st.force = between(a.force, b.force, share)
	for i := range from {
		st.parts[i] = between(from[i], to[i], share)
	}
	if share > 0 && share < 1 && !s.newton(&st, from, to) {
		s.bracket(&st)
	}
	return st
}

// between returns what lies a share of the way from a to b.
func between[Q ~float64](a, b Q, share float64) Q { return a + Q(share)*(b-a) }

// level is a series at one force.
type level struct {
	x, from units.Length // travel of the stack; from is x less the snap
	force   units.Force
}

// follow computes the levels.
func (s *series) follow() {
	var forces []units.Force
	stride := min(len(s.members), probes/2) // some forces of each, fewer of many
	for i := range s.members {
		m := &s.members[i]
		forces = append(forces, m.high())
		if m.line != nil {
			for _, k := range m.line.knots {
				forces = append(forces, k.Start, k.End)
			}
			continue
		}
		for j := 0; j < probes; j += stride {
			forces = append(forces, m.forces[j])
		}
	}
	lowest, highest := slices.Min(forces), slices.Max(forces)
	for i := range probes {
		forces = append(forces, between(lowest, highest, float64(i)/probes))
	}
	slices.Sort(forces)
	if forces = slices.Compact(forces); len(forces) == 1 { // all of it is level ground
		forces = append(forces, forces[0])
	}
	before := units.Length(0)
	for _, force := range forces {
		sum := units.Length(0)
		for i := range s.members {
			part := s.members[i].under(force)
			sum, s.parts = sum+part, append(s.parts, part)
		}
		before = min(max(sum, before), s.travel)
		s.levels = append(s.levels, level{before, before - snap*s.travel, force})
	}
	s.levels[len(s.levels)-1].x = s.travel // with level ground before it, if need be
}

// newton solves for the force and all parts together, by Newton's method from the parts in st. It
// reports false if it does not converge, as at a jump.
func (s *series) newton(st *seriesState, from, to []units.Length) bool {
	a, b := st.a, st.b
	var forces [mostOthers + 1]units.Force
	var soft [mostOthers + 1]compliance
	for range 8 {
		gap, sum := st.x-a.x, compliance(0)
		for i, part := range st.parts[:len(from)] {
			if m := &s.members[i]; m.moves(a, b) {
				forces[i], soft[i] = m.law.Force(part), m.compliance(part)
				gap += soft[i].times(forces[i]-a.force) - (part - from[i])
				sum += soft[i]
			}
		}
		st.force = min(max(a.force+units.Force(float64(gap)/float64(sum)), a.force), b.force)
		left, near := st.x-a.x, true
		for i := range from {
			if m := &s.members[i]; m.moves(a, b) {
				step := soft[i].times(st.force - forces[i]) // far too long inside a jump
				near = near && abs(step) <= 1e-12*m.travel
				st.parts[i] = min(max(st.parts[i]+step, from[i]), to[i])
				left -= st.parts[i] - from[i]
			}
		}
		if near && abs(left) <= 1e-12*s.travel {
			return true
		}
	}
	return false
}

// bracket solves for the force at which the travels of all add to the stack's.
func (s *series) bracket(st *seriesState) {
	a, b := st.a, st.b
	f, _ := root.Refine(func(f float64) float64 {
		sum := units.Length(0)
		for i := range s.members {
			sum += s.members[i].under(units.Force(f))
		}
		return float64(sum - st.x)
	}, float64(a.force), float64(b.force), float64(a.x-st.x), float64(b.x-st.x), 1e-15*float64(b.force-a.force))
	// A jump is level ground. Of a law that breaks its contract between the probes f is 0.
	st.force, st.smooth = min(max(units.Force(f), a.force), b.force), false
	for i := range s.members {
		st.parts[i] = s.members[i].under(st.force)
	}
}
