package mechanism_test

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// assembly is a mechanism with holes that may be off their places, by its constraints alone: each
// body has a place and an angle, and Newton's method takes its matrix from differences.
type assembly struct {
	spec   mechanism.Spec
	off    map[mechanism.Hole][2]float64 // m
	shock  float64                       // its length at full extension
	bodies []string                      // those that move
	known  map[float64][]float64         // coordinates by stroke, with every hole in its place
}

func newAssembly(s mechanism.Spec) *assembly {
	a := &assembly{spec: s, off: map[mechanism.Hole][2]float64{}, known: map[float64][]float64{}}
	for _, name := range slices.Sorted(maps.Keys(s.Bodies)) {
		if name != mechanism.Frame {
			a.bodies = append(a.bodies, name)
		}
	}
	from, to := s.Points[s.Shock[0]], s.Points[s.Shock[1]]
	a.shock = math.Hypot(float64(from[0]-to[0]), float64(from[1]-to[1]))
	return a
}

// owners returns the bodies that a point belongs to: the frame, then the others by name.
func (a *assembly) owners(point string) []string {
	var list []string
	for _, name := range append([]string{mechanism.Frame}, a.bodies...) {
		if slices.Contains(a.spec.Bodies[name], point) {
			list = append(list, name)
		}
	}
	return list
}

func (a *assembly) carrier() string {
	if a.spec.Carrier != "" {
		return a.spec.Carrier
	}
	return a.owners(a.spec.Axle)[0]
}

// place returns where a hole is.
func (a *assembly) place(q []float64, body, point string) complex128 {
	off := a.off[mechanism.Hole{Body: body, Point: point}]
	p := a.spec.Points[point]
	r := complex(float64(p[0])+off[0], float64(p[1])+off[1])
	i := 3 * slices.Index(a.bodies, body)
	if i < 0 {
		return r
	}
	sin, cos := math.Sincos(q[i+2])
	return complex(q[i], q[i+1]) + complex(cos, sin)*r
}

// gaps returns by how much the constraints are violated at a stroke.
func (a *assembly) gaps(q []float64, stroke float64) []float64 {
	var list []float64
	for _, point := range slices.Sorted(maps.Keys(a.spec.Points)) {
		owners := a.owners(point)
		for i := 1; i < len(owners); i++ {
			d := a.place(q, owners[i-1], point) - a.place(q, owners[i], point)
			list = append(list, real(d), imag(d))
		}
	}
	for _, s := range a.spec.Slots {
		from, to := a.place(q, s.On, s.Along[0]), a.place(q, s.On, s.Along[1])
		d, way := to-from, a.place(q, a.owners(s.Point)[0], s.Point)-from
		list = append(list, real(d)*imag(way)-imag(d)*real(way))
	}
	s := a.spec.Shock
	d := a.place(q, a.owners(s[0])[0], s[0]) - a.place(q, a.owners(s[1])[0], s[1])
	return append(list, math.Hypot(real(d), imag(d))-(a.shock-stroke))
}

// matrix returns the derivatives of the gaps by the coordinates.
func (a *assembly) matrix(q []float64, stroke float64) *mat.Dense {
	j := mat.NewDense(len(q), len(q), nil)
	for k := range q {
		const h = 1e-6
		moved := slices.Clone(q)
		moved[k] = q[k] + h
		after := a.gaps(moved, stroke)
		moved[k] = q[k] - h
		for i, before := range a.gaps(moved, stroke) {
			j.Set(i, k, (after[i]-before)/(2*h))
		}
	}
	return j
}

// step returns the solution of the matrix's equations with a right-hand side.
func step(j *mat.Dense, right []float64) []float64 {
	var x mat.VecDense
	if err := x.SolveVec(j, mat.NewVecDense(len(right), right)); err != nil {
		panic(err)
	}
	return x.RawVector().Data
}

// solve returns the coordinates at a stroke, in m, from those of a stroke nearby, whose matrix it keeps.
func (a *assembly) solve(q []float64, stroke float64) []float64 {
	var lu mat.LU
	lu.Factorize(a.matrix(q, stroke))
	q = slices.Clone(q)
	for range 60 {
		var by mat.VecDense
		if err := lu.SolveVecTo(&by, false, mat.NewVecDense(len(q), a.gaps(q, stroke))); err != nil {
			panic(err)
		}
		floats.Sub(q, by.RawVector().Data)
		if mat.Norm(&by, 2) < 1e-13 {
			return q
		}
	}
	panic("the assembly does not converge")
}

// nearby returns the coordinates at a stroke, reached from full extension on with every hole in its place.
func (a *assembly) nearby(to float64) []float64 {
	if q, ok := a.known[to]; ok {
		return q
	}
	off := a.off
	a.off = nil
	q := make([]float64, 3*len(a.bodies))
	for s := 0.0; s < to; {
		s = min(s+0.008, to)
		q = a.solve(q, s)
	}
	a.off = off
	a.known[to] = q
	return q
}

// motion returns the axle's place and its velocity at some strokes.
func (a *assembly) motion(strokes []units.Length) []float64 {
	var list []float64
	for _, stroke := range strokes {
		s := float64(stroke)
		q := a.solve(a.nearby(s), s)
		// Only the last gap depends on the stroke: it grows with it.
		right := make([]float64, len(q))
		right[len(q)-1] = -1
		rates := step(a.matrix(q, s), right)
		axle := func(h float64) complex128 {
			return a.place(floats.AddScaledTo(make([]float64, len(q)), q, h, rates), a.carrier(), a.spec.Axle)
		}
		p, v := axle(0), (axle(1e-6)-axle(-1e-6))/2e-6
		list = append(list, real(p), imag(p), real(v), imag(v))
	}
	return list
}
