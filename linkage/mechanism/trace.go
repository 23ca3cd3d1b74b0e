package mechanism

import (
	"math"

	"example.com/wheelrate/units"
)

const (
	steps  = 100  // even steps over the stroke; they are divided where the motion isn't smooth
	finest = 1e-6 // the shortest step, as a share of the stroke; if it is too long the mechanism locks
)

// node is the motion of the axle at a stroke that the mechanism was followed to.
type node struct {
	stroke float64
	sample
	path float64 // length of the axle's path up to here
}

// sample is a place and its derivatives by the stroke.
type sample struct{ place, v, a complex128 }

// axleAt returns the axle's sample of a motion.
func axleAt(axle Mark, m *motion) sample {
	return sample{m.position(axle), m.velocity(axle), m.acceleration(axle)}
}

// trace follows a mechanism from full extension to full stroke, in as many even
// steps or more, without ever leaving the branch it starts on.
//
// A determinant of the same sign at two strokes, with small residuals, does not show that the
// mechanism gets from one to the other: it may turn back twice between them. So no step is longer
// than the motion is known to be smooth. Near a dead point the rates grow as one over the square root
// of the distance to it, which bounds the step by a share of that distance: no step reaches it.
func trace(l *layout, solver solver, axle Mark, steps int) ([]node, *LockError) {
	const reason = "members come into line and the motion can't go on from there"
	here, next := new(motion), new(motion)
	if !solver.start(here) {
		return nil, l.locks(0, reason)
	}
	nodes := make([]node, 0, steps+1)
	keep := func(s float64) {
		solver.keep(s, here)
		n := node{stroke: s, sample: axleAt(axle, here)}
		if len(nodes) > 0 {
			last := &nodes[len(nodes)-1]
			n.path = last.path + arc(s-last.stroke, &last.sample, &n.sample)
		}
		nodes = append(nodes, n)
	}
	keep(0)
	moving := len(l.bodies)
	at := func(even int) float64 { return l.stroke * (float64(even) / float64(steps)) }
	even := 1
	for s := 0.0; s < l.stroke; {
		to := min(at(even), s+smooth(here[1:moving]))
		for !solver.step(to, next) || !joins(here[1:moving], next[1:moving], to-s) {
			if to = s + (to-s)/2; !(to-s > finest*l.stroke) {
				return nil, l.locks(s, reason)
			}
		}
		here, next, s = next, here, to
		keep(s)
		for even < steps && at(even) <= s {
			even++
		}
	}
	return nodes, nil
}

// smooth returns how far the motion may be taken to be smooth: a share of the
// rates over how fast they change.
func smooth(bodies []bodyMotion) float64 {
	rate, change := 0.0, 0.0
	for i := range bodies {
		b := &bodies[i]
		rate += dot(b.v, b.v) + b.w*b.w
		change += dot(b.a, b.a) + b.dw*b.dw
	}
	return 0.3 * math.Sqrt(rate/change)
}

// joins reports whether two motions, h of stroke apart, belong to one smooth motion:
// Taylor's formulas with the first and second derivatives at both ends agree in the
// middle, to a millionth of the way. After a jump to another branch they don't.
func joins(from, to []bodyMotion, h float64) bool {
	for i := range from {
		p, q := &from[i], &to[i]
		way := h * (abs(p.v) + abs(q.v) + math.Abs(p.w) + math.Abs(q.w))
		o := q.o - p.o - scale(h/2, p.v+q.v) + scale(h*h/12, q.a-p.a)
		// u′ = iw·u, u″ = (iw′ − w²)·u
		u := q.u - p.u - scale(h/2, scale(p.w, turn(p.u))+scale(q.w, turn(q.u))) +
			scale(h*h/12, complex(-q.w*q.w, q.dw)*q.u-complex(-p.w*p.w, p.dw)*p.u)
		if !(abs(o)+abs(u) <= 1e-6*way+1e-13) {
			return false
		}
	}
	return true
}

// ErrLocks is the class of the error of a mechanism that can't be used over its whole
// stroke. It comes to a dead point, where two members are in line and the mechanism locks
// or may go on in more than one way; or its axle stops rising.
var ErrLocks = units.NewClass("locks", "locks inside its stroke", units.ErrRange)

// LockError is the error of class [ErrLocks]: where a mechanism locks, and why.
type LockError struct {
	At     units.Length // the stroke up to which the mechanism can be used
	Reason string       // what happens there
	field  units.FieldError
}

// Error returns the place and the reason.
func (e *LockError) Error() string { return e.field.Error() }

// Unwrap returns the error of the field stroke, of the class [ErrLocks].
func (e *LockError) Unwrap() error { return &e.field }

// Under returns the error with path put before its field, as [units.At] does.
func (e *LockError) Under(path string) error {
	moved := *e
	moved.field = *units.Fields(units.At(path, &e.field))[0]
	return &moved
}

// locks returns the error for a mechanism that moves up to the stroke s, in
// units of the layout's size.
func (l *layout) locks(s float64, reason string) *LockError {
	at := units.Length(s * l.size)
	want := units.Want{Text: "a mechanism that moves from full extension on, where it locks: " + reason}
	if at > 0 { // rounded down, to as many decimals as leave two digits
		decimals := max(2, 1-math.Floor(math.Log10(at.Millimetres())))
		power := math.Pow(10, decimals)
		below := units.Length(math.Floor(at.Millimetres()*power)/power) * units.Millimetre
		want = units.LessThan(below).With("where the mechanism locks: " + reason)
	}
	return &LockError{At: at, Reason: reason, field: units.FieldError{
		Package: "mechanism", Field: "stroke", Value: units.Length(l.stroke * l.size), Class: ErrLocks, Want: want,
	}}
}
