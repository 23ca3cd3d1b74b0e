package mechanism

import "math"

// maxUnknowns is three for every moving body, if all of them float.
const maxUnknowns = 3 * maxMoving

// coordinates are, for every moving body, its turn from full extension, and of
// a floating one x and y of its origin too.
type coordinates [maxUnknowns]float64

// system is the linear system of Newton's method, factored in place.
type system struct {
	n    int
	lu   []float64 // n·n of them or more
	swap [maxUnknowns]int
	sign float64 // of the determinant
	// least is the least of the pivots, each against the length of its row:
	// about 0 where rows say the same, in however large a system.
	least float64
}

// singular is how small that may be before it counts as 0: well above what
// rounding makes of it.
const singular = 1e-12

// newton solves for the stroke s from a start q, which it replaces, and writes
// the motion. It leaves the constraints, factored, in sys, and is false where it
// comes to no end. General where the dyads are not, and slower.
func (t *topology) newton(s float64, q *coordinates, m *motion, sys *system) bool {
	var b coordinates
	n := t.unknowns
	const (
		enough = 1e-9  // its square is below rounding, and Newton's method squares
		exact  = 1e-13 // so near that the matrix is that of the place itself
		far    = 1e3   // sizes of the mechanism: it is gone
	)
	size := far
	for range 25 {
		t.place(q, m)
		t.residual(s, m, &b)
		t.jacobian(m, sys)
		if !sys.factor() {
			return false
		}
		sys.solve(&b)
		size = 0
		for k := range n {
			q[k] -= b[k]
			size = max(size, math.Abs(b[k]))
		}
		if size <= enough || !(size < far) {
			break
		}
	}
	if !(size <= enough) {
		return false
	}
	t.place(q, m)
	if size > exact {
		t.jacobian(m, sys)
		if !sys.factor() {
			return false
		}
	}
	t.rates(s, m, sys)
	return true
}

// residual writes by how much each constraint is violated: two rows for every
// pivot that closes a loop, one for every slot, and (|S1 − S2|² − L²)/2 for the
// shock.
func (t *topology) residual(s float64, m *motion, b *coordinates) {
	row := 0
	for i := range t.loops {
		gap := m.position(t.loops[i].a) - m.position(t.loops[i].b)
		b[row], b[row+1] = real(gap), imag(gap)
		row += 2
	}
	for i := range t.slots {
		l := &t.slots[i]
		b[row] = cross(m[l.b.body].u*l.t, m.position(l.a)-m.position(l.b))
		row++
	}
	e := m.position(t.shock.a) - m.position(t.shock.b)
	length := t.length - s
	b[row] = (dot(e, e) - length*length) / 2
}

// jacobian writes the derivatives of the residual by the coordinates.
func (t *topology) jacobian(m *motion, sys *system) {
	n := t.unknowns
	sys.n = n
	row := sys.lu[:n*n]
	clear(row)
	for i := range t.loops {
		j := &t.loops[i]
		t.along(row, j.a, 1, m)
		t.along(row, j.b, -1, m)
		t.along(row[n:], j.a, 1i, m)
		t.along(row[n:], j.b, -1i, m)
		row = row[2*n:]
	}
	for i := range t.slots {
		l := &t.slots[i]
		along := m[l.b.body].u * l.t
		across := turn(along)
		t.along(row, l.a, across, m)
		t.along(row, l.b, -across, m)
		if l.b.body != 0 { // the line itself turns
			row[t.hung[l.b.body].at] += cross(across, m.position(l.a)-m.position(l.b))
		}
		row = row[n:]
	}
	e := m.position(t.shock.a) - m.position(t.shock.b)
	t.along(row, t.shock.a, e, m)
	t.along(row, t.shock.b, -e, m)
}

// rates solves for the first and the second derivative of every coordinate by
// the stroke, the system factored at the place itself.
func (t *topology) rates(s float64, m *motion, sys *system) {
	n := t.unknowns
	length := t.length - s
	var b coordinates
	b[n-1] = -length // L·L′
	sys.solve(&b)
	for _, body := range t.order {
		h, c := &t.hung[body], &m[body]
		c.w, c.dw = b[h.at], 0
		if h.floats {
			c.v, c.a = complex(b[h.at+1], b[h.at+2]), 0
		} else {
			c.v, c.a = m.velocity(h.pivot), m.acceleration(h.pivot)
		}
	}
	// The accelerations are so far what they are without the second derivatives
	// of the coordinates, and so are those of the constraints. A slot's line has
	// one as well, but along itself, as is the way from its point to the pin:
	// nothing across.
	row := 0
	for i := range t.loops {
		gap := m.acceleration(t.loops[i].a) - m.acceleration(t.loops[i].b)
		b[row], b[row+1] = -real(gap), -imag(gap)
		row += 2
	}
	for i := range t.slots {
		l := &t.slots[i]
		line := &m[l.b.body]
		along := line.u * l.t
		moved := m.velocity(l.a) - m.velocity(l.b)
		gap := m.acceleration(l.a) - m.acceleration(l.b)
		b[row] = -(2*cross(scale(line.w, turn(along)), moved) + cross(along, gap))
		row++
	}
	e := m.position(t.shock.a) - m.position(t.shock.b)
	d := m.velocity(t.shock.a) - m.velocity(t.shock.b)
	gap := m.acceleration(t.shock.a) - m.acceleration(t.shock.b)
	b[row] = 1 - dot(d, d) - dot(e, gap) // L′² + L·L″ = 1
	sys.solve(&b)
	for _, body := range t.order {
		h, c := &t.hung[body], &m[body]
		c.dw = b[h.at]
		if h.floats {
			c.a = complex(b[h.at+1], b[h.at+2])
		} else {
			c.a = m.acceleration(h.pivot)
		}
	}
}

// factor factors the matrix in place, rows swapped for the greatest pivot, and
// leaves its determinant's sign and its least pivot. It tells whether every
// pivot is a number but 0.
func (sys *system) factor() bool {
	n := sys.n
	sys.sign, sys.least = 1, 1
	var length [maxUnknowns]float64 // of each row, squared
	for i := range n {
		for _, v := range sys.lu[i*n : i*n+n] {
			length[i] += v * v
		}
	}
	for k := range n {
		pivot, at := 0.0, k
		for i := k; i < n; i++ {
			if v := math.Abs(sys.lu[i*n+k]); v > pivot {
				pivot, at = v, i
			}
		}
		if !(pivot > 0) || math.IsInf(pivot, 0) {
			sys.sign, sys.least = 0, 0
			return false
		}
		sys.swap[k] = at
		top := sys.lu[k*n : k*n+n]
		if at != k {
			other := sys.lu[at*n : at*n+n]
			for j := range top {
				top[j], other[j] = other[j], top[j]
			}
			length[k], length[at] = length[at], length[k]
			sys.sign = -sys.sign
		}
		sys.least = min(sys.least, pivot/math.Sqrt(length[k]))
		sys.sign = math.Copysign(sys.sign, sys.sign*top[k])
		inverse := 1 / top[k]
		for i := k + 1; i < n; i++ {
			row := sys.lu[i*n : i*n+n]
			if row[k] == 0 {
				continue
			}
			f := row[k] * inverse
			row[k] = f
			for j := k + 1; j < n; j++ {
				row[j] -= f * top[j]
			}
		}
	}
	return true
}

// solve replaces b by the solution.
func (sys *system) solve(b *coordinates) {
	n := sys.n
	for k := range n {
		b[k], b[sys.swap[k]] = b[sys.swap[k]], b[k]
	}
	for i := range n {
		row := sys.lu[i*n : i*n+n]
		sum := b[i]
		for j := range i {
			sum -= row[j] * b[j]
		}
		b[i] = sum
	}
	for i := n - 1; i >= 0; i-- {
		row := sys.lu[i*n : i*n+n]
		sum := b[i]
		for j := i + 1; j < n; j++ {
			sum -= row[j] * b[j]
		}
		b[i] = sum / row[i]
	}
}
