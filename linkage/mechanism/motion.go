package mechanism

import (
	"slices"

	"example.com/wheelrate/units"
)

// bodyMotion is where a body is and how it moves with the stroke: a point at r
// from the body's origin at full extension is at o + u·r. Lengths are in units
// of the topology's size, and so is the stroke that derivatives are taken by.
type bodyMotion struct {
	u, o  complex128 // turn, of length 1, and place of the origin
	v, a  complex128 // o′ and o″
	w, dw float64    // θ′ and θ″ of the turn u = exp(iθ)
}

// motion is that of every body; of the frame, the first, nothing moves.
type motion [maxMoving + 1]bodyMotion

// position returns where a point is.
func (m *motion) position(p place) complex128 {
	b := &m[p.body]
	return b.o + b.u*p.r
}

// velocity returns the first derivative of a point's place by the stroke.
func (m *motion) velocity(p place) complex128 {
	b := &m[p.body]
	return b.v + scale(b.w, turn(b.u*p.r))
}

// acceleration returns the second derivative of a point's place by the stroke.
func (m *motion) acceleration(p place) complex128 {
	b := &m[p.body]
	return b.a + complex(-b.w*b.w, b.dw)*(b.u*p.r)
}

// Motion is where the bodies of a mechanism are at one stroke of the shock, and
// how they move there. Make one with [Mechanism.Motion].
type Motion struct {
	m    motion
	size float64
}

// Mark is a point fixed to one body of a mechanism; see [Mechanism.Mark].
type Mark struct{ at place }

// Mark returns the point that is fixed to a body, by its place at full
// extension; it need not be one of the mechanism's points. It reports false for
// a body that there is none of.
func (k *Mechanism) Mark(body string, at Point) (Mark, bool) {
	if k.t == nil {
		return Mark{}, false
	}
	b := slices.Index(k.t.bodies, body)
	if b < 0 {
		return Mark{}, false
	}
	z := complex(float64(at[0])/k.t.size, float64(at[1])/k.t.size)
	return Mark{place{b, z - k.t.origin[b]}}, true
}

// Axle returns the axle, as a point of the body that carries the wheel.
func (k *Mechanism) Axle() Mark {
	if k.t == nil {
		return Mark{}
	}
	return Mark{k.t.axle}
}

// Motion returns the motion at a stroke, clamped to [0, Stroke].
func (k *Mechanism) Motion(stroke units.Length) (m Motion) {
	if k.t == nil {
		return m
	}
	m.size = k.t.size
	k.eval(k.clamp(stroke), &m.m)
	return m
}

// Place returns where a point is, in m: x forward, y up from the bottom
// bracket's axis.
func (m *Motion) Place(p Mark) Point {
	z := m.m.position(p.at)
	return Point{units.Length(real(z) * m.size), units.Length(imag(z) * m.size)}
}

// Velocity returns the derivative of a point's place by the stroke, x and y.
func (m *Motion) Velocity(p Mark) [2]float64 {
	v := m.m.velocity(p.at)
	return [2]float64{real(v), imag(v)}
}

// Turning returns the derivative, by the stroke, of the turn of the body that
// the point is fixed to, counter-clockwise, in rad/m.
func (m *Motion) Turning(p Mark) float64 { return m.m[p.at.body].w / m.size }

// rebase gives a body another origin at full extension.
func (t *topology) rebase(body int, origin complex128) {
	shift := t.origin[body] - origin
	t.origin[body] = origin
	move := func(p *place) {
		if p.body == body {
			p.r += shift
		}
	}
	for i := range t.joints {
		move(&t.joints[i].a)
		move(&t.joints[i].b)
	}
	for i := range t.slots {
		move(&t.slots[i].a)
		move(&t.slots[i].b)
	}
	move(&t.shock.a)
	move(&t.shock.b)
	move(&t.axle)
}
