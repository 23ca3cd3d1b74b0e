package mechanism_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// crowd is a1 with more bodies: pairs of links between frame and swingarm, and
// a link whose pin slides in the swingarm. None of them changes what the wheel
// does.
func crowd(pairs int, pin bool) mechanism.Spec {
	m := spec("a1")
	m.Stroke = mm(40)
	for i := range pairs {
		f, c, a := fmt.Sprint("F", i), fmt.Sprint("C", i), fmt.Sprint("A", i)
		shift := float64(7 * i)
		m.Points[f], m.Points[c], m.Points[a] = at(100+shift, -50), at(-50, -200-shift), at(-200, 40+shift)
		m.Bodies["frame"] = append(m.Bodies["frame"], f)
		m.Bodies["SW"] = append(m.Bodies["SW"], a)
		m.Bodies[fmt.Sprint("u", i)] = []string{f, c}
		m.Bodies[fmt.Sprint("v", i)] = []string{c, a}
	}
	if pin {
		m.Points["F"], m.Points["G"], m.Points["Q"], m.Points["N"] = at(-88, 152), at(-188, 192), at(-48, 272), at(-138, 172)
		m.Bodies["frame"] = append(m.Bodies["frame"], "Q")
		m.Bodies["SW"] = append(m.Bodies["SW"], "F", "G")
		m.Bodies["w"] = []string{"Q", "N"}
		m.Slots = []mechanism.Slot{{Point: "N", On: "SW", Along: [2]string{"F", "G"}}}
	}
	return m
}

// Twelve moving bodies are the most. Those that the wheel doesn't need change
// nothing for it.
func TestMostBodies(t *testing.T) {
	want := solved("a1")
	for _, m := range []mechanism.Spec{crowd(5, false), crowd(0, true), crowd(5, true)} {
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(len(m.Bodies), err)
		}
		for i := range 9 {
			s := mm(float64(5 * i))
			a, b := want.Pose(s), k.Pose(s)
			unitstest.Near(t, "travel", b.Travel, a.Travel, unitstest.Abs(mm(1e-9)))
			unitstest.Near(t, "ratio", b.LeverRatio, a.LeverRatio, unitstest.Rel(1e-10))
			unitstest.Near(t, "slope", b.LeverRatioSlope, a.LeverRatioSlope, unitstest.Rel(1e-8))
		}
	}
	m := crowd(6, false) // 13
	_, err := mechanism.New(m)
	if !errors.Is(err, units.ErrRange) {
		t.Errorf("13 moving bodies: %v", err)
	}
}

// The bounds in the doc comments of Mechanism and NewMechanism.
func TestMechanismBounds(t *testing.T) {
	marks := func(n int) func(*mechanism.Spec) {
		return func(m *mechanism.Spec) {
			for i := 0; len(m.Points) < n; i++ {
				m.Points[fmt.Sprint("mark", i)] = at(float64(i), 0)
			}
		}
	}
	mark := func(x, y units.Length) func(*mechanism.Spec) {
		return func(m *mechanism.Spec) { m.Points["mark"] = mechanism.Point{x, y} }
	}
	stroke := func(s units.Length) func(*mechanism.Spec) {
		return func(m *mechanism.Spec) { m.Stroke = s }
	}
	slots := func(n int) func(*mechanism.Spec) {
		return func(m *mechanism.Spec) { m.Slots = make([]mechanism.Slot, n) }
	}
	for _, test := range []struct {
		what  string
		set   func(*mechanism.Spec)
		want  []string
		class error
	}{
		{"1000 points", marks(1000), nil, nil},
		{"1001 points", marks(1001), []string{"points"}, units.ErrRange},
		{"100 m", mark(100, -100), nil, nil},
		{"−100 m", mark(-100, 100), nil, nil},
		{"beyond 100 m", mark(above(100), above(100)), []string{"points.mark[0]", "points.mark[1]"}, units.ErrRange},
		{"beyond −100 m", mark(below(-100), below(-100)), []string{"points.mark[0]", "points.mark[1]"}, units.ErrRange},
		{"a stroke of 1 µm", stroke(1e-6), nil, nil},
		{"less than 1 µm", stroke(below(1e-6)), []string{"stroke"}, units.ErrRange},
		{"a stroke of 1 km, longer than the shock", stroke(1e3), []string{"stroke"}, units.ErrConflict},
		{"more than 1 km", stroke(above(1e3)), []string{"stroke"}, units.ErrRange},
		{"37 slots", slots(37), []string{"slots"}, units.ErrRange},
	} {
		m := spec("a1")
		test.set(&m)
		_, err := mechanism.New(m)
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
		if test.class != nil && !errors.Is(err, test.class) {
			t.Errorf("%s: %v", test.what, err)
		}
	}
	m := spec("a1")
	m.Slots = make([]mechanism.Slot, 36) // as many as may be, but of unknown points
	_, err := mechanism.New(m)
	if got := badFields(err); slices.Contains(got, "slots") || !slices.Contains(got, "slots[35].on") {
		t.Errorf("36 slots: %v", got)
	}
	// As long as the shock, to the last digit, and less by one.
	g := mechanism.Spec{
		Points: map[string]mechanism.Point{"P": {0, 0}, "A": {-0.5, 0}, "S1": {-0.125, 0}, "S2": {-0.125, 0.25}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "A", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 0.25,
	}
	if _, err := mechanism.New(g); !errors.Is(err, units.ErrConflict) {
		t.Errorf("a stroke of the shock's length: %v", err)
	}
	g.Stroke = below(0.25)
	if _, err := mechanism.New(g); errors.Is(err, units.ErrConflict) || !errors.Is(err, mechanism.ErrLocks) {
		t.Errorf("less than the shock's length: %v", err)
	}
}

// In which order a body's points are told says nothing, nor does which end of
// the shock comes first, with circles, with Newton's method or with a slot.
func TestOrderOfPoints(t *testing.T) {
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

// A pin may be off its slot's line by rounding and no more: not by 5 nm,
// however short or long the line is.
func TestPinBesideItsSlot(t *testing.T) {
	for _, length := range []float64{0.1, 1, 3} {
		m := crowd(0, true)
		f, g := m.Points["F"], m.Points["G"]
		dx, dy := float64(g[0]-f[0]), float64(g[1]-f[1])
		d := math.Hypot(dx, dy)
		m.Points["G"] = mechanism.Point{f[0] + units.Length(length*dx/d), f[1] + units.Length(length*dy/d)}
		if _, err := mechanism.New(m); err != nil {
			t.Errorf("a line of %v m: %v", length, err)
		}
		n := m.Points["N"]
		m.Points["N"] = mechanism.Point{n[0] - units.Length(5e-9*dy/d), n[1] + units.Length(5e-9*dx/d)}
		_, err := mechanism.New(m)
		refuses(t, err, "slots[0].point")
	}
}
