package mechanism

import (
	"maps"
	"math"
	"math/cmplx"
	"slices"
)

// closedForm solves a mechanism dyad after dyad, by intersecting circles.
type closedForm struct {
	dyads  []dyad
	length float64 // of the shock at full extension
}

// dyad is two bodies that share a pivot C, each joined by another pivot to a
// body solved before: C is where two circles meet. The second body may be the
// shock, whose circle shrinks with the stroke.
type dyad struct {
	a, d          Mark    // the pivots of the first and the second body on bodies solved before
	first, second int     // the bodies; second is theShock where the shock is it
	ra2, rd2      float64 // the circles' radii, squared
	side          float64 // +1 or −1: on which side of the line from a to d C lies
	fa, fd        complex128
	ta, td        complex128 // from a and from d to the bodies' origins, at full extension
}

const theShock = -1 // in place of a body's number

// newClosedForm returns the solver by dyads, in an order in which all bodies follow
// from those before them, starting with the frame; nil if there is no such order.
// The shock counts as a body with two points.
func newClosedForm(l *layout, t *tree) *closedForm {
	if len(l.slots) > 0 {
		return nil
	}
	// The bodies that each point belongs to, the shock being the last body.
	shock, owners := len(l.bodies), maps.Clone(l.owners)
	for _, name := range l.eyes {
		owners[name] = append(slices.Clone(owners[name]), shock)
	}
	names := slices.Sorted(maps.Keys(owners))
	known := make([]bool, shock+1)
	known[0] = true
	// anchor returns a pivot, away from c, that joins an unknown body to a known one, as a point of that; the
	// body -1 without one.
	anchor := func(body int, c complex128) pin {
		for _, name := range names {
			i := slices.IndexFunc(owners[name], func(other int) bool { return known[other] && other != shock })
			if i >= 0 && l.points[name] != c && slices.Contains(owners[name], body) {
				return pin{body: owners[name][i], at: l.points[name]}
			}
		}
		return pin{body: -1}
	}
	solver := &closedForm{length: l.length}
	// add adds the dyad of two bodies that meet in c, if it is one.
	add := func(c complex128, first, second int) {
		if known[first] || known[second] {
			return
		}
		a, d := anchor(first, c), anchor(second, c)
		if a.body < 0 || d.body < 0 || a.at == d.at {
			return
		}
		known[first], known[second] = true, true
		ea, ed := c-a.at, c-d.at
		y := dyad{a: t.mark(a), d: t.mark(d), first: first, second: second, ra2: dot(ea, ea), rd2: dot(ed, ed), ta: t.origins[first] - a.at}
		y.fa, y.fd, y.side = scale(1/y.ra2, cmplx.Conj(ea)), scale(1/y.rd2, cmplx.Conj(ed)), math.Copysign(1, cross(d.at-a.at, ea))
		if second == shock {
			y.second = theShock
		} else {
			y.td = t.origins[second] - d.at
		}
		solver.dyads = append(solver.dyads, y)
	}
	for range known { // each time one dyad follows from the others, or more
		for _, c := range names {
			for i, first := range owners[c] {
				for _, second := range owners[c][i+1:] {
					add(l.points[c], first, second)
				}
			}
		}
	}
	if slices.Contains(known, false) {
		return nil
	}
	return solver
}

const flat = 1e-7 // the sine of the angle between the arms of a dyad that counts as a dead point

// step solves dyad after dyad for any stroke s, and reports whether every pair
// of circles meets, in two separate points.
func (f *closedForm) step(s float64, m *motion) bool {
	m[0] = bodyMotion{u: 1}
	for i := range f.dyads {
		y := &f.dyads[i]
		a, d := m.position(y.a), m.position(y.d)
		rd2, drive := y.rd2, 0.0
		if y.second == theShock {
			length := f.length - s
			rd2, drive = length*length, -length // L·L′ with L′ = −1
		}
		base := d - a
		base2 := dot(base, base)
		// C − A = base·(along + i·across)/base², the circles' common points.
		along := (base2 + y.ra2 - rd2) / 2
		across2 := base2*y.ra2 - along*along
		if !(across2 > flat*flat*y.ra2*rd2) {
			return false
		}
		ea := base * scale(1/base2, complex(along, y.side*math.Sqrt(across2)))
		ed := ea - base
		// ea·C′ = ea·A′ and ed·C′ = ed·D′ + L·L′; likewise for C″.
		va, vd := m.velocity(y.a), m.velocity(y.d)
		inverse := 1 / cross(ea, ed)
		v := meet(ea, ed, dot(ea, va), dot(ed, vd)+drive, inverse)
		da, dd := v-va, v-vd
		aa, ad := m.acceleration(y.a), m.acceleration(y.d)
		second := dot(ed, ad) - dot(dd, dd)
		if y.second == theShock {
			second++ // L′² + L·L″ = 1
		}
		g := meet(ea, ed, dot(ea, aa)-dot(da, da), second, inverse)

		b := &m[y.first]
		b.u, b.o, b.v, b.a = ea*y.fa, a, va, aa
		b.w, b.dw = cross(ea, da)/y.ra2, cross(ea, g-aa)/y.ra2
		b.shift(y.ta)
		if y.second != theShock {
			b = &m[y.second]
			b.u, b.o, b.v, b.a = ed*y.fd, d, vd, ad
			b.w, b.dw = cross(ed, dd)/y.rd2, cross(ed, g-ad)/y.rd2
			b.shift(y.td)
		}
	}
	return true
}

// meet returns the x with p·x = b and q·x = c, given 1/(p×q).
func meet(p, q complex128, b, c, inverse float64) complex128 {
	return complex((b*imag(q)-c*imag(p))*inverse, (real(p)*c-real(q)*b)*inverse)
}

func (f *closedForm) start(m *motion) bool  { return f.step(0, m) }
func (f *closedForm) keep(float64, *motion) {}
