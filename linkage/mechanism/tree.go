package mechanism

import "slices"

// tree is a spanning tree of the bodies, joined by pivots, with the frame as its root, and the
// constraints that the tree does not satisfy by itself. A body's origin is the pivot that joins it
// to its parent, so that its turn is its only coordinate. A body that only slots hold has no parent:
// it floats, its origin is that of the layout, and the place of that has two more coordinates.
type tree struct {
	origins     []complex128 // of the bodies at full extension
	branches    []branch
	branch      []int // of each body but the frame, its number in branches
	constraints []constraint
	length      float64 // of the shock at full extension
	unknowns    int
}

// branch is a moving body in the tree. Each follows its parent in the list of branches.
type branch struct {
	body   int
	floats bool
	pivot  Mark // its origin as a point of its parent
	hole   int  // the number of the hole at its origin; 0 where it floats
	at     int  // which coordinate its turn is; x and y of a floating origin follow
}

// constraint is one equation for the gap from b to a, two points of bodies: its component
// along the normal is 0, or its length is the shock's.
type constraint struct {
	a, b   Mark
	kind   kind
	normal complex128 // at full extension; of the shock it is the gap itself
	end    Mark       // of a slide, the second point of the line, of which b is the first
}

type kind int

const (
	pivot kind = iota // one of the two components of a gap that is 0
	slide             // a is on a line through b, at a right angle to the normal, that turns with b's body
	shock             // the gap is as long as the shock
)

// newTree builds the spanning tree of a layout.
func newTree(l *layout) *tree {
	n := len(l.bodies)
	t := &tree{origins: make([]complex128, n), branch: make([]int, n), length: l.length}
	known, tied := make([]bool, n), make([]bool, len(l.pivots)) // tied pivots are branches
	known[0] = true
	join := func(b branch) {
		b.at = t.unknowns
		if t.unknowns++; b.floats {
			t.unknowns += 2
		}
		known[b.body], t.branch[b.body] = true, len(t.branches)
		t.branches = append(t.branches, b)
	}
	for len(t.branches) < n-1 {
		before := len(t.branches)
		for i, j := range l.pivots {
			if known[j.b.body] {
				j.a, j.b = j.b, j.a
			}
			if !known[j.a.body] || known[j.b.body] {
				continue
			}
			t.origins[j.b.body], tied[i] = j.a.at, true
			join(branch{body: j.b.body, pivot: t.mark(j.a), hole: j.b.hole})
		}
		if len(t.branches) == before {
			join(branch{body: slices.Index(known, false), floats: true})
		}
	}
	constrain := func(a, b pin, k kind, normal complex128) {
		t.constraints = append(t.constraints, constraint{a: t.mark(a), b: t.mark(b), kind: k, normal: normal})
	}
	for i, j := range l.pivots {
		if !tied[i] {
			constrain(j.a, j.b, pivot, 1)
			constrain(j.a, j.b, pivot, 1i)
		}
	}
	for _, s := range l.slots {
		constrain(s.pin, s.line, slide, turn(s.along))
		t.constraints[len(t.constraints)-1].end = t.mark(s.end)
	}
	constrain(l.shock.a, l.shock.b, shock, 0)
	return t
}

// mark returns a pin as a point of its body.
func (t *tree) mark(p pin) Mark { return Mark{p.body, p.hole, p.at - t.origins[p.body]} }

// put writes the places of the bodies at the coordinates q.
func (t *tree) put(q *coordinates, m *motion) {
	m[0] = bodyMotion{u: 1}
	for i := range t.branches {
		h := &t.branches[i]
		b := &m[h.body]
		b.u = unit(q[h.at])
		b.o = m.position(h.pivot) // of the frame where it floats
		if h.floats {
			b.o = complex(q[h.at+1], q[h.at+2])
		}
	}
}

// gap returns the way from b to a, and the normal of the constraint.
func (c *constraint) gap(m *motion) (gap, normal complex128) {
	gap = m.position(c.a) - m.position(c.b)
	switch c.kind {
	case slide:
		return gap, m[c.b.body].u * c.normal
	case shock:
		return gap, gap
	}
	return gap, c.normal
}

// violations writes by how much each constraint is violated; the last, for the
// shock, is (|S1 − S2|² − L²)/2.
func (t *tree) violations(s float64, m *motion, b *coordinates) {
	for i := range t.constraints {
		gap, normal := t.constraints[i].gap(m)
		b[i] = dot(normal, gap)
	}
	last, length := len(t.constraints)-1, t.length-s
	b[last] = (b[last] - length*length) / 2
}

// jacobian writes the derivatives of the violations by the coordinates. The point of b's body that is at a
// stands for b: along the shock both move alike, and at a closed pivot they are the same.
func (t *tree) jacobian(m *motion, sys *system) {
	n := t.unknowns
	sys.n = n
	clear(sys.lu[:n*n])
	for i := range t.constraints {
		c, row := &t.constraints[i], sys.lu[i*n:i*n+n]
		_, normal := c.gap(m)
		at := m.position(c.a)
		t.differentiate(row, c.a.body, at, normal, m)
		t.differentiate(row, c.b.body, at, -normal, m)
	}
}

// differentiate adds to a row the derivatives of g·P by the coordinates, where P is the point of a
// body that is at the place at. The body and each of its ancestors turn P about their own origins.
func (t *tree) differentiate(row []float64, body int, at, g complex128, m *motion) {
	for body != 0 {
		h, o := &t.branches[t.branch[body]], m[body].o
		row[h.at] += dot(g, turn(at-o))
		if h.floats {
			row[h.at+1] += real(g)
			row[h.at+2] += imag(g)
		}
		at, body = o, h.pivot.body // 0 where it floats
	}
}

// rates solves for the first and the second derivative of every coordinate by
// the stroke. The jacobian is factored in sys.
func (t *tree) rates(s float64, m *motion, sys *system) {
	var first, second coordinates
	last := len(t.constraints) - 1
	first[last] = s - t.length // L·L′ with L′ = −1
	sys.solve(&first)
	t.carry(m, &first, &second)
	// So far the second derivatives of the coordinates are 0: these are the accelerations
	// that the first derivatives cause by themselves.
	for i := range t.constraints {
		c := &t.constraints[i]
		_, normal := c.gap(m)
		at, b := m.position(c.b), &m[c.b.body]
		if c.kind == slide { // a is held against the point of the line that it is at
			at = m.position(c.a)
		}
		v := m.velocity(c.a) - b.velocity(at-b.o)
		second[i] = dot(normal, b.acceleration(at-b.o)-m.acceleration(c.a))
		switch c.kind {
		case slide: // Coriolis: v is along the line
			second[i] += 2 * b.w * cross(v, normal)
		case shock: // L′² + L·L″ = 1
			second[i] += 1 - dot(v, v)
		}
	}
	sys.solve(&second)
	t.carry(m, &first, &second)
}

// carry writes the derivatives of every body's motion, from those of the coordinates.
func (t *tree) carry(m *motion, first, second *coordinates) {
	for i := range t.branches {
		h := &t.branches[i]
		b := &m[h.body]
		b.w, b.dw = first[h.at], second[h.at]
		b.v, b.a = m.velocity(h.pivot), m.acceleration(h.pivot)
		if h.floats {
			b.v, b.a = complex(first[h.at+1], first[h.at+2]), complex(second[h.at+1], second[h.at+2])
		}
	}
}
