package mechanism_test

import (
	"fmt"
	"math"
	"testing"

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
