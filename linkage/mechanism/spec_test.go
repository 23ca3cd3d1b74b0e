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
		{"two too many ways", "c1", func(m *mechanism.Spec) { m.Bodies["frame"] = []string{"M", "S2"} },
			[]string{"bodies"}, "there are 3, 2 too many"},
		{"held once too often", "a1", func(m *mechanism.Spec) { m.Bodies["frame"] = append(m.Bodies["frame"], "AX") },
			[]string{"axle", "bodies"}, "over-constrain them by 2"},
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
		}, []string{"bodies"}, "over-constrained in one place and loose in another"},
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

func TestMoreThanTwelveMovingBodiesAreRefused(t *testing.T) {
	m := spec("a1")
	for i := range 12 {
		m.Bodies["extra"+string(rune('a'+i))] = []string{"P", "AX"}
	}
	if _, err := mechanism.New(m); err == nil || !strings.Contains(err.Error(), "from 1 to 12") {
		t.Errorf("13 moving bodies: %v", err)
	}
}

// Twelve moving bodies are the most. Those that the wheel doesn't need change
// nothing for it.
func TestTwelveMovingBodiesAreTheMost(t *testing.T) {
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

// The bounds in the doc comments of Mechanism and NewMechanism.
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

// An eye of the shock that is no number is refused for that alone.
func TestShockEyeOfNaNIsRefusedOnce(t *testing.T) {
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

// Which bodies are loose, and how many ways too many there are.
func TestDegreesOfFreedomAreCounted(t *testing.T) {
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

// A mechanism that is at a dead point as it is drawn locks there; it is not one
// whose bodies are held too often. Seen in a mirror it is the same, and with a
// stroke as long as the shock but for a hair. What was asked for stays as it
// was.
func TestDeadPointAtTheStartIsNotOverConstrained(t *testing.T) {
	inLine := arm{80, 250, 0, 403, math.Pi + 0.125}
	mirrored := inLine.mechanism(50)
	for name, p := range mirrored.Points {
		mirrored.Points[name] = mechanism.Point{-p[0], p[1]}
	}
	// The crank of a slider-crank, its shock in line beyond the pivot.
	slider := sliderCrank(40, 120, -20, 2.2)
	slider.Points["line"] = at(0, -20)
	slider.Points["S"] = at(-150*math.Cos(2.2), -150*math.Sin(2.2))
	for name, m := range map[string]mechanism.Spec{
		"in line": inLine.mechanism(50), "mirrored": mirrored, "a long stroke": inLine.mechanism(169.9999), "slider": slider,
	} {
		before := maps.Clone(m.Points)
		k, err := mechanism.New(m)
		var lock *mechanism.LockError
		if k != nil || !errors.As(err, &lock) || lock.At != 0 {
			t.Errorf("%s: %v", name, err)
		}
		if !maps.Equal(before, m.Points) {
			t.Errorf("%s: the points asked for were moved", name)
		}
	}
}

// Long columns, many bodies, points and slots are refused by their field, with
// a short list of what else is wrong.
func TestHostileMechanismsAreRefusedShortly(t *testing.T) {
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

// What the caller does to its maps afterwards is nothing to the motion.
func TestMechanismKeepsItsOwnCopy(t *testing.T) {
	m := spec("c1")
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	want := k.Pose(mm(20))
	m.Points["S1"] = at(0, 0)
	m.Bodies["RK"][0] = "M"
	given := k.Spec()
	given.Points["S1"] = at(1, 1)
	given.Bodies["RK"][0] = "H"
	if k.Pose(mm(20)) != want || k.Spec().Bodies["RK"][0] != "T" || k.Spec().Points["S1"] != at(52, 330) {
		t.Error("the motion shares its maps")
	}
	if got, want := len(slices.Collect(maps.Keys(k.Positions(0)))), len(m.Points); got != want {
		t.Errorf("%d positions, want %d", got, want)
	}
}
