package mechanism

import (
	"math"
	"testing"

	"example.com/wheelrate/units"
)

// floating is an invented linkage with two short links and a floating shock,
// which circles alone don't solve.
func floating() Spec {
	at := func(x, y units.Length) Point { return Point{x * units.Millimetre, y * units.Millimetre} }
	return Spec{
		Points: map[string]Point{
			"M1": at(2, 53), "M2": at(-49, 15), "U1": at(-42, 284), "U2": at(-153, 353), "AX": at(-435, 26), "S1": at(70, 299), "S2": at(33, 92),
		},
		Bodies: map[string][]string{"frame": {"M1", "U1"}, "LL": {"M1", "M2", "S2"}, "RT": {"M2", "U2", "AX"}, "UL": {"U1", "U2", "S1"}},
		Axle:   "AX", Shock: [2]string{"S1", "S2"}, Stroke: 55 * units.Millimetre,
	}
}

// sliding is an invented swingarm beside which a body floats: two of its pins
// run in a slot of the swingarm and a third in an upright one of the frame.
func sliding() Spec {
	at := func(x, y units.Length) Point { return Point{x * units.Millimetre, y * units.Millimetre} }
	return Spec{
		Points: map[string]Point{
			"P": at(5, 60), "A": at(-430, 5), "S1": at(-70, 110), "S2": at(120, 190), "F": at(-90, 150), "G": at(-190, 190),
			"N1": at(-115, 160), "N2": at(-165, 180), "N3": at(-140, 300), "L1": at(-140, 250), "L2": at(-140, 350),
		},
		Bodies: map[string][]string{"frame": {"P", "S2", "L1", "L2"}, "arm": {"P", "S1", "A", "F", "G"}, "slider": {"N1", "N2", "N3"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 50 * units.Millimetre,
		Slots: []Slot{
			{Point: "N1", On: "arm", Along: [2]string{"F", "G"}},
			{Point: "N2", On: "arm", Along: [2]string{"F", "G"}},
			{Point: "N3", On: "frame", Along: [2]string{"L1", "L2"}},
		},
	}
}

// byNewton are the invented mechanisms that circles don't solve.
var byNewton = map[string]func() Spec{"floating shock": floating, "floating body": sliding}

// Between two nodes, places and turns are foretold so well from both that one
// step of Newton's method ends the search: to better than 1e-9 of the
// mechanism's size, whose square is below rounding.
func TestForetoldPlaces(t *testing.T) {
	for name, mechanism := range byNewton {
		t.Run(name, func(t *testing.T) { testForetoldPlaces(t, mechanism()) })
	}
}

func testForetoldPlaces(t *testing.T, mechanism Spec) {
	k, err := New(mechanism)
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
			for body := 1; body <= k.t.moving(); body++ {
				h, b := &k.t.hung[body], &m[body]
				foretold := []float64{q[h.at]}
				if h.floats {
					foretold = q[h.at : h.at+3]
				}
				for c, got := range foretold {
					want := []float64{math.Atan2(imag(b.u), real(b.u)), real(b.o), imag(b.o)}[c]
					if !(math.Abs(got-want) < 1e-9) {
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
	for name, mechanism := range byNewton {
		t.Run(name, func(t *testing.T) { testForetoldSteps(t, mechanism()) })
	}
}

func testForetoldSteps(t *testing.T, mechanism Spec) {
	top, err := newTopology(mechanism)
	if err != nil {
		t.Fatal(err)
	}
	all, lock := top.trace(nil, steps)
	if lock != nil {
		t.Fatal(lock)
	}
	n := top.unknowns * perUnknown
	state := func(i, c, derivative int) float64 { return all.states[i*n+c*perUnknown+derivative] }
	foretold := func(nodes int, to float64) coordinates {
		tr := &tracer{t: top, strokes: all.strokes[:nodes], states: all.states[:nodes*n]}
		var q coordinates
		var from motion
		for c := range top.unknowns {
			q[c] = state(nodes-1, c, 0)
		}
		for _, body := range top.order {
			h, b := &top.hung[body], &from[body]
			b.w, b.dw = state(nodes-1, h.at, 1), state(nodes-1, h.at, 2)
			if h.floats {
				b.v = complex(state(nodes-1, h.at+1, 1), state(nodes-1, h.at+2, 1))
				b.a = complex(state(nodes-1, h.at+1, 2), state(nodes-1, h.at+2, 2))
			}
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
		for c := range top.unknowns {
			if got, want := q[c], state(i, c, 0); !(math.Abs(got-want) < within) {
				t.Fatalf("node %d: coordinate %d is %v, foretold %v", i, c, want, got)
			}
		}
	}
	const nodes = 40
	last := all.strokes[nodes-1] - all.strokes[nodes-2]
	for _, times := range []float64{2.01, 3} {
		h := times * last
		q := foretold(nodes, all.strokes[nodes-1]+h)
		for c := range top.unknowns {
			want := state(nodes-1, c, 0) + h*state(nodes-1, c, 1) + h*h/2*state(nodes-1, c, 2)
			if got := q[c]; math.Abs(got-want) > 1e-15 {
				t.Errorf("%v times as far: coordinate %d foretold as %v, want %v", times, c, got, want)
			}
		}
	}
}
