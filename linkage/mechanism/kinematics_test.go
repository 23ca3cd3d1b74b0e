package mechanism_test

import (
	"maps"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Which layouts circles suffice for follows from how the bodies hang together:
// with the shock on the coupler, floating between two bodies, or a six-bar
// loop, three unknown bodies meet at once.
func TestWhichHaveAClosedForm(t *testing.T) {
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
func TestBothPathsAgree(t *testing.T) {
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
func TestPoseDerivatives(t *testing.T) {
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
func TestInstantCentreThroughInfinity(t *testing.T) {
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

// Seen in a mirror, from elsewhere, in other names and at another size, a
// mechanism is the same one.
func TestTheSameMechanismOtherwise(t *testing.T) {
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

// The wheel's path is at least as long as its travel, and both grow.
func TestPathLength(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		if got := k.PathLength(0); got != 0 {
			t.Errorf("%s: %v at 0", name, got)
		}
		// Against another rule: Gauss and Legendre's, of 60 points over the
		// whole stroke.
		whole := quad.Fixed(func(s float64) float64 {
			p := k.Pose(units.Length(s))
			return math.Hypot(p.AxleForward, p.LeverRatio)
		}, 0, float64(k.Stroke()), 60, nil, 0)
		unitstest.Near(t, name, k.PathLength(k.Stroke()), units.Length(whole), unitstest.Abs(mm(1e-9)))
		var before mechanism.Pose
		for i := 1; i <= 50; i++ {
			p := k.Pose(k.Stroke() * units.Length(i) / 50)
			if step := k.PathLength(p.Stroke) - k.PathLength(before.Stroke); !(step >= p.Travel-before.Travel) || !(p.Travel > before.Travel) {
				t.Errorf("%s at %v: path grows by %v, travel by %v", name, p.Stroke, step, p.Travel-before.Travel)
			}
			before = p
		}
	}
}

// The compiled curve against the mechanism, between the nodes, at what is
// promised: 1e-6 mm, 1e-7, 1e-5.
func TestCompiledCurve(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		c := compiled(t, k)
		if c.Stroke() != k.Stroke() {
			t.Errorf("%s: stroke %v, not %v", name, c.Stroke(), k.Stroke())
		}
		for i := range 1778 {
			s := k.Stroke() * units.Length(i) / 1777
			p := k.Pose(s)
			unitstest.Near(t, name+" travel", c.TravelAt(s), p.Travel, unitstest.Abs(mm(1e-6)))
			unitstest.Near(t, name+" ratio", c.LeverRatio(s), p.LeverRatio, unitstest.Abs(1e-7))
			unitstest.Near(t, name+" slope", c.LeverRatioSlope(s), p.LeverRatioSlope, unitstest.Rel(1e-5), unitstest.Abs(units.RatioSlope(1e-5)))
			unitstest.Near(t, name+" back", c.StrokeAt(c.TravelAt(s)), s, unitstest.Abs(mm(1e-11)))
		}
		unitstest.Near(t, name+" travel", k.Travel(), k.Pose(k.Stroke()).Travel, unitstest.Abs(mm(1e-12)))
	}
}

// What a spring takes up is what the wheel puts in, through any mechanism, and
// the wheel's rate is the derivative of its force.
func TestSpringThroughAMechanism(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: k.Stroke(), Preload: mm(2)})
		if err != nil {
			t.Fatal(err)
		}
		wheel, err := linkage.AtWheel(compiled(t, k), coil)
		if err != nil {
			t.Fatal(err)
		}
		work := quad.Fixed(func(w float64) float64 { return float64(wheel.Force(units.Length(w))) }, 0, float64(wheel.Travel()), 80, nil, 0)
		unitstest.Near(t, name+" energy", units.Energy(work), coil.Energy(k.Stroke()), unitstest.Rel(1e-9))
		for i := 1; i < 9; i++ {
			w := wheel.Travel() * units.Length(i) / 9
			h := mm(0.05)
			central := func(h units.Length) float64 { return float64(wheel.Force(w+h)-wheel.Force(w-h)) / float64(2*h) }
			unitstest.Near(t, name+" rate", float64(wheel.Rate(w)), (4*central(h/2)-central(h))/3, unitstest.Rel(1e-6))
		}
	}
}

// Strokes outside are clamped, NaN is 0, and a zero Mechanism stands still.
func TestKinematicsClamps(t *testing.T) {
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
	if zero.Pose(1) != (mechanism.Pose{}) || zero.PathLength(1) != 0 || zero.Positions(1) != nil || zero.Travel() != 0 || zero.Stroke() != 0 {
		t.Error("the zero Mechanism moves")
	}
	if zero.ClosedForm() || zero.Motion(1) != (mechanism.Motion{}) {
		t.Error("the zero Mechanism has a form or a motion")
	}
}

// What the caller does to its maps afterwards is nothing to the motion.
func TestKinematicsKeepsItsOwnCopy(t *testing.T) {
	m := spec("c1")
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	want := k.Pose(mm(20))
	m.Points["S1"] = at(0, 0)
	m.Bodies["RK"][0] = "M"
	given := k.Spec()
	given.Points["S1"] = at(1, 1)
	given.Bodies["RK"][0] = "H"
	if k.Pose(mm(20)) != want || k.Spec().Bodies["RK"][0] != "T" || k.Spec().Points["S1"] != at(52, 330) {
		t.Error("the motion shares its maps")
	}
	if got, want := len(slices.Collect(maps.Keys(k.Positions(0)))), len(m.Points); got != want {
		t.Errorf("%d positions, want %d", got, want)
	}
}

// A point of no body is a mark on the frame.
func TestPointOfNoBody(t *testing.T) {
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
