package linkage

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
