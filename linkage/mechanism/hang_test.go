package mechanism

import (
	"slices"
	"testing"

	"example.com/wheelrate/units"
)

// onSlider is sliding with a link on the floating body's pin. Its other end
// is on a rod that hangs on the frame, or in a slot of the frame. It comes
// first by its name.
func onSlider(rod bool) Spec {
	m := sliding()
	m.Points["K"], m.Points["Q"] = Point{-0.260, 0.330}, Point{-0.190, 0.420}
	m.Points["U"], m.Points["V"] = Point{-0.280, 0.430}, Point{-0.240, 0.230}
	m.Bodies["a link"] = []string{"N3", "K"}
	m.Bodies["frame"] = append(m.Bodies["frame"], "Q", "U", "V")
	if rod {
		m.Bodies["rod"] = []string{"K", "Q"}
	} else {
		m.Slots = append(m.Slots, Slot{Point: "K", On: "frame", Along: [2]string{"U", "V"}})
	}
	m.Stroke = 20 * units.Millimetre
	return m
}

// Every body hangs on one that came before it, at a point of both; a body floats
// only if no pivot leads to it from the frame. Each is one unknown, or three, and
// there are as many constraints as unknowns.
func TestHang(t *testing.T) {
	for _, test := range []struct {
		name            string
		mechanism       Spec
		loops, unknowns int
		floats          []string
	}{
		{"floating shock", floating(), 1, 3, nil},
		{"floating body", sliding(), 0, 1 + 3, []string{"slider"}},
		// The rod hangs on the frame, the link on the rod, and what the link
		// shares with the slider brings that in: nothing floats.
		{"links to a slider", onSlider(true), 0, 4, nil},
		{"a link on a slider", onSlider(false), 0, 1 + 3 + 1, []string{"a link"}},
	} {
		top, err := newTopology(test.mechanism)
		if err != nil {
			t.Fatal(test.name, err)
		}
		for range 2 { // the second time nothing is new
			top.hang()
			if len(top.loops) != test.loops || top.unknowns != test.unknowns {
				t.Errorf("%s: %d loops and %d unknowns, want %d and %d", test.name, len(top.loops), top.unknowns, test.loops, test.unknowns)
			}
		}
		if constraints := 2*len(top.loops) + len(top.slots) + 1; constraints != top.unknowns {
			t.Errorf("%s: %d constraints for %d unknowns", test.name, constraints, top.unknowns)
		}
		var floats []string
		known, at := []int{0}, 0
		for _, body := range top.order {
			h := top.hung[body]
			if h.at != at {
				t.Errorf("%s: %s has the coordinate %d, want %d", test.name, top.bodies[body], h.at, at)
			}
			at++
			switch {
			case h.floats:
				floats = append(floats, top.bodies[body])
				at += 2
			case !slices.Contains(known, h.pivot.body):
				t.Errorf("%s: %s hangs on %s, which isn't there yet", test.name, top.bodies[body], top.bodies[h.pivot.body])
			default:
				place := top.origin[h.pivot.body] + h.pivot.r
				shared := false
				for name, p := range top.points {
					shared = shared || abs(p-place) < 1e-15 && slices.Contains(top.owners[name], body) && slices.Contains(top.owners[name], h.pivot.body)
				}
				if !shared || abs(top.origin[body]-place) > 1e-15 {
					t.Errorf("%s: %s hangs at %v, its origin is at %v", test.name, top.bodies[body], place, top.origin[body])
				}
			}
			known = append(known, body)
		}
		if !slices.Equal(floats, test.floats) {
			t.Errorf("%s: %v float, want %v", test.name, floats, test.floats)
		}
		if len(top.order) != top.moving() {
			t.Errorf("%s: %d bodies of %d", test.name, len(top.order), top.moving())
		}
	}
}
