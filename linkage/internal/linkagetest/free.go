package linkagetest

import (
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/linkage/mechanism"
)

// FreeBodies are rigid bodies, each drawn free: three equations of equilibrium a body, with all forces
// between them unknown. They know places, and nothing of how a mechanism moves. Vectors are complex
// numbers, x + iy, in m and N.
type FreeBodies struct {
	names    []string
	unknowns [][]Action
	right    []float64
}

// Action is what one unknown or a load does on a body: a force at a place, and a moment. Bodies that are
// not among those drawn, such as the frame, are held.
type Action struct {
	Hole   mechanism.Hole // where it acts; without a Point it is no force of a hole
	At     complex128
	Force  complex128
	Moment float64
}

// Draw returns the moving bodies of a mechanism whose points are at the given places, and further bodies
// by name. Each pivot of two bodies is two unknowns, each slot one, and the shock one.
func Draw(s mechanism.Spec, at map[string]mechanism.Point, further ...string) *FreeBodies {
	f := &FreeBodies{names: slices.Clone(further)}
	for name := range s.Bodies {
		if name != mechanism.Frame {
			f.names = append(f.names, name)
		}
	}
	f.right = make([]float64, 3*len(f.names))
	slices.Sort(f.names)
	action := func(body, point string, force complex128) Action {
		return Action{mechanism.Hole{Body: body, Point: point}, Place(at[point]), force, 0}
	}
	owners := func(point string) (list []string) {
		for _, name := range append([]string{mechanism.Frame}, f.names...) {
			if slices.Contains(s.Bodies[name], point) {
				list = append(list, name)
			}
		}
		return list
	}
	for point := range s.Points {
		list := owners(point)
		for i := 1; i < len(list); i++ {
			for _, axis := range []complex128{1, 1i} {
				f.Unknown(action(list[i-1], point, axis), action(list[i], point, -axis))
			}
		}
	}
	for _, slot := range s.Slots {
		from, to := slot.Along[0], slot.Along[1]
		way := Place(at[to]) - Place(at[from])
		share := real((Place(at[slot.Point]) - Place(at[from])) / way)
		across := 1i * way
		f.Unknown(action(owners(slot.Point)[0], slot.Point, across),
			action(slot.On, from, across*complex(share-1, 0)), action(slot.On, to, across*complex(-share, 0)))
	}
	eye, other := s.Shock[0], s.Shock[1]
	way := Place(at[eye]) - Place(at[other])
	f.Unknown(action(owners(eye)[0], eye, way), action(owners(other)[0], other, -way))
	return f
}

// Unknown adds one unknown that acts as stated per unit of it.
func (f *FreeBodies) Unknown(actions ...Action) { f.unknowns = append(f.unknowns, actions) }

// Load adds a load on a body.
func (f *FreeBodies) Load(a Action) {
	if i := f.row(a); i >= 0 {
		for k, v := range a.parts() {
			f.right[i+k] -= v
		}
	}
}

func (f *FreeBodies) row(a Action) int { return 3 * slices.Index(f.names, a.Hole.Body) }

// parts returns the force of an action and its moment about the origin.
func (a *Action) parts() [3]float64 {
	return [3]float64{real(a.Force), imag(a.Force), real(a.At)*imag(a.Force) - imag(a.At)*real(a.Force) + a.Moment}
}

// Forces solves for all unknowns at once and returns the force on each hole. It panics where they don't
// follow from the loads.
func (f *FreeBodies) Forces() map[mechanism.Hole]complex128 {
	a := mat.NewDense(len(f.right), len(f.unknowns), nil)
	for k, actions := range f.unknowns {
		for _, on := range actions {
			if i := f.row(on); i >= 0 {
				for n, v := range on.parts() {
					a.Set(i+n, k, a.At(i+n, k)+v)
				}
			}
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(a, mat.NewVecDense(len(f.right), f.right)); err != nil || len(f.right) != len(f.unknowns) {
		panic("bodies that are not in equilibrium by themselves")
	}
	forces := map[mechanism.Hole]complex128{}
	for k, actions := range f.unknowns {
		for _, on := range actions {
			forces[on.Hole] += on.Force * complex(x.AtVec(k), 0)
		}
	}
	return forces
}

// Place returns a point as a complex number, in m.
func Place(p mechanism.Point) complex128 { return complex(float64(p[0]), float64(p[1])) }
