package mechanism

import "slices"

// wrench is a force on a body and a moment about the body's origin.
type wrench struct {
	force  complex128
	moment float64
}

// wrenches are what acts on every body by number, the frame included.
type wrenches [maxMoving + 1]wrench

// add adds a force on a body at a place.
func (w *wrenches) add(m *motion, body int, at, force complex128) {
	w[body].force += force
	w[body].moment += cross(at-m[body].o, force)
}

// statics solves for equilibria of the bodies at one stroke.
type statics struct {
	*tree
	size float64 // of the layout
	m    motion
	sys  system // the constraints' jacobian, transposed and factored
}

// equilibrium is how a mechanism holds loads: the forces on the holes by number, and their
// derivatives by the stroke. Number 0 collects what acts on no hole.
type equilibrium struct {
	force, rate []complex128
	shock       float64 // how hard the shock pushes its eyes apart
}

// gather adds to what acts on each body the forces on those that it carries in the tree, at the
// pivots that join them to it. These pass on no moment.
func (t *tree) gather(w *wrenches, m *motion) {
	for _, h := range slices.Backward(t.branches) {
		if !h.floats {
			w.add(m, h.pivot.body, m[h.body].o, w[h.body].force)
		}
	}
}

// hold returns the multipliers of the constraints that hold what acts on the bodies in equilibrium:
// the virtual work of the loads and of the constraints' forces is 0 for any change of the
// coordinates. It adds these forces to w and gathers; then the pivot at each body's
// origin takes the force on it. The transposed jacobian is factored in sys.
func (t *tree) hold(w *wrenches, m *motion, sys *system) (multipliers coordinates) {
	carried := *w
	t.gather(&carried, m)
	for _, h := range t.branches {
		on := &carried[h.body]
		multipliers[h.at] = -on.moment
		if h.floats {
			multipliers[h.at+1], multipliers[h.at+2] = -real(on.force), -imag(on.force)
		}
	}
	sys.solve(&multipliers)
	for i := range t.constraints {
		c := &t.constraints[i]
		_, normal := c.gap(m)
		force := scale(multipliers[i], normal)
		// The force on b acts along a line through a.
		w.add(m, c.a.body, m.position(c.a), force)
		w.add(m, c.b.body, m.position(c.a), -force)
	}
	t.gather(w, m)
	return multipliers
}

// statics returns the statics of a mechanism at a stroke within [0, stroke].
func (m *Mechanism) statics(stroke float64) *statics {
	t := m.tree
	st := &statics{tree: t, size: m.layout.size, sys: system{lu: make([]float64, t.unknowns*t.unknowns)}}
	m.solve(stroke, &st.m)
	t.jacobian(&st.m, &st.sys)
	st.sys.transpose()
	st.sys.factor()
	return st
}

// balance returns the equilibrium under loads of constant size and direction. What the loads do on holes
// by themselves is left out.
//
// Every body's equations of equilibrium are differentiated by the stroke: with the same matrix, and
// the moments of forces whose arms change as loads.
func (st *statics) balance(holes int, loads ...Load) equilibrium {
	t, m := st.tree, &st.m
	var w, drift wrenches
	// sway adds the change of the moment of a force whose point has the velocity v.
	sway := func(body int, v, force complex128) { drift[body].moment += cross(v-m[body].v, force) }
	for _, p := range loads {
		body, force := p.At.body, p.force()
		w.add(m, body, m.position(p.At), force)
		w[body].moment += float64(p.Moment) / st.size
		sway(body, m.velocity(p.At), force)
	}
	first := t.hold(&w, m, &st.sys)
	for i := range t.constraints {
		c := &t.constraints[i]
		_, normal := c.gap(m)
		force, change := scale(first[i], normal), scale(first[i], c.turning(m))
		sway(c.a.body, m.velocity(c.a), force)
		sway(c.b.body, m.velocity(c.a), -force)
		drift.add(m, c.a.body, m.position(c.a), change)
		drift.add(m, c.b.body, m.position(c.a), -change)
	}
	for i := range t.branches {
		if h := &t.branches[i]; !h.floats {
			sway(h.pivot.body, m[h.body].v, w[h.body].force)
		}
	}
	second := t.hold(&drift, m, &st.sys)

	both := make([]complex128, 2*holes+2)
	e := equilibrium{force: both[:holes+1], rate: both[holes+1:]}
	add := func(hole int, force, rate complex128) {
		e.force[hole] += force
		e.rate[hole] += rate
	}
	for i := range t.branches {
		if h := &t.branches[i]; !h.floats {
			add(h.hole, -w[h.body].force, -drift[h.body].force)
			add(h.pivot.hole, w[h.body].force, drift[h.body].force)
		}
	}
	for i := range t.constraints {
		c := &t.constraints[i]
		gap, normal := c.gap(m)
		force := scale(first[i], normal)
		rate := scale(second[i], normal) + scale(first[i], c.turning(m))
		add(c.a.hole, force, rate)
		share, change := 0.0, 0.0
		switch c.kind {
		case slide: // the two points of the line share it by the lever rule
			share, change = c.share(m)
			add(c.end.hole, scale(-share, force), scale(-share, rate)-scale(change, force))
		case shock:
			e.shock = first[i] * abs(gap)
		}
		add(c.b.hole, scale(share-1, force), scale(share-1, rate)+scale(change, force))
	}
	return e
}

// turning returns the derivative of the constraint's normal by the stroke.
func (c *constraint) turning(m *motion) complex128 {
	switch c.kind {
	case slide:
		return scale(m[c.b.body].w, turn(m[c.b.body].u*c.normal))
	case shock:
		return m.velocity(c.a) - m.velocity(c.b)
	}
	return 0
}

// share returns how far the pin of a slide is along the line from b to end, as a share of its
// length, and the derivative by the stroke.
func (c *constraint) share(m *motion) (share, change float64) {
	along := m.position(c.end) - m.position(c.b)
	gap, v := m.position(c.a)-m.position(c.b), m.velocity(c.a)-m.velocity(c.b)
	square := dot(along, along)
	return dot(along, gap) / square, dot(along, v) / square
}
