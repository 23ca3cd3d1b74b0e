package spring

import (
	"errors"
	"math"
	"slices"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// level is the stack at one force.
type level struct {
	x, from    float64 // m, travel of the stack; from is x less the snap
	force      float64 // N
	line       float64 // m, travel of the line
	compliance float64 // m/N, of the line from here to the next level
}

// follow computes the levels.
func (s *series) follow() {
	var forces []float64
	for _, k := range s.line.knots {
		forces = append(forces, k.force, k.top)
	}
	stride := min(len(s.others), probes/2) // some forces of each, fewer of many
	for i := range s.others {
		m := &s.others[i]
		forces = append(forces, m.low(), m.high())
		for j := stride; j < probes; j += stride {
			forces = append(forces, m.forces[j])
		}
	}
	lowest, highest := slices.Min(forces), slices.Max(forces)
	for i := range probes {
		t := float64(i) / probes
		forces = append(forces, (1-t)*lowest+t*highest)
	}
	slices.Sort(forces)
	forces = slices.Compact(forces)
	before := 0.0
	add := func(l level) {
		l.x = min(max(l.x, before), s.travel)
		before, l.from = l.x, l.x-snap*s.travel
		s.levels = append(s.levels, l)
	}
	for _, force := range forces {
		first, last, compliance := s.line.under(force)
		sum, n := 0.0, len(s.parts)
		for i := range s.others {
			part := s.others[i].under(force)
			sum, s.parts = sum+part, append(s.parts, part)
		}
		if last > first { // level ground of the line
			add(level{x: sum + first, force: force, line: first})
			s.parts = append(s.parts, s.parts[n:]...)
		}
		add(level{x: sum + last, force: force, line: last, compliance: compliance})
	}
	top := highest
	if before < s.travel { // level ground of another
		add(level{x: s.travel, force: top, line: s.line.travel})
		for i := range s.others {
			s.parts = append(s.parts, s.others[i].travel)
		}
	}
	s.levels[len(s.levels)-1].x = s.travel

	// At full travel all move that end at its force, rounding forgiven.
	top -= 1e-12 * math.Abs(top)
	if n := len(s.line.knots); n > 0 && s.line.knots[n-1].top >= top {
		s.fullCompliance = 1 / s.line.knots[n-1].rate
	}
	for i := range s.others {
		if m := &s.others[i]; m.high() >= top {
			s.fullCompliance += 1 / float64(m.law.Rate(units.Length(m.travel)))
		}
	}
}

// seriesState is the stack at a travel.
type seriesState struct {
	x      float64 // m, of the stack
	a, b   *level  // between which it is
	force  float64 // N
	line   float64 // m, travel of the line
	parts  [mostOthers]float64
	smooth bool // whether every law shows the force at its part
}

// solve computes the state at a travel.
func (s *series) solve(st *seriesState, x units.Length) {
	st.x = float64(Clamp(x, s.Travel()))
	lo, hi := 0, len(s.levels)-1
	for hi-lo > 1 {
		if mid := int(uint(lo+hi) >> 1); s.levels[mid].from <= st.x {
			lo = mid
		} else {
			hi = mid
		}
	}
	n := len(s.others)
	from, to := s.parts[lo*n:][:n], s.parts[hi*n:][:n]
	a, b := &s.levels[lo], &s.levels[hi]
	st.a, st.b, st.smooth = a, b, true
	share := 0.0 // of the way from a to b
	switch {
	case st.x >= s.travel:
		share = 1
	case st.x > a.x && a.force < b.force:
		share = (st.x - a.x) / (b.x - a.x)
	}
	st.force, st.line = a.force+share*(b.force-a.force), a.line+share*(b.line-a.line)
	for i := range from {
		st.parts[i] = from[i] + share*(to[i]-from[i])
	}
	if share > 0 && share < 1 && !s.newton(st, from, to) {
		s.bracket(st)
	}
}

// newton solves for the force and all parts together, by Newton's method from the
// parts in st. It reports false if it does not converge, as at a jump.
func (s *series) newton(st *seriesState, from, to []float64) bool {
	a, b := st.a, st.b
	var forces, soft [mostOthers]float64
	for range 8 {
		gap, compliance := st.x-a.x, a.compliance
		for i := range from {
			if from[i] == to[i] {
				continue
			}
			law := s.others[i].law
			forces[i] = float64(law.Force(units.Length(st.parts[i])))
			soft[i] = 1 / float64(law.Rate(units.Length(st.parts[i])))
			gap += (forces[i]-a.force)*soft[i] - (st.parts[i] - from[i])
			compliance += soft[i]
		}
		st.force = min(max(a.force+gap/compliance, a.force), b.force)
		st.line = a.line + a.compliance*(st.force-a.force)
		left, near := st.x-a.x-(st.line-a.line), true
		for i := range from {
			if from[i] == to[i] {
				continue
			}
			part := min(max(st.parts[i]+(st.force-forces[i])*soft[i], from[i]), to[i])
			near = near && math.Abs(part-st.parts[i]) <= 1e-12*s.others[i].travel
			left, st.parts[i] = left-(part-from[i]), part
		}
		if near && math.Abs(left) <= 1e-12*s.travel {
			return true
		}
	}
	return false
}

// bracket solves for the force at which the travels of all add to the stack's.
func (s *series) bracket(st *seriesState) {
	a, b := st.a, st.b
	force, err := root.Refine(func(force float64) float64 {
		sum := a.line + a.compliance*(force-a.force)
		for i := range s.others {
			sum += s.others[i].under(force)
		}
		return sum - st.x
	}, a.force, b.force, a.x-st.x, b.x-st.x, 1e-15*(b.force-a.force))
	if err != nil && !errors.Is(err, root.ErrJump) { // a jump is level ground
		force = a.force
	}
	st.force, st.line, st.smooth = force, a.line+a.compliance*(force-a.force), false
	for i := range s.others {
		st.parts[i] = s.others[i].under(force)
	}
}
