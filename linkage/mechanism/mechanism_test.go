package mechanism_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

func TestNewMechanismRefuses(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		what  string
		of    string
		spoil func(*mechanism.Spec)
		want  []string
		text  string // part of the error
	}{
		{"no points", "a1", func(m *mechanism.Spec) { m.Points = nil },
			[]string{"bodies.frame[0]", "points"}, "one of the points"},
		{"a coordinate that is no number", "a1", func(m *mechanism.Spec) { m.Points["P"] = mechanism.Point{nan, mm(72)} },
			[]string{"points.P[0]"}, "from -100000 mm to 100000 mm"},
		{"an infinite coordinate and a stroke of 0", "a1", func(m *mechanism.Spec) {
			m.Points["AX"] = mechanism.Point{0, units.Length(math.Inf(1))}
			m.Stroke = 0
		}, []string{"points.AX[1]", "stroke"}, ""},
		{"a shock's eye that is no number", "a1", func(m *mechanism.Spec) { m.Points["S1"] = mechanism.Point{nan, mm(238)} },
			[]string{"points.S1[0]"}, ""},
		{"a coordinate out of this world", "a1", func(m *mechanism.Spec) { m.Points["AX"] = at(-1e6, 0) },
			[]string{"points.AX[0]"}, ""},
		{"a name with a dot", "a1", func(m *mechanism.Spec) { m.Points["x.y"] = mechanism.Point{nan, 0} },
			[]string{`points.["x.y"][0]`}, ""},
		{"no frame", "a1", func(m *mechanism.Spec) {
			m.Bodies["front"] = m.Bodies["frame"]
			delete(m.Bodies, "frame")
		}, []string{"bodies"}, `a body named "frame"`},
		{"only a frame", "a1", func(m *mechanism.Spec) { delete(m.Bodies, "SW") }, []string{"bodies"}, "from 1 to 12 bodies"},
		{"a point that isn't there", "a1", func(m *mechanism.Spec) { m.Bodies["SW"] = []string{"P", "AX", "S9"} },
			[]string{"bodies.SW[2]"}, "one of the points"},
		{"a point twice", "a1", func(m *mechanism.Spec) { m.Bodies["SW"] = []string{"P", "AX", "S1", "P"} },
			[]string{"bodies.SW[3]"}, "each point once"},
		{"in pieces", "c1", func(m *mechanism.Spec) { m.Bodies["RK"] = []string{"R", "S1"}; m.Bodies["SS"] = []string{"AX", "T"} },
			[]string{"bodies"}, `"SS": want bodies all joined`},
		{"two too many ways", "c1", func(m *mechanism.Spec) { m.Bodies["frame"] = []string{"M", "S2"} },
			[]string{"bodies"}, "there are 3, 2 too many"},
		{"held once too often", "a1", func(m *mechanism.Spec) { m.Bodies["frame"] = append(m.Bodies["frame"], "AX") },
			[]string{"axle", "bodies"}, "pivots hold it 2 times too often"},
		{"an axle that is no point", "a1", func(m *mechanism.Spec) { m.Axle = "AY" }, []string{"axle"}, ""},
		{"an axle on the frame", "a1", func(m *mechanism.Spec) { m.Axle = "P" }, []string{"axle"}, "not of the frame"},
		{"an axle of no body", "a1", func(m *mechanism.Spec) { m.Points["far"] = at(1, 1); m.Axle = "far" }, []string{"axle"}, ""},
		{"a shock that ends nowhere", "a1", func(m *mechanism.Spec) { m.Shock[0] = "S7" }, []string{"shock"}, ""},
		{"a shock with both ends on one body", "c1", func(m *mechanism.Spec) { m.Shock[0] = "R" }, []string{"shock"}, "two bodies that move against each other"},
		{"a shock of one point", "c1", func(m *mechanism.Spec) { m.Shock[0] = "S2" }, []string{"shock"}, ""},
		{"a shock without length", "a1", func(m *mechanism.Spec) { m.Points["S1"] = m.Points["S2"] }, []string{"shock"}, "apart from each other"},
		{"a stroke as long as the shock", "a1", func(m *mechanism.Spec) { m.Stroke = mm(211.03) },
			[]string{"stroke"}, "less than the shock's length at full extension, 211.02"},
		{"a stroke that is no number", "a1", func(m *mechanism.Spec) { m.Stroke = nan }, []string{"stroke"}, ""},
		{"a negative stroke, no axle, no shock", "a1", func(m *mechanism.Spec) {
			m.Stroke, m.Axle, m.Shock = -mm(1), "", [2]string{}
		}, []string{"axle", "shock", "stroke"}, ""},
		{"held twice here and free there", "a1", func(m *mechanism.Spec) {
			// The link X–Y holds the swingarm still, the one at S1 dangles: the
			// count is 1 all the same.
			m.Points["X"], m.Points["Y"], m.Points["U"] = at(50, 0), at(50, 50), at(-200, 0)
			m.Bodies["frame"] = append(m.Bodies["frame"], "X")
			m.Bodies["SW"] = append(m.Bodies["SW"], "Y")
			m.Bodies["one"] = []string{"X", "Y"}
			m.Bodies["two"] = []string{"S1", "U"}
		}, []string{"bodies"}, "none is held too often while others are free"},
		{"an axle that falls", "a1", func(m *mechanism.Spec) { m.Points["AX"] = at(438, 28) },
			[]string{"axle"}, "rises as the shock is compressed"},
	} {
		m := spec(test.of)
		test.spoil(&m)
		k, err := mechanism.New(m)
		if k != nil || err == nil {
			t.Errorf("%s: accepted", test.what)
			continue
		}
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: names (-want +got):\n%s\n%v", test.what, diff, err)
		}
		if !strings.Contains(err.Error(), test.text) {
			t.Errorf("%s: %q doesn't say %q", test.what, err, test.text)
		}
		if errors.Is(err, mechanism.ErrLocks) {
			t.Errorf("%s: said to lock: %v", test.what, err)
		}
	}
}

func TestTooManyBodies(t *testing.T) {
	m := spec("a1")
	for i := range 12 {
		m.Bodies["extra"+string(rune('a'+i))] = []string{"P", "AX"}
	}
	if _, err := mechanism.New(m); err == nil || !strings.Contains(err.Error(), "from 1 to 12") {
		t.Errorf("13 moving bodies: %v", err)
	}
}
