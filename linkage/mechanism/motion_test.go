package mechanism_test

import (
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Whether a layout is solved by intersecting circles follows from how its bodies are
// joined. With the shock on the coupler or floating between two bodies, and in a
// six-bar loop, three unknown bodies meet at once. A layout with a slot has no closed
// form either.
func TestLayoutsWithAClosedForm(t *testing.T) {
	for name, want := range map[string]bool{
		"a1": true, "a2": true, "b1": true, "c1": true, "c2": true, "c3": true, "d1": true,
		"d2": false, "e1": false, "e2": false, "f1": false, "f2": false,
	} {
		if got := solved(name).ClosedForm(); got != want {
			t.Errorf("%s: closed form %v, want %v", name, got, want)
		}
	}
	for name, m := range slotted() {
		if k, err := mechanism.New(m); err != nil || k.ClosedForm() != (len(m.Slots) == 0) {
			t.Errorf("%s: %v, %v", name, k, err)
		}
	}
}

// Circles and Newton's method share nothing but the points.
func TestClosedFormAgreesWithNewton(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		n, err := mechanism.NewByNewton(spec(name))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for i := range 238 { // not in step with the nodes
			s := k.Stroke() * units.Length(i) / 237
			a, b := k.Positions(s), n.Positions(s)
			for point := range a {
				for axis := range 2 {
					unitstest.Near(t, name+" "+point, a[point][axis], b[point][axis], unitstest.Abs(mm(1e-9)))
				}
			}
			p, q := k.Pose(s), n.Pose(s)
			unitstest.Near(t, name+" ratio", p.LeverRatio, q.LeverRatio, unitstest.Rel(1e-11))
			unitstest.Near(t, name+" slope", p.LeverRatioSlope, q.LeverRatioSlope, unitstest.Rel(1e-9), unitstest.Abs(units.RatioSlope(1e-9)))
			unitstest.Near(t, name+" turning", p.CarrierTurning, q.CarrierTurning, unitstest.Rel(1e-10), unitstest.Abs(1e-10))
			if t.Failed() {
				t.Fatalf("%s at %v", name, s)
			}
		}
	}
}

// every lists the mechanisms of the tests, solved: those that move without slots and
// those with slots.
func every(t *testing.T) map[string]*mechanism.Mechanism {
	t.Helper()
	specs := slotted()
	for _, name := range movable() {
		specs[name] = spec(name)
	}
	list := map[string]*mechanism.Mechanism{}
	for name, m := range specs {
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(name, err)
		}
		list[name] = k
	}
	return list
}

func distance(a, b mechanism.Point) float64 {
	return math.Hypot(float64(b[0]-a[0]), float64(b[1]-a[1]))
}

// side returns how far a point is to the left of the line from a to b.
func side(a, b, p mechanism.Point) float64 {
	x, y := float64(b[0]-a[0]), float64(b[1]-a[1])
	return (x*float64(p[1]-a[1]) - y*float64(p[0]-a[0])) / math.Hypot(x, y)
}

// Every body keeps its shape, pins stay in their slots, the shock is as short as
// it was asked to be, and marks stay where they are: what a pose is, said without the
// solver's own equations.
func TestBodiesStayRigid(t *testing.T) {
	for name, k := range every(t) {
		m := k.Spec()
		m.Points["mark"] = at(100, 100) // of no body
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(name, err)
		}
		length := distance(m.Points[m.Shock[0]], m.Points[m.Shock[1]])
		for _, x := range []float64{0, 1e-9, 0.123, 0.5, 0.77777, 1} {
			s := units.Length(x) * m.Stroke
			at := k.Positions(s)
			if at["mark"] != m.Points["mark"] || len(at) != len(m.Points) {
				t.Errorf("%s: the mark moved to %v; %d points", name, at["mark"], len(at))
			}
			for body, points := range m.Bodies {
				for i, a := range points {
					if body == mechanism.Frame && at[a] != m.Points[a] {
						t.Errorf("%s: the frame's %s moved to %v", name, a, at[a])
					}
					for _, b := range points[i+1:] {
						unitstest.Near(t, name+" "+a+b, distance(at[a], at[b]), distance(m.Points[a], m.Points[b]), unitstest.Abs(1e-13))
					}
				}
				a, b, c := points[0], points[1], points[len(points)-1]
				unitstest.Near(t, name+" side of "+c, side(at[a], at[b], at[c]), side(m.Points[a], m.Points[b], m.Points[c]), unitstest.Abs(1e-12))
			}
			for _, slot := range m.Slots {
				unitstest.Near(t, name+" pin "+slot.Point, side(at[slot.Along[0]], at[slot.Along[1]], at[slot.Point]), 0, unitstest.Abs(1e-12))
			}
			unitstest.Near(t, name+" shock", distance(at[m.Shock[0]], at[m.Shock[1]]), length-float64(s), unitstest.Abs(1e-13))
		}
	}
}

// The derivatives against central differences of the places. The step is wide
// enough for rounding and extrapolated once, so that its own error is far
// below the tolerance.
func TestPoseHasItsDerivatives(t *testing.T) {
	for name, k := range every(t) {
		for i := 1; i < 20; i++ {
			s := k.Stroke() * units.Length(i) / 20
			difference := func(f func(units.Length) float64) float64 {
				central := func(h units.Length) float64 { return (f(s+h) - f(s-h)) / float64(2*h) }
				h := mm(0.1)
				return (4*central(h/2) - central(h)) / 3
			}
			p := k.Pose(s)
			x := difference(func(s units.Length) float64 { return float64(k.Pose(s).Axle[0]) })
			w := difference(func(s units.Length) float64 { return float64(k.Pose(s).Travel) })
			r := difference(func(s units.Length) float64 { return k.Pose(s).LeverRatio })
			turn := difference(func(s units.Length) float64 { return float64(k.Pose(s).CarrierTurn) })
			length := difference(func(s units.Length) float64 { return float64(k.PathLength(s)) })
			unitstest.Near(t, name+" dx/ds", p.AxleForward, x, unitstest.Abs(1e-8))
			unitstest.Near(t, name+" dw/ds", p.LeverRatio, w, unitstest.Abs(1e-8))
			unitstest.Near(t, name+" dLR/ds", float64(p.LeverRatioSlope), r, unitstest.Abs(1e-5))
			unitstest.Near(t, name+" turning", p.CarrierTurning, turn, unitstest.Abs(1e-6))
			unitstest.Near(t, name+" path", math.Hypot(p.AxleForward, p.LeverRatio), length, unitstest.Abs(1e-8))
		}
	}
}

// What a pose says of the axle, from the places and rates by themselves.
func TestPoseIsConsistent(t *testing.T) {
	for name, k := range every(t) {
		first := k.Pose(0)
		for i := range 12 {
			p := k.Pose(k.Stroke() * units.Length(i) / 11)
			unitstest.Near(t, name+" travel", p.Travel, p.Axle[1]-first.Axle[1], unitstest.Abs(mm(1e-12)))
			unitstest.Near(t, name+" wheelbase", p.WheelbaseGrowth, first.Axle[0]-p.Axle[0], unitstest.Abs(mm(1e-12)))
			growth := math.Hypot(float64(p.Axle[0]), float64(p.Axle[1])) - math.Hypot(float64(first.Axle[0]), float64(first.Axle[1]))
			unitstest.Near(t, name+" growth", p.AxleGrowth, units.Length(growth), unitstest.Abs(mm(1e-12)))
			if distance(p.Axle, p.InstantCentre) > 1e5 {
				continue // it does not turn
			}
			// The axle moves at right angles to the line to the instant centre,
			// as fast as its distance from there and the turning say.
			dx, dy := float64(p.Axle[0]-p.InstantCentre[0]), float64(p.Axle[1]-p.InstantCentre[1])
			unitstest.Near(t, name+" v_x", p.AxleForward, -p.CarrierTurning*dy, unitstest.Abs(1e-9))
			unitstest.Near(t, name+" v_y", p.LeverRatio, p.CarrierTurning*dx, unitstest.Abs(1e-9))
		}
	}
}

// A single pivot turns about its pivot, whatever the shock does and for a wheel that
// rises by less than the shock takes up too.
func TestSinglePivotTurnsAboutItsPivot(t *testing.T) {
	low := arm{A: 150, D: 250, Phi: 1.2, R: 100, Axle: 3.3}.Spec(30)
	for pivot, m := range map[mechanism.Point]mechanism.Spec{at(12, 72): spec("a1"), at(14, 58): spec("b1"), at(-22, 186): spec("a2"), {}: low} {
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 11 {
			centre := k.Pose(k.Stroke() * units.Length(i) / 10).InstantCentre
			unitstest.Near(t, "distance from the pivot", distance(centre, pivot), 0, unitstest.Abs(1e-11))
		}
	}
}

// c3's carrier stops turning at a stroke of 14.46784191624455376 mm (mpmath,
// 40 digits): the instant centre passes through infinity and stays a number, at
// most 1000 km from the axle whatever the mechanism's size.
func TestInstantCentrePassesThroughInfinity(t *testing.T) {
	for _, scale := range []units.Length{0.25, 1, 3, 20} {
		m := spec("c3")
		for name, p := range m.Points {
			m.Points[name] = mechanism.Point{scale * p[0], scale * p[1]}
		}
		m.Stroke *= scale
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(err)
		}
		still := scale * mm(14.46784191624455376)
		p := k.Pose(still)
		unitstest.Near(t, "turning", p.CarrierTurning, 0, unitstest.Abs(1e-10))
		unitstest.Near(t, "far", distance(p.InstantCentre, p.Axle), 1e6, unitstest.Rel(1e-9))
		before, after := k.Pose(still-mm(1e-6)), k.Pose(still+mm(1e-6))
		for _, p := range []mechanism.Pose{before, after} {
			if d := distance(p.InstantCentre, p.Axle); !(d > 1e3 && d < 1e6*(1+1e-9)) {
				t.Errorf("at %v the centre is %g m away", p.Stroke, d)
			}
		}
		if before.InstantCentre[0]*after.InstantCentre[0] > 0 {
			t.Errorf("the centre does not change sides: %v, %v", before.InstantCentre, after.InstantCentre)
		}
	}
}

// A mechanism is the same one seen in a mirror, turned, from elsewhere, at another
// size, with the shock's ends exchanged, and with its points and bodies in other names
// and another order beside a point of no body. Turned, its path is turned too; the
// others keep travel and ratio. It holds for mechanisms drawn at random and for those
// with slots.
func TestAnotherFrameOfReferenceChangesNothing(t *testing.T) {
	specs, draws := slotted(), 0
	for i := range 60 {
		m := drawMechanism(rand.New(rand.NewPCG(306, uint64(i))))
		if _, err := mechanism.New(m); err == nil {
			specs[fmt.Sprint("draw ", i)] = m
			draws++
		}
	}
	if draws < 30 {
		t.Errorf("%d of 60 draws move: the test looks at too little", draws)
	}
	rng := rand.New(rand.NewPCG(307, 1))
	for _, name := range slices.Sorted(maps.Keys(specs)) {
		m := specs[name]
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(name, err)
		}
		by, turn, move := 0.2+4*rng.Float64(), cmplx.Rect(1, (rng.Float64()-0.5)*0.5), complex(rng.Float64()-0.5, rng.Float64()-0.5)
		same := func(z complex128) complex128 { return z }
		exchanged := m
		exchanged.Shock = [2]string{m.Shock[1], m.Shock[0]}
		for _, ch := range []struct {
			what  string
			place func(complex128) complex128 // of every point
			size  float64
			m     mechanism.Spec
		}{
			{"mirrored", func(z complex128) complex128 { return -cmplx.Conj(z) }, 1, m},
			{"turned", func(z complex128) complex128 { return z * turn }, 1, m},
			{"moved", func(z complex128) complex128 { return z + move }, 1, m},
			{"larger", func(z complex128) complex128 { return z * complex(by, 0) }, by, m},
			{"all of it", func(z complex128) complex128 { return -cmplx.Conj(z)*turn*complex(by, 0) + move }, by, m},
			{"with its shock turned round", same, 1, exchanged},
			{"in other names and another order", same, 1, renamed(rng, m)},
		} {
			other, what := ch.m, name+" "+ch.what
			other.Points = map[string]mechanism.Point{}
			for name, p := range ch.m.Points {
				z := ch.place(complex(float64(p[0]), float64(p[1])))
				other.Points[name] = mechanism.Point{units.Length(real(z)), units.Length(imag(z))}
			}
			other.Stroke *= units.Length(ch.size)
			turned := ch.what == "turned" || ch.what == "all of it"
			o, err := mechanism.New(other)
			if err != nil {
				if !turned { // turned, the wheel may not rise
					t.Errorf("%s: %v", what, err)
				}
				continue
			}
			unitstest.Near(t, what+": shock", float64(o.ShockLength()), ch.size*float64(k.ShockLength()), unitstest.Rel(1e-12))
			strokes := o.Strokes()
			unitstest.Near(t, what+": last stroke", strokes[len(strokes)-1], o.Stroke(), unitstest.Rel(1e-12))
			at := func(p mechanism.Point) complex128 { return complex(float64(p[0]), float64(p[1])) }
			for j := range 9 {
				s := m.Stroke * units.Length(j) / 8
				a, b := k.Pose(s), o.Pose(s*units.Length(ch.size))
				if off := cmplx.Abs(at(b.Axle) - ch.place(at(a.Axle))); off > 1e-11*ch.size {
					t.Errorf("%s: axle %v off at %v", what, off, s)
				}
				// dP/ds as the places show it, less where the origin went to.
				way := ch.place(complex(a.AxleForward, a.LeverRatio)) - ch.place(0)
				got := complex(b.AxleForward, b.LeverRatio) * complex(ch.size, 0)
				if cmplx.Abs(got-way) > 1e-8*cmplx.Abs(way) {
					t.Errorf("%s: the axle goes %v per stroke at %v, want %v", what, got, s, way)
				}
				unitstest.Near(t, what+": path", float64(o.PathLength(s*units.Length(ch.size))), ch.size*float64(k.PathLength(s)), unitstest.Abs(1e-11*ch.size))
				unitstest.Near(t, what+": turn of the carrier", math.Abs(float64(b.CarrierTurn)), math.Abs(float64(a.CarrierTurn)), unitstest.Abs(1e-9))
				if !turned {
					unitstest.Near(t, what+": travel", float64(b.Travel), ch.size*float64(a.Travel), unitstest.Abs(1e-11*ch.size))
					unitstest.Near(t, what+": ratio", b.LeverRatio, a.LeverRatio, unitstest.Rel(1e-9))
					unitstest.Near(t, what+": slope", float64(b.LeverRatioSlope)*ch.size, float64(a.LeverRatioSlope), unitstest.Rel(1e-6), unitstest.Abs(1e-5))
				}
			}
			if t.Failed() {
				t.Fatalf("%+v", other)
			}
		}
	}
}

// renamed gives every point and every body but the frame another name, lists them in
// another order, turns the slots round, and adds a mark, a point of no body.
func renamed(rng *rand.Rand, m mechanism.Spec) mechanism.Spec {
	names := map[string]string{}
	for _, p := range slices.Sorted(maps.Keys(m.Points)) {
		names[p] = fmt.Sprintf("%c%d", 'a'+rng.IntN(26), len(names))
	}
	c := mechanism.Spec{Points: map[string]mechanism.Point{}, Bodies: map[string][]string{}, Axle: names[m.Axle], Stroke: m.Stroke}
	c.Shock = [2]string{names[m.Shock[0]], names[m.Shock[1]]}
	for old, p := range m.Points {
		c.Points[names[old]] = p
	}
	c.Points["a mark"] = mechanism.Point{mm(10), mm(10)}
	for _, s := range m.Slots {
		c.Slots = append(c.Slots, mechanism.Slot{Point: names[s.Point], Along: [2]string{names[s.Along[1]], names[s.Along[0]]}})
	}
	for i, was := range slices.Sorted(maps.Keys(m.Bodies)) {
		body := was
		points := make([]string, len(m.Bodies[body]))
		for j, p := range m.Bodies[body] {
			points[j] = names[p]
		}
		rng.Shuffle(len(points), func(a, b int) { points[a], points[b] = points[b], points[a] })
		if body != mechanism.Frame {
			body = fmt.Sprintf("%c%d", 'a'+rng.IntN(26), i)
		}
		for j := range m.Slots {
			if m.Slots[j].On == was {
				c.Slots[j].On = body
			}
		}
		c.Bodies[body] = points
	}
	return c
}

// drawMechanism moves every point of an invented mechanism by up to 8 mm.
func drawMechanism(rng *rand.Rand) mechanism.Spec {
	names := movable()
	m := spec(names[rng.IntN(len(names))])
	for _, p := range slices.Sorted(maps.Keys(m.Points)) {
		v := m.Points[p]
		m.Points[p] = mechanism.Point{v[0] + mm(16*rng.Float64()-8), v[1] + mm(16*rng.Float64()-8)}
	}
	return m
}

// Strokes outside are clamped, NaN is 0, and a zero Mechanism stands still.
func TestStrokesAreClamped(t *testing.T) {
	k := solved("e1")
	for s, want := range map[units.Length]units.Length{
		-1: 0, units.Length(math.Inf(-1)): 0, 1: k.Stroke(), units.Length(math.Inf(1)): k.Stroke(),
	} {
		if a, b := k.Pose(s), k.Pose(want); a != b {
			t.Errorf("at %v: %+v, want %+v", s, a, b)
		}
		if a, b := k.PathLength(s), k.PathLength(want); a != b {
			t.Errorf("path at %v: %v, want %v", s, a, b)
		}
	}
	nan := units.Length(math.NaN())
	if a, b := k.Pose(nan), k.Pose(0); a != b {
		t.Errorf("NaN: %+v, want %+v", a, b)
	}
	var zero mechanism.Mechanism
	still := motionAt(k, 1)
	zero.ReadMotion(1, &still)
	if zero.Pose(1) != (mechanism.Pose{}) || zero.PathLength(1) != 0 || zero.Positions(1) != nil || zero.Travel() != 0 || zero.Stroke() != 0 ||
		zero.ShockLength() != 0 || len(zero.Strokes()) != 0 || zero.ClosedForm() || still != (mechanism.Motion{}) {
		t.Error("the zero Mechanism moves")
	}
	if _, ok := zero.Mark("frame", at(0, 0)); ok || still.Place(zero.Axle()) != at(0, 0) || still.Turning(zero.Axle()) != 0 {
		t.Error("the zero Mechanism has points")
	}
}

// Neither a pose, nor a length of path, nor a motion allocates, however many bodies float.
func TestPoseAllocatesNothing(t *testing.T) {
	for name, m := range map[string]mechanism.Spec{"c1": spec("c1"), "f1": spec("f1"), "11 sliders": withSliders(11)} {
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(err)
		}
		if n := testing.AllocsPerRun(10, func() {
			k.Pose(mm(12.3))
			k.PathLength(mm(12.3))
			var m mechanism.Motion
			k.ReadMotion(mm(9), &m)
			m.Place(k.Axle())
		}); n != 0 {
			t.Errorf("%s: %v allocations", name, n)
		}
	}
}

// The same mechanism gives the same digits every time, whatever order the maps
// come in.
func TestSameDigitsEveryTime(t *testing.T) {
	for _, m := range []mechanism.Spec{crowd(3, false), spec("c1"), spec("d1"), spec("f1")} {
		m.Stroke = mm(20)
		var want mechanism.Pose
		var places map[string]mechanism.Point
		for i := range 12 {
			k, err := mechanism.New(m)
			if err != nil {
				t.Fatal(err)
			}
			got, at := k.Pose(mm(13.7)), k.Positions(mm(13.7))
			if i == 0 {
				want, places = got, at
			}
			if diff := cmp.Diff(places, at); got != want || diff != "" {
				t.Fatalf("once %+v, then %+v\n%s", want, got, diff)
			}
		}
	}
}

func motionAt(k *mechanism.Mechanism, stroke units.Length) (m mechanism.Motion) {
	k.ReadMotion(stroke, &m)
	return m
}

// A mark keeps its place in its body: at full extension it is where it was put,
// its distances from the body's points never change, and its velocity is the
// derivative of its place, of which turning is the other part.
func TestMarkMovesWithItsBody(t *testing.T) {
	for name, body := range map[string]string{"c1": "SS", "f1": "RK2", "e2": "UL", "slider": "slider"} {
		k := solved(name)
		mark, ok := k.Mark(body, at(-140, 250))
		if !ok {
			t.Fatal(name)
		}
		start := motionAt(k, 0)
		if p := start.Place(mark); math.Hypot(float64(p[0]-mm(-140)), float64(p[1]-mm(250))) > 1e-13 {
			t.Errorf("%s: put at %v", name, p)
		}
		point := k.Spec().Bodies[body][0]
		for i := 1; i < 8; i++ {
			s, h := k.Stroke()*units.Length(i)/8, mm(0.05)
			here := motionAt(k, s)
			p, q := here.Place(mark), k.Positions(s)[point]
			p0, q0 := start.Place(mark), k.Positions(0)[point]
			unitstest.Near(t, name+" distance", distance(p, q), distance(p0, q0), unitstest.Abs(1e-12))
			a, b := motionAt(k, s-h), motionAt(k, s+h)
			for axis := range 2 {
				slope := float64(b.Place(mark)[axis]-a.Place(mark)[axis]) / float64(2*h)
				unitstest.Near(t, name+" velocity", here.Velocity(mark)[axis], slope, unitstest.Abs(1e-5))
			}
			angle := func(m mechanism.Motion, s units.Length) float64 {
				p, q := m.Place(mark), k.Positions(s)[point]
				return math.Atan2(float64(p[1]-q[1]), float64(p[0]-q[0]))
			}
			turn := math.Remainder(angle(b, s+h)-angle(a, s-h), 2*math.Pi) / float64(2*h)
			unitstest.Near(t, name+" turning", here.Turning(mark), turn, unitstest.Abs(1e-4))
		}
	}
	k := solved("a1")
	axle := motionAt(k, mm(20))
	if p := k.Pose(mm(20)); axle.Place(k.Axle()) != p.Axle || axle.Velocity(k.Axle()) != [2]float64{p.AxleForward, p.LeverRatio} || axle.Turning(k.Axle()) != p.CarrierTurning {
		t.Errorf("the axle moves by %v, want %+v", axle.Velocity(k.Axle()), p)
	}
	frame, ok := k.Mark(mechanism.Frame, at(30, 40))
	if !ok || axle.Place(frame) != at(30, 40) || axle.Velocity(frame) != [2]float64{} || axle.Turning(frame) != 0 {
		t.Errorf("a mark on the frame moves to %v", axle.Place(frame))
	}
	if _, ok := k.Mark("nobody", at(0, 0)); ok {
		t.Error("a mark on an unknown body")
	}
}

// What is printed has its units.
func TestMechanismsArePrintedWithUnits(t *testing.T) {
	k := solved("a1")
	const want = "mechanism of SW: stroke 57.5 mm, travel 134.7 mm, lever ratio 2.405 to 2.265"
	for _, v := range []any{k, *k, struct{ Rear mechanism.Mechanism }{*k}} {
		if got := strings.Trim(fmt.Sprint(v), "{}"); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	if got, want := fmt.Sprint(motionAt(k, mm(12.5))), "mechanism.Motion"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got := new(mechanism.Mechanism).String(); got != "no mechanism" {
		t.Error(got)
	}
}
