package spring

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Groups describes one progressive spring, or several springs on end, as
// groups of coils in series: each group has a rate of its own, and stops when
// its gap is used up. Groups of a low rate and a small gap close first; the others
// are stiffer without them.
type Groups struct {
	Groups []Group `json:"groups"` // one or more, in any order
}

// Group is a group of coils of one pitch.
type Group struct {
	Rate units.Stiffness `json:"rate"` // of the group alone, more than 0
	Gap  units.Length    `json:"gap"`  // how far it goes until its coils touch, more than 0
}

// Closure is a coil group closing.
type Closure struct {
	Group  int          `json:"group"`  // which one, counted from 0
	Travel units.Length `json:"travel"` // of the whole spring
	Force  units.Force  `json:"force"`
}

// GroupedSpring is the [Law] of [Groups]: straight segments, stiffer from
// closure to closure. Make one with [NewGroups].
type GroupedSpring struct {
	chain
	closures []Closure
}

// NewGroups returns the law of coil groups in series. Each carries the same
// force F and is compressed by min(F/kᵢ, gᵢ):
//
//	x(F) = Σ min(F/kᵢ, gᵢ)
//
// so group i closes at F = kᵢ·gᵢ, the rate between closures is
// 1/Σ 1/kᵢ over the open groups, and the travel is Σ gᵢ. There are 1 to 1000
// groups, and their rates and gaps must be finite and more than 0; the error
// names every one that isn't, such as groups[0].gap.
// It follows from equal force and added travel.
func NewGroups(spec Groups) (*GroupedSpring, error) {
	c := units.Checker{Package: "spring"}
	switch n := len(spec.Groups); {
	case n == 0:
		c.Fail("groups", nil, "one or more coil groups", units.ErrMissing)
	case n > mostSegments:
		c.Fail("groups", n, "at most 1000 coil groups", nil)
		return nil, c.Err()
	}
	for i, g := range spec.Groups {
		at := c.Element("groups", i)
		rate := units.Positive(&at, "rate", g.Rate)
		gap := units.Positive(&at, "gap", g.Gap)
		if f := float64(g.Rate.Times(g.Gap)); rate && gap && !(f >= minNormal && f <= math.MaxFloat64) {
			at.Fail("rate", g.Rate, "a rate whose closing force float64 can hold", nil)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	s := &GroupedSpring{}
	lines := make([]*chain, len(spec.Groups))
	for i, g := range spec.Groups {
		closing := g.Rate.Times(g.Gap)
		line := newChain([]Segment{{Length: g.Gap, Rate: g.Rate, End: closing}})
		lines[i], s.closures = &line, append(s.closures, Closure{Group: i, Force: closing})
	}
	s.chain = inSeries(lines)
	if !s.sound() {
		c.Fail("groups", nil, tooGreat, nil)
		return nil, c.Err()
	}
	slices.SortStableFunc(s.closures, func(a, b Closure) int { return cmp.Compare(a.Force, b.Force) })
	for i := range s.closures {
		x, _, _ := s.under(float64(s.closures[i].Force))
		s.closures[i].Travel = units.Length(x)
	}
	return s, nil
}

// minNormal is the smallest float64 of full precision.
const minNormal = 0x1p-1022

// Closures lists the groups in the order they close, with the travel and the
// force at which they do.
func (s *GroupedSpring) Closures() []Closure { return slices.Clone(s.closures) }
