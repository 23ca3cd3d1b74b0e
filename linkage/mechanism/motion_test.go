package mechanism_test

import (
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Which layouts circles suffice for follows from how the bodies hang together:
// with the shock on the coupler, floating between two bodies, or a six-bar
// loop, three unknown bodies meet at once.
func TestLayoutsWithAClosedForm(t *testing.T) {
	for name, want := range map[string]bool{
		"a1": true, "a2": true, "b1": true, "c1": true, "c2": true, "c3": true, "d1": true,
		"d2": false, "e1": false, "e2": false, "f1": false, "f2": false,
	} {
		if got := solved(name).ClosedForm(); got != want {
			t.Errorf("%s: closed form %v, want %v", name, got, want)
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

// Every body stays as long as it is, and the shock is as short as it was asked
// to be: what a pose is, said without the solver's own equations.
func TestBodiesStayRigid(t *testing.T) {
	for _, name := range movable() {
		m, k := spec(name), solved(name)
		apart := func(a, b mechanism.Point) units.Length {
			return units.Length(math.Hypot(float64(a[0]-b[0]), float64(a[1]-b[1])))
		}
		length := apart(m.Points[m.Shock[0]], m.Points[m.Shock[1]])
		for _, x := range []float64{0, 1e-9, 0.123, 0.5, 0.77777, 1} {
			s := units.Length(x) * m.Stroke
			at := k.Positions(s)
			for body, points := range m.Bodies {
				for i, a := range points {
					if body == mechanism.Frame && at[a] != m.Points[a] {
						t.Errorf("%s: the frame's %s moved to %v", name, a, at[a])
					}
					for _, b := range points[i+1:] {
						unitstest.Near(t, name+" "+a+b, apart(at[a], at[b]), apart(m.Points[a], m.Points[b]), unitstest.Abs(mm(1e-10)))
					}
				}
			}
			unitstest.Near(t, name+" shock", apart(at[m.Shock[0]], at[m.Shock[1]]), length-s, unitstest.Abs(mm(1e-10)))
		}
	}
}

// The derivatives against central differences of the places. The step is wide
// enough for rounding and extrapolated once, so that its own error is far
// below the tolerance.
func TestPoseHasItsDerivatives(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		difference := func(f func(units.Length) float64, s units.Length) float64 {
			central := func(h units.Length) float64 { return (f(s+h) - f(s-h)) / float64(2*h) }
			h := mm(0.2)
			return (4*central(h/2) - central(h)) / 3
		}
		for i := 1; i < 20; i++ {
			s := k.Stroke() * units.Length(i) / 20
			p := k.Pose(s)
			x := difference(func(s units.Length) float64 { return float64(k.Pose(s).Axle[0]) }, s)
			w := difference(func(s units.Length) float64 { return float64(k.Pose(s).Travel) }, s)
			r := difference(func(s units.Length) float64 { return k.Pose(s).LeverRatio }, s)
			turn := difference(func(s units.Length) float64 { return float64(k.Pose(s).CarrierTurn) }, s)
			length := difference(func(s units.Length) float64 { return float64(k.PathLength(s)) }, s)
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
	for _, name := range movable() {
		k := solved(name)
		first := k.Pose(0)
		for i := range 12 {
			p := k.Pose(k.Stroke() * units.Length(i) / 11)
			unitstest.Near(t, name+" travel", p.Travel, p.Axle[1]-first.Axle[1], unitstest.Abs(mm(1e-12)))
			unitstest.Near(t, name+" wheelbase", p.WheelbaseGrowth, first.Axle[0]-p.Axle[0], unitstest.Abs(mm(1e-12)))
			growth := math.Hypot(float64(p.Axle[0]), float64(p.Axle[1])) - math.Hypot(float64(first.Axle[0]), float64(first.Axle[1]))
			unitstest.Near(t, name+" growth", p.AxleGrowth, units.Length(growth), unitstest.Abs(mm(1e-12)))
			// The axle moves at right angles to the line to the instant centre,
			// as fast as its distance from there and the turning say.
			dx, dy := float64(p.Axle[0]-p.InstantCentre[0]), float64(p.Axle[1]-p.InstantCentre[1])
			unitstest.Near(t, name+" v_x", p.AxleForward, -p.CarrierTurning*dy, unitstest.Abs(1e-9))
			unitstest.Near(t, name+" v_y", p.LeverRatio, p.CarrierTurning*dx, unitstest.Abs(1e-9))
		}
	}
}

// A single pivot turns about its pivot, whatever the shock does.
func TestSinglePivotTurnsAboutItsPivot(t *testing.T) {
	for name, pivot := range map[string]mechanism.Point{"a1": at(12, 72), "b1": at(14, 58), "a2": at(-22, 186)} {
		k := solved(name)
		for i := range 11 {
			centre := k.Pose(k.Stroke() * units.Length(i) / 10).InstantCentre
			for axis := range 2 {
				unitstest.Near(t, name, centre[axis], pivot[axis], unitstest.Abs(mm(1e-8)))
			}
		}
	}
}

// c3's carrier stops turning at a stroke of 14.46784191624455376 mm (mpmath,
// 40 digits): the instant centre passes through infinity and stays a number.
func TestInstantCentrePassesThroughInfinity(t *testing.T) {
	k := solved("c3")
	still := mm(14.46784191624455376)
	p := k.Pose(still)
	unitstest.Near(t, "turning", p.CarrierTurning, 0, unitstest.Abs(1e-10))
	side := func(s units.Length) float64 {
		p := k.Pose(s)
		d := math.Hypot(float64(p.InstantCentre[0]-p.Axle[0]), float64(p.InstantCentre[1]-p.Axle[1]))
		if !(d <= 1.000001e6) {
			t.Errorf("at %v the centre is %g m away", s, d)
		}
		if d < 1e3 {
			t.Errorf("at %v the centre is only %g m away", s, d)
		}
		return math.Copysign(1, float64(p.InstantCentre[0]))
	}
	side(still)
	if before, after := side(still-mm(1e-6)), side(still+mm(1e-6)); before == after {
		t.Errorf("the centre does not change sides: %v, %v", before, after)
	}
}

// The centre that the arm turns about is its pivot, for a wheel that rises by
// less than the shock takes up too.
func TestInstantCentreOfALowRatio(t *testing.T) {
	g := arm{150, 250, 1.2, 100, 3.3}
	k, err := mechanism.New(g.mechanism(30))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 11 {
		p := k.Pose(mm(float64(3 * i)))
		for axis := range 2 {
			unitstest.Near(t, "centre", p.InstantCentre[axis], 0, unitstest.Abs(mm(1e-9)))
		}
	}
}

// Where c3's carrier doesn't turn, see TestInstantCentrePassesThroughInfinity, the
// centre is put 1000 km from the axle, whatever the mechanism's size.
func TestInstantCentreIsAtMost1000kmAway(t *testing.T) {
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
		p := k.Pose(scale * mm(14.46784191624455376))
		d := math.Hypot(float64(p.InstantCentre[0]-p.Axle[0]), float64(p.InstantCentre[1]-p.Axle[1]))
		unitstest.Near(t, "far", d, 1e6, unitstest.Rel(1e-9))
	}
}

// Seen in a mirror, from elsewhere, in other names and at another size, a
// mechanism is the same one.
func TestAnotherFrameOfReferenceChangesNothing(t *testing.T) {
	for _, name := range movable() {
		m := spec(name)
		changed := func(f func(mechanism.Point) mechanism.Point) mechanism.Spec {
			c := m
			c.Points = map[string]mechanism.Point{}
			for n, p := range m.Points {
				c.Points[n] = f(p)
			}
			return c
		}
		mirrored := changed(func(p mechanism.Point) mechanism.Point { return mechanism.Point{-p[0], p[1]} })
		shifted := changed(func(p mechanism.Point) mechanism.Point { return mechanism.Point{p[0] + mm(321), p[1] - mm(1234)} })
		large := changed(func(p mechanism.Point) mechanism.Point { return mechanism.Point{3 * p[0], 3 * p[1]} })
		large.Stroke *= 3
		renamed := m
		renamed.Bodies = map[string][]string{}
		for body, points := range m.Bodies {
			points = slices.Clone(points)
			slices.Reverse(points)
			if body != mechanism.Frame {
				body = "z" + string(rune('z'-len(renamed.Bodies))) + body
			}
			renamed.Bodies[body] = points
		}
		want := solved(name)
		for what, other := range map[string]struct {
			m     mechanism.Spec
			scale units.Length
		}{"mirrored": {mirrored, 1}, "shifted": {shifted, 1}, "large": {large, 3}, "renamed": {renamed, 1}} {
			k, err := mechanism.New(other.m)
			if err != nil {
				t.Errorf("%s %s: %v", name, what, err)
				continue
			}
			for i := range 14 {
				s := m.Stroke * units.Length(i) / 13
				a, b := want.Pose(s), k.Pose(s*other.scale)
				unitstest.Near(t, name+" "+what+" travel", b.Travel, a.Travel*other.scale, unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, name+" "+what+" ratio", b.LeverRatio, a.LeverRatio, unitstest.Rel(1e-10))
				unitstest.Near(t, name+" "+what+" path", k.PathLength(s*other.scale), want.PathLength(s)*other.scale, unitstest.Abs(mm(1e-9)))
			}
		}
	}
}

// A mechanism drawn at random is the same one seen in a mirror, turned, from
// elsewhere, at another size, with its points, its bodies and its shock's ends in
// other names and another order, and with points of no body. Turned,
// its path is turned too; the others keep travel and ratio.
func TestRandomMechanismsInAnotherFrameOfReference(t *testing.T) {
	made := 0
	for i := range 60 {
		rng := rand.New(rand.NewPCG(306, uint64(i)))
		m, says := drawMechanism(rng)
		k, err := mechanism.New(m)
		if err != nil {
			continue
		}
		made++
		by, turn, move := 0.2+4*rng.Float64(), cmplx.Rect(1, (rng.Float64()-0.5)*0.5), complex(rng.Float64()-0.5, rng.Float64()-0.5)
		id := func(z complex128) complex128 { return z }
		changes := []struct {
			what  string
			place func(complex128) complex128 // of every point
			size  float64
			m     func() mechanism.Spec
		}{
			{"mirrored", func(z complex128) complex128 { return -cmplx.Conj(z) }, 1, nil},
			{"turned", func(z complex128) complex128 { return z * turn }, 1, nil},
			{"moved", func(z complex128) complex128 { return z + move }, 1, nil},
			{"larger", func(z complex128) complex128 { return z * complex(by, 0) }, by, nil},
			{"all of it", func(z complex128) complex128 { return -cmplx.Conj(z)*turn*complex(by, 0) + move }, by, nil},
			{"with its shock turned round", id, 1, func() mechanism.Spec {
				c := m
				c.Shock = [2]string{m.Shock[1], m.Shock[0]}
				return c
			}},
			{"in other names and another order", id, 1, func() mechanism.Spec { return renamed(rng, m) }},
			{"solved by Newton's method", id, 1, nil},
		}
		for _, ch := range changes {
			source := m
			if ch.m != nil {
				source = ch.m()
			}
			other := source
			other.Points = map[string]mechanism.Point{}
			for name, p := range source.Points {
				z := ch.place(complex(float64(p[0]), float64(p[1])))
				other.Points[name] = mechanism.Point{units.Length(real(z)), units.Length(imag(z))}
			}
			other.Stroke *= units.Length(ch.size)
			solve := mechanism.New
			if ch.what == "solved by Newton's method" {
				solve = mechanism.NewByNewton
			}
			o, err := solve(other)
			if err != nil {
				if ch.what != "turned" && ch.what != "all of it" { // turned, the wheel may not rise
					t.Errorf("%s: %v", ch.what, err)
				}
				continue
			}
			at := func(p mechanism.Point) complex128 { return complex(float64(p[0]), float64(p[1])) }
			for j := range 9 {
				s := m.Stroke * units.Length(j) / 8
				a, b := k.Pose(s), o.Pose(s*units.Length(ch.size))
				unitstest.Near(t, ch.what+": what the axle rises", b.Travel, b.Axle[1]-o.Pose(0).Axle[1], unitstest.Abs(units.Length(1e-12*ch.size)))
				if off := cmplx.Abs(at(b.Axle) - ch.place(at(a.Axle))); off > 1e-11*ch.size {
					t.Errorf("%s: axle %v off at %v", ch.what, off, s)
				}
				// dP/ds as the places show it, less where the origin went to.
				way := ch.place(complex(a.AxleForward, a.LeverRatio)) - ch.place(0)
				got := complex(b.AxleForward, b.LeverRatio) * complex(ch.size, 0)
				if cmplx.Abs(got-way) > 1e-8*cmplx.Abs(way) {
					t.Errorf("%s: the axle goes %v per stroke at %v, want %v", ch.what, got, s, way)
				}
				unitstest.Near(t, ch.what+": path", float64(o.PathLength(s*units.Length(ch.size))), ch.size*float64(k.PathLength(s)), unitstest.Abs(1e-11*ch.size))
				unitstest.Near(t, ch.what+": turn of the carrier", math.Abs(float64(b.CarrierTurn)), math.Abs(float64(a.CarrierTurn)), unitstest.Abs(1e-9))
				if ch.what == "turned" || ch.what == "all of it" {
					continue
				}
				unitstest.Near(t, ch.what+": travel", float64(b.Travel), ch.size*float64(a.Travel), unitstest.Abs(1e-11*ch.size))
				unitstest.Near(t, ch.what+": ratio", b.LeverRatio, a.LeverRatio, unitstest.Rel(1e-9))
				unitstest.Near(t, ch.what+": slope", float64(b.LeverRatioSlope)*ch.size, float64(a.LeverRatioSlope), unitstest.Rel(1e-6), unitstest.Abs(1e-5))
			}
		}
		if t.Failed() {
			t.Fatalf("seed 306, %d: %s", i, says)
		}
	}
	if made < 30 {
		t.Errorf("%d of 60 draws are linkages: the test looks at too little", made)
	}
}

// renamed gives every point and every body but the frame another name, lists
// them in another order, and adds a mark, a point of no body.
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
	for i, body := range slices.Sorted(maps.Keys(m.Bodies)) {
		points := make([]string, len(m.Bodies[body]))
		for j, p := range m.Bodies[body] {
			points[j] = names[p]
		}
		rng.Shuffle(len(points), func(a, b int) { points[a], points[b] = points[b], points[a] })
		if body != mechanism.Frame {
			body = fmt.Sprintf("%c%d", 'a'+rng.IntN(26), i)
		}
		c.Bodies[body] = points
	}
	return c
}

// drawMechanism moves every point of an invented mechanism by up to 8 mm.
func drawMechanism(rng *rand.Rand) (mechanism.Spec, string) {
	names := movable()
	name := names[rng.IntN(len(names))]
	m := spec(name)
	for _, p := range slices.Sorted(maps.Keys(m.Points)) {
		v := m.Points[p]
		m.Points[p] = mechanism.Point{v[0] + mm(16*rng.Float64()-8), v[1] + mm(16*rng.Float64()-8)}
	}
	return m, fmt.Sprintf("%s as %v", name, m.Points)
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
	still := motionAt(&zero, 1)
	if zero.Pose(1) != (mechanism.Pose{}) || zero.PathLength(1) != 0 || zero.Positions(1) != nil || zero.Travel() != 0 || zero.Stroke() != 0 ||
		zero.ShockLength() != 0 || len(zero.Strokes()) != 0 || zero.ClosedForm() || still != (mechanism.Motion{}) {
		t.Error("the zero Mechanism moves")
	}
	if _, ok := zero.Mark("frame", at(0, 0)); ok || still.Place(zero.Axle()) != at(0, 0) || still.Turning(zero.Axle()) != 0 {
		t.Error("the zero Mechanism has points")
	}
}

// A point of no body is a mark on the frame.
func TestPointOfNoBodyStaysWhereItIs(t *testing.T) {
	m := spec("a1")
	m.Points["mark"] = at(100, 100)
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	if got := k.Positions(mm(30))["mark"]; got != at(100, 100) {
		t.Errorf("the mark moved to %v", got)
	}
}

func TestPoseAllocatesNothing(t *testing.T) {
	for _, name := range []string{"c1", "f1"} {
		k := solved(name)
		if n := testing.AllocsPerRun(10, func() { k.Pose(mm(12.3)); k.PathLength(mm(12.3)) }); n != 0 {
			t.Errorf("%s: %v allocations", name, n)
		}
	}
}

// In which order a body's points are told says nothing, nor does which end of
// the shock comes first, with circles, with Newton's method or with a slot.
func TestOrderOfPointsChangesNothing(t *testing.T) {
	list := map[string]mechanism.Spec{"pairs": crowd(2, false), "pin": crowd(0, true), "both": crowd(2, true)}
	for _, name := range movable() {
		list[name] = spec(name)
	}
	for name, m := range list {
		want, err := mechanism.New(m)
		if err != nil {
			t.Fatal(name, err)
		}
		for _, first := range []int{1, 2} {
			other := m
			other.Shock[0], other.Shock[1] = m.Shock[1], m.Shock[0]
			other.Bodies = map[string][]string{}
			for body, points := range m.Bodies {
				n := first % len(points)
				other.Bodies[body] = append(slices.Clone(points[n:]), points[:n]...)
			}
			k, err := mechanism.New(other)
			if err != nil {
				t.Errorf("%s from %d: %v", name, first, err)
				continue
			}
			for i := range 5 {
				s := m.Stroke * units.Length(i) / 4
				a, b := want.Pose(s), k.Pose(s)
				unitstest.Near(t, name+" travel", b.Travel, a.Travel, unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, name+" slope", b.LeverRatioSlope, a.LeverRatioSlope, unitstest.Rel(1e-8), unitstest.Abs(units.RatioSlope(1e-9)))
			}
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
	if _, ok := k.Mark("nobody", at(0, 0)); ok {
		t.Error("a mark on a body that there is none of")
	}
	if n := testing.AllocsPerRun(10, func() {
		var m mechanism.Motion
		k.ReadMotion(mm(9), &m)
		m.Place(k.Axle())
	}); n != 0 {
		t.Errorf("%v allocations for a motion", n)
	}
}

// What is printed has its units.
func TestMechanismsArePrintedWithUnits(t *testing.T) {
	k := solved("a1")
	if got, want := fmt.Sprint(k), "mechanism of SW: stroke 57.5 mm, travel 134.7 mm, lever ratio 2.405 to 2.265"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := fmt.Sprint(motionAt(k, mm(12.5))), "motion at a stroke of 12.5 mm"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got := new(mechanism.Mechanism).String(); got != "no mechanism" {
		t.Error(got)
	}
}
