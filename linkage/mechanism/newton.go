package mechanism

import (
	"math"
	"sort"

	"example.com/wheelrate/linkage/internal/hermite"
)

// coordinates are, for every moving body, its turn from full extension, and of
// a floating one x and y of its origin too.
type coordinates [maxUnknowns]float64

// newton solves any mechanism by Newton's method, from a prediction by the nodes kept.
type newton struct {
	*tree
	strokes []float64     // of the nodes
	states  []hermite.Jet // of the nodes, as many to each as there are unknowns
	q, last coordinates   // of the last node, and of the stroke solved last
	sign    float64       // of the constraints' determinant at full extension
	sys     system
}

func newNewton(t *tree) *newton {
	return &newton{tree: t, sys: system{lu: make([]float64, t.unknowns*t.unknowns)}}
}

func (n *newton) start(m *motion) bool {
	n.last = n.q
	ok := n.solve(0, &n.last, m, &n.sys)
	n.sign = n.sys.sign
	return ok && n.sys.least > singular
}

func (n *newton) step(to float64, m *motion) bool {
	n.predict(to)
	return n.solve(to, &n.last, m, &n.sys) && n.sys.sign == n.sign && n.sys.least > singular
}

// predict sets last to the coordinates at the stroke to, extrapolated from the last two nodes.
func (n *newton) predict(to float64) {
	n.last = n.q
	if i := len(n.strokes) - 2; i >= 0 {
		n.interpolate(i, to, &n.last)
	}
}

// interpolate writes the coordinates at the stroke s by the quintics that share values and
// derivatives with node i and the one after it; s is between these or not far beyond.
func (n *newton) interpolate(i int, s float64, q *coordinates) {
	a, b := n.states[i*n.unknowns:], n.states[(i+1)*n.unknowns:]
	for k := range n.unknowns {
		x := hermite.New(n.strokes[i+1]-n.strokes[i], a[k], b[k])
		q[k] = x.Value(s - n.strokes[i])
	}
}

func (n *newton) keep(s float64, m *motion) {
	n.strokes, n.q = append(n.strokes, s), n.last
	for _, h := range n.branches {
		b := &m[h.body]
		n.states = append(n.states, hermite.Jet{Value: n.q[h.at], Slope: b.w, Second: b.dw})
		if h.floats {
			n.states = append(n.states, hermite.Jet{Value: n.q[h.at+1], Slope: real(b.v), Second: real(b.a)},
				hermite.Jet{Value: n.q[h.at+2], Slope: imag(b.v), Second: imag(b.a)})
		}
	}
}

// at solves a stroke between nodes. Its matrix is on the stack, in one of two sizes:
// clearing the larger one takes a good part of the time of a pose.
func (n *newton) at(s float64, m *motion) {
	var q coordinates
	n.interpolate(n.interval(s), s, &q)
	if n.unknowns > maxMoving { // with bodies that float
		var room [maxUnknowns * maxUnknowns]float64
		n.solve(s, &q, m, &system{lu: room[:]})
		return
	}
	var room [maxMoving * maxMoving]float64
	n.solve(s, &q, m, &system{lu: room[:]})
}

// interval returns the number of the node before a stroke.
func (n *newton) interval(s float64) int {
	return sort.SearchFloat64s(n.strokes[1:len(n.strokes)-1], s)
}

// solve solves for the stroke s from a start q, which it replaces, and writes
// the motion. It leaves the constraints' jacobian, factored, in sys. It reports
// false if it does not converge or the jacobian is singular.
func (n *newton) solve(s float64, q *coordinates, m *motion, sys *system) bool {
	const (
		enough = 1e-9  // its square is below rounding, and Newton's method squares
		exact  = 1e-13 // so near that the jacobian is that of the place itself
		far    = 1e3   // sizes of the mechanism: it diverges
	)
	var b coordinates
	size := far
	for range 25 {
		n.put(q, m)
		n.violations(s, m, &b)
		n.jacobian(m, sys)
		if !sys.factor() {
			return false
		}
		sys.solve(&b)
		size = 0
		for k := range n.unknowns {
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
	n.put(q, m)
	if size > exact {
		n.jacobian(m, sys)
		sys.factor()
	}
	n.rates(s, m, sys)
	return true
}
