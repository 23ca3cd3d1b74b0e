package mechanism_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// withSlider adds the nth body that floats to the linkage a1: two of its pins
// slide in a line of the swingarm, a third in an upright one of the frame.
func withSlider(m *mechanism.Spec, n int) {
	p := func(name string) string { return fmt.Sprint(name, n) }
	x, y := float64(-5*n), float64(2*n) // along the line
	if n == 0 {
		m.Points["F"], m.Points["G"] = at(-88, 152), at(-188, 192)
		m.Bodies["SW"] = append(m.Bodies["SW"], "F", "G")
	}
	m.Points[p("N1-")], m.Points[p("N2-")], m.Points[p("N3-")] = at(-113+x, 162+y), at(-163+x, 182+y), at(-138+x, 300+y)
	m.Points[p("L1-")], m.Points[p("L2-")] = at(-138+x, 250+y), at(-138+x, 350+y)
	m.Bodies["frame"] = append(m.Bodies["frame"], p("L1-"), p("L2-"))
	m.Bodies[p("slider")] = []string{p("N3-"), p("N1-"), p("N2-")}
	m.Slots = append(m.Slots,
		mechanism.Slot{Point: p("N1-"), On: "SW", Along: [2]string{"F", "G"}},
		mechanism.Slot{Point: p("N2-"), On: "SW", Along: [2]string{"G", "F"}},
		mechanism.Slot{Point: p("N3-"), On: "frame", Along: [2]string{p("L1-"), p("L2-")}})
}

// However many bodies float beside the swingarm, it moves as it does alone, and
// a pose allocates nothing.
func TestManyFloatingBodies(t *testing.T) {
	want := solved("a1")
	for _, sliders := range []int{1, 3, 4, 11} {
		m := spec("a1")
		m.Stroke = mm(30)
		for n := range sliders {
			withSlider(&m, n)
		}
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatalf("%d sliders: %v", sliders, err)
		}
		for i := range 7 {
			s := mm(float64(5 * i))
			unitstest.Near(t, "ratio", k.Pose(s).LeverRatio, want.Pose(s).LeverRatio, unitstest.Rel(1e-10))
			at := k.Positions(s)
			for n := range sliders {
				pin, upright := at[fmt.Sprint("N3-", n)], float64(-138-5*n)
				unitstest.Near(t, "upright", pin[0], mm(upright), unitstest.Abs(mm(1e-9)))
				// Each is its neighbour, but further along.
				unitstest.Near(t, "height", side(at["F"], at["G"], pin), side(at["F"], at["G"], at["N3-0"]), unitstest.Abs(1e-12))
			}
		}
		if n := testing.AllocsPerRun(100, func() { k.Pose(mm(7)) }); n > 0 {
			t.Errorf("%d sliders: a pose allocates %v times", sliders, n)
		}
	}
}

// A body on a straight rail, held by the shock alone, is found where it is drawn
// and not where the shock would be as long on the other side: it rises from d
// below the shock's other eye to √((L − s)² − c²) below, c being how far the eye
// is from the rail. All of it is far below the origin.
func TestBodyOnARail(t *testing.T) {
	const c, d = 150.0, 125.0
	m := mechanism.Spec{
		Points: map[string]mechanism.Point{
			"L1": at(-300, -500), "L2": at(-300, -200), "N1": at(-300, -450), "N2": at(-300, -400),
			"S1": at(-300, -425), "S2": at(-300+c, -425+d), "E": at(-400, -430),
		},
		Bodies: map[string][]string{"frame": {"L1", "L2", "S2"}, "slider": {"N1", "N2", "S1", "E"}},
		Axle:   "E", Shock: [2]string{"S1", "S2"}, Stroke: mm(30),
		Slots: []mechanism.Slot{
			{Point: "N1", On: "frame", Along: [2]string{"L1", "L2"}},
			{Point: "N2", On: "frame", Along: [2]string{"L1", "L2"}},
		},
	}
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	checkRates(t, k)
	for i := range 7 {
		s := float64(5 * i)
		left := math.Sqrt(math.Pow(math.Hypot(c, d)-s, 2) - c*c)
		p := k.Pose(mm(s))
		unitstest.Near(t, "travel", p.Travel, mm(d-left), unitstest.Abs(mm(1e-9)))
		unitstest.Near(t, "ratio", p.LeverRatio, (math.Hypot(c, d)-s)/left, unitstest.Rel(1e-11))
		unitstest.Near(t, "forward", p.AxleForward, 0, unitstest.Abs(1e-12))
		unitstest.Near(t, "axle", p.Axle[1], mm(-430+d-left), unitstest.Abs(mm(1e-9)))
		unitstest.Near(t, "turn", p.CarrierTurn, 0, unitstest.Abs(units.Angle(1e-12)))
	}
}

// side returns how far a point is to the left of the line from a to b.
func side(a, b, p mechanism.Point) float64 {
	x, y := float64(b[0]-a[0]), float64(b[1]-a[1])
	return (x*float64(p[1]-a[1]) - y*float64(p[0]-a[0])) / math.Hypot(x, y)
}

func distance(a, b mechanism.Point) float64 {
	return math.Hypot(float64(b[0]-a[0]), float64(b[1]-a[1]))
}

// A body that slots hold may bear others: a link on its pin, whose far end a rod
// ties to the frame or a slanting slot guides. All of them stay as they are, and
// the rates of a wheel on any of them are those that its places tell.
func TestBodiesOnASlider(t *testing.T) {
	for _, guide := range []string{"rod", "slot"} {
		m := spec("a1")
		m.Stroke = mm(20)
		withSlider(&m, 0)
		m.Points["K"], m.Points["on link"], m.Points["on slider"] = at(-260, 330), at(-100, 330), at(-100, 290)
		m.Bodies["link"] = []string{"N3-0", "K", "on link"}
		m.Bodies["slider0"] = append(m.Bodies["slider0"], "on slider")
		axles := []string{"AX", "on link", "on slider"}
		if guide == "rod" {
			m.Points["Q"], m.Points["on rod"] = at(-190, 420), at(-300, 380)
			m.Bodies["frame"] = append(m.Bodies["frame"], "Q")
			m.Bodies["rod"] = []string{"K", "Q", "on rod"}
			axles = append(axles, "on rod")
		} else {
			m.Points["U"], m.Points["V"] = at(-280, 430), at(-240, 230)
			m.Bodies["frame"] = append(m.Bodies["frame"], "U", "V")
			m.Slots = append(m.Slots, mechanism.Slot{Point: "K", On: "frame", Along: [2]string{"U", "V"}})
		}
		for _, axle := range axles {
			m.Axle = axle
			k, err := mechanism.New(m)
			if err != nil {
				t.Fatalf("%s, wheel %s: %v", guide, axle, err)
			}
			checkRates(t, k)
			for i := range 5 {
				at := k.Positions(mm(float64(5 * i)))
				for _, body := range m.Bodies {
					for a, from := range body {
						for _, to := range body[:a] {
							unitstest.Near(t, from+" to "+to, distance(at[from], at[to]), distance(m.Points[from], m.Points[to]), unitstest.Abs(1e-12))
						}
					}
					turned := side(at[body[0]], at[body[1]], at[body[len(body)-1]])
					unitstest.Near(t, "side", turned, side(m.Points[body[0]], m.Points[body[1]], m.Points[body[len(body)-1]]), unitstest.Abs(1e-12))
				}
				unitstest.Near(t, "on the line", side(at["F"], at["G"], at["N2-0"]), 0, unitstest.Abs(1e-12))
				if guide == "slot" {
					unitstest.Near(t, "in the slot", side(at["U"], at["V"], at["K"]), 0, unitstest.Abs(1e-12))
				}
			}
		}
	}
}

// It is all one which of two bodies has the line and which the pins: a floating
// body whose own line runs on two pins of the swingarm.
func TestFloatingBodyWithTheSlots(t *testing.T) {
	m := spec("a1")
	m.Stroke = mm(30)
	withSlider(&m, 0)
	m.Points["E"] = at(-228, 262) // a wheel on the slider
	m.Bodies["slider0"] = append(m.Bodies["slider0"], "E")
	m.Axle = "E"
	pins, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	m = pins.Spec()
	// The swingarm's points F and G in the line of the slider's.
	m.Slots[0] = mechanism.Slot{Point: "F", On: "slider0", Along: [2]string{"N1-0", "N2-0"}}
	m.Slots[1] = mechanism.Slot{Point: "G", On: "slider0", Along: [2]string{"N1-0", "N2-0"}}
	lines, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	checkRates(t, lines)
	for i := range 7 {
		s := mm(float64(5 * i))
		a, b := lines.Pose(s), pins.Pose(s)
		unitstest.Near(t, "travel", a.Travel, b.Travel, unitstest.Abs(mm(1e-9)))
		unitstest.Near(t, "ratio", a.LeverRatio, b.LeverRatio, unitstest.Rel(1e-10))
		unitstest.Near(t, "slope", a.LeverRatioSlope, b.LeverRatioSlope, unitstest.Rel(1e-8))
		unitstest.Near(t, "turning", a.CarrierTurning, b.CarrierTurning, unitstest.Rel(1e-10))
		unitstest.Near(t, "forward", a.AxleForward, b.AxleForward, unitstest.Abs(1e-10))
	}
	// And over the whole stroke the path is as long.
	unitstest.Near(t, "path", lines.PathLength(units.Metre), pins.PathLength(units.Metre), unitstest.Abs(mm(1e-9)))
}

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

// A body may be held by slots alone: two pins on a line of the swingarm, along
// which it slides, and a third on an upright line of the frame.
func TestBodyHeldBySlotsAlone(t *testing.T) {
	m := spec("a1")
	m.Stroke = mm(40)
	withSlider(&m, 0)
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	want := solved("a1")
	for i := range 9 {
		s := mm(float64(5 * i))
		unitstest.Near(t, "ratio", k.Pose(s).LeverRatio, want.Pose(s).LeverRatio, unitstest.Rel(1e-10))
		at := k.Positions(s)
		unitstest.Near(t, "upright", at["N3-0"][0], mm(-138), unitstest.Abs(mm(1e-9)))
		for _, pin := range []string{"N1-0", "N2-0"} {
			fx, fy := float64(at["G"][0]-at["F"][0]), float64(at["G"][1]-at["F"][1])
			nx, ny := float64(at[pin][0]-at["F"][0]), float64(at[pin][1]-at["F"][1])
			unitstest.Near(t, "on the line", (fx*ny-fy*nx)/math.Hypot(fx, fy), 0, unitstest.Abs(1e-12))
		}
	}
	// Without the upright slot it slides freely, and is joined all the same.
	m.Slots = m.Slots[:2]
	_, err = mechanism.New(m)
	refuses(t, err, "bodies")
}

// Where the line itself moves, its turning is in the rates of the body whose
// pin runs in it: a rocker in the slot of another, both far from the frame's
// rest. The body with the pin carries the wheel.
func TestRatesThroughAMovingSlot(t *testing.T) {
	m := mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(0, 0), "F": at(-100, 80), "G": at(-200, 120), "S1": at(-50, 150), "S2": at(120, 200),
			"Q": at(40, 60), "N": at(-150, 100), "A": at(-380, -40),
		},
		Bodies: map[string][]string{"frame": {"P", "Q", "S2"}, "rocker": {"P", "F", "G", "S1"}, "arm": {"Q", "N", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(30),
		Slots: []mechanism.Slot{{Point: "N", On: "rocker", Along: [2]string{"F", "G"}}},
	}
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	checkRates(t, k)
}

// What else a slot must be, and that what is wrong with it is all that is said.
func TestSlotsSayWhatIsWrong(t *testing.T) {
	for _, test := range []struct {
		what  string
		spoil func(*mechanism.Spec)
		want  []string
		says  string
	}{
		{"a line that begins at another body's point", func(m *mechanism.Spec) { m.Slots[0].Along = [2]string{"S2", "G"} },
			[]string{"slots[0].along"}, `"S2, G"`},
		{"a line that ends there", func(m *mechanism.Spec) { m.Slots[0].Along = [2]string{"F", "S2"} },
			[]string{"slots[0].along"}, `"F, S2"`},
		{"twice beside the line", func(m *mechanism.Spec) {
			m.Points["N"] = at(-138, 173)
			m.Slots = append(m.Slots, m.Slots[0])
		}, []string{"slots[0].point", "slots[1].point"}, "on the slot's line"},
	} {
		m := crowd(0, true)
		test.spoil(&m)
		_, err := mechanism.New(m)
		refuses(t, err, test.want...)
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v doesn't say %s", test.what, err, test.says)
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

// Slots are the motion's own, as points and bodies are.
func TestSlotsAreCopied(t *testing.T) {
	m := crowd(0, true)
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	m.Slots[0].On = "frame"
	k.Spec().Slots[0].Point = "Q"
	if got := k.Spec().Slots[0]; got.On != "SW" || got.Point != "N" {
		t.Errorf("the slot has become %+v", got)
	}
}
