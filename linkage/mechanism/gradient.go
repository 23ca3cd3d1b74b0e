package mechanism

import (
	"slices"

	"example.com/wheelrate/units"
)

// Hole is a point of one body, the frame included. At a pivot each of the bodies that it joins has a
// hole of its own.
type Hole struct {
	Body  string `json:"body"`
	Point string `json:"point"`
}

// Gradient holds the derivatives of a number by the places of the mechanism's holes, and by the length
// of its shock. They are first-order: what a hole that is off its place by a small
// distance does. They are per metre, of a length in m and of any other number in its SI unit.
//
// A hole is off in its own body only. Every other body keeps its shape, the shock its length at full
// extension, and the mechanism is assembled anew. The axes are those of the frame, x
// forward and y up, with the mechanism at full extension; they turn with the body. The stroke is
// the same before and after.
type Gradient struct {
	Holes [][2]float64 // by x and by y of each hole, in the order of [Mechanism.Holes]
	// ShockLength is the derivative by the length of the shock at full extension.
	ShockLength float64
}

// AddScaled adds f times the derivatives of h, a gradient of the same mechanism or the zero
// Gradient, to g. The result is the gradient of the sum.
func (g *Gradient) AddScaled(f float64, h Gradient) {
	if g.Holes == nil {
		g.Holes = make([][2]float64, len(h.Holes))
	}
	for i, d := range h.Holes {
		g.Holes[i][0] += f * d[0]
		g.Holes[i][1] += f * d[1]
	}
	g.ShockLength += f * h.ShockLength
}

// Holes returns the holes of a mechanism: those of the frame, then those of the other bodies in the
// order of their names, each body's as its description lists them. It allocates.
func (m *Mechanism) Holes() []Hole {
	if m.layout == nil {
		return nil
	}
	return slices.Clone(m.layout.holes)
}

// PointGradient returns the derivatives of a number with the gradient g by x and y of a point of the
// drawing, [Spec.Points]. All bodies that it belongs to follow, and so does the length of the shock where
// it is one of its eyes. For an unknown point they are 0.
func (m *Mechanism) PointGradient(g Gradient, point string) [2]float64 {
	var sum [2]float64
	if m.layout == nil {
		return sum
	}
	for i, d := range g.Holes {
		if m.layout.holes[i].Point == point {
			sum[0] += d[0]
			sum[1] += d[1]
		}
	}
	if i := slices.Index(m.layout.eyes[:], point); i >= 0 {
		eyes := m.layout.eyes
		along := scale(g.ShockLength/m.layout.length, m.layout.points[point]-m.layout.points[eyes[1-i]])
		sum[0] += real(along)
		sum[1] += imag(along)
	}
	return sum
}

// PointMotionGradient holds the gradients of the place of a point of a body, and of its velocity.
type PointMotionGradient struct {
	Place    [2]Gradient // of x and y
	Velocity [2]Gradient // of dx/ds and dy/ds
}

// PointMotionGradient returns the gradients of the place of a point and of its velocity,
// [Motion.Place] and [Motion.Velocity], at a stroke, which is clamped to [0, Stroke]. The mark of
// [Mechanism.Axle] moves with the axle's hole in the body that carries the wheel; one of
// [Mechanism.Mark] is fixed to its body. It allocates.
//
// By the principle of virtual work, a hole that is off its place by δ moves the point by as much as a
// unit force on the point pushes on the hole along δ. So the forces of the mechanism in equilibrium
// are the gradient of the place, and their derivatives by the stroke that of the velocity:
// one factored matrix gives all of them.
func (m *Mechanism) PointMotionGradient(stroke units.Length, p Mark) PointMotionGradient {
	var g PointMotionGradient
	if m.layout == nil {
		return g
	}
	st := m.statics(m.clamp(stroke))
	for axis := range 2 {
		unit := Load{At: p}
		unit.Force[axis] = 1
		g.Place[axis], g.Velocity[axis] = m.gradients(st, unit)
	}
	return g
}

// TurnGradient returns the gradients of the angle of the body that a point is fixed to,
// [Motion.Turn], and of the rate at which it turns, [Motion.Turning], at a stroke, which is clamped
// to [0, Stroke]. The angle counts from the axes as drawn: a hole off its place turns bodies at full
// extension too. It allocates.
func (m *Mechanism) TurnGradient(stroke units.Length, p Mark) (turn, turning Gradient) {
	if m.layout == nil {
		return Gradient{}, Gradient{}
	}
	return m.gradients(m.statics(m.clamp(stroke)), Load{At: p, Moment: 1})
}

// gradients returns the gradients of the displacement that a unit load does work along, and of its
// derivative by the stroke.
func (m *Mechanism) gradients(st *statics, unit Load) (place, velocity Gradient) {
	holes, p := len(m.layout.holes), unit.At
	e := st.balance(holes, unit)
	e.force[p.hole] += unit.force()
	moment := float64(unit.Moment) / st.size
	place.ShockLength = -dot(unit.force(), st.m.velocity(p)) - moment*st.m[p.body].w
	velocity.ShockLength = -(dot(unit.force(), st.m.acceleration(p)) + moment*st.m[p.body].dw) / st.size
	both := make([][2]float64, 2*holes)
	place.Holes, velocity.Holes = both[:holes:holes], both[holes:]
	hole := 0
	for b := range m.layout.bodies {
		// The body's own axes have turned by u: of ū·F the derivative is ū·(F′ − iw·F).
		back, w := complex(real(st.m[b].u), -imag(st.m[b].u)), st.m[b].w
		for ; hole < m.layout.starts[b+1]; hole++ {
			force := e.force[hole+1]
			rate := back * scale(1/st.size, e.rate[hole+1]-scale(w, turn(force)))
			force *= back
			place.Holes[hole] = [2]float64{real(force), imag(force)}
			velocity.Holes[hole] = [2]float64{real(rate), imag(rate)}
		}
	}
	return place, velocity
}

// PoseGradient holds the gradients of a mechanism's pose: of the fields of [Pose] of these names.
type PoseGradient struct {
	Travel, LeverRatio           Gradient
	WheelbaseGrowth, AxleForward Gradient
	Axle                         [2]Gradient
}

// PoseGradient returns the gradients of the pose at a stroke, which is clamped to [0, Stroke].
// The travel counts from where the axle is at full extension with the hole off its place. It
// allocates.
func (m *Mechanism) PoseGradient(stroke units.Length) PoseGradient {
	start, here := m.PointMotionGradient(0, m.axle), m.PointMotionGradient(stroke, m.axle)
	g := PoseGradient{LeverRatio: here.Velocity[1], AxleForward: here.Velocity[0], Axle: here.Place}
	g.Travel.AddScaled(1, here.Place[1])
	g.Travel.AddScaled(-1, start.Place[1])
	g.WheelbaseGrowth.AddScaled(1, start.Place[0])
	g.WheelbaseGrowth.AddScaled(-1, here.Place[0])
	return g
}

// ProgressionGradient returns the gradient of the progression (LR₀ − LR₁)/LR₀ from the lever ratio LR₀
// at full extension to LR₁ at full stroke. It allocates.
func (m *Mechanism) ProgressionGradient() Gradient {
	var g Gradient
	from, to := m.Pose(0).LeverRatio, m.Pose(m.Stroke()).LeverRatio
	if from > 0 {
		g.AddScaled(to/(from*from), m.PointMotionGradient(0, m.axle).Velocity[1])
		g.AddScaled(-1/from, m.PointMotionGradient(m.Stroke(), m.axle).Velocity[1])
	}
	return g
}
