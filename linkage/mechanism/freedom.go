package mechanism

import (
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strings"

	"example.com/wheelrate/units"
)

// freedom returns the degrees of freedom that bodies have against each other by Grübler's count: three for
// each but one, less two for each that a pivot joins to others, less one for a slot. Bit b of the set is body b.
func (l *layout) freedom(set int) int {
	freedom := 3*bits.OnesCount(uint(set)) - 3
	for _, owners := range l.owners {
		others := -1
		for _, b := range owners {
			others += set >> b & 1
		}
		freedom -= 2 * max(others, 0)
	}
	for _, s := range l.slots {
		freedom -= l.has(set, l.holes[s.pin.hole-1].Point) & (set >> s.line.body)
	}
	return freedom
}

// has returns 1 if a point is one of a body of the set, or 0.
func (l *layout) has(set int, point string) int {
	for _, b := range l.owners[point] {
		if set>>b&1 == 1 {
			return 1
		}
	}
	return 0
}

// overConstrained reports whether some of the bodies are over-constrained by themselves, or held where the
// shock is between two of them. Then others are loose, where the count over all of them is 1.
func (l *layout) overConstrained() bool {
	for set := 1; set < 1<<len(l.bodies); set++ {
		if l.freedom(set) < l.has(set, l.eyes[0])&l.has(set, l.eyes[1]) {
			return true
		}
	}
	return false
}

// checkFreedom refuses bodies that are not joined to the frame, or have not exactly one degree of freedom.
func (l *layout) checkFreedom(c *units.Checker, s Spec) {
	joints := slices.Clone(l.pivots)
	for _, s := range l.slots {
		joints = append(joints, joint{s.pin, s.line})
	}
	var joined [maxMoving + 1]bool
	joined[0] = true
	for range l.bodies {
		for _, j := range joints {
			either := joined[j.a.body] || joined[j.b.body]
			joined[j.a.body], joined[j.b.body] = either, either
		}
	}
	var loose []string
	for b, name := range l.bodies {
		if !joined[b] {
			loose = append(loose, name)
		}
	}
	freedom := l.freedom(1<<len(l.bodies) - 1)
	switch {
	case len(loose) > 0:
		c.Fail("bodies", strings.Join(loose, ", "), "bodies that are all joined to the frame by shared points", units.ErrConflict)
	case freedom != 1:
		what := fmt.Sprintf("there are %d, %d too many", freedom, freedom-1)
		if freedom < 1 {
			what = fmt.Sprintf("the pivots over-constrain them by %d", 1-freedom)
			if freedom == 0 {
				what += l.spareLinks(s)
			}
		}
		c.Fail("bodies", freedom, "exactly 1 degree of freedom without the shock; "+what, units.ErrConflict)
	}
}

// spareLinks returns a clause that names the links that over-constrain a mechanism by one and yet fit its
// motion: without one of them it moves, and the link's ends stay as far from each other as they are. It
// returns "" where there are none.
func (l *layout) spareLinks(s Spec) string {
	var links []string
	for _, name := range l.bodies[1:] {
		ends := slices.DeleteFunc(slices.Clone(s.Bodies[name]), func(point string) bool { return len(l.owners[point]) < 2 })
		rest := s.clone()
		delete(rest.Bodies, name)
		m, err := NewCoarse(rest, 0)
		if len(ends) != 2 || err != nil {
			continue
		}
		var apart []float64
		for i := range 5 {
			at := m.Positions(s.Stroke * units.Length(i) / 4)
			a, b := at[ends[0]], at[ends[1]]
			apart = append(apart, math.Hypot(float64(a[0]-b[0]), float64(a[1]-b[1])))
		}
		if slices.Max(apart)-slices.Min(apart) <= 1e-9*m.layout.size {
			links = append(links, name)
		}
	}
	if links == nil {
		return ""
	}
	return fmt.Sprintf(", since one of %s is to spare: without it the others move as it permits. "+
		"Leave one out: the motion is the same, and how they share the force depends on how they flex", strings.Join(links, ", "))
}
