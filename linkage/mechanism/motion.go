package mechanism

import (
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Mark is a point fixed to one body of a mechanism. [Mechanism.Mark] and [Mechanism.Axle]
// make one. It is valid only with motions of the same mechanism.
type Mark struct {
	body int
	hole int        // the number of the hole that it is, from 1; 0 for any other point
	r    complex128 // from the body's origin at full extension
}

// bodyMotion is the place of a body and its derivatives by the stroke. A point at r from
// the body's origin at full extension is at o + u·r. Lengths, the stroke too, are in units
// of the layout's size.
type bodyMotion struct {
	u, o  complex128 // turn, of length 1, and place of the origin
	v, a  complex128 // o′ and o″
	w, dw float64    // θ′ and θ″ of the turn u = exp(iθ)
}

// motion is the motion of every body by number; the frame, number 0, stands still.
type motion [maxMoving + 1]bodyMotion

// position returns where a point is.
func (m *motion) position(p Mark) complex128 {
	b := &m[p.body]
	return b.o + b.u*p.r
}

// velocity and acceleration return the first and the second derivative of a point's
// place by the stroke.
func (m *motion) velocity(p Mark) complex128 { return m[p.body].velocity(m[p.body].u * p.r) }

func (m *motion) acceleration(p Mark) complex128 { return m[p.body].acceleration(m[p.body].u * p.r) }

// velocity and acceleration are those of the body's point that is arm away from its origin.
func (b *bodyMotion) velocity(arm complex128) complex128 { return b.v + scale(b.w, turn(arm)) }

func (b *bodyMotion) acceleration(arm complex128) complex128 {
	return b.a + complex(-b.w*b.w, b.dw)*arm
}

// shift moves the body's origin by r at full extension.
func (b *bodyMotion) shift(r complex128) {
	if r != 0 {
		arm := b.u * r
		b.o, b.v, b.a = b.o+arm, b.velocity(arm), b.acceleration(arm)
	}
}

// solver computes the motion of the bodies at a stroke. There are two: closedForm
// for mechanisms that are made of dyads, newton for all. It is started at full
// extension and stepped to full stroke; from then on it never changes.
type solver interface {
	// start solves full extension, and reports whether that is no dead point.
	start(m *motion) bool
	// step solves the stroke to, which follows the last one kept. It reports whether
	// there is a solution on the branch that the mechanism is on.
	step(to float64, m *motion) bool
	// keep keeps the stroke s, which was solved last, as a node for later ones.
	keep(s float64, m *motion)
}

// newSolver returns the solver for a layout.
func newSolver(l *layout, t *tree) solver {
	if c := newClosedForm(l, t); c != nil {
		return c
	}
	return newNewton(t)
}

// Motion holds the places of a mechanism's bodies at one stroke of the shock, with their
// derivatives by the stroke. [Mechanism.ReadMotion] fills it.
type Motion struct {
	units.Opaque[Motion]
	m    motion
	size float64
}

// Mark returns the point of a body that is at the place at when the shock is fully extended.
// It need not be one of the mechanism's points. Mark reports false if there is no such body.
func (m *Mechanism) Mark(body string, at Point) (Mark, bool) {
	if m.layout == nil {
		return Mark{}, false
	}
	b, size := slices.Index(m.layout.bodies, body), m.layout.size
	if b < 0 {
		return Mark{}, false
	}
	return m.tree.mark(pin{body: b, at: complex(float64(at[0])/size, float64(at[1])/size)}), true
}

// Axle returns the axle as a point of the body that carries the wheel.
func (m *Mechanism) Axle() Mark { return m.axle }

// ReadMotion sets at to the motion at a stroke, clamped to [0, Stroke]. A Motion is large:
// returning a copy would take a quarter of the time of solving it.
func (m *Mechanism) ReadMotion(stroke units.Length, at *Motion) {
	if m.layout == nil {
		*at = Motion{}
		return
	}
	at.size = m.layout.size
	m.solve(m.clamp(stroke), &at.m)
}

// Place returns the place of a point.
func (m *Motion) Place(p Mark) Point { return pointAt(m.m.position(p), m.size) }

// Velocity returns the derivatives of a point's x and y by the stroke, in m per m.
func (m *Motion) Velocity(p Mark) [2]float64 {
	v := m.m.velocity(p)
	return [2]float64{real(v), imag(v)}
}

// Turn returns the angle by which the body that the point is fixed to has turned from full
// extension, counter-clockwise, from −π to π.
func (m *Motion) Turn(p Mark) units.Angle {
	u := m.m[p.body].u
	return units.Angle(math.Atan2(imag(u), real(u)))
}

// Turning returns the derivative by the stroke of the angle of the body that the point is
// fixed to, in rad per m, positive counter-clockwise.
func (m *Motion) Turning(p Mark) float64 {
	if m.size == 0 {
		return 0
	}
	return m.m[p.body].w / m.size
}

func pointAt(z complex128, size float64) Point {
	return Point{units.Length(real(z) * size), units.Length(imag(z) * size)}
}

// Points and vectors are complex numbers, x + iy. Package math/cmplx lacks these
// operations, or is slower because it guards against overflow.

func unit(angle float64) complex128 {
	sin, cos := math.Sincos(angle)
	return complex(cos, sin)
}

func abs(z complex128) float64      { return math.Sqrt(dot(z, z)) }
func dot(a, b complex128) float64   { return real(a)*real(b) + imag(a)*imag(b) }
func cross(a, b complex128) float64 { return real(a)*imag(b) - imag(a)*real(b) }

func turn(a complex128) complex128             { return complex(-imag(a), real(a)) } // by a quarter turn
func scale(f float64, a complex128) complex128 { return complex(f*real(a), f*imag(a)) }
