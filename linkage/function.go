package linkage

import (
	"math"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// How near a curve comes to the function that it is made of, a tenth of what is
// promised: travel in m, lever ratio, and its slope relative to itself or to
// one per metre, whichever is more.
const (
	travelWithin = 1e-10
	ratioWithin  = 1e-8
	slopeWithin  = 1e-6
)

// Compile returns the curve of a mechanism, the wheel's travel over the stroke:
// pieces of fifth degree that share travel, lever ratio and its slope with the
// mechanism where they meet. Between, travel is within 1e-6 mm, lever ratio
// within 1e-7 and the slope within 1e-5 of its own size of the mechanism's.
func Compile(m *mechanism.Mechanism) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	if m == nil || !(m.Stroke() > 0) {
		c.Fail("mechanism", nil, "a mechanism", units.ErrMissing)
		return nil, c.Err()
	}
	f := func(s float64) node {
		p := m.Pose(units.Length(s))
		return node{s, float64(p.Travel), p.LeverRatio, float64(p.LeverRatioSlope)}
	}
	var nodes []node
	for _, s := range m.Strokes() {
		nodes = append(nodes, f(float64(s)))
	}
	pieces := make([]piece, 0, len(nodes)+8)
	for i := range nodes[1:] {
		pieces = refine(f, pieces, nodes[i], nodes[i+1], 12)
	}
	last := nodes[len(nodes)-1]
	curve := newCurve(pieces, last.s, last.w)
	if !curve.rises() {
		c.Fail("mechanism", nil, "a lever ratio from 0.001 to 1000 everywhere", nil)
		return nil, c.Err()
	}
	return curve, nil
}

// node is a function at one stroke: travel, lever ratio, and its slope.
type node struct{ s, w, r, g float64 }

// short reports whether an interval of the stroke is so short that the rounding
// of places, divided by its square, says more of the ratio's slope than what
// the slope does there. It isn't divided then, and a polynomial of third degree
// errs by less than either.
func short(a, b node) bool {
	const rounding = 1e-9 // of a double, over what is wanted of the slope
	h := b.s - a.s
	return h*h*max(1, math.Abs(a.g), math.Abs(b.g)) < rounding
}

// refine appends the pieces for one interval.
func refine(f func(s float64) node, pieces []piece, a, b node, depth int) []piece {
	p := quintic(a, b)
	at := f(a.s + (b.s-a.s)/2)
	h := b.s - a.s
	u := h / 2
	// What a quintic of length h misses of the travel is c·u³(h−u)³, nearly.
	// So the ratio is met in the middle whatever c is, and off by most at 0.28
	// and 0.72 of h: by h/7 of what the slope is off by in the middle.
	miss := math.Abs(p.slope(u) - at.g)
	near := math.Abs(p.travel(u)-at.w) <= travelWithin &&
		miss*h/7 <= ratioWithin &&
		miss <= slopeWithin*max(1, math.Abs(at.g))
	if near || depth == 0 || short(a, b) {
		return append(pieces, p)
	}
	pieces = refine(f, pieces, a, at, depth-1)
	return refine(f, pieces, at, b, depth-1)
}

// quintic returns the piece that shares travel, lever ratio and its slope with
// two nodes.
func quintic(a, b node) piece {
	h := b.s - a.s
	if short(a, b) {
		return piece{start: a.s, c: [6]float64{a.w, a.r, a.g / 2, (b.g - a.g) / (6 * h)}}
	}
	// What the cubic terms and above must add by the end.
	travel := b.w - a.w - h*(a.r+h*a.g/2)
	ratio := (b.r - a.r - h*a.g) * h
	slope := (b.g - a.g) * h * h
	h3 := h * h * h
	return piece{start: a.s, c: [6]float64{a.w, a.r, a.g / 2,
		(10*travel - 4*ratio + slope/2) / h3,
		(-15*travel + 7*ratio - slope) / (h3 * h),
		(6*travel - 3*ratio + slope/2) / (h3 * h * h)}}
}
