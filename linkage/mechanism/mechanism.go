package mechanism

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Mechanism is a suspension solved over the whole stroke of its shock. [New] makes one.
// It never changes, and is safe for concurrent use. Its methods can't fail: strokes
// outside [0, Stroke] are clamped, and NaN counts as 0. They do not allocate unless they
// say so. The zero Mechanism doesn't move: its lengths are 0.
type Mechanism struct {
	units.Opaque[Mechanism]
	spec   Spec
	layout *layout
	solver solver
	tree   *tree
	axle   Mark
	nodes  []node // in units of the layout's size
}

// New solves a mechanism over its whole stroke.
//
// The error names every bad field:
//
//   - points: there are from 1 to 1000, each coordinate within ±100 m (points.A[0]).
//   - bodies: there are "frame" and from 1 to 12 others, which name known points, each
//     once, are all joined to the frame, and have exactly one degree of freedom without
//     the shock.
//   - axle: it is a point of a body that moves.
//   - carrier: it is one of the axle's bodies, and given where there are two or more.
//   - shock: its ends are apart, on two bodies that move against each other.
//   - stroke: it is from 1 µm to 1 km and less than the shock's length.
//   - slots: there are at most 36, each of a known body, with two separate points of that
//     body for its line and a point of another body on it (slots[0].point).
//
// A dead point inside the stroke or at its ends is refused with a [*LockError] of
// class [ErrLocks] that says where. So is a lever ratio outside 0.001 to 1000: the axle
// stops rising there, or moves without bound. At full extension an axle that doesn't
// rise is refused as the field axle. Dead points are found by following the motion in
// steps that its rates and their change permit, by the sign of the constraints'
// determinant and by how near it is to 0.
//
// Mechanisms made of dyads are solved by intersecting circles. Others are solved by
// Newton's method from the neighbouring poses, for the turn of each body about the pivot
// that joins it to its parent in a spanning tree, and for the place of a body that only
// slots hold. Both are exact to about 1e-12 of the size of the mechanism.
//
// Not modelled: play, flex and friction; a shock that is pulled longer; over-constrained bodies, such as
// a parallelogram with a link to spare, which the error names.
func New(s Spec) (*Mechanism, error) { return follow(s, newSolver, steps) }

// NewCoarse is like [New] but follows the motion in the given number of even steps
// instead of 100; fewer than 2 count as 2. It is for searches that solve many mechanisms.
// Poses are as exact, but the lever ratio is checked at fewer strokes.
func NewCoarse(s Spec, steps int) (*Mechanism, error) { return follow(s, newSolver, max(steps, 2)) }

// follow is New with the solver and the number of even steps given.
func follow(s Spec, newSolver func(*layout, *tree) solver, steps int) (*Mechanism, error) {
	c := units.Checker{Package: "mechanism"}
	l := newLayout(&c, s)
	if l == nil {
		return nil, c.Err()
	}
	t := newTree(l)
	m := &Mechanism{spec: s.clone(), layout: l, tree: t, solver: newSolver(l, t), axle: t.mark(l.axle)}
	var lock *LockError
	if m.nodes, lock = trace(l, m.solver, m.axle, steps); lock != nil {
		if lock.At == 0 && l.overConstrained() {
			c.Fail("bodies", nil, "bodies that are not over-constrained in one place and loose in another", units.ErrConflict)
			return nil, c.Err()
		}
		return nil, lock
	}
	if err := m.checkRatio(); err != nil {
		return nil, err
	}
	return m, nil
}

const minRatio, maxRatio = 1e-3, 1e3 // permitted lever ratios

// checkRatio checks the lever ratio at the nodes, and where it is least or greatest between.
func (m *Mechanism) checkRatio() error {
	var here motion
	slope := func(s float64) float64 {
		m.solve(s, &here)
		return imag(here.acceleration(m.axle))
	}
	a := &m.nodes[0]
	for i := range m.nodes {
		b := &m.nodes[i]
		err := m.permitted(a.stroke, imag(b.v))
		if err == nil && math.Signbit(imag(a.a)) != math.Signbit(imag(b.a)) {
			if s, none := root.Find(slope, a.stroke, b.stroke, 1e-9*m.layout.stroke); none == nil {
				m.solve(s, &here)
				err = m.permitted(a.stroke, imag(here.velocity(m.axle)))
			}
		}
		if err != nil {
			return err
		}
		a = b
	}
	return nil
}

// permitted returns an error if a lever ratio that follows the stroke s is not permitted.
func (m *Mechanism) permitted(s, ratio float64) error {
	switch {
	case ratio >= minRatio && ratio <= maxRatio:
		return nil
	case ratio < minRatio && s == 0:
		want := "a point that rises as the shock is compressed from full extension"
		if ratio <= -minRatio {
			want += "; it sinks: a shock that is pulled longer as the wheel rises is not modelled"
		}
		return &units.FieldError{Package: "mechanism", Field: "axle", Value: m.spec.Axle, Class: units.ErrConflict, Want: units.Want{Text: want}}
	case ratio < minRatio:
		return m.layout.locks(s, "the axle stops rising while the shock is compressed")
	}
	return m.layout.locks(s, "the axle moves by more than 1000 times what the shock does")
}

// solve writes the motion at a stroke inside [0, stroke]. It calls the solvers by their
// concrete types: through the interface the motion would escape to the heap.
func (m *Mechanism) solve(s float64, at *motion) {
	switch solver := m.solver.(type) {
	case *closedForm:
		solver.step(s, at)
	case *newton:
		solver.at(s, at)
	}
}

// clamp returns a stroke in the layout's units.
func (m *Mechanism) clamp(stroke units.Length) float64 {
	if !(stroke > 0) {
		return 0
	}
	return min(float64(stroke)/m.layout.size, m.layout.stroke)
}

// Spec returns a copy of the description that the mechanism was made from. It allocates.
func (m *Mechanism) Spec() Spec { return m.spec.clone() }

// ClosedForm reports whether poses are solved in closed form, by intersecting circles,
// and not by Newton's method.
func (m *Mechanism) ClosedForm() bool {
	_, ok := m.solver.(*closedForm)
	return ok
}

// Stroke returns the full stroke of the shock.
func (m *Mechanism) Stroke() units.Length { return m.spec.Stroke }

// ShockLength returns the length of the shock, eye to eye, at full extension.
func (m *Mechanism) ShockLength() units.Length {
	if m.layout == nil {
		return 0
	}
	return units.Length(m.layout.length * m.layout.size)
}

// Travel returns the vertical travel of the axle at full stroke.
func (m *Mechanism) Travel() units.Length { return m.Pose(m.Stroke()).Travel }

// Strokes returns the strokes at which the motion was followed, rising from 0 to full
// stroke. It allocates.
func (m *Mechanism) Strokes() []units.Length {
	list := make([]units.Length, len(m.nodes))
	for i := range m.nodes {
		list[i] = units.Length(m.nodes[i].stroke * m.layout.size)
	}
	return list
}

// String returns the moving bodies, the stroke, the travel and the lever ratio at both ends.
func (m Mechanism) String() string {
	if m.layout == nil {
		return "no mechanism"
	}
	return fmt.Sprintf("mechanism of %s: stroke %v, travel %.1f, lever ratio %.3f to %.3f",
		strings.Join(m.layout.bodies[1:], ", "), m.Stroke(), m.Travel(), imag(m.nodes[0].v), imag(m.nodes[len(m.nodes)-1].v))
}

// PathLength returns the length of the axle's path from full extension to a stroke, clamped
// to [0, Stroke]: ∫|dP/ds| ds for the axle's place P.
func (m *Mechanism) PathLength(stroke units.Length) units.Length {
	if m.layout == nil {
		return 0
	}
	var here motion
	s := m.clamp(stroke)
	m.solve(s, &here)
	after := sort.Search(len(m.nodes), func(i int) bool { return m.nodes[i].stroke > s })
	from := &m.nodes[max(after-1, 0)]
	to := axleAt(m.axle, &here)
	return units.Length((from.path + arc(s-from.stroke, &from.sample, &to)) * m.layout.size)
}

// Positions returns the place of every point by name at a stroke, clamped to [0, Stroke],
// as for a drawing. It allocates the map.
func (m *Mechanism) Positions(stroke units.Length) map[string]Point {
	if m.layout == nil {
		return nil
	}
	var here motion
	m.solve(m.clamp(stroke), &here)
	places := make(map[string]Point, len(m.spec.Points))
	for name := range m.spec.Points {
		places[name] = pointAt(here.position(m.tree.mark(m.layout.first(name))), m.layout.size)
	}
	return places
}
