package linkage

import (
	"math"
	"testing"

	"example.com/wheelrate/units"
)

// floating is an invented linkage with two short links and a floating shock,
// which circles alone don't solve.
func floating() Mechanism {
	at := func(x, y units.Length) Point { return Point{x * units.Millimetre, y * units.Millimetre} }
	return Mechanism{
		Points: map[string]Point{
			"M1": at(2, 53), "M2": at(-49, 15), "U1": at(-42, 284), "U2": at(-153, 353), "AX": at(-435, 26), "S1": at(70, 299), "S2": at(33, 92),
		},
		Bodies: map[string][]string{"frame": {"M1", "U1"}, "LL": {"M1", "M2", "S2"}, "RT": {"M2", "U2", "AX"}, "UL": {"U1", "U2", "S1"}},
		Axle:   "AX", Shock: [2]string{"S1", "S2"}, Stroke: 55 * units.Millimetre,
	}
}

// Between two nodes, places and turns are foretold so well from both that one
// step of Newton's method ends the search: to better than 1e-9 of the
// mechanism's size, whose square is below rounding.
func TestForetoldPlaces(t *testing.T) {
	k, err := NewMechanism(floating())
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range k.strokes[1:] {
		for _, part := range []float64{0, 0.2, 0.5, 0.9, 1} {
			at := k.strokes[i] + part*(s-k.strokes[i])
			var q coordinates
			var m motion
			k.predict(at, &q)
			k.eval(at, &m)
			for body := range k.t.moving() {
				b := &m[body+1]
				for c, want := range []float64{real(b.o), imag(b.o), math.Atan2(imag(b.u), real(b.u))} {
					if got := q[3*body+c]; !(math.Abs(got-want) < 1e-9) {
						t.Fatalf("body %d at %v of node %d: coordinate %d is %v, foretold %v", body, part, i, c, want, got)
					}
				}
			}
		}
	}
}

// A mechanism is counted in a power of two metres that is more than its extent
// and at most twice as much, wherever it is, so that places in it are numbers
// near 1.
func TestUnitOfAMechanism(t *testing.T) {
	for _, factor := range []units.Length{0.01, 0.3, 1, 2, 7, 100} {
		for _, turned := range []bool{false, true} {
			m := floating()
			for name, p := range m.Points {
				p = Point{factor*p[0] - 3, factor*p[1] + 5}
				if turned {
					p = Point{p[1], p[0]}
				}
				m.Points[name] = p
			}
			m.Stroke *= factor
			topology, _ := newTopology(m)
			if topology == nil {
				t.Fatal(factor)
			}
			// From AX to S1 across.
			extent := 0.505 * float64(factor)
			if fraction, _ := math.Frexp(topology.size); fraction != 0.5 || !(topology.size > extent*(1-1e-9) && topology.size <= 2*extent*(1+1e-9)) {
				t.Errorf("%v: a unit of %v m for %v m", float64(factor), topology.size, extent)
			}
		}
	}
}

// A step ahead, places are foretold from the last two nodes nearly as well, and
// from the last alone, to the second derivative, where the step is long against
// the one before it or the first.
func TestForetoldSteps(t *testing.T) {
	top, err := newTopology(floating())
	if err != nil {
		t.Fatal(err)
	}
	all, lock := top.trace(nil, steps)
	if lock != nil {
		t.Fatal(lock)
	}
	n := top.moving() * perBody
	state := func(i, body, c int) float64 { return all.states[i*n+body*perBody+c] }
	foretold := func(nodes int, to float64) coordinates {
		tr := &tracer{t: top, strokes: all.strokes[:nodes], states: all.states[:nodes*n]}
		var q coordinates
		var from motion
		for body := range top.moving() {
			b := &from[body+1]
			for c := range 3 {
				q[3*body+c] = state(nodes-1, body, c)
			}
			b.v, b.w = complex(state(nodes-1, body, 3), state(nodes-1, body, 4)), state(nodes-1, body, 5)
			b.a, b.dw = complex(state(nodes-1, body, 6), state(nodes-1, body, 7)), state(nodes-1, body, 8)
		}
		tr.foretell(&from, &q, all.strokes[nodes-1], to)
		return q
	}
	for i := 1; i < len(all.strokes); i++ {
		h := all.strokes[i] - all.strokes[i-1]
		q := foretold(i, all.strokes[i])
		within := 1e-9
		if i == 1 || h > 2*(all.strokes[i-1]-all.strokes[i-2]) {
			within = 1e-5
		}
		for body := range top.moving() {
			for c := range 3 {
				if got, want := q[3*body+c], state(i, body, c); !(math.Abs(got-want) < within) {
					t.Fatalf("node %d, body %d: coordinate %d is %v, foretold %v", i, body, c, want, got)
				}
			}
		}
	}
	const nodes = 40
	last := all.strokes[nodes-1] - all.strokes[nodes-2]
	for _, times := range []float64{2.01, 3} {
		q := foretold(nodes, all.strokes[nodes-1]+times*last)
		for body := range top.moving() {
			for c := range 3 {
				h := times * last
				want := state(nodes-1, body, c) + h*state(nodes-1, body, c+3) + h*h/2*state(nodes-1, body, c+6)
				if got := q[3*body+c]; math.Abs(got-want) > 1e-15 {
					t.Errorf("%v times as far, body %d: coordinate %d foretold as %v, want %v", times, body, c, got, want)
				}
			}
		}
	}
}
