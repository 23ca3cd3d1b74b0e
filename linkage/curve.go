package linkage

import (
	"fmt"
	"iter"
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Curve is the vertical travel of the wheel as a function of the stroke of the shock, or of a fork
// along its stanchions. It is made by [New], [NewConstant], [NewFork], [NewTable], [FitReadings],
// [Compile] or [NewFunction], never changes, and is safe for concurrent use.
//
// Its methods can't fail: an argument outside the stroke or the travel is
// clamped, and NaN counts as 0. Over the whole stroke the travel rises and the
// lever ratio is more than 0. The zero Curve has no stroke and a lever ratio of 1.
type Curve struct {
	units.Opaque[Curve]
	pieces         []piece
	stroke, travel float64 // of the pieces, m
	factor         float64 // of travel, ratio and slope against the pieces'
	byStroke       index
	byTravel       index
	progression    Progression
	headAngle      units.Angle // of a fork; 0 for any other
}

// Progression is how the lever ratio changes over the stroke.
type Progression struct {
	// Value is (Start − End)/Start, such as 0.2 for 20 %. It is positive if the
	// ratio falls, which makes the wheel force rise by more than the spring's.
	// Some texts divide by End or by the mean ratio instead.
	Value float64 `json:"value"`
	Start float64 `json:"start"` // lever ratio at full extension
	End   float64 `json:"end"`   // at full stroke
	Min   float64 `json:"min"`   // the least over the whole stroke
	Max   float64 `json:"max"`   // the greatest over the whole stroke

	MinAt units.Length `json:"min_at"` // the stroke of the least, the first of several
	MaxAt units.Length `json:"max_at"` // and of the greatest
}

// Sample is a curve's values at one stroke.
type Sample struct {
	Stroke          units.Length     `json:"stroke"`
	Travel          units.Length     `json:"travel"`
	LeverRatio      float64          `json:"lever_ratio"`
	LeverRatioSlope units.RatioSlope `json:"lever_ratio_slope"`
}

// Limits of a curve: far beyond any real linkage, and narrow enough that nothing
// computed from it overflows.
const (
	minRatio, maxRatio   = 1e-3, 1e3
	minLength, maxLength = 1e-6 * units.Metre, 1e3 * units.Metre
)

// newCurve joins pieces, the first at stroke 0 and travel 0.
func newCurve(pieces []piece) *Curve {
	last := &pieces[len(pieces)-1]
	c := &Curve{pieces: pieces, stroke: last.end, travel: last.top, factor: 1}
	c.progression = Progression{Start: pieces[0].Quintic[1], End: last.Slope(last.length()), Min: math.Inf(1), Max: math.Inf(-1)}
	c.progression.Value = (c.progression.Start - c.progression.End) / c.progression.Start
	starts, travels := make([]float64, len(pieces)), make([]float64, len(pieces))
	for i := range pieces {
		starts[i], travels[i] = pieces[i].start, pieces[i].Quintic[0]
		pieces[i].extremes(&c.progression)
	}
	c.byStroke, c.byTravel = newIndex(starts, c.stroke), newIndex(travels, c.travel)
	return c
}

// ofUse returns the curve, or an error about a field if its lever ratio is not
// within the bounds everywhere.
func (c *Curve) ofUse(field, what string) (*Curve, error) {
	p := &c.progression
	if p.Min >= minRatio && p.Max <= maxRatio {
		return c, nil
	}
	return nil, &units.FieldError{Package: "linkage", Field: field, Class: units.ErrRange,
		Want: units.Want{Text: fmt.Sprintf("%s a lever ratio from %g to %g everywhere, not from %.3g to %.3g", what, minRatio, maxRatio, p.Min, p.Max)}}
}

// Scaled returns the curve over the same stroke whose travel and lever ratio are factor
// times as large. The factor must be more than 0 and leave the lever ratio within 0.001 to
// 1000 and the travel at most 1 km; otherwise the error names factor.
func (c *Curve) Scaled(factor float64) (*Curve, error) {
	s := *c
	s.factor *= factor
	p := &s.progression
	p.Start, p.End = s.LeverRatio(0), s.LeverRatio(s.Stroke())
	p.Value = (p.Start - p.End) / p.Start
	p.Min, p.Max = min(p.Min*factor, p.Start, p.End), max(p.Max*factor, p.Start, p.End)
	if !(s.Travel() <= maxLength) { // NaN fails
		return nil, &units.FieldError{Package: "linkage", Field: "factor", Value: factor, Want: units.AtMost(maxLength).With("as the travel"), Class: units.ErrRange}
	}
	return s.ofUse("factor", "a scaled curve with")
}

// at returns the piece that a stroke, clamped, lies in, and how far into it that is.
func (c *Curve) at(stroke units.Length) (*piece, float64) {
	s := float64(spring.Clamp(stroke, units.Length(c.stroke)))
	p := &c.pieces[c.byStroke.find(s)]
	return p, s - p.start
}

// Stroke returns the full stroke of the shock, or the full travel along a fork's stanchions.
func (c *Curve) Stroke() units.Length { return units.Length(c.stroke) }

// Travel returns the full vertical travel of the wheel.
func (c *Curve) Travel() units.Length { return units.Length(c.travel * c.factor) }

// TravelAt returns the vertical travel of the wheel from full extension, in m,
// at a stroke from full extension; the stroke is clamped to [0, Stroke].
func (c *Curve) TravelAt(stroke units.Length) units.Length {
	switch {
	case !(stroke > 0):
		return 0
	case stroke >= c.Stroke():
		return c.Travel()
	}
	s := float64(stroke)
	p := &c.pieces[c.byStroke.find(s)]
	return units.Length(min(p.Value(s-p.start), p.top) * c.factor) // rounding may pass the top by a last digit
}

// StrokeAt returns the stroke at which the wheel has moved by a travel. It is the
// inverse of TravelAt to within rounding. The travel is clamped to [0, Travel].
func (c *Curve) StrokeAt(travel units.Length) units.Length {
	switch {
	case !(travel > 0):
		return 0
	case travel >= c.Travel():
		return c.Stroke()
	}
	p, u := c.invert(float64(travel))
	return units.Length(p.start + u)
}

// invert returns the piece that a travel inside (0, Travel) lies in, and how far
// into it the stroke is.
func (c *Curve) invert(w float64) (*piece, float64) {
	w /= c.factor
	p := &c.pieces[c.byTravel.find(w)]
	return p, p.stroke(w)
}

// LeverRatio returns LR = dw/ds at a stroke, the wheel's travel per stroke: 2.5
// means 2.5 mm for 1 mm. The stroke is clamped to [0, Stroke].
func (c *Curve) LeverRatio(stroke units.Length) float64 {
	if len(c.pieces) == 0 {
		return 1
	}
	p, u := c.at(stroke)
	return p.Slope(u) * c.factor
}

// LeverRatioSlope returns dLR/ds in 1/m at a stroke, negative where the ratio
// falls; the stroke is clamped to [0, Stroke]. Where two pieces of a curve
// meet it is the right-hand value, at full stroke the left-hand one.
func (c *Curve) LeverRatioSlope(stroke units.Length) units.RatioSlope {
	if len(c.pieces) == 0 {
		return 0
	}
	p, u := c.at(stroke)
	return units.RatioSlope(p.Second(u) * c.factor)
}

// Progression returns how the lever ratio changes from full extension to full stroke, its least and
// its greatest value included. The extremes are those of the curve itself, not of samples of it.
func (c *Curve) Progression() Progression { return c.progression }

// Samples yields n samples at even steps of the stroke, the first at full extension and the last at
// full stroke. For n = 1 it yields the first alone, for n below 1 or a nil curve none.
func (c *Curve) Samples(n int) iter.Seq[Sample] {
	return func(yield func(Sample) bool) {
		if c == nil {
			return
		}
		for i := range max(n, 0) {
			s := c.Stroke() * units.Length(float64(i)/float64(max(n-1, 1)))
			if !yield(Sample{s, c.TravelAt(s), c.LeverRatio(s), c.LeverRatioSlope(s)}) {
				return
			}
		}
	}
}

// String returns the curve's stroke, travel and lever ratio at both ends as text.
func (c Curve) String() string {
	return fmt.Sprintf("curve: stroke %v, travel %.1f, lever ratio %.3f to %.3f", c.Stroke(), c.Travel(), c.LeverRatio(0), c.LeverRatio(c.Stroke()))
}
