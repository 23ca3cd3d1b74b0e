package mechanism_test

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func TestNewRefuses(t *testing.T) {
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
		{"the other eye", "a1", func(m *mechanism.Spec) { m.Points["S2"] = mechanism.Point{mm(112), nan} }, []string{"points.S2[1]"}, ""},
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
			[]string{"bodies"}, `"SS": want bodies that are all joined`},
		{"a body joined to none", "a1", func(m *mechanism.Spec) {
			m.Points["X"], m.Points["Y"] = at(0, 0), at(10, 0)
			m.Bodies["AA"] = []string{"X", "Y"}
		}, []string{"bodies"}, `bodies "AA":`},
		{"one way too many", "a1", func(m *mechanism.Spec) {
			m.Points["X"] = at(0, 0)
			m.Bodies["link"] = []string{"S1", "X"}
		}, []string{"bodies"}, "there are 2, 1 too many"},
		{"two too many ways", "c1", func(m *mechanism.Spec) { m.Bodies["frame"] = []string{"M", "S2"} },
			[]string{"bodies"}, "there are 3, 2 too many"},
		{"held once too often", "a1", func(m *mechanism.Spec) { m.Bodies["frame"] = append(m.Bodies["frame"], "AX") },
			[]string{"axle", "bodies"}, "over-constrain them by 2"},
		{"an axle that is no point", "a1", func(m *mechanism.Spec) { m.Axle = "AY" }, []string{"axle"}, ""},
		{"an axle on the frame", "a1", func(m *mechanism.Spec) { m.Axle = "P" }, []string{"axle"}, "not of the frame"},
		{"an axle of no body", "a1", func(m *mechanism.Spec) { m.Points["far"] = at(1, 1); m.Axle = "far" }, []string{"axle"}, ""},
		{"an axle of two bodies", "c1", func(m *mechanism.Spec) { m.Axle = "H" }, []string{"carrier"}, "CS or SS: the axle is a point of each"},
		{"a carrier that the axle is no point of", "c1", func(m *mechanism.Spec) { m.Axle, m.Carrier = "H", "RK" }, []string{"carrier"}, "CS or SS"},
		{"a carrier that is no body", "c1", func(m *mechanism.Spec) { m.Carrier = "ST" }, []string{"carrier"}, "that the axle is a point of: SS"},
		{"a carrier of an axle on the frame", "a1", func(m *mechanism.Spec) { m.Axle, m.Carrier = "P", "SW" }, []string{"axle"}, ""},
		{"a shock that ends nowhere", "a1", func(m *mechanism.Spec) { m.Shock[0] = "S7" }, []string{"shock"}, ""},
		{"a shock with both ends on one body", "c1", func(m *mechanism.Spec) { m.Shock[0] = "R" }, []string{"shock"}, "two bodies that move against each other"},
		{"a shock of one point", "c1", func(m *mechanism.Spec) { m.Shock[0] = "S2" }, []string{"shock"}, ""},
		{"a shock without length", "a1", func(m *mechanism.Spec) { m.Points["S1"] = m.Points["S2"] }, []string{"shock"}, "apart from each other"},
		{"a stroke as long as the shock", "a1", func(m *mechanism.Spec) { m.Stroke = mm(211.0299) },
			[]string{"stroke"}, "the shock's length at full extension"},
		{"a stroke that is no number", "a1", func(m *mechanism.Spec) { m.Stroke = nan }, []string{"stroke"}, ""},
		{"a negative stroke, no axle, no shock", "a1", func(m *mechanism.Spec) {
			m.Stroke, m.Axle, m.Shock = -mm(1), "", [2]string{}
		}, []string{"axle", "shock", "stroke"}, ""},
		{"an axle that falls", "a1", func(m *mechanism.Spec) { m.Points["AX"] = at(438, 28) },
			[]string{"axle"}, "rises as the shock is compressed from full extension; it sinks: a shock that is pulled longer"},
		{"an axle straight above the pivot", "a1", func(m *mechanism.Spec) { m.Points["AX"] = at(12, 400) },
			[]string{"axle"}, "rises as the shock is compressed from full extension"},
		{"a link to spare", "a1", func(m *mechanism.Spec) { *m = parallelLinks(3) }, []string{"bodies"},
			"the pivots over-constrain them by 1, since one of link1, link2 is to spare: without it"},
		{"a third link that does not fit", "a1", func(m *mechanism.Spec) {
			*m = parallelLinks(3)
			m.Points["V2"] = at(-401, 200)
		}, []string{"bodies"}, "the pivots over-constrain them by 1"},
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

// parallelLinks is a wheel on parallel links of one length; the lowest, link0, carries the shock.
func parallelLinks(n int) mechanism.Spec {
	m := mechanism.Spec{
		Points: map[string]mechanism.Point{"A": at(-430, 20), "S1": at(0, 150), "S2": at(200, 0)},
		Bodies: map[string][]string{"frame": {"S2"}, "rear": {"A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(50),
	}
	for i := range n {
		name := fmt.Sprint(i)
		m.Points["U"+name], m.Points["V"+name] = at(0, 100*float64(i)), at(-400, 100*float64(i))
		m.Bodies["link"+name] = []string{"U" + name, "V" + name}
		m.Bodies["frame"] = append(m.Bodies["frame"], "U"+name)
		m.Bodies["rear"] = append(m.Bodies["rear"], "V"+name)
	}
	m.Bodies["link0"] = append(m.Bodies["link0"], "S1")
	return m
}

// Without the link to spare that the error names, the mechanism is one.
func TestParallelLinksMove(t *testing.T) {
	if _, err := mechanism.New(parallelLinks(2)); err != nil {
		t.Error(err)
	}
	m := parallelLinks(3)
	m.Points["V2"] = at(-401, 200)
	if _, err := mechanism.New(m); strings.Contains(err.Error(), "to spare") {
		t.Error(err)
	}
}

// Where two bodies share the axle, each moves it alike and turns in its own way: the one that carries
// the wheel is named, and the order of the names says nothing.
func TestCarrierIsTheBodyNamed(t *testing.T) {
	turn := func(rename map[string]string, carrier string) mechanism.Pose {
		m := spec("c1")
		for from, to := range rename {
			m.Bodies[to] = m.Bodies[from]
			delete(m.Bodies, from)
		}
		m.Axle, m.Carrier = "H", carrier
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(err)
		}
		return k.Pose(mm(40))
	}
	chainstay, seatstay := turn(nil, "CS"), turn(nil, "SS")
	if chainstay.CarrierTurning == seatstay.CarrierTurning {
		t.Error("two bodies that turn alike")
	}
	unitstest.Near(t, "ratio", chainstay.LeverRatio, seatstay.LeverRatio, unitstest.Rel(1e-12))
	renamed := map[string]string{"CS": "z", "SS": "b"}
	unitstest.Near(t, "chainstay", turn(renamed, "z").CarrierTurning, chainstay.CarrierTurning, unitstest.Rel(1e-12))
	unitstest.Near(t, "seatstay", turn(renamed, "b").CarrierTurning, seatstay.CarrierTurning, unitstest.Rel(1e-12))
	only, err := mechanism.New(spec("c1"))
	named := spec("c1")
	named.Carrier = "SS"
	same, err2 := mechanism.New(named)
	if err != nil || err2 != nil || only.Pose(mm(40)) != same.Pose(mm(40)) {
		t.Error("the only body named:", err, err2)
	}
}

// The bounds in the doc comments of Spec and New.
func TestBoundsOfASpec(t *testing.T) {
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

// A link that holds the swingarm still, and another that dangles: the count of
// ways to move is 1 all the same. Wherever they are, it is the bodies that are
// refused.
func TestOverConstrainedBodiesAreRefused(t *testing.T) {
	for i := range 40 {
		m := spec("a1")
		a, b := 1.1*float64(i), 2.3*float64(i)
		m.Points["X"], m.Points["Y"], m.Points["U"] = at(80*math.Cos(a), 60*math.Sin(a)), at(-150+90*math.Cos(b), 40+70*math.Sin(b)), at(-200, 3.7*float64(i))
		m.Bodies["frame"] = append(m.Bodies["frame"], "X")
		m.Bodies["SW"] = append(m.Bodies["SW"], "Y")
		m.Bodies["one"] = []string{"X", "Y"}
		m.Bodies["two"] = [][]string{{"S1", "U"}, {"U", "S1"}}[i%2]
		before := maps.Clone(m.Points)
		_, err := mechanism.New(m)
		refuses(t, err, "bodies")
		if err == nil || !strings.Contains(err.Error(), "over-constrained in one place") {
			t.Errorf("%d: %v", i, err)
		}
		if !maps.Equal(before, m.Points) {
			t.Errorf("%d: the points asked for were moved", i)
		}
	}
}

// The bodies' names make no difference, nor which of them has an eye of the shock first.
func TestOverConstrainedBodiesAreRefusedByAnyName(t *testing.T) {
	for _, loose := range []string{"swing", "aswing"} {
		_, err := mechanism.New(mechanism.Spec{
			Points: map[string]mechanism.Point{"P": {0, 0.3}, "Q": {0.2, 0.35}, "A": {-0.05, 0.55}, "W": {-0.45, 0.35}, "S": {0.25, 0.6}},
			Bodies: map[string][]string{mechanism.Frame: {"P", "Q", "S"}, "barm": {"P", "A"}, "cstrut": {"Q", "A"}, loose: {"A", "W"}},
			Shock:  [2]string{"A", "S"}, Axle: "W", Stroke: 50 * units.Millimetre,
		})
		require.ErrorContains(t, err, "over-constrained in one place", loose)
		refuses(t, err, "bodies")
	}
}

// The same beside a body that only slots hold.
func TestOverConstrainedBodiesBesideSlotsAreRefused(t *testing.T) {
	m := spec("slider")
	m.Points["X"], m.Points["Y"], m.Points["U"] = at(-20, -60), at(-300, 130), at(-200, 200)
	m.Bodies["frame"], m.Bodies["arm"] = append(m.Bodies["frame"], "X"), append(m.Bodies["arm"], "Y")
	m.Bodies["one"], m.Bodies["two"] = []string{"X", "Y"}, []string{"S1", "U"}
	_, err := mechanism.New(m)
	require.ErrorContains(t, err, "over-constrained in one place")
	refuses(t, err, "bodies")
}

// Long names and lists are refused by their field, with a short error and little
// memory.
func TestHostileMechanismsAreRefusedShortly(t *testing.T) {
	for _, row := range []struct {
		field string
		spoil func(m *mechanism.Spec)
	}{
		{"slots", func(m *mechanism.Spec) { m.Slots = make([]mechanism.Slot, 1_000_000) }},
		{"bodies.SW[3]", func(m *mechanism.Spec) {
			m.Bodies["SW"] = append(m.Bodies["SW"], slices.Repeat([]string{"P"}, 1_000_000)...)
		}},
		{"axle", func(m *mechanism.Spec) { m.Axle = strings.Repeat("A", 1<<20) }},
		{"shock", func(m *mechanism.Spec) { m.Shock[0] = strings.Repeat("A", 1<<20) }},
	} {
		m := spec("a1")
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

// What the caller does to its maps and slices afterwards is nothing to the motion.
func TestMechanismKeepsItsOwnCopy(t *testing.T) {
	m := crowd(0, true)
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	before, pose := crowd(0, true), k.Pose(mm(20))
	for _, m := range []mechanism.Spec{m, k.Spec()} {
		m.Points["S1"] = at(0, 0)
		m.Bodies["w"][0] = "F"
		m.Slots[0].On = "frame"
	}
	if diff := cmp.Diff(before, k.Spec()); diff != "" || k.Pose(mm(20)) != pose {
		t.Errorf("the motion shares its maps: %s", diff)
	}
}
