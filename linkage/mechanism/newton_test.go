package mechanism

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"example.com/wheelrate/units"
)

// invented returns a mechanism of internal/linkagetest. The one named slider is
// a swingarm beside which a body floats: two of its pins run in a slot of the
// swingarm and a third in an upright one of the frame.
func invented(t *testing.T, name string) Spec {
	t.Helper()
	text, err := os.ReadFile("../internal/linkagetest/invented.json")
	var all map[string]Spec
	if err == nil {
		err = json.Unmarshal(text, &all)
	}
	if err != nil {
		t.Fatal(err)
	}
	return all[name]
}

// linkOnSlider is slider with a link on the floating body's pin, whose other end
// is on a rod that is joined to the frame, or in a slot of the frame. The link
// comes first by its name.
func linkOnSlider(t *testing.T, rod bool) Spec {
	m := invented(t, "slider")
	m.Points["K"], m.Points["Q"] = Point{-0.260, 0.330}, Point{-0.190, 0.420}
	m.Points["U"], m.Points["V"] = Point{-0.280, 0.430}, Point{-0.240, 0.230}
	m.Bodies["a link"] = []string{"N3", "K"}
	m.Bodies["frame"] = append(m.Bodies["frame"], "Q", "U", "V")
	if rod {
		m.Bodies["rod"] = []string{"K", "Q"}
	} else {
		m.Slots = append(m.Slots, Slot{Point: "K", On: "frame", Along: [2]string{"U", "V"}})
	}
	m.Stroke = 20 * units.Millimetre
	return m
}

func layoutOf(t *testing.T, s Spec) *layout {
	t.Helper()
	c := units.Checker{Package: "mechanism"}
	l := newLayout(&c, s)
	if l == nil {
		t.Fatal(c.Err())
	}
	return l
}

// Every body is joined to one that came before it, at a point of both; a body
// floats only if no pivot leads to it from the frame. Each is one unknown, or
// three, and there are as many constraints as unknowns.
func TestSpanningTreeJoinsEveryBody(t *testing.T) {
	for _, test := range []struct {
		name     string
		spec     Spec
		unknowns int
		floats   []string
	}{
		{"single pivot", invented(t, "a1"), 1, nil},
		{"floating shock", invented(t, "e2"), 3, nil},
		{"six-bar", invented(t, "f1"), 5, nil},
		{"floating body", invented(t, "slider"), 1 + 3, []string{"slider"}},
		// The rod is joined to the frame, the link to the rod, and what the link
		// shares with the slider brings that in: nothing floats.
		{"links to a slider", linkOnSlider(t, true), 4, nil},
		{"a link on a slider", linkOnSlider(t, false), 1 + 3 + 1, []string{"a link"}},
	} {
		l := layoutOf(t, test.spec)
		tree := newTree(l)
		if tree.unknowns != test.unknowns || len(tree.constraints) != test.unknowns {
			t.Errorf("%s: %d unknowns and %d constraints, want %d", test.name, tree.unknowns, len(tree.constraints), test.unknowns)
		}
		var floats []string
		known, at := []int{0}, 0
		for _, b := range tree.branches {
			if b.at != at {
				t.Errorf("%s: %s has the coordinate %d, want %d", test.name, l.bodies[b.body], b.at, at)
			}
			at++
			switch {
			case b.floats:
				floats = append(floats, l.bodies[b.body])
				at += 2
			case !slices.Contains(known, b.pivot.body):
				t.Errorf("%s: %s is joined to %s, which isn't there yet", test.name, l.bodies[b.body], l.bodies[b.pivot.body])
			default:
				z := tree.origins[b.pivot.body] + b.pivot.r
				shared := false
				for name, p := range l.points {
					shared = shared || abs(p-z) < 1e-15 && slices.Contains(l.owners[name], b.body) && slices.Contains(l.owners[name], b.pivot.body)
				}
				if !shared || abs(tree.origins[b.body]-z) > 1e-15 {
					t.Errorf("%s: %s is joined at %v, its origin is at %v", test.name, l.bodies[b.body], z, tree.origins[b.body])
				}
			}
			known = append(known, b.body)
		}
		if !slices.Equal(floats, test.floats) || len(tree.branches) != len(l.bodies)-1 {
			t.Errorf("%s: %v float, want %v; %d branches", test.name, floats, test.floats, len(tree.branches))
		}
	}
}

// A mechanism is counted in a power of two metres that is more than its extent
// and at most twice as much, wherever it is, so that places in it are numbers
// near 1.
func TestUnitOfAMechanismIsNearItsExtent(t *testing.T) {
	for _, factor := range []units.Length{0.01, 0.3, 1, 2, 7, 100} {
		for _, turned := range []bool{false, true} {
			m := invented(t, "e2")
			for name, p := range m.Points {
				p = Point{factor*p[0] - 3, factor*p[1] + 5}
				if turned {
					p = Point{p[1], p[0]}
				}
				m.Points[name] = p
			}
			m.Stroke *= factor
			size := layoutOf(t, m).size
			extent := 0.505 * float64(factor) // from AX to S1 across
			if fraction, _ := math.Frexp(size); fraction != 0.5 || !(size > extent*(1-1e-9) && size <= 2*extent*(1+1e-9)) {
				t.Errorf("%v: a unit of %v m for %v m", float64(factor), size, extent)
			}
		}
	}
}

// turning is the solver of an arm about the origin, whose only coordinate is its
// turn, and that turn at a share of the stroke in closed form.
func turning(t *testing.T) (*newton, float64, func(share float64) float64) {
	t.Helper()
	const a, d, phi = 0.08, 0.25, 1.4
	l := layoutOf(t, Spec{
		Points: map[string]Point{"P": {0, 0}, "S1": {units.Length(a * math.Cos(phi)), units.Length(a * math.Sin(phi))}, "S2": {d, 0}, "A": {-0.4, -0.05}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 0.05,
	})
	full := math.Sqrt(a*a + d*d - 2*a*d*math.Cos(phi))
	return newNewton(newTree(l)), l.stroke, func(share float64) float64 {
		length := full - share*l.stroke*l.size
		return math.Acos((a*a+d*d-length*length)/(2*a*d)) - phi
	}
}

// Newton's method comes to the same place from far off on either side, and says
// so where it doesn't converge.
func TestNewtonConvergesFromEitherSide(t *testing.T) {
	n, stroke, turn := turning(t)
	for _, share := range []float64{0.1, 0.5, 0.9} {
		for _, from := range []float64{share - 0.1, share - 0.01, share + 0.01, share + 0.1} {
			var m motion
			q := coordinates{turn(from)}
			if !n.solve(share*stroke, &q, &m, &n.sys) {
				t.Errorf("%v from %v does not converge", share, from)
			} else if want := turn(share); math.Abs(q[0]-want) > 1e-13 {
				t.Errorf("%v from %v: turned by %v, want %v", share, from, q[0], want)
			}
		}
	}
	var m motion
	if q := (coordinates{math.NaN()}); n.solve(0.5*stroke, &q, &m, &n.sys) {
		t.Error("from NaN it converges")
	}
}

// The rates are those of the place itself, though the search for it started as
// much as the last step may be long away from it.
func TestRatesAreThoseOfThePlaceItself(t *testing.T) {
	n, stroke, turn := turning(t)
	for _, share := range []float64{0.2, 0.5, 0.8} {
		const h = 1e-3
		central := func(h float64) float64 { return (turn(share+h) - turn(share-h)) / (2 * h * stroke) }
		want := (4*central(h/2) - central(h)) / 3
		for _, off := range []float64{0, 5e-10, -5e-10, 1e-12, 1e-5} {
			var m motion
			q := coordinates{turn(share) + off}
			if !n.solve(share*stroke, &q, &m, &n.sys) {
				t.Fatal(off)
			}
			if math.Abs(m[1].w-want) > 2e-11*math.Abs(want) {
				t.Errorf("%v off: turns by %v, want %v", off, m[1].w, want)
			}
		}
	}
}

// Between two nodes, and a step ahead of the last two, one step of Newton's method
// is enough: the prediction is better than 1e-9 of the mechanism's size, whose
// square is below rounding.
func TestPredictionLeavesOneNewtonStep(t *testing.T) {
	for _, name := range []string{"e2", "slider", "f1", "d2"} {
		l := layoutOf(t, invented(t, name))
		n := newNewton(newTree(l))
		if _, lock := trace(l, n, n.mark(l.axle), steps); lock != nil {
			t.Fatal(name, lock)
		}
		for i, s := range n.strokes[1:] {
			for _, part := range []float64{0, 0.2, 0.5, 0.9, 1} {
				at := n.strokes[i] + part*(s-n.strokes[i])
				var q coordinates
				var m motion
				n.interpolate(n.interval(at), at, &q)
				n.at(at, &m)
				for _, h := range n.branches {
					b := &m[h.body]
					predicted := q[h.at : h.at+1]
					if h.floats {
						predicted = q[h.at : h.at+3]
					}
					for c, got := range predicted {
						want := []float64{math.Atan2(imag(b.u), real(b.u)), real(b.o), imag(b.o)}[c]
						if !(math.Abs(got-want) < 1e-9) {
							t.Fatalf("%s at %v of node %d: coordinate %d of body %d is %v, predicted %v", name, part, i, c, h.body, want, got)
						}
					}
				}
			}
		}
		value := func(i, c int) float64 { return n.states[i*n.unknowns+c].Value }
		predict := func(nodes int, to float64) *coordinates {
			ahead := *n
			ahead.strokes, ahead.states = n.strokes[:nodes], n.states[:nodes*n.unknowns]
			for c := range n.unknowns {
				ahead.q[c] = value(nodes-1, c)
			}
			ahead.predict(to)
			return &ahead.last
		}
		for i := 2; i < len(n.strokes); i++ {
			q := predict(i, n.strokes[i])
			for c := range n.unknowns {
				if want := value(i, c); !(math.Abs(q[c]-want) < 1e-9) {
					t.Fatalf("%s, node %d: coordinate %d is %v, predicted %v", name, i, c, want, q[c])
				}
			}
		}
	}
}

// Matrices by hand. Rows 2, 3 and 4 long at right angles, two of them swapped:
// the determinant is −24, and no row says anything of what another does.
func TestFactorsShowSignAndLeastPivot(t *testing.T) {
	sys := system{n: 3, lu: []float64{0, 2, 0, 3, 0, 0, 0, 0, 4}}
	if !sys.factor() || sys.sign != -1 || sys.least != 1 {
		t.Errorf("sign %v, least pivot %v", sys.sign, sys.least)
	}
	b := coordinates{2, 6, 12}
	if sys.solve(&b); b != (coordinates{2, 1, 3}) {
		t.Errorf("solution %v", b[:3])
	}
	// Rows (3, 4), 5 long, and (6, 8): no inverse.
	sys = system{n: 2, lu: []float64{3, 4, 6, 8}}
	if sys.factor() || sys.sign != 0 || sys.least != 0 {
		t.Errorf("sign %v, least pivot %v of parallel rows", sys.sign, sys.least)
	}
	// Rows of determinants 16, −16 and 16, 5 and 13 long. The first pivot is 5 of
	// 13, the second 4 − 3·12/5 = −16/5 of 5; or 12 of 13 and 3 − 4·5/12 = 4/3 of 5.
	for _, test := range []struct {
		rows        []float64
		sign, least float64
	}{
		{[]float64{3, 4, 5, 12}, 1, 5. / 13},
		{[]float64{5, 12, 3, 4}, -1, 5. / 13},
		{[]float64{12, 5, 4, 3}, 1, 4. / 15},
		{[]float64{4, 3, 12, 5}, -1, 4. / 15},
		{[]float64{-4, 3, -12, 5}, 1, 4. / 15},
	} {
		// As great as numbers are, and as small: only the rows' ratios count.
		for _, scale := range []float64{1, 1e-100, 1e100} {
			sys = system{n: 2, lu: make([]float64, 4)}
			for i, v := range test.rows {
				sys.lu[i] = v * scale
			}
			if !sys.factor() || sys.sign != test.sign || math.Abs(sys.least-test.least) > 1e-15 {
				t.Errorf("%v times %v: sign %v, least pivot %v", test.rows, scale, sys.sign, sys.least)
			}
		}
	}
	sys = system{n: 2, lu: []float64{3, 4, 5, 12}}
	sys.factor()
	b = coordinates{11, 29}
	if sys.solve(&b); math.Abs(b[0]-1) > 1e-14 || math.Abs(b[1]-2) > 1e-14 {
		t.Errorf("solution %v", b[:2])
	}
	// A factor of 1/2 for a row that has a 1 below the pivot.
	sys = system{n: 2, lu: []float64{2, 1, 1, 3}}
	b = coordinates{4, 7}
	if sys.factor(); sys.lu[2] != 0.5 || sys.lu[3] != 2.5 {
		t.Errorf("factors %v", sys.lu)
	}
	if sys.solve(&b); b[0] != 1 || b[1] != 2 {
		t.Errorf("solution %v", b[:2])
	}
	sys = system{n: 2, lu: []float64{math.Inf(1), 0, 0, 1}}
	if sys.factor() {
		t.Error("an infinite matrix is factored")
	}
}
