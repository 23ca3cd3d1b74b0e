package mechanism

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Tolerances states how far the holes of a mechanism may be from their places, in any direction:
// each hole's centre lies within a circle of this radius, from 0 to 100 mm.
type Tolerances struct {
	Every units.Length    `json:"every"`           // of each hole that is not among Holes
	Holes []HoleTolerance `json:"holes,omitempty"` // each hole once
}

// HoleTolerance is the tolerance of one hole.
type HoleTolerance struct {
	Hole
	Within units.Length `json:"within"`
}

// Tolerance is the tolerances of a mechanism's holes. [NewTolerance] makes one.
type Tolerance struct {
	units.Opaque[Tolerance]
	holes []Hole
	radii []float64 // in the order of holes
}

// NewTolerance returns the tolerances of a mechanism's holes. The error names every bad field: every,
// holes[0].within, and holes[0].point for a hole that the mechanism doesn't have or that has been
// given already.
func NewTolerance(m *Mechanism, t Tolerances) (*Tolerance, error) {
	const most = 100 * units.Millimetre
	c := units.Checker{Package: "mechanism"}
	units.Between(&c, "every", t.Every, 0, most)
	of := &Tolerance{holes: m.Holes()}
	for range of.holes {
		of.radii = append(of.radii, float64(t.Every))
	}
	given := make([]bool, len(of.holes))
	for i, h := range t.Holes {
		c := c.Element("holes", i)
		units.Between(&c, "within", h.Within, 0, most)
		switch k := slices.Index(of.holes, h.Hole); {
		case k < 0 && h.Body == "":
			c.Fail("body", nil, "a body of the mechanism", units.ErrMissing)
		case k < 0:
			c.Fail("point", h.Body+"."+h.Point, "a body of the mechanism and a point of it", units.ErrUnknown)
		case given[k]:
			c.Fail("point", h.Body+"."+h.Point, "each hole once", units.ErrConflict)
		default:
			of.radii[k], given[k] = float64(h.Within), true
		}
	}
	return units.Checked(&c, of)
}

// Spread is how far a number may be from its value as drawn when every hole is within its tolerance.
// It is first-order, and even to both sides.
type Spread struct {
	// WorstCase is reached with every hole off in its worst direction by all that its tolerance
	// permits: the sum of what each hole does.
	WorstCase float64 `json:"worst_case"`
	// RootSumSquare is the root of the sum of the squares. For holes that are off independently and
	// normally distributed, it is passed as rarely as one hole passes its tolerance.
	RootSumSquare float64 `json:"root_sum_square"`
	// Holes lists what each hole does by itself, the worst first.
	Holes []HoleEffect `json:"holes"`
}

// HoleEffect is by how much a hole changes a number when it is off by its tolerance.
type HoleEffect struct {
	Hole
	Effect float64 `json:"effect"` // in the direction in which the number grows most; 0 or more
	// Towards is that direction, counter-clockwise from forward at full extension, from −π to π.
	Towards units.Angle `json:"towards"`
}

// Spread returns how far a number with the gradient g may be from its value as drawn. Worst case and
// root sum of squares are common practice.
func (t *Tolerance) Spread(g Gradient) Spread {
	s := Spread{Holes: make([]HoleEffect, 0, len(g.Holes))}
	for i, d := range g.Holes {
		effect := t.radii[i] * math.Hypot(d[0], d[1])
		s.WorstCase += effect
		s.RootSumSquare = math.Hypot(s.RootSumSquare, effect)
		s.Holes = append(s.Holes, HoleEffect{t.holes[i], effect, units.Angle(math.Atan2(d[1], d[0]))})
	}
	slices.SortStableFunc(s.Holes, func(a, b HoleEffect) int { return cmp.Compare(b.Effect, a.Effect) })
	return s
}
