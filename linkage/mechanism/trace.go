package mechanism

import (
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// steps is in how many even parts the stroke is divided; in more where it takes more.
const steps = 100

// finest is the share of the stroke below which a step isn't made shorter: the
// mechanism locks there.
const finest = 1e-6

// tracer follows a mechanism from full extension to full stroke without ever
// leaving the branch it starts on.
//
// The determinant of the constraints being of one sign at two strokes, and
// each of them solved to the last digit, does not tell that the mechanism gets
// from one to the other: between them the motion may turn back twice. So a
// step is taken only as far as the motion is known to be smooth. Near a dead
// point the rates grow as one over the square root of the distance to it,
// which bounds the step by a share of that distance: the steps shrink and
// never reach it.
type tracer struct {
	t       *topology
	dyads   []dyad
	sys     *system
	q       coordinates // of the last node
	sign    float64     // of the constraints' determinant at full extension
	strokes []float64
	states  []float64 // for Newton's method: what each node holds, see keep
	samples []sample
}

// sample is the motion of the axle at a node.
type sample struct {
	place, v, a complex128 // and its derivatives by the stroke
}

// trace returns the mechanism followed over its stroke in as many even steps or
// more, or where it locks.
func (t *topology) trace(dyads []dyad, steps int) (*tracer, *LockError) {
	tr := &tracer{t: t, dyads: dyads}
	tr.strokes, tr.samples = make([]float64, 0, steps+1), make([]sample, 0, steps+1)
	here, next := new(motion), new(motion)
	if dyads == nil {
		t.hang()
		t.rest(&tr.q)
		tr.sys = &system{lu: make([]float64, t.unknowns*t.unknowns)}
		tr.states = make([]float64, 0, (steps+1)*perUnknown*t.unknowns)
	}
	if !tr.start(here) {
		return nil, tr.lock(0)
	}
	tr.keep(0, &tr.q, here)
	even := 1
	for s := 0.0; s < t.stroke; {
		to := t.stroke * float64(even) / float64(steps)
		if even == steps {
			to = t.stroke
		}
		if h := t.smooth(here); h < to-s {
			to = s + h
		}
		q := tr.q
		for !tr.reach(here, next, &q, s, to) {
			if to = s + (to-s)/2; !(to-s > finest*t.stroke) {
				return nil, tr.lock(s)
			}
			q = tr.q
		}
		here, next = next, here
		s, tr.q = to, q
		tr.keep(s, &tr.q, here)
		for even < steps && t.stroke*float64(even)/float64(steps) <= s {
			even++
		}
	}
	return tr, nil
}

func (tr *tracer) lock(s float64) *LockError {
	return locks(units.Length(tr.t.stroke*tr.t.size), units.Length(s*tr.t.size),
		"members come into line and the motion can't go on from there")
}

// start solves the motion at full extension and tells whether it isn't a dead point.
func (tr *tracer) start(m *motion) bool {
	if tr.dyads != nil {
		return tr.t.closed(tr.dyads, 0, m)
	}
	if !tr.t.newton(0, &tr.q, m, tr.sys) {
		return false
	}
	tr.sign = tr.sys.sign
	return tr.sys.least > singular
}

// smooth returns how far the motion may be taken to be smooth: a share of the
// rates over how fast they change. Near a dead point that is a share of the
// distance to it.
func (t *topology) smooth(m *motion) float64 {
	rate, change := 0.0, 0.0
	for _, b := range m[1:len(t.bodies)] {
		rate += dot(b.v, b.v) + b.w*b.w
		change += dot(b.a, b.a) + b.dw*b.dw
	}
	return 0.3 * math.Sqrt(rate/change)
}

// reach solves the motion at the stroke to, starting from s, and tells whether
// it belongs to one smooth motion with that at s.
func (tr *tracer) reach(from, m *motion, q *coordinates, s, to float64) bool {
	t, h := tr.t, to-s
	if tr.dyads != nil {
		if !t.closed(tr.dyads, to, m) {
			return false
		}
	} else {
		tr.foretell(from, q, s, to)
		if !t.newton(to, q, m, tr.sys) {
			return false
		}
		if tr.sys.sign != tr.sign || !(tr.sys.least > singular) {
			return false
		}
	}
	return t.joins(from, m, h)
}

// foretell writes where the bodies are likely to be at the stroke to, from q at
// s: so near, mostly, that one step of Newton's method is enough.
func (tr *tracer) foretell(from *motion, q *coordinates, s, to float64) {
	h, nodes := to-s, len(tr.strokes)
	if nodes >= 2 && h <= 2*(s-tr.strokes[nodes-2]) {
		n := 2 * tr.t.unknowns * perUnknown
		between(tr.strokes[nodes-2:], tr.states[len(tr.states)-n:], to, q)
		return
	}
	for _, body := range tr.t.order {
		at, b := &tr.t.hung[body], &from[body]
		q[at.at] += h * (b.w + h/2*b.dw)
		if at.floats {
			q[at.at+1] += h * (real(b.v) + h/2*real(b.a))
			q[at.at+2] += h * (imag(b.v) + h/2*imag(b.a))
		}
	}
}

// joins tells whether two motions, h of stroke apart, belong to one smooth
// motion: with both ends' first and second derivatives Taylor's formula meets
// in the middle, to a millionth of the way. A jump to another branch doesn't.
func (t *topology) joins(from, to *motion, h float64) bool {
	for i := 1; i < len(t.bodies); i++ {
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

// perUnknown is what a node holds for each coordinate: itself, its first and its
// second derivative.
const perUnknown = 3

// keep stores a node.
func (tr *tracer) keep(s float64, q *coordinates, m *motion) {
	tr.strokes = append(tr.strokes, s)
	tr.samples = append(tr.samples, tr.t.sample(m))
	if tr.dyads != nil {
		return
	}
	for _, body := range tr.t.order {
		h, b := &tr.t.hung[body], &m[body]
		tr.states = append(tr.states, q[h.at], b.w, b.dw)
		if h.floats {
			tr.states = append(tr.states, q[h.at+1], real(b.v), real(b.a), q[h.at+2], imag(b.v), imag(b.a))
		}
	}
}

func (t *topology) sample(m *motion) sample {
	return sample{m.position(t.axle), m.velocity(t.axle), m.acceleration(t.axle)}
}

// heldTwice tells whether a mechanism that can't move as it is drawn could not
// either with its points a little elsewhere: some bodies are then held too
// often and others are free, whatever the count of all says.
func heldTwice(m Spec) bool {
	if len(m.Slots) > 0 {
		return false // a moved point would leave its slot
	}
	moved := m
	moved.Points = make(map[string]Point, len(m.Points))
	t, err := newTopology(m)
	if err != nil {
		return false
	}
	angle := 0.0
	names := make([]string, 0, len(m.Points))
	for name := range m.Points {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		angle += 2.399963229728653 // the golden angle: no two alike
		p := m.Points[name]
		by := units.Length(0.03 * t.size)
		p[0] += by * units.Length(math.Cos(angle))
		p[1] += by * units.Length(math.Sin(angle))
		moved.Points[name] = p
	}
	if t, err = newTopology(moved); err != nil {
		return false
	}
	t.hang()
	sys := system{lu: make([]float64, t.unknowns*t.unknowns)}
	var q coordinates // where no body floats, all 0 at full extension
	var at motion
	t.place(&q, &at)
	t.jacobian(&at, &sys)
	sys.factor()
	return !(sys.least > singular)
}
