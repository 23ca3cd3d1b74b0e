package mechanism

import (
	"maps"
	"math"
	"slices"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Mechanism is a mechanism's motion over the whole stroke of its shock. It is
// made by [New] and never changes, so that any number of goroutines
// may share one.
//
// Its methods can't fail: strokes outside [0, Stroke], and NaN, are clamped.
// None allocates but those that say so. The zero Mechanism doesn't move.
type Mechanism struct {
	spec  Spec
	t     *topology
	dyads []dyad // nil where only Newton's method solves it
	start complex128

	strokes []float64 // of the nodes; all in units of the topology's size
	states  []float64 // for Newton's method
	samples []sample  // the axle at each node
	length  []float64 // of the axle path up to each node
}

// Pose is where a mechanism's wheel is at one stroke of the shock, and how it
// moves there. All derivatives are exact, by the stroke s.
type Pose struct {
	Stroke units.Length `json:"stroke"`
	// Travel is how far the axle has risen from full extension.
	Travel units.Length `json:"travel"`
	// LeverRatio is LR = dw/ds of the vertical travel w, and LeverRatioSlope
	// dLR/ds in 1/m.
	LeverRatio      float64          `json:"lever_ratio"`
	LeverRatioSlope units.RatioSlope `json:"lever_ratio_slope"`
	// Axle is where the axle is; AxleForward is dx/ds of its place, positive
	// where the wheel moves forward.
	Axle        Point   `json:"axle"`
	AxleForward float64 `json:"axle_forward"`
	// AxleGrowth is by how much the axle's distance from the bottom bracket,
	// the origin, has grown from full extension.
	AxleGrowth units.Length `json:"axle_growth"`
	// WheelbaseGrowth is by how much the axle has moved backward, which is
	// what the rear adds to the wheelbase with the front end as it is.
	WheelbaseGrowth units.Length `json:"wheelbase_growth"`
	// CarrierTurn is by how much the body that carries the wheel has turned
	// from full extension, counter-clockwise, within half a turn.
	CarrierTurn units.Angle `json:"carrier_turn"`
	// CarrierTurning is the derivative of that turn, in rad per m of stroke.
	CarrierTurning float64 `json:"carrier_turning"`
	// InstantCentre is the point that this body turns about at the moment,
	// against the frame. Where it hardly turns the centre is far away; it is
	// put at most 1000 km from the axle, in the direction in which it vanishes.
	InstantCentre Point `json:"instant_centre"`
}

// New solves a mechanism over its whole stroke and returns its
// motion.
//
// The input is refused with one error that names every bad field: points
// whose coordinates aren't within ±100 m (points.A[0]), bodies that name
// unknown points, aren't all joined, or can't move in exactly one way
// (bodies), an axle or a shock that names no point of a moving body, or a
// shock with both ends on one body (axle, shock), a stroke that isn't more
// than 0 and less than the shock's length (stroke), at most 12 moving bodies.
//
// A dead point inside the stroke, or at its ends, is refused with a
// [*LockError] of class [ErrLocks] that says where. Dead points are found by
// following the motion step by step, no step longer than what the rates and
// their change permit, and by the constraints' determinant, its sign and how
// near it is to 0; a small residual proves nothing. So are strokes at which the
// axle doesn't rise: a lever ratio below 1/1000 or above 1000.
//
// Where the bodies follow one from another by pairs that share a pivot
// (dyads), poses are solved by intersecting circles, else by Newton's method
// from the neighbouring poses, for the turn of each body about a pivot that it
// hangs by (and for the place of one that only slots hold). Both are exact to
// about 1e-12 of the size of the mechanism.
//
// Not modelled: play, flex and friction; bodies that are held more often than
// they need be, such as a parallelogram with a link to spare.
func New(m Spec) (*Mechanism, error) { return follow(m, true, steps) }

// NewCoarse is [New] with the stroke divided into so many even steps, at least
// 2, instead of 100. Its poses are as exact; that the axle rises is checked at
// fewer strokes. It is for searches that look at many mechanisms.
func NewCoarse(m Spec, steps int) (*Mechanism, error) { return follow(m, true, max(steps, 2)) }

// follow solves a mechanism over its stroke, in as many even steps or more, with
// the closed form or without.
func follow(m Spec, closedForm bool, steps int) (*Mechanism, error) {
	t, err := newTopology(m)
	if err != nil {
		return nil, err
	}
	var dyads []dyad
	if closedForm {
		dyads = t.dyads()
	}
	tr, lock := t.trace(dyads, steps)
	if lock != nil {
		if lock.At == 0 && heldTwice(m) {
			return nil, &units.FieldError{Package: "mechanism", Field: "bodies", Class: units.ErrConflict,
				Want: "bodies of which none is held too often while others are free"}
		}
		return nil, lock
	}
	k := &Mechanism{spec: m.clone(), t: t, dyads: dyads, start: tr.samples[0].place}
	k.fill(tr)
	if err := k.rises(); err != nil {
		return nil, err
	}
	return k, nil
}

// rises checks that the lever ratio is a usable number, at the nodes and where
// it is least or greatest between two.
func (k *Mechanism) rises() error {
	for i := range k.samples {
		if r := imag(k.samples[i].v); !(r >= minRatio && r <= maxRatio) {
			return k.unusable(k.strokes[max(0, i-1)], r)
		}
	}
	for i := range k.samples[1:] {
		a, b := &k.samples[i], &k.samples[i+1]
		if math.Signbit(imag(a.a)) == math.Signbit(imag(b.a)) {
			continue
		}
		slope := func(s float64) float64 {
			var m motion
			k.eval(s, &m)
			return imag(m.acceleration(k.t.axle))
		}
		s, err := root.Find(slope, k.strokes[i], k.strokes[i+1], 1e-9*k.t.stroke)
		if err != nil {
			continue
		}
		var m motion
		k.eval(s, &m)
		if r := imag(m.velocity(k.t.axle)); !(r >= minRatio && r <= maxRatio) {
			return k.unusable(k.strokes[i], r)
		}
	}
	return nil
}

// unusable says that the axle doesn't rise properly from a stroke on.
func (k *Mechanism) unusable(s, ratio float64) error {
	stroke, at := k.spec.Stroke, units.Length(s*k.t.size)
	switch {
	case ratio < minRatio && s == 0:
		return &units.FieldError{Package: "mechanism", Field: "axle", Value: k.spec.Axle, Class: units.ErrConflict,
			Want: "a point that rises as the shock is compressed from full extension"}
	case ratio < minRatio:
		return locks(stroke, at, "the axle rises no more while the shock is compressed")
	}
	return locks(stroke, at, "the axle moves by more than 1000 times what the shock does")
}

func (m Spec) clone() Spec {
	m.Points = maps.Clone(m.Points)
	m.Bodies = maps.Clone(m.Bodies)
	for name, points := range m.Bodies {
		m.Bodies[name] = slices.Clone(points)
	}
	m.Slots = slices.Clone(m.Slots)
	return m
}

// fill takes over the nodes of a trace and sums the axle's path.
func (k *Mechanism) fill(tr *tracer) {
	k.strokes, k.states = tr.strokes, tr.states
	k.samples, k.length = tr.samples, make([]float64, len(tr.samples))
	for i := range k.length[1:] {
		k.length[i+1] = k.length[i] + arc(k.strokes[i+1]-k.strokes[i], &k.samples[i], &k.samples[i+1])
	}
}

// arc returns how long the axle's path is from one sample to another, h of
// stroke on: the integral of the speed along the quintic that shares place and
// derivatives with both, by Gauss and Legendre's rule of five points.
func arc(h float64, from, to *sample) float64 {
	switch {
	case !(h > 0):
		return 0
	case h < 1e-6: // the places differ by little more than their rounding
		return h / 2 * (abs(from.v) + abs(to.v))
	}
	// Places and weights, from 0 on over half a unit.
	const (
		x1, w1 = 0.26923465505284155, 0.23931433524968324
		x2, w2 = 0.4530899229693320, 0.11846344252809454
		w0     = 0.28444444444444444
	)
	speed := func(x float64) float64 {
		y := 1 - x
		bump := 30 * x * x * y * y
		first := func(x float64) float64 { return 1 + x*x*(-18+x*(32-15*x)) }
		second := func(x float64) float64 { return x * (1 + x*(-4.5+x*(6-2.5*x))) }
		v := scale(bump/h, to.place-from.place) + scale(first(x), from.v) + scale(first(y), to.v) +
			scale(h*second(x), from.a) - scale(h*second(y), to.a)
		return abs(v)
	}
	return h * (w0*speed(0.5) + w1*(speed(0.5-x1)+speed(0.5+x1)) + w2*(speed(0.5-x2)+speed(0.5+x2)))
}

// eval writes the motion at a stroke inside [0, stroke].
func (k *Mechanism) eval(s float64, m *motion) {
	if k.dyads != nil {
		k.t.closed(k.dyads, s, m)
		return
	}
	var q coordinates
	k.predict(s, &q)
	if k.t.unknowns > maxMoving { // with bodies that float
		var room [maxUnknowns * maxUnknowns]float64
		k.t.newton(s, &q, m, &system{lu: room[:]})
		return
	}
	var room [maxMoving * maxMoving]float64
	k.t.newton(s, &q, m, &system{lu: room[:]})
}

// interval returns the number of the interval between nodes that a stroke lies in.
func (k *Mechanism) interval(s float64) int {
	i, met := slices.BinarySearch(k.strokes, s)
	if !met {
		i--
	}
	return min(max(i, 0), len(k.strokes)-2)
}

// predict writes the coordinates between two nodes, by the quintic that shares
// both nodes' values and derivatives.
func (k *Mechanism) predict(s float64, q *coordinates) {
	i := k.interval(s)
	n := k.t.unknowns * perUnknown
	between(k.strokes[i:i+2], k.states[i*n:(i+2)*n], s, q)
}

// between writes the coordinates at the stroke s by the quintic that shares
// values and derivatives with both of two nodes, whose states follow each other:
// between these or not far beyond.
func between(strokes, states []float64, s float64, q *coordinates) {
	h := strokes[1] - strokes[0]
	x := (s - strokes[0]) / h
	n := len(states) / 2
	w := quinticWeights(x, h)
	for i, at := 0, 0; at < n; i, at = i+1, at+perUnknown {
		a, b := states[at:at+perUnknown], states[n+at:n+at+perUnknown]
		q[i] = w[0]*a[0] + w[1]*a[1] + w[2]*a[2] + w[3]*b[0] + w[4]*b[1] + w[5]*b[2]
	}
}

// quinticWeights returns what value, slope and second derivative at both ends
// of an interval of length h weigh at the share x of it.
func quinticWeights(x, h float64) [6]float64 {
	y := 1 - x
	// Hermite's quintic in its symmetric form.
	side := func(x, y float64) (value, slope, second float64) {
		y3 := y * y * y
		return y3 * (1 + 3*x + 6*x*x), y3 * x * (1 + 3*x), y3 * x * x / 2
	}
	v0, s0, d0 := side(x, y)
	v1, s1, d1 := side(y, x)
	return [6]float64{v0, h * s0, h * h * d0, v1, -h * s1, h * h * d1}
}

// clamp returns a stroke in the topology's units.
func (k *Mechanism) clamp(stroke units.Length) float64 {
	if !(stroke > 0) {
		return 0
	}
	return min(float64(stroke)/k.t.size, k.t.stroke)
}

// Spec returns what the mechanism was made from, a copy. It allocates.
func (k *Mechanism) Spec() Spec { return k.spec.clone() }

// ClosedForm reports whether poses are solved by intersecting circles, rather
// than by Newton's method.
func (k *Mechanism) ClosedForm() bool { return k.dyads != nil }

// Stroke returns the full stroke of the shock.
func (k *Mechanism) Stroke() units.Length { return k.spec.Stroke }

// ShockLength returns the length of the shock, eye to eye, at full extension.
func (k *Mechanism) ShockLength() units.Length {
	if k.t == nil {
		return 0
	}
	return units.Length(k.t.length * k.t.size)
}

// Travel returns the full vertical travel of the wheel.
func (k *Mechanism) Travel() units.Length {
	if k.t == nil {
		return 0
	}
	return units.Length(imag(k.samples[len(k.samples)-1].place-k.start) * k.t.size)
}

// Strokes returns the strokes at which the mechanism was followed, from 0 to
// full stroke: even steps, and shorter ones where the motion changes fast. It
// allocates.
func (k *Mechanism) Strokes() []units.Length {
	list := make([]units.Length, len(k.strokes))
	for i, s := range k.strokes {
		list[i] = units.Length(s * k.t.size)
	}
	return list
}

// farthest is how far from the axle an instant centre is put at most.
const farthest = 1e6 * units.Metre

// Pose returns where the wheel is at a stroke, clamped to [0, Stroke], and how
// it moves there.
func (k *Mechanism) Pose(stroke units.Length) Pose {
	if k.t == nil {
		return Pose{}
	}
	var m motion
	s := k.clamp(stroke)
	k.eval(s, &m)
	return k.pose(s, &m)
}

func (k *Mechanism) pose(s float64, m *motion) Pose {
	t := k.t
	at := t.sample(m)
	carrier := &m[t.axle.body]
	moved := at.place - k.start
	return Pose{
		Stroke:          units.Length(s * t.size),
		Travel:          units.Length(imag(moved) * t.size),
		LeverRatio:      imag(at.v),
		LeverRatioSlope: units.RatioSlope(imag(at.a) / t.size),
		Axle:            t.point(at.place),
		AxleForward:     real(at.v),
		AxleGrowth:      units.Length((abs(at.place) - abs(k.start)) * t.size),
		WheelbaseGrowth: units.Length(real(k.start-at.place) * t.size),
		CarrierTurn:     units.Angle(math.Atan2(imag(carrier.u), real(carrier.u))),
		CarrierTurning:  carrier.w / t.size,
		InstantCentre:   t.point(at.place + centre(at.v, carrier.w, float64(farthest)/t.size)),
	}
}

// centre returns the place, seen from a point with velocity v, about which a
// body turns at the rate w: i·v/w, at most far away.
func centre(v complex128, w, far float64) complex128 {
	speed := abs(v)
	if !(speed > 0) {
		return 0
	}
	distance := math.Copysign(far, w)
	if math.Abs(w)*far > speed {
		distance = speed / w
	}
	return scale(distance/speed, turn(v))
}

func (t *topology) point(z complex128) Point {
	return Point{units.Length(real(z) * t.size), units.Length(imag(z) * t.size)}
}

// PathLength returns how long the axle's path is from full extension to a
// stroke, clamped to [0, Stroke]: ∫|dP/ds| ds, the travel and what the wheel
// moves forward and backward taken together.
func (k *Mechanism) PathLength(stroke units.Length) units.Length {
	if k.t == nil {
		return 0
	}
	s := k.clamp(stroke)
	var m motion
	k.eval(s, &m)
	at := k.t.sample(&m)
	i := k.interval(s)
	length := k.length[i] + arc(s-k.strokes[i], &k.samples[i], &at)
	return units.Length(length * k.t.size)
}

// Positions returns where every point is at a stroke, clamped to [0, Stroke],
// as for a drawing. It allocates the map.
func (k *Mechanism) Positions(stroke units.Length) map[string]Point {
	if k.t == nil {
		return nil
	}
	var m motion
	k.eval(k.clamp(stroke), &m)
	places := make(map[string]Point, len(k.spec.Points))
	for name := range k.spec.Points {
		places[name] = k.t.point(m.position(k.t.first(name)))
	}
	return places
}
