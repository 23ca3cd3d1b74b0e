package mechanism

// hung is a moving body as the general solver takes it: it hangs by a pivot on
// one before it and turns about that, or it floats, held by slots alone.
type hung struct {
	floats bool
	pivot  place // its own origin as a point of the body that it hangs on
	at     int   // which coordinate its turn is; x and y of a floating origin follow
}

// hang hangs every body on the frame or on one that hangs already, by a pivot
// they share, which becomes its origin. A turn for each is then all that there
// is to know of most mechanisms, and only the pivots left over are constraints.
func (t *topology) hang() {
	t.hung, t.order, t.loops, t.unknowns = make([]hung, len(t.bodies)), nil, nil, 0
	known := make([]bool, len(t.bodies))
	known[0] = true
	tied := make([]bool, len(t.joints)) // joints that a body hangs by
	add := func(body int, h hung) {
		h.at = t.unknowns
		if t.unknowns++; h.floats {
			t.unknowns += 2
		}
		t.hung[body], known[body] = h, true
		t.order = append(t.order, body)
	}
	for len(t.order) < t.moving() {
		before := len(t.order)
		for i := range t.joints {
			j := t.joints[i]
			if known[j.a.body] == known[j.b.body] {
				continue
			}
			if known[j.b.body] {
				j.a, j.b = j.b, j.a
			}
			t.rebase(j.b.body, t.origin[j.a.body]+j.a.r)
			add(j.b.body, hung{pivot: j.a})
			tied[i] = true
		}
		if len(t.order) > before {
			continue
		}
		for body := range known {
			if !known[body] {
				add(body, hung{floats: true})
				break
			}
		}
	}
	for i, j := range t.joints {
		if !tied[i] {
			t.loops = append(t.loops, j)
		}
	}
}

// rest writes those coordinates that aren't 0 at full extension.
func (t *topology) rest(q *coordinates) {
	for _, body := range t.order {
		if h := &t.hung[body]; h.floats {
			q[h.at+1], q[h.at+2] = real(t.origin[body]), imag(t.origin[body])
		}
	}
}

// place puts the bodies where the coordinates say.
func (t *topology) place(q *coordinates, m *motion) {
	m[0] = bodyMotion{u: 1}
	for _, body := range t.order {
		h, b := &t.hung[body], &m[body]
		b.u = unit(q[h.at])
		if h.floats {
			b.o = complex(q[h.at+1], q[h.at+2])
		} else {
			b.o = m.position(h.pivot)
		}
	}
}

// along adds the derivatives of g·P by the coordinates to a row of them, P a
// point of a body: each body turns what hangs on it about its own pivot.
func (t *topology) along(row []float64, p place, g complex128, m *motion) {
	at := m.position(p)
	for body := p.body; body != 0; {
		h, o := &t.hung[body], m[body].o
		row[h.at] += dot(g, turn(at-o))
		if h.floats {
			row[h.at+1] += real(g)
			row[h.at+2] += imag(g)
		}
		at, body = o, h.pivot.body // 0 where it floats
	}
}
