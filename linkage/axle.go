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
	a := Axle{Up: c.TravelAt(stroke), UpRate: 1}
	if len(c.pieces) == 0 {
		return a
	}
	p, u := c.at(stroke)
	a.UpRate, a.UpSlope = p.Slope(u)*c.factor, units.RatioSlope(p.Second(u)*c.factor)
	if len(c.forward) > 0 {
		s := p.start + u
		q := &c.forward[c.byForward.find(s)]
		u = s - q.start
		a.Forward, a.ForwardRate, a.ForwardSlope = units.Length(q.Value(u)*c.factor), q.Slope(u)*c.factor, units.RatioSlope(q.Second(u)*c.factor)
	}
	return a
}

// HeadAngle returns the angle of a fork's stanchions from the horizontal, and reports false for any
// other curve and for one that is [Curve.Scaled].
func (c *Curve) HeadAngle() (units.Angle, bool) { return c.headAngle, c.headAngle > 0 && c.factor == 1 }

// moveForward gives a curve the pieces of how far the axle moves forward over its stroke.
func (c *Curve) moveForward(pieces []piece) {
	starts := make([]float64, len(pieces))
	for i := range pieces {
		starts[i] = pieces[i].start
	}
	c.forward, c.byForward = pieces, newIndex(starts, c.stroke)
}
