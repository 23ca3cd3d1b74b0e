package linkage

import "example.com/wheelrate/units"

// Axle is how far the axle of the wheel has moved from full extension at one stroke s, with the frame
// held still, and its derivatives by s.
type Axle struct {
	Forward      units.Length     `json:"forward"`       // x, less than 0 to the rear
	Up           units.Length     `json:"up"`            // w, the vertical travel
	ForwardRate  float64          `json:"forward_rate"`  // dx/ds
	UpRate       float64          `json:"up_rate"`       // dw/ds, the lever ratio
	ForwardSlope units.RatioSlope `json:"forward_slope"` // d²x/ds² in 1/m
	UpSlope      units.RatioSlope `json:"up_slope"`      // d²w/ds² in 1/m
}

// AxleAt returns where the axle is at a stroke in m from full extension, which is clamped to
// [0, Stroke].
//
// Behind a fork at the head angle φ the axle moves along the stanchions, x = −s·cos φ. Behind pivots it
// moves along its own path, to the accuracy that [NewFunction] states for the travel. Of a constant
// ratio, a table or a function only the travel is known, and x is 0.
func (c *Curve) AxleAt(stroke units.Length) Axle {
	if len(c.pieces) == 0 {
		return Axle{UpRate: 1}
	}
	p, u := c.at(stroke)
	q := &p.forward
	return Axle{
		Forward: units.Length(q.Value(u) * c.factor), ForwardRate: q.Slope(u) * c.factor, ForwardSlope: units.RatioSlope(q.Second(u) * c.factor),
		Up: c.TravelAt(stroke), UpRate: p.Slope(u) * c.factor, UpSlope: units.RatioSlope(p.Second(u) * c.factor),
	}
}

// HeadAngle returns the angle of a fork's stanchions from the horizontal, and reports false for any
// other curve and for one that is [Curve.Scaled].
func (c *Curve) HeadAngle() (units.Angle, bool) { return c.headAngle, c.headAngle > 0 && c.factor == 1 }
