package linkage

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

const (
	// How near a curve comes to the function that it is made of, a tenth of what is promised.
	travelTolerance = 1e-10 // m
	ratioTolerance  = 1e-8
	slopeTolerance  = 1e-6 // relative to itself or to one per metre, whichever is more

	// The stroke is divided into even parts and these further. A function that takes more
	// pieces or finer ones, as a share of the whole, is not smooth.
	evenParts, mostPieces, finest = 20, 5000, 1e-9
)

// NewFunction returns the curve of a smooth function of the stroke: f returns, at a stroke from 0
// to the full one, the vertical travel of the wheel, its derivative, the lever ratio, and the
// derivative of that, the slope. F is not called after NewFunction has returned.
//
// The curve consists of as many of Hermite's quintics as it takes, which share travel, ratio and
// slope with f where they meet. Each is compared with f in the middle: the travel is within 1e-6 mm
// of f's, the ratio within 1e-7, or a billionth of its size if that is more, and the slope within
// 1e-5 of its size. Where f's slope jumps, the curve's changes within some hundredths of a
// millimetre. What f does within a fortieth of the stroke may be missed.
//
// The stroke must be 1 µm to 1 km, the travel of f 0 at a stroke of 0, its values finite, its ratio
// and slope its derivatives, and the ratio from 0.001 to 1000. The error names stroke or function.
func NewFunction(stroke units.Length, f func(s units.Length) (travel units.Length, ratio float64, slope units.RatioSlope)) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	units.Between(&c, "stroke", stroke, minLength, maxLength)
	if f == nil {
		c.Fail("function", nil, "a function of the stroke", units.ErrMissing)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return approximate("function", float64(stroke), 0, func(s float64) hermite.Jet {
		w, r, g := f(units.Length(s))
		return hermite.Jet{Value: float64(w), Slope: r, Second: float64(g)}
	})
}

// Compile returns the curve of a mechanism, the wheel's travel over the stroke,
// as near to it as [NewFunction] says.
func Compile(m *mechanism.Mechanism) (*Curve, error) {
	if m == nil || !(m.Stroke() > 0) {
		return nil, &units.FieldError{Package: "linkage", Field: "mechanism", Want: "a mechanism", Class: units.ErrMissing}
	}
	axle := m.Pose(0).Axle
	scale := float64(m.ShockLength()) + math.Abs(float64(axle[0])) + math.Abs(float64(axle[1]))
	return approximate("stroke", float64(m.Stroke()), scale, func(s float64) hermite.Jet {
		p := m.Pose(units.Length(s))
		return hermite.Jet{Value: float64(p.Travel), Slope: p.LeverRatio, Second: float64(p.LeverRatioSlope)}
	})
}

// approximation is a curve in the making.
type approximation struct {
	f             func(s float64) hermite.Jet
	stroke, scale float64 // the rounding of lengths of the scale, in m, is in f's values
	pieces        []piece
	missed        bool // f is not smooth
}

// approximate returns the curve of f, which computes with lengths of the scale, in
// m, or an error about a field.
func approximate(field string, stroke, scale float64, f func(s float64) hermite.Jet) (*Curve, error) {
	fail := func(format string, args ...any) (*Curve, error) {
		return nil, &units.FieldError{Package: "linkage", Field: field, Want: fmt.Sprintf(format, args...), Class: units.ErrRange}
	}
	from, to := f(0), f(stroke)
	switch {
	case !(math.Abs(from.Value) <= travelTolerance):
		return fail("a travel of 0 at a stroke of 0, not %v", units.Length(from.Value))
	case !(to.Value > 0 && to.Value < math.Inf(1)):
		return fail("a finite travel of more than 0 at full stroke, not %v", units.Length(to.Value))
	}
	a := approximation{f: f, stroke: stroke, scale: scale + stroke + to.Value}
	from.Value = 0
	s := 0.0
	for i := range evenParts {
		next := stroke * (float64(i+1) / evenParts)
		there := to
		if next < stroke {
			there = f(next)
		}
		a.refine(s, next, &from, &there)
		s, from = next, there
	}
	if a.missed {
		return fail("a smooth function, its ratio and slope its derivatives")
	}
	return newCurve(a.pieces, stroke, to.Value).ofUse(field, "a function with")
}

// refine appends the pieces from one stroke to another, where the jets are a and
// b: one, or more if that is not near enough to f.
func (p *approximation) refine(from, to float64, a, b *hermite.Jet) {
	h := to - from
	if p.missed = p.missed || len(p.pieces) >= mostPieces || !(h > finest*p.stroke); p.missed {
		return
	}
	middle := p.f(from + h/2)
	// The rounding of the travel, the greater the greater the ratio, is divided by
	// h in the ratio and by its square in the slope: more pieces make that worse.
	rounding := 0x1p-52 * p.scale * max(1, math.Abs(middle.Slope))
	slopeNoise := 10 * rounding / (h * h)
	travelMost, ratioMost := travelTolerance+rounding, ratioTolerance+rounding/h
	slopeMost := slopeTolerance*max(1, math.Abs(middle.Second)) + slopeNoise
	// misses is by how much a polynomial misses f in the middle and at the end, against what it
	// may. There what it misses shows in the slope if it is even about the middle, and in the ratio
	// if it is odd: missing c·u³(h−u)³ of the travel, it misses the ratio by most at 0.28 and 0.72
	// of h, by h/7 of what it misses of the slope in the middle.
	misses := func(q *hermite.Quintic) float64 {
		slope := math.Abs(q.Second(h/2) - middle.Second)
		return max(slope/slopeMost,
			(math.Abs(q.Slope(h/2)-middle.Slope)/5+slope*h/7+math.Abs(q.Slope(h)-b.Slope))/ratioMost,
			(math.Abs(q.Value(h/2)-middle.Value)+math.Abs(q.Value(h)-b.Value))/travelMost)
	}
	q := hermite.New(h, *a, *b)
	missed := misses(&q)
	if slopeNoise > slopeTolerance { // a cubic that leaves the values out of the slope is better, unless it is too stiff
		smooth := hermite.Smooth(h, *a, *b)
		if other := misses(&smooth); other < missed {
			q, missed = smooth, other
		}
	}
	if missed <= 1 {
		p.pieces = append(p.pieces, piece{start: from, Quintic: q})
		return
	}
	p.refine(from, from+h/2, a, &middle)
	p.refine(from+h/2, to, &middle, b)
}
