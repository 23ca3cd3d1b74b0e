package mechanism_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// sliderCrank is a crank of length a about the origin, at the angle phi, whose
// rod of length b ends on a line at the height c, in mm. The shock holds the
// crank: from its pin to a point of the frame. The axle is a point of the rod.
func sliderCrank(a, b, c, phi float64) mechanism.Spec {
	pin := at(a*math.Cos(phi), a*math.Sin(phi))
	x := a*math.Cos(phi) + math.Sqrt(b*b-math.Pow(a*math.Sin(phi)-c, 2))
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"O": at(0, 0), "A": pin, "B": at(x, c), "E": at(x+100, c), "S": at(200, -50),
			"axle": at(-60, 40),
		},
		Bodies: map[string][]string{"frame": {"O", "E", "line", "S"}, "crank": {"O", "A"}, "rod": {"A", "B", "axle"}},
		Axle:   "axle", Shock: [2]string{"A", "S"}, Stroke: mm(15),
		Slots: []mechanism.Slot{{Point: "B", On: "frame", Along: [2]string{"E", "line"}}},
	}
}

// The slider of a slider-crank goes where trigonometry says, with the speed it
// says: x = a·cos φ + √(b² − (a·sin φ − c)²).
func TestSliderCrank(t *testing.T) {
	const a, b, c = 40.0, 120.0, -20.0
	m := sliderCrank(a, b, c, 2.2)
	m.Points["line"] = at(0, c)
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	if k.ClosedForm() {
		t.Error("a slot has no closed form here")
	}
	slider := func(s units.Length) (got, want, phi float64) {
		at := k.Positions(s)
		phi = math.Atan2(float64(at["A"][1]), float64(at["A"][0]))
		y := a*math.Sin(phi) - c
		return float64(at["B"][0]) * 1e3, a*math.Cos(phi) + math.Sqrt(b*b-y*y), phi
	}
	for i := range 11 {
		s := k.Stroke() * units.Length(i) / 10
		got, want, _ := slider(s)
		unitstest.Near(t, "slider", got, want, unitstest.Abs(1e-9))
		unitstest.Near(t, "height", k.Positions(s)["B"][1], mm(c), unitstest.Abs(mm(1e-10)))
	}
	checkRates(t, k)
}

// checkRates holds the axle's rates against central differences, extrapolated
// once. The axle is on a body that a slot guides: the slot's own terms are in
// them.
func checkRates(t *testing.T, k *mechanism.Mechanism) {
	t.Helper()
	for i := 1; i < 10; i++ {
		s := k.Stroke() * units.Length(i) / 10
		difference := func(f func(units.Length) float64) float64 {
			central := func(h units.Length) float64 { return (f(s+h) - f(s-h)) / float64(2*h) }
			return (4*central(mm(0.05)) - central(mm(0.1))) / 3
		}
		p := k.Pose(s)
		unitstest.Near(t, "ratio", p.LeverRatio, difference(func(s units.Length) float64 { return float64(k.Pose(s).Travel) }), unitstest.Abs(1e-7))
		unitstest.Near(t, "slope", float64(p.LeverRatioSlope), difference(func(s units.Length) float64 { return k.Pose(s).LeverRatio }), unitstest.Rel(1e-6), unitstest.Abs(1e-5))
	}
}

// A slot that itself moves: the same linkage seen from the rod's side, the
// line on a body that turns, must move the same way as with the roles of
// frame and slotted body exchanged.
func TestMovingSlot(t *testing.T) {
	// An arm about P carries a straight slot; a pin on a link about Q runs in
	// it. The link's angle follows from the arm's: the pin is where the line
	// meets the circle about Q.
	m := mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(0, 0), "A": at(-400, -30), "F": at(-100, 80), "G": at(-200, 120), "S1": at(-50, 150), "S2": at(120, 200),
			"Q": at(-60, 200), "N": at(-150, 100),
		},
		Bodies: map[string][]string{"frame": {"P", "Q", "S2"}, "arm": {"P", "A", "F", "G", "S1"}, "link": {"Q", "N"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(40),
		Slots: []mechanism.Slot{{Point: "N", On: "arm", Along: [2]string{"F", "G"}}},
	}
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	length := math.Hypot(90, 100)
	for i := range 9 {
		at := k.Positions(k.Stroke() * units.Length(i) / 8)
		sub := func(a, b string) (float64, float64) {
			return float64(at[a][0]-at[b][0]) * 1e3, float64(at[a][1]-at[b][1]) * 1e3
		}
		fx, fy := sub("G", "F")
		nx, ny := sub("N", "F")
		unitstest.Near(t, "on the line", (fx*ny-fy*nx)/math.Hypot(fx, fy), 0, unitstest.Abs(1e-9))
		qx, qy := sub("N", "Q")
		unitstest.Near(t, "link", math.Hypot(qx, qy), length, unitstest.Abs(1e-9))
	}
}

// The slot bears on the wheel: a scissor whose second arm slides in the first.
func TestSlotInTheLoop(t *testing.T) {
	// The arm with the axle turns about P; its pin N runs in a slot of a rocker
	// about R that the shock holds. The rocker's angle decides the arm's.
	m := mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(0, 60), "A": at(-430, 20), "N": at(-120, 180),
			"R": at(20, 300), "U": at(-190, 120), "S1": at(90, 260), "S2": at(110, 470),
		},
		Bodies: map[string][]string{"frame": {"P", "R", "S2"}, "arm": {"P", "A", "N"}, "rocker": {"R", "U", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(9),
	}
	// N on the line R–U.
	r, u := m.Points["R"], m.Points["U"]
	m.Points["N"] = mechanism.Point{r[0] + 0.3*(u[0]-r[0]), r[1] + 0.3*(u[1]-r[1])}
	// Told from its end that stands still, and from the one that moves.
	var travels []units.Length
	for _, along := range [][2]string{{"R", "U"}, {"U", "R"}} {
		m.Slots = []mechanism.Slot{{Point: "N", On: "rocker", Along: along}}
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(err)
		}
		checkRates(t, k)
		travels = append(travels, k.Travel())
	}
	unitstest.Near(t, "travel", travels[0], travels[1], unitstest.Abs(mm(1e-9)))
}

func TestSlotRefusals(t *testing.T) {
	good := func() mechanism.Spec {
		m := sliderCrank(40, 120, -20, 2.2)
		m.Points["line"] = at(0, -20)
		return m
	}
	for _, test := range []struct {
		what  string
		spoil func(*mechanism.Spec)
		want  []string
	}{
		{"an unknown point", func(m *mechanism.Spec) { m.Slots[0].Point = "X" }, []string{"slots[0].point"}},
		{"a point of the slot's own body", func(m *mechanism.Spec) { m.Slots[0].Point = "O" }, []string{"slots[0].point"}},
		{"a point of the slot's own body on its line", func(m *mechanism.Spec) { m.Slots[0].Point = "E" }, []string{"slots[0].point"}},
		{"an unknown body", func(m *mechanism.Spec) { m.Slots[0].On = "sky" }, []string{"slots[0].on"}},
		{"a line of one point", func(m *mechanism.Spec) { m.Slots[0].Along[1] = "E" }, []string{"slots[0].along"}},
		{"a line through another body's point", func(m *mechanism.Spec) { m.Slots[0].Along[1] = "A" }, []string{"slots[0].along"}},
		{"a point off the line", func(m *mechanism.Spec) { m.Points["line"] = at(0, -25) }, []string{"slots[0].point"}},
		{"the same slot twice", func(m *mechanism.Spec) { m.Slots = append(m.Slots, m.Slots[0]) }, []string{"bodies"}},
	} {
		m := good()
		test.spoil(&m)
		_, err := mechanism.New(m)
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
	}
}
