package spring

import (
	"errors"
	"slices"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

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
	before := units.Length(0)
	add := func(x units.Length, force units.Force) {
		before = min(max(x, before), s.travel)
		s.levels = append(s.levels, level{before, before - snap*s.travel, force})
	}
	for _, force := range slices.Compact(forces) {
		sum := units.Length(0)
		for i := range s.members {
			part := s.members[i].under(force)
			sum, s.parts = sum+part, append(s.parts, part)
		}
		add(sum, force)
	}
	if before < s.travel { // level ground
		add(s.travel, highest)
		for _, m := range s.members {
			s.parts = append(s.parts, m.travel)
		}
	}
	s.levels[len(s.levels)-1].x = s.travel
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
	f, err := root.Refine(func(f float64) float64 {
		sum := units.Length(0)
		for i := range s.members {
			sum += s.members[i].under(units.Force(f))
		}
		return float64(sum - st.x)
	}, float64(a.force), float64(b.force), float64(a.x-st.x), float64(b.x-st.x), 1e-15*float64(b.force-a.force))
	if st.force = units.Force(f); err != nil && !errors.Is(err, root.ErrJump) { // a jump is level ground
		st.force = a.force
	}
	st.smooth = false
	for i := range s.members {
		st.parts[i] = s.members[i].under(st.force)
	}
}
