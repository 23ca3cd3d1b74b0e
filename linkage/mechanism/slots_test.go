package mechanism_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// slotted lists mechanisms with slots, and one that is crowded without.
func slotted() map[string]mechanism.Spec {
	pins, lines := floating()
	list := map[string]mechanism.Spec{
		"slider": spec("slider"), "rail": rail(150, 125), "slider-crank": sliderCrank(40, 120, -20, 2.2),
		"wheel on a floating body": pins, "floating body with the slots": lines, "3 sliders": withSliders(3),
		"pairs": crowd(2, false), "pin": crowd(0, true), "pairs and pin": crowd(2, true),
		// A pin on a link runs in a slot of an arm.
		"link in an arm": {
			Points: map[string]mechanism.Point{
				"P": at(0, 0), "A": at(-400, -30), "F": at(-100, 80), "G": at(-200, 120), "S1": at(-50, 150), "S2": at(120, 200),
				"Q": at(-60, 200), "N": at(-150, 100),
			},
			Bodies: map[string][]string{"frame": {"P", "Q", "S2"}, "arm": {"P", "A", "F", "G", "S1"}, "link": {"Q", "N"}},
			Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(40),
			Slots: []mechanism.Slot{{Point: "N", On: "arm", Along: [2]string{"F", "G"}}},
		},
		// The slot is on a rocker, and the arm with the pin carries the wheel.
		"wheel in a rocker": {
			Points: map[string]mechanism.Point{
				"P": at(0, 0), "F": at(-100, 80), "G": at(-200, 120), "S1": at(-50, 150), "S2": at(120, 200),
				"Q": at(40, 60), "N": at(-150, 100), "A": at(-380, -40),
			},
			Bodies: map[string][]string{"frame": {"P", "Q", "S2"}, "rocker": {"P", "F", "G", "S1"}, "arm": {"Q", "N", "A"}},
			Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(30),
			Slots: []mechanism.Slot{{Point: "N", On: "rocker", Along: [2]string{"F", "G"}}},
		},
		// The slot's line goes through the pivot of its own body: a scissor.
		"scissor": {
			Points: map[string]mechanism.Point{
				"P": at(0, 60), "A": at(-430, 20), "N": at(-43, 246),
				"R": at(20, 300), "U": at(-190, 120), "S1": at(90, 260), "S2": at(110, 470),
			},
			Bodies: map[string][]string{"frame": {"P", "R", "S2"}, "arm": {"P", "A", "N"}, "rocker": {"R", "U", "S1"}},
			Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(9),
			Slots: []mechanism.Slot{{Point: "N", On: "rocker", Along: [2]string{"R", "U"}}},
		},
	}
	// A body that slots hold may bear others: a link on its pin, whose far end a rod
	// joins to the frame or a slanting slot guides. The wheel is on any of them.
	for guide, axles := range map[string][]string{"rod": {"AX", "on link", "on slider", "on rod"}, "slot": {"AX", "on link", "on slider"}} {
		for _, axle := range axles {
			m := withSliders(1)
			m.Stroke, m.Axle = mm(20), axle
			m.Points["K"], m.Points["on link"], m.Points["on slider"] = at(-260, 330), at(-100, 330), at(-100, 290)
			m.Bodies["link"] = []string{"N3-0", "K", "on link"}
			m.Bodies["slider0"] = append(m.Bodies["slider0"], "on slider")
			if guide == "rod" {
				m.Points["Q"], m.Points["on rod"] = at(-190, 420), at(-300, 380)
				m.Bodies["frame"] = append(m.Bodies["frame"], "Q")
				m.Bodies["rod"] = []string{"K", "Q", "on rod"}
			} else {
				m.Points["U"], m.Points["V"] = at(-280, 430), at(-240, 230)
				m.Bodies["frame"] = append(m.Bodies["frame"], "U", "V")
				m.Slots = append(m.Slots, mechanism.Slot{Point: "K", On: "frame", Along: [2]string{"U", "V"}})
			}
			list["link with "+guide+", wheel "+axle] = m
		}
	}
	return list
}

// withSliders is the linkage a1 with so many bodies that float beside the swingarm:
// two pins of each slide in a line of the swingarm, a third in an upright one of the
// frame.
func withSliders(sliders int) mechanism.Spec {
	m := spec("a1")
	m.Stroke = mm(30)
	m.Points["F"], m.Points["G"] = at(-88, 152), at(-188, 192)
	m.Bodies["SW"] = append(m.Bodies["SW"], "F", "G")
	for n := range sliders {
		p := func(name string) string { return fmt.Sprint(name, n) }
		x, y := float64(-5*n), float64(2*n) // along the line
		m.Points[p("N1-")], m.Points[p("N2-")], m.Points[p("N3-")] = at(-113+x, 162+y), at(-163+x, 182+y), at(-138+x, 300+y)
		m.Points[p("L1-")], m.Points[p("L2-")] = at(-138+x, 250+y), at(-138+x, 350+y)
		m.Bodies["frame"] = append(m.Bodies["frame"], p("L1-"), p("L2-"))
		m.Bodies[p("slider")] = []string{p("N3-"), p("N1-"), p("N2-")}
		m.Slots = append(m.Slots,
			mechanism.Slot{Point: p("N1-"), On: "SW", Along: [2]string{"F", "G"}},
			mechanism.Slot{Point: p("N2-"), On: "SW", Along: [2]string{"G", "F"}},
			mechanism.Slot{Point: p("N3-"), On: "frame", Along: [2]string{p("L1-"), p("L2-")}})
	}
	return m
}

// crowd is a1 with more bodies, none of which changes what the wheel does: pairs of
// links between frame and swingarm, and a link whose pin slides in the swingarm.
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

// Bodies that the wheel doesn't need change nothing for it, up to twelve that move.
func TestBodiesThatTheWheelDoesNotNeed(t *testing.T) {
	want := solved("a1")
	for what, m := range map[string]mechanism.Spec{
		"5 pairs": crowd(5, false), "pin": crowd(0, true), "5 pairs and pin": crowd(5, true),
		"1 slider": withSliders(1), "3 sliders": withSliders(3), "4 sliders": withSliders(4), "11 sliders": withSliders(11),
	} {
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(what, err)
		}
		for i := range 9 {
			s := m.Stroke * units.Length(i) / 8
			a, b := want.Pose(s), k.Pose(s)
			unitstest.Near(t, what+" travel", b.Travel, a.Travel, unitstest.Abs(mm(1e-9)))
			unitstest.Near(t, what+" ratio", b.LeverRatio, a.LeverRatio, unitstest.Rel(1e-10))
			unitstest.Near(t, what+" slope", b.LeverRatioSlope, a.LeverRatioSlope, unitstest.Rel(1e-8))
		}
	}
	_, err := mechanism.New(crowd(6, false))
	refuses(t, err, "bodies")
	if !errors.Is(err, units.ErrRange) {
		t.Errorf("13 moving bodies: %v", err)
	}
}

// rail is a body on an upright rail, held by the shock alone, whose other eye is c
// beside the rail and d above. All of it is far below the origin.
func rail(c, d float64) mechanism.Spec {
	return mechanism.Spec{
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
}

// A body on a rail is found where it is drawn and not where the shock would be as
// long on the other side: it rises from d below the eye to √((L − s)² − c²) below.
func TestBodyOnARail(t *testing.T) {
	const c, d = 150.0, 125.0
	k, err := mechanism.New(rail(c, d))
	if err != nil {
		t.Fatal(err)
	}
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

// floating is a wheel on a body that floats beside a swingarm, twice: with the
// swingarm's line and the body's pins, and with the body's line and pins of the
// swingarm.
func floating() (pins, lines mechanism.Spec) {
	for _, m := range []*mechanism.Spec{&pins, &lines} {
		*m = withSliders(1)
		m.Points["E"] = at(-228, 262)
		m.Bodies["slider0"] = append(m.Bodies["slider0"], "E")
		m.Axle = "E"
	}
	lines.Slots[0] = mechanism.Slot{Point: "F", On: "slider0", Along: [2]string{"N1-0", "N2-0"}}
	lines.Slots[1] = mechanism.Slot{Point: "G", On: "slider0", Along: [2]string{"N1-0", "N2-0"}}
	return pins, lines
}

// It is all one which of two bodies has the line and which the pins.
func TestPinsAndLineMayBeExchanged(t *testing.T) {
	pins, lines := floating()
	k, err := mechanism.New(pins)
	l, errLines := mechanism.New(lines)
	if err != nil || errLines != nil {
		t.Fatal(err, errLines)
	}
	for i := range 7 {
		s := mm(float64(5 * i))
		a, b := l.Pose(s), k.Pose(s)
		unitstest.Near(t, "travel", a.Travel, b.Travel, unitstest.Abs(mm(1e-9)))
		unitstest.Near(t, "ratio", a.LeverRatio, b.LeverRatio, unitstest.Rel(1e-10))
		unitstest.Near(t, "slope", a.LeverRatioSlope, b.LeverRatioSlope, unitstest.Rel(1e-8))
		unitstest.Near(t, "turning", a.CarrierTurning, b.CarrierTurning, unitstest.Rel(1e-10))
		unitstest.Near(t, "forward", a.AxleForward, b.AxleForward, unitstest.Abs(1e-10))
		unitstest.Near(t, "path", l.PathLength(s), k.PathLength(s), unitstest.Abs(mm(1e-9)))
	}
}

// sliderCrank is a crank of length a about the origin, at the angle phi, whose
// rod of length b ends on a line at the height c, in mm. The shock holds the
// crank: from its pin to a point of the frame. The axle is a point of the rod.
func sliderCrank(a, b, c, phi float64) mechanism.Spec {
	pin := at(a*math.Cos(phi), a*math.Sin(phi))
	x := a*math.Cos(phi) + math.Sqrt(b*b-math.Pow(a*math.Sin(phi)-c, 2))
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"O": at(0, 0), "A": pin, "B": at(x, c), "E": at(x+100, c), "line": at(0, c), "S": at(200, -50),
			"axle": at(-60, 40),
		},
		Bodies: map[string][]string{"frame": {"O", "E", "line", "S"}, "crank": {"O", "A"}, "rod": {"A", "B", "axle"}},
		Axle:   "axle", Shock: [2]string{"A", "S"}, Stroke: mm(15),
		Slots: []mechanism.Slot{{Point: "B", On: "frame", Along: [2]string{"E", "line"}}},
	}
}

// What a slot must be; what is wrong with it is all that is said.
func TestSlotsSayWhatIsWrong(t *testing.T) {
	for _, test := range []struct {
		what  string
		spoil func(*mechanism.Spec)
		want  []string
		says  string
	}{
		{"an unknown point", func(m *mechanism.Spec) { m.Slots[0].Point = "X" }, []string{"slots[0].point"}, ""},
		{"a point of the slot's own body", func(m *mechanism.Spec) { m.Slots[0].Point = "P" }, []string{"slots[0].point"}, ""},
		{"a point of the slot's own body on its line", func(m *mechanism.Spec) { m.Slots[0].Point = "F" }, []string{"slots[0].point"}, ""},
		{"an unknown body", func(m *mechanism.Spec) { m.Slots[0].On = "sky" }, []string{"slots[0].on"}, ""},
		{"a line of one point", func(m *mechanism.Spec) { m.Slots[0].Along[1] = "F" }, []string{"slots[0].along"}, ""},
		{"a line that begins at another body's point", func(m *mechanism.Spec) { m.Slots[0].Along = [2]string{"S2", "G"} },
			[]string{"slots[0].along"}, `"S2, G"`},
		{"a line that ends there", func(m *mechanism.Spec) { m.Slots[0].Along = [2]string{"F", "S2"} },
			[]string{"slots[0].along"}, `"F, S2"`},
		{"twice beside the line", func(m *mechanism.Spec) {
			m.Points["N"] = at(-138, 173)
			m.Slots = append(m.Slots, m.Slots[0])
		}, []string{"slots[0].point", "slots[1].point"}, "on the slot's line"},
		{"the same slot twice", func(m *mechanism.Spec) { m.Slots = append(m.Slots, m.Slots[0]) }, []string{"bodies"}, "over-constrain"},
		{"a body that slides freely", func(m *mechanism.Spec) { // and is joined all the same
			*m = withSliders(1)
			m.Slots = m.Slots[:2]
		}, []string{"bodies"}, "there are 2, 1 too many"},
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
