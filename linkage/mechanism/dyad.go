package mechanism

import (
	"math"
	"slices"
)

// dyad is two bodies that share a pivot C, each joined by another pivot to
// what is already known: C is where two circles meet. The second body may be
// the shock, whose circle shrinks with the stroke.
type dyad struct {
	a, d          place   // the known pivots of the first and the second body
	first, second int     // the bodies; second is theShock where the shock is it
	ra2, rd2      float64 // the circles' radii, squared
	side          float64 // +1 or −1: on which side of the line from a to d C lies
	fa, fd        complex128
}

// theShock stands for the shock where a body's number is wanted.
const theShock = -1

// dyads finds an order in which every body follows from those before it by
// circle intersections alone, starting with the frame, or nil where there is
// none. The shock counts as a body with two points. It gives the bodies the
// origins that the dyads want.
func (t *topology) dyads() []dyad {
	if len(t.slots) > 0 {
		return nil
	}
	// Which bodies, the shock last, have which points.
	shock := len(t.bodies)
	owners := map[string][]int{}
	var names []string
	for name, list := range t.owners {
		owners[name] = slices.Clone(list)
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range t.ends {
		owners[name] = append(owners[name], shock)
	}
	known := make([]bool, shock+1)
	known[0] = true
	// anchor returns a known pivot of an unknown body, other than at c.
	anchor := func(body int, c string) (string, int) {
		for _, name := range names {
			if name == c || !slices.Contains(owners[name], body) || t.points[name] == t.points[c] {
				continue
			}
			for _, other := range owners[name] {
				if known[other] && other != shock {
					return name, other
				}
			}
		}
		return "", -1
	}
	next := func() (dyad, bool) {
		for _, c := range names {
			list := owners[c]
			for i, first := range list {
				for _, second := range list[i+1:] {
					if known[first] || known[second] {
						continue
					}
					a, fromA := anchor(first, c)
					d, fromD := anchor(second, c)
					if fromA < 0 || fromD < 0 || t.points[a] == t.points[d] {
						continue
					}
					known[first], known[second] = true, true
					return t.dyad(c, a, d, first, second, fromA, fromD), true
				}
			}
		}
		return dyad{}, false
	}
	var found []dyad
	for {
		d, ok := next()
		if !ok {
			break
		}
		found = append(found, d)
	}
	if slices.Contains(known, false) {
		return nil
	}
	return found
}

// dyad makes the dyad of two bodies that meet in c, where they are joined in a
// and d to known ones.
func (t *topology) dyad(c, a, d string, first, second, fromA, fromD int) dyad {
	ea, ed := t.points[c]-t.points[a], t.points[c]-t.points[d]
	y := dyad{a: t.of(fromA, a), d: t.of(fromD, d), first: first, second: second, ra2: dot(ea, ea), rd2: dot(ed, ed)}
	y.fa, y.fd = scale(1/y.ra2, conj(ea)), scale(1/y.rd2, conj(ed))
	y.side = 1
	if cross(t.points[d]-t.points[a], ea) < 0 {
		y.side = -1
	}
	t.rebase(first, t.points[a])
	if second == len(t.bodies) {
		y.second = theShock
	} else {
		t.rebase(second, t.points[d])
	}
	return y
}

// flat is how small the sine of the angle between the arms of a dyad may be
// before it counts as a dead point.
const flat = 1e-7

// closed solves dyad after dyad for the stroke s. The frame is at rest in m.
// It tells whether every pair of circles meets, in two separate points.
func (t *topology) closed(dyads []dyad, s float64, m *motion) bool {
	m[0] = bodyMotion{u: 1}
	for i := range dyads {
		y := &dyads[i]
		a, d := m.position(y.a), m.position(y.d)
		rd2, drive := y.rd2, 0.0
		if y.second == theShock {
			length := t.length - s
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
		if y.second != theShock {
			b = &m[y.second]
			b.u, b.o, b.v, b.a = ed*y.fd, d, vd, ad
			b.w, b.dw = cross(ed, dd)/y.rd2, cross(ed, g-ad)/y.rd2
		}
	}
	return true
}

// meet returns the x with p·x = b and q·x = c, given 1/(p×q).
func meet(p, q complex128, b, c, inverse float64) complex128 {
	return complex((b*imag(q)-c*imag(p))*inverse, (real(p)*c-real(q)*b)*inverse)
}
