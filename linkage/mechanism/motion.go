package mechanism

import (
	"fmt"
	"slices"

	"example.com/wheelrate/units"
)

// place is a point of a body, seen from the body's own origin at full extension.
// Where that origin is, each solver decides.
type place struct {
	body int
	r    complex128
}

// origins are the places of the bodies' own origins at full extension.
type origins []complex128

func (o origins) place(p pin) place { return place{p.body, p.at - o[p.body]} }

// bodyMotion is where a body is and how it moves with the stroke: a point at r
// from the body's origin at full extension is at o + u·r. Lengths are in units
// of the layout's size, and so is the stroke that derivatives are taken by.
type bodyMotion struct {
	u, o  complex128 // turn, of length 1, and place of the origin
	v, a  complex128 // o′ and o″
	w, dw float64    // θ′ and θ″ of the turn u = exp(iθ)
}

// motion is that of every body; the frame, the first, stands still.
type motion [maxMoving + 1]bodyMotion

// position returns where a point is.
func (m *motion) position(p place) complex128 {
	b := &m[p.body]
	return b.o + b.u*p.r
}

// velocity returns the first derivative of a point's place by the stroke.
func (m *motion) velocity(p place) complex128 { return m[p.body].velocity(m[p.body].u * p.r) }

// acceleration returns the second derivative of a point's place by the stroke.
func (m *motion) acceleration(p place) complex128 { return m[p.body].acceleration(m[p.body].u * p.r) }

// velocity returns the first derivative of the place of the body's point that is
// arm away from its origin.
func (b *bodyMotion) velocity(arm complex128) complex128 { return b.v + scale(b.w, turn(arm)) }

// acceleration returns the second derivative of the place of that point.
func (b *bodyMotion) acceleration(arm complex128) complex128 {
	return b.a + complex(-b.w*b.w, b.dw)*arm
}

// Motion is where the bodies of a mechanism are at one stroke of the shock, and
// how they move there, as [Mechanism.ReadMotion] writes it.
type Motion struct {
	m      motion
	size   float64
	stroke units.Length
}

// Mark is a point fixed to one body of a mechanism, seen from that body. Make one with
// [Mechanism.Mark] or [Mechanism.Axle], and use it with motions of the same mechanism only.
type Mark struct{ at place }

// Mark returns the point fixed to a body that is at a place at full extension; it need not be one
// of the mechanism's points. It reports false if there is no such body.
func (m *Mechanism) Mark(body string, at Point) (Mark, bool) {
	if m.layout == nil {
		return Mark{}, false
	}
	b := slices.Index(m.layout.bodies, body)
	if b < 0 {
		return Mark{}, false
	}
	size := m.layout.size
	return Mark{m.solver.place(pin{b, complex(float64(at[0])/size, float64(at[1])/size)})}, true
}

// Axle returns the axle, as a point of the body that carries the wheel.
func (m *Mechanism) Axle() Mark { return Mark{m.axle} }

// ReadMotion writes to at the motion at a stroke, clamped to [0, Stroke]. It allocates nothing; to
// return a Motion, which is large, would take a quarter of the time of a pose in closed form.
func (m *Mechanism) ReadMotion(stroke units.Length, at *Motion) {
	if m.layout == nil {
		*at = Motion{}
		return
	}
	s := m.clamp(stroke)
	at.size, at.stroke = m.layout.size, units.Length(s*m.layout.size)
	m.solve(s, &at.m)
}

// Place returns where a point is.
func (m *Motion) Place(p Mark) Point { return pointAt(m.m.position(p.at), m.size) }

// Velocity returns the derivative of a point's place by the stroke, x and y.
func (m *Motion) Velocity(p Mark) [2]float64 {
	v := m.m.velocity(p.at)
	return [2]float64{real(v), imag(v)}
}

// Turning returns the derivative, by the stroke, of the turn of the body that
// the point is fixed to: counter-clockwise, in rad/m.
func (m *Motion) Turning(p Mark) float64 {
	if m.size == 0 {
		return 0
	}
	return m.m[p.at.body].w / m.size
}

// String says at which stroke the motion is.
func (m Motion) String() string { return fmt.Sprintf("motion at a stroke of %v", m.stroke) }

func pointAt(z complex128, size float64) Point {
	return Point{units.Length(real(z) * size), units.Length(imag(z) * size)}
}
