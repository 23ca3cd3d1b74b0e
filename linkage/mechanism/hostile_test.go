package mechanism_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Long columns, many bodies, points and slots are refused by their field, with
// a short list of what else is wrong.
func TestHostileMechanisms(t *testing.T) {
	good := func() mechanism.Spec {
		return mechanism.Spec{
			Points: map[string]mechanism.Point{
				"P": {mm(-20), mm(80)}, "A": {mm(-440), mm(30)}, "S1": {mm(-60), mm(180)}, "S2": {mm(100), mm(250)},
			},
			Bodies: map[string][]string{"frame": {"P", "S2"}, "swingarm": {"P", "A", "S1"}},
			Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(50),
		}
	}
	if _, err := mechanism.New(good()); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		field string
		spoil func(m *mechanism.Spec)
	}{
		{"slots", func(m *mechanism.Spec) { m.Slots = make([]mechanism.Slot, 37) }},
		{"slots", func(m *mechanism.Spec) { m.Slots = make([]mechanism.Slot, 1_000_000) }},
		{"points", func(m *mechanism.Spec) {
			for i := range 1001 {
				m.Points[fmt.Sprint(i)] = mechanism.Point{}
			}
		}},
		{"bodies", func(m *mechanism.Spec) {
			for i := range 13 {
				m.Bodies[fmt.Sprint(i)] = []string{"P"}
			}
		}},
		{"bodies.swingarm[3]", func(m *mechanism.Spec) {
			for range 1_000_000 {
				m.Bodies["swingarm"] = append(m.Bodies["swingarm"], "P")
			}
		}},
		{"axle", func(m *mechanism.Spec) { m.Axle = strings.Repeat("A", 1<<20) }},
		{"shock", func(m *mechanism.Spec) { m.Shock[0] = strings.Repeat("A", 1<<20) }},
	} {
		m := good()
		row.spoil(&m)
		var err error
		n := unitstest.Allocated(func() { _, err = mechanism.New(m) })
		if wrong := unitstest.Refusal(err, 5000); wrong != "" {
			t.Errorf("%s: %s", row.field, wrong)
		}
		if f := units.Fields(err); len(f) == 0 || f[0].Field != row.field {
			t.Errorf("%s: %.300v", row.field, err)
		}
		if n > 4<<20 {
			t.Errorf("%s: %d bytes of memory", row.field, n)
		}
	}
}

// Next to full extension the path is as long as the axle's speed says, down to
// strokes whose reciprocal is infinite.
func TestPathLengthAtTinyStrokes(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		p := k.Pose(0)
		speed := math.Hypot(p.AxleForward, p.LeverRatio)
		for _, s := range []units.Length{5e-324, 1e-320, 1e-300, 1e-30, 1e-15, 1e-12, 1e-9} {
			// A stroke of s changes the speed by far less than s in a metre's size of mechanism.
			unitstest.Near(t, fmt.Sprintf("%s at %g", name, float64(s)), k.PathLength(s), s*units.Length(speed), unitstest.Rel(1e-6), unitstest.Abs(units.Length(1e-320)))
		}
	}
}
