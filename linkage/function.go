package linkage

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

const (
	// Tolerances in the middle of a piece, a tenth of what NewFunction documents.
	travelTolerance = 1e-10 // m
	ratioTolerance  = 1e-8
	slopeTolerance  = 1e-6 // relative to itself or to one per metre, whichever is more

	// The stroke is divided into even parts, and these into pieces. A function that needs
	// more pieces, or one shorter than the share finest of the stroke, is not smooth.
	evenParts, mostPieces, finest = 20, 5000, 1e-9
)

// NewFunction returns the curve of a smooth function. At a stroke from 0 to the full one, f returns
// the vertical travel of the wheel, the lever ratio, which is the travel's derivative with respect to
// the stroke, and the slope, which is the ratio's. It is not called after NewFunction has returned.
//
// The curve is a chain of Hermite quintics that have f's travel, ratio and slope at their ends. A
// piece is halved until it agrees with f in its middle. The curve's travel is within 1e-6 mm of
// f's, its ratio within 1e-7 or a billionth of its value, whichever is more, and its slope within
// 1e-5 of its value or 1e-5/m. At a jump of f's slope the curve's slope changes within some
// hundredths of a millimetre. A feature of f narrower than a fortieth of the stroke may be missed.
//
// The stroke must be from 1 µm to 1 km. The travel must be 0 at a stroke of 0, all values finite,
// ratio and slope the derivatives, and the ratio from 0.001 to 1000. The error names stroke or
// function.
func NewFunction(stroke units.Length, f func(s units.Length) (travel units.Length, ratio float64, slope units.RatioSlope)) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	units.Between(&c, "stroke", stroke, minLength, maxLength)
	if f == nil {
		c.Fail("function", nil, "a function of the stroke", units.ErrMissing)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return approximate("function", "a smooth function, its ratio and slope its derivatives", float64(stroke), 0, func(s float64) way {
		w, r, g := f(units.Length(s))
		return way{up: hermite.Jet{Value: float64(w), Slope: r, Second: float64(g)}}
	})
}

// Compile returns the curve of a mechanism, to the accuracy that [NewFunction]
// states. The mechanism must not be nil or zero.
func Compile(m *mechanism.Mechanism) (*Curve, error) {
	if m == nil || !(m.Stroke() > 0) {
		return nil, &units.FieldError{Package: "linkage", Field: "mechanism", Want: units.Want{Text: "a mechanism"}, Class: units.ErrMissing}
	}
	axle := m.Pose(0).Axle
	scale := float64(m.ShockLength()) + math.Abs(float64(axle[0])) + math.Abs(float64(axle[1]))
	return approximate("stroke", "a stroke over which the axle moves smoothly", float64(m.Stroke()), scale, func(s float64) way {
		p := m.Pose(units.Length(s))
		return way{
			up:      hermite.Jet{Value: float64(p.Travel), Slope: p.LeverRatio, Second: float64(p.LeverRatioSlope)},
			forward: hermite.Jet{Value: -float64(p.WheelbaseGrowth), Slope: p.AxleForward, Second: float64(p.AxleForwardSlope)},
		}
	})
}

// way is how far the axle has moved from full extension, and its derivatives by the stroke.
type way struct{ up, forward hermite.Jet }

// approximation is the state of approximate.
type approximation struct {
	f             func(s float64) way
	stroke, scale float64 // m; f's ways have the rounding error of a length of scale
	pieces        []piece
	missed        bool    // f is not smooth
	exact         float64 // a factor of the tolerances, of that of the slope its root
}

// approximate returns the curve of f, or an error that names field. Of an f that is not smooth
// it says that smooth is wanted. F computes with lengths up to scale, in m, whose rounding is in its
// values.
func approximate(field, smooth string, stroke, scale float64, f func(s float64) way) (*Curve, error) {
	fail := func(format string, args ...any) (*Curve, error) {
		return nil, &units.FieldError{Package: "linkage", Field: field, Want: units.Want{Text: fmt.Sprintf(format, args...)}, Class: units.ErrRange}
	}
	from, end := f(0), f(stroke)
	switch {
	case !(math.Abs(from.up.Value) <= travelTolerance):
		return fail("a travel of 0 at a stroke of 0, not %v", units.Length(from.up.Value))
	case !(end.up.Value > 0 && end.up.Value < math.Inf(1)):
		return fail("a finite travel of more than 0 at full stroke, not %v", units.Length(end.up.Value))
	}
	a := approximation{f: f, stroke: stroke, scale: scale + stroke + end.up.Value, exact: 1}
	s := 0.0
	from.up.Value, from.forward.Value = 0, 0
	for i := range evenParts {
		next, to := stroke*(float64(i+1)/evenParts), end
		if next < stroke {
			to = f(next)
		}
		a.refine(s, next, &from, &to)
		s, from = next, to
	}
	if a.missed {
		return fail("%s", smooth)
	}
	return newCurve(a.pieces).ofUse(field, "a function with")
}

// refine appends the pieces between two strokes, at which f returns a and b: one
// piece, or those of both halves if one isn't within the tolerances.
func (p *approximation) refine(from, to float64, a, b *way) {
	h := to - from
	if p.missed = p.missed || len(p.pieces) >= mostPieces || !(h > finest*p.stroke); p.missed {
		return
	}
	middle := p.f(from + h/2)
	up, missedUp := p.fit(h, &a.up, &middle.up, &b.up)
	forward, missedForward := p.fit(h, &a.forward, &middle.forward, &b.forward)
	if max(missedUp, missedForward) <= 1 {
		p.pieces = append(p.pieces, piece{start: from, end: to, top: b.up.Value, Quintic: up, forward: forward})
		return
	}
	p.refine(from, from+h/2, a, &middle)
	p.refine(from+h/2, to, &middle, b)
}

// fit returns the polynomial between the jets a and b, h apart, and its greatest error against the jet
// in the middle and against b, divided by its tolerance.
func (p *approximation) fit(h float64, a, middle, b *hermite.Jet) (hermite.Quintic, float64) {
	rounding := 0x1p-52 * p.scale * max(1, middle.Slope)
	slopeNoise := 10 * rounding / (h * h)
	travelMost, ratioMost := p.exact*travelTolerance+rounding, p.exact*ratioTolerance+rounding/h
	slopeMost := math.Sqrt(p.exact)*slopeTolerance*max(1, math.Abs(middle.Second)) + slopeNoise
	// misses returns the greatest error of q in the middle and at b, divided by its tolerance. An error that
	// is even about the middle shows in the slope there, an odd one in the ratio. An error c·u³(h−u)³ of the
	// travel makes the greatest error of the ratio at 0.28 h and 0.72 h; it is h/7 times that of the slope in
	// the middle.
	misses := func(q *hermite.Quintic) float64 {
		slope := math.Abs(q.Second(h/2) - middle.Second)
		return max(slope/slopeMost,
			(math.Abs(q.Slope(h/2)-middle.Slope)/5+slope*h/7+math.Abs(q.Slope(h)-b.Slope))/ratioMost,
			(math.Abs(q.Value(h/2)-middle.Value)+math.Abs(q.Value(h)-b.Value))/travelMost)
	}
	q := hermite.New(h, *a, *b)
	missed := misses(&q)
	if slopeNoise > math.Sqrt(p.exact)*slopeTolerance { // a cubic, whose slope doesn't depend on the values, may be nearer
		smooth := hermite.Smooth(h, *a, *b)
		if other := misses(&smooth); other < missed {
			q, missed = smooth, other
		}
	}
	return q, missed
}
