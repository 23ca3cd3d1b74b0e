package spring

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Groups describes one progressive spring, or several springs on end, as
// groups of coils in series: each group has a rate of its own, and stops when
// its gap is used up. The softer groups with the smaller gaps close first, and
// what is left is stiffer.
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
// closure to closure. Make one with [NewGroups] or [NewCoilGroups].
type GroupedSpring struct {
	polyline
	closures []Closure
}

// NewGroups returns the law of coil groups in series. Each carries the same
// force F and is compressed by min(F/kᵢ, gᵢ):
//
//	x(F) = Σ min(F/kᵢ, gᵢ)
//
// so group i closes at F = kᵢ·gᵢ, the rate between closures is
// 1/Σ 1/kᵢ over the open groups, and the travel is Σ gᵢ. Rates and gaps must
// be finite and more than 0; the error names every one that isn't, such as
// groups[0].gap.
//
// The law follows from equal force and added travel; the check values are an
// independent computation of the same sum in 50 digits.
func NewGroups(spec Groups) (*GroupedSpring, error) {
	c := units.Checker{Package: "spring"}
	if len(spec.Groups) == 0 {
		c.Fail("groups", nil, "one or more coil groups", units.ErrMissing)
	}
	for i, g := range spec.Groups {
		field := fmt.Sprintf("groups[%d]", i)
		rate := units.Positive(&c, field+".rate", g.Rate)
		gap := units.Positive(&c, field+".gap", g.Gap)
		if f := float64(g.Rate.Times(g.Gap)); rate && gap && !(f >= minNormal && f <= math.MaxFloat64) {
			c.Fail(field+".rate", g.Rate, "a rate whose closing force can be told in float64", nil)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	spring := sweepGroups(spec.Groups)
	if !spring.sound() {
		c.Fail("groups", nil, "rates and gaps whose travel, force and energy can be told in float64", nil)
		return nil, c.Err()
	}
	return spring, nil
}

// minNormal is the smallest float64 of full precision.
const minNormal = 0x1p-1022

// sweepGroups follows the force up from one closure to the next.
func sweepGroups(groups []Group) *GroupedSpring {
	order := make([]Closure, len(groups))
	for i, g := range groups {
		order[i] = Closure{Group: i, Force: g.Rate.Times(g.Gap)}
	}
	slices.SortStableFunc(order, func(a, b Closure) int { return cmp.Compare(a.Force, b.Force) })
	// Summed from the last to close, so that nothing is ever taken off again.
	pieces := make([]polyPiece, len(order))
	compliance := 0.0
	for i := len(order) - 1; i >= 0; i-- {
		compliance += 1 / float64(groups[order[i].Group].Rate)
		from := 0.0
		if i > 0 {
			from = float64(order[i-1].Force)
		}
		to := float64(order[i].Force)
		pieces[i] = polyPiece{length: compliance * (to - from), rate: 1 / compliance, force: from, top: to}
	}
	travel := 0.0
	for i, p := range pieces {
		travel += p.length
		order[i].Travel = units.Length(travel)
	}
	return &GroupedSpring{polyline: newPolyline(pieces), closures: order}
}

// Closures lists the groups in the order they close, with the travel and the
// force at which they do.
func (s *GroupedSpring) Closures() []Closure { return slices.Clone(s.closures) }
