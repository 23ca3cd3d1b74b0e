package mechanism_test

import (
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

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

// An eye of the shock that is no number is refused for that alone.
func TestShockEyeThatIsNoNumber(t *testing.T) {
	for _, eye := range []string{"S1", "S2"} {
		for axis, field := range []string{"[0]", "[1]"} {
			m := spec("a1")
			p := m.Points[eye]
			p[axis] = units.Length(math.NaN())
			m.Points[eye] = p
			_, err := mechanism.New(m)
			refuses(t, err, "points."+eye+field)
		}
	}
}

// Where the line itself moves, its turning is in the rates of the body whose
// pin runs in it: a rocker in the slot of another, both far from the frame's
// rest. The wheel hangs on the body with the pin.
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

// Which bodies are loose, and how many ways too many there are.
func TestMobilityIsCounted(t *testing.T) {
	m := spec("a1")
	m.Points["X"], m.Points["Y"] = at(0, 0), at(10, 0)
	m.Bodies["AA"] = []string{"X", "Y"}
	_, err := mechanism.New(m)
	refuses(t, err, "bodies")
	if err == nil || !strings.Contains(err.Error(), `bodies "AA":`) {
		t.Errorf("%v, want that AA is loose", err)
	}
	m = spec("a1")
	m.Points["X"] = at(0, 0)
	m.Bodies["link"] = []string{"S1", "X"}
	_, err = mechanism.New(m)
	refuses(t, err, "bodies")
	if err == nil || !strings.Contains(err.Error(), "there are 2, 1 too many") {
		t.Errorf("%v, want one way too many", err)
	}
}
