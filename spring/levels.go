package spring

import (
	"errors"
	"slices"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// level is a series at one force.
type level struct {
	x, from    units.Length // travel of the stack; from is x less the snap
	force      units.Force
	line       units.Length // travel of the line
	compliance compliance   // of the line from here to the next level
}

// follow computes the levels.
func (s *series) follow() {
	var forces []units.Force
	for _, k := range s.line.knots {
		forces = append(forces, k.Start, k.End)
	}
	stride := min(len(s.others), probes/2) // some forces of each, fewer of many
	for i := range s.others {
		m := &s.others[i]
		forces = append(forces, m.high())
		for j := 0; j < probes; j += stride {
			forces = append(forces, m.forces[j])
		}
	}
	lowest, highest := slices.Min(forces), slices.Max(forces)
	for i := range probes {
		forces = append(forces, between(lowest, highest, float64(i)/probes))
	}
	slices.Sort(forces)
	before := units.Length(0)
	add := func(l level) {
		l.x = min(max(l.x, before), s.travel)
		before, l.from = l.x, l.x-snap*s.travel
		s.levels = append(s.levels, l)
	}
	for _, force := range slices.Compact(forces) {
		first, last, from := s.line.under(force)
		sum, n := units.Length(0), len(s.parts)
		for i := range s.others {
			part := s.others[i].under(force)
			sum, s.parts = sum+part, append(s.parts, part)
		}
		if last > first { // level ground of the line
			add(level{x: sum + first, force: force, line: first})
			s.parts = append(s.parts, s.parts[n:]...)
		}
		add(level{x: sum + last, force: force, line: last, compliance: from})
	}
	if before < s.travel { // level ground of another
		add(level{x: s.travel, force: highest, line: s.line.travel})
		for _, m := range s.others {
			s.parts = append(s.parts, m.travel)
		}
	}
	s.levels[len(s.levels)-1].x = s.travel

	// At full travel all move that end at its force, rounding forgiven.
	top := highest - 1e-12*abs(highest)
	if n := len(s.line.knots); n > 0 && s.line.knots[n-1].End >= top {
		s.atFull = compliance(1 / s.line.knots[n-1].Rate)
	}
	for i := range s.others {
		if m := &s.others[i]; m.high() >= top {
			s.atFull += m.compliance(m.travel)
		}
	}
}

// newton solves for the force and all parts together, by Newton's method from the parts in st. It
// reports false if it does not converge, as at a jump.
func (s *series) newton(st *seriesState, from, to []units.Length) bool {
	a, b := st.a, st.b
	var forces [mostOthers]units.Force
	var soft [mostOthers]compliance
	for range 8 {
		gap, sum := st.x-a.x, a.compliance
		for i, part := range st.parts[:len(from)] {
			if m := &s.others[i]; m.moves(a, b) {
				forces[i], soft[i] = m.law.Force(part), m.compliance(part)
				gap += soft[i].times(forces[i]-a.force) - (part - from[i])
				sum += soft[i]
			}
		}
		st.force = min(max(a.force+units.Force(float64(gap)/float64(sum)), a.force), b.force)
		st.line = a.line + a.compliance.times(st.force-a.force)
		left, near := st.x-a.x-(st.line-a.line), true
		for i := range from {
			if m := &s.others[i]; m.moves(a, b) {
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
	f, err := root.Refine(func(f float64) float64 {
		sum := a.line + a.compliance.times(units.Force(f)-a.force)
		for i := range s.others {
			sum += s.others[i].under(units.Force(f))
		}
		return float64(sum - st.x)
	}, float64(a.force), float64(b.force), float64(a.x-st.x), float64(b.x-st.x), 1e-15*float64(b.force-a.force))
	if st.force = units.Force(f); err != nil && !errors.Is(err, root.ErrJump) { // a jump is level ground
		st.force = a.force
	}
	st.line, st.smooth = a.line+a.compliance.times(st.force-a.force), false
	for i := range s.others {
		st.parts[i] = s.others[i].under(st.force)
	}
}
