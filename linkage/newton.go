package linkage

import "math"

// maxUnknowns is three for every moving body: the place of its origin and its turn.
const maxUnknowns = 3 * maxMoving

// coordinates are, for every moving body, x and y of its origin and its turn.
type coordinates [maxUnknowns]float64

// system is the linear system of Newton's method, factored in place.
type system struct {
	n    int
	lu   [maxUnknowns * maxUnknowns]float64
	swap [maxUnknowns]int
	det  float64
	size float64 // the product of the rows' lengths, which bounds |det|
}

// newton solves for the stroke s from a start q, which it replaces, and writes
// the motion. It leaves the determinant of the constraints in sys, and is false
// where it comes to no end. General where the dyads are not, and slower.
func (t *topology) newton(s float64, q *coordinates, m *motion, sys *system) bool {
	var b coordinates
	n := 3 * t.moving()
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

// place puts the bodies where the coordinates say.
func (t *topology) place(q *coordinates, m *motion) {
	m[0] = bodyMotion{u: 1}
	for i := range t.moving() {
		sin, cos := math.Sincos(q[3*i+2])
		m[i+1].u, m[i+1].o = complex(cos, sin), complex(q[3*i], q[3*i+1])
	}
}

// residual writes by how much each constraint is violated: two rows for every
// pivot, one for every slot, and (|S1 − S2|² − L²)/2 for the shock.
func (t *topology) residual(s float64, m *motion, b *coordinates) {
	row := 0
	for i := range t.joints {
		gap := m.position(t.joints[i].a) - m.position(t.joints[i].b)
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
	n := 3 * t.moving()
	sys.n = n
	clear(sys.lu[:n*n])
	row := sys.lu[:n*n]
	// add puts the derivatives of g·P, P a point of a body, into a row.
	add := func(row []float64, p place, g complex128) {
		if p.body == 0 {
			return
		}
		at := row[3*(p.body-1):]
		at[0] += real(g)
		at[1] += imag(g)
		at[2] += dot(g, turn(m[p.body].u*p.r))
	}
	for i := range t.joints {
		j := &t.joints[i]
		add(row, j.a, 1)
		add(row, j.b, -1)
		add(row[n:], j.a, 1i)
		add(row[n:], j.b, -1i)
		row = row[2*n:]
	}
	for i := range t.slots {
		l := &t.slots[i]
		along := m[l.b.body].u * l.t
		across := turn(along)
		add(row, l.a, across)
		add(row, l.b, -across)
		if l.b.body != 0 { // the line itself turns
			row[3*(l.b.body-1)+2] += cross(turn(along), m.position(l.a)-m.position(l.b))
		}
		row = row[n:]
	}
	e := m.position(t.shock.a) - m.position(t.shock.b)
	add(row, t.shock.a, e)
	add(row, t.shock.b, -e)
}

// rates solves for the first and the second derivative of every coordinate by
// the stroke, the system factored at the place itself.
func (t *topology) rates(s float64, m *motion, sys *system) {
	n := 3 * t.moving()
	length := t.length - s
	var b coordinates
	b[n-1] = -length // L·L′
	sys.solve(&b)
	for i := range t.moving() {
		c := &m[i+1]
		c.v, c.w = complex(b[3*i], b[3*i+1]), b[3*i+2]
		c.a, c.dw = 0, 0
	}
	// What the second derivative of each constraint is without that of the
	// coordinates: −w²·u·r of each point. A slot's line has one as well, but
	// along itself, as is the way from its point to the pin: nothing across.
	row := 0
	for i := range t.joints {
		gap := m.acceleration(t.joints[i].a) - m.acceleration(t.joints[i].b)
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
	for i := range t.moving() {
		m[i+1].a, m[i+1].dw = complex(b[3*i], b[3*i+1]), b[3*i+2]
	}
}

// factor factors the matrix in place, rows swapped for the greatest pivot,
// and leaves its determinant. It tells whether every pivot is a number but 0.
func (sys *system) factor() bool {
	n := sys.n
	sys.det, sys.size = 1, 1
	for i := range n {
		row := sys.lu[i*n : i*n+n]
		sum := 0.0
		for _, v := range row {
			sum += v * v
		}
		sys.size *= math.Sqrt(sum)
	}
	for k := range n {
		pivot, at := 0.0, k
		for i := k; i < n; i++ {
			if v := math.Abs(sys.lu[i*n+k]); v > pivot {
				pivot, at = v, i
			}
		}
		if !(pivot > 0) || math.IsInf(pivot, 0) {
			sys.det = 0
			return false
		}
		sys.swap[k] = at
		top := sys.lu[k*n : k*n+n]
		if at != k {
			other := sys.lu[at*n : at*n+n]
			for j := range top {
				top[j], other[j] = other[j], top[j]
			}
			sys.det = -sys.det
		}
		sys.det *= top[k]
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
