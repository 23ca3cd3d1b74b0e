package mechanism_test

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// lockOf returns where an error says that a mechanism locks.
func lockOf(t *testing.T, what string, k *mechanism.Mechanism, err error) units.Length {
	t.Helper()
	var lock *mechanism.LockError
	if k != nil || !errors.As(err, &lock) || !errors.Is(err, mechanism.ErrLocks) {
		t.Fatalf("%s: %v", what, err)
	}
	return lock.At
}

// deadCrank is an arm whose pivot and eyes come into line within its stroke.
var deadCrank = arm{A: 80, D: 250, Phi: 0.9, R: 403, Axle: math.Pi + 0.125}

// solvers are both ways to solve a mechanism.
var solvers = map[string]func(mechanism.Spec) (*mechanism.Mechanism, error){
	"circles": mechanism.New, "Newton": mechanism.NewByNewton,
}

// x1's drive link and second rocker come into line: the wheel stops and turns
// back, although every pose up to full stroke can be solved to the last digit.
func TestWheelThatTurnsBackLocks(t *testing.T) {
	m := spec("x1")
	k, err := mechanism.New(m)
	if got := lockOf(t, "x1", k, err); !(got > mm(36) && got < mm(37)) {
		t.Errorf("x1 locks at %v, want between 36 and 37 mm", got)
	}
	m.Stroke = mm(36)
	if _, err := mechanism.New(m); err != nil {
		t.Errorf("up to there: %v", err)
	}
}

// The dead point of a crank is known in closed form. It is found to a small share
// of the stroke, and said in mm, by circles and by Newton's method, whatever the
// mechanism's size. The lever ratio exceeds 1000 a hair before it.
func TestDeadPointOfACrankIsFound(t *testing.T) {
	for name, solve := range solvers {
		for _, scale := range []float64{0.25, 1, 7} {
			g := arm{A: 80 * scale, D: 250 * scale, Phi: 0.9, R: 403 * scale, Axle: math.Pi + 0.125}
			dead := g.DeadPoint()
			k, err := solve(g.Spec(50 * scale))
			unitstest.Near(t, name, lockOf(t, name, k, err), mm(dead), unitstest.Rel(1e-3))
			if says := fmt.Sprintf("stroke %v mm", 50*scale); !strings.Contains(err.Error(), says) {
				t.Errorf("%v doesn't say %s", err, says)
			}
			k, err = solve(g.Spec(dead))
			lockOf(t, name+" at the very end", k, err)
		}
	}
}

// A dead point locks only where it is: an arm whose axle is so near its pivot that
// the ratio stays small moves up to a thousandth of a millimetre short of it.
func TestMotionGoesOnUpToADeadPoint(t *testing.T) {
	g := deadCrank
	g.R = 0.4
	for name, solve := range solvers {
		for _, short := range []float64{0.5, 0.01, 1e-3} {
			if _, err := solve(g.Spec(g.DeadPoint() - short)); err != nil {
				t.Errorf("%s, %v mm short: %v", name, short, err)
			}
		}
	}
}

// A mechanism that is at a dead point as it is drawn locks there; it is not one
// whose bodies are over-constrained. Seen in a mirror it is the same, and with a
// stroke as long as the shock but for a hair. The points of the caller stay as
// they are.
func TestDeadPointAtTheStart(t *testing.T) {
	inLine := deadCrank
	inLine.Phi = 0
	mirrored := inLine.Spec(50)
	for name, p := range mirrored.Points {
		mirrored.Points[name] = mechanism.Point{-p[0], p[1]}
	}
	// The crank of a slider-crank, its shock in line beyond the pivot.
	slider := sliderCrank(40, 120, -20, 2.2)
	slider.Points["S"] = at(-150*math.Cos(2.2), -150*math.Sin(2.2))
	for name, m := range map[string]mechanism.Spec{
		"in line": inLine.Spec(50), "mirrored": mirrored, "a long stroke": inLine.Spec(169.9999), "slider": slider,
	} {
		for by, solve := range solvers {
			before := maps.Clone(m.Points)
			k, err := solve(m)
			if got := lockOf(t, name+" by "+by, k, err); got != 0 {
				t.Errorf("%s by %s: locks at %v", name, by, got)
			}
			if !maps.Equal(before, m.Points) {
				t.Errorf("%s: the caller's points were moved", name)
			}
		}
	}
}

// A four-bar whose links come into line within the stroke: beyond that no pose
// exists. H is so near to M and T that their links are soon stretched to a line.
func TestLinksThatComeIntoLineLock(t *testing.T) {
	m := spec("c1")
	m.Points["H"] = at(-10, 280)
	k, err := mechanism.New(m)
	lock := lockOf(t, "circles", k, err)
	n, err := mechanism.NewByNewton(m)
	unitstest.Near(t, "Newton", lockOf(t, "Newton", n, err), lock, unitstest.Abs(mm(0.02)))
	m.Stroke = lock - mm(0.1)
	k, err = mechanism.New(m)
	n, errNewton := mechanism.NewByNewton(m)
	if err != nil || errNewton != nil {
		t.Fatalf("short of it: %v, %v", err, errNewton)
	}
	unitstest.Near(t, "travel", k.Travel(), n.Travel(), unitstest.Abs(mm(1e-8)))
}

// Where the motion is smooth the steps are even, a hundredth of the stroke: more
// would cost as much more.
func TestSmoothMechanismsTakeEvenSteps(t *testing.T) {
	for _, name := range movable() {
		if n := len(solved(name).Strokes()); n != 101 {
			t.Errorf("%s is followed at %d strokes, want 101", name, n)
		}
	}
	short := spec("f1")
	short.Stroke = mm(1)
	for given, want := range map[int]int{-1: 2, 1: 2, 2: 2, 3: 3, 7: 7} { // the first two count as 2
		if k, err := mechanism.NewCoarse(short, given); err != nil || len(k.Strokes()) != want+1 {
			t.Errorf("%d steps: %v, %v", given, k.Strokes(), err)
		}
	}
	coarse, err := mechanism.NewCoarse(spec("f1"), 16)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(coarse.Strokes()); n != 17 {
		t.Errorf("in 16 steps f1 is followed at %d strokes", n)
	}
	for i := range 8 {
		s := mm(float64(7 * i))
		unitstest.Near(t, "coarse ratio", coarse.Pose(s).LeverRatio, solved("f1").Pose(s).LeverRatio, unitstest.Rel(1e-11))
	}
}

// A ratio may leave what is usable between the strokes that a mechanism is
// followed at, a hundredth of the whole apart, and come back before the next:
// it is the curve that sees it, and the stroke named is the one before.
func TestRatioThatDipsBetweenStepsIsFound(t *testing.T) {
	for _, test := range []struct {
		name   string
		arm    arm
		lo, hi float64
		limit  float64
		out    float64 // the factor that takes the extreme beyond
		says   string
	}{
		{"least", arm{A: 100, D: 200, Phi: 0.8, R: 1, Axle: 1 + math.Pi/2}, 15, 39, 0.001, 1 - 1e-6, "stops rising"},
		{"greatest", arm{A: 120, D: 150, Phi: 2.7, R: 1, Axle: 2.8 + math.Pi/2}, 5, 25, 1000, 1 + 1e-6, "more than 1000 times"},
	} {
		g := test.arm
		where, err := root.Find(func(s float64) float64 {
			_, _, slope := g.At(s)
			return slope
		}, test.lo, test.hi, 1e-12)
		if err != nil {
			t.Fatal(test.name, err)
		}
		_, ratio, _ := g.At(where)
		stroke := where * 100 / 60.5 // in the middle of a step
		g.R = test.limit / ratio * test.out
		k, err := mechanism.New(g.Spec(stroke))
		unitstest.Near(t, test.name, lockOf(t, test.name, k, err), mm(stroke*0.6), unitstest.Abs(mm(1e-9)))
		if !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, err)
		}
		g.R = test.limit / ratio / test.out
		if _, err := mechanism.New(g.Spec(stroke)); err != nil {
			t.Errorf("%s, within: %v", test.name, err)
		}
	}
}

// A wheel that has come to the top of its path goes down from there: the
// stroke named is at most one step, a hundredth of the whole, before the ratio
// gets too small.
func TestWheelAtTheTopLocks(t *testing.T) {
	for _, axle := range []float64{1.8, 2, 2.2} { // from the horizontal ahead; the top is at a quarter turn
		g := arm{A: 100, D: 200, Phi: 2.2, R: 240, Axle: axle}
		low := g
		low.Phi -= axle - math.Pi/2 // the arm turns clockwise to the top while φ falls by as much
		at := g.Shock() - low.Shock()
		stroke := at / 0.6543
		k, err := mechanism.New(g.Spec(stroke))
		if lock := lockOf(t, "top", k, err); !(lock <= mm(at) && lock > mm(at-1.01*stroke/100)) || !strings.Contains(err.Error(), "stops rising") {
			t.Errorf("%v: %v, want at most 1 %% of the stroke before %v mm", axle, err, at)
		}
	}
}

// A lever ratio is from 0.001 to 1000, however coarsely a mechanism is followed.
// Here the shock stands at right angles above an arm of 50 mm, so that the ratio at the
// start is the axle's distance over that, and hardly changes over 1 µm.
func TestRatioIsWithinItsBounds(t *testing.T) {
	for _, test := range []struct {
		ratio units.Length
		says  string // "" where it is taken
	}{
		{0.0008, "rises as the shock is compressed"},
		{-0.5, "rises as the shock is compressed"},
		{0.0012, ""},
		{900, ""},
		{1100, "more than 1000 times"},
	} {
		_, err := mechanism.NewCoarse(mechanism.Spec{
			Points: map[string]mechanism.Point{"P": {0, 0}, "A": {-0.05 * test.ratio, 0}, "S1": {-0.05, 0}, "S2": {-0.05, 0.2}},
			Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "A", "S1"}},
			Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: 1e-6 * units.Metre,
		}, 2)
		switch {
		case test.says == "" && err != nil:
			t.Errorf("%v: %v", float64(test.ratio), err)
		case test.says != "" && (err == nil || !strings.Contains(err.Error(), test.says)):
			t.Errorf("%v: %v, want %q", float64(test.ratio), err, test.says)
		case test.ratio > 1 && err != nil && !errors.Is(err, mechanism.ErrLocks):
			t.Errorf("%v: %v", float64(test.ratio), err)
		}
	}
}

// The steps towards a dead point shrink with the distance to it and never jump
// over it. The rates grow as one over the root of the distance, so that rates
// over their change are twice the distance: a step is at most six tenths of it.
// Nor is it less than a twentieth, but where it ends at an even step.
func TestStepsShrinkTowardsADeadPoint(t *testing.T) {
	dead := mm(deadCrank.DeadPoint())
	m := deadCrank.Spec(deadCrank.DeadPoint() - 0.01)
	for _, solve := range solvers {
		k, err := solve(m)
		if err != nil {
			t.Fatal(err)
		}
		small, strokes := 0, k.Strokes()
		for i, s := range strokes[1:] {
			h, left := s-strokes[i], dead-strokes[i]
			if h > 0.62*left || h < 0.05*left && h < 0.2*m.Stroke/100 && s < m.Stroke*0.99999 {
				t.Errorf("a step of %v with %v left", h, left)
			}
			if h < 0.9*m.Stroke/100 {
				small++
			}
		}
		if small < 10 || len(strokes) > 170 {
			t.Errorf("%d small steps of %d", small, len(strokes)-1)
		}
	}
}

// Few steps show as well as many whether a mechanism moves, and how.
func TestCoarseStepsFindTheSameLocks(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	moves, locked, differ := 0, 0, 0
	for range 300 {
		m := spec("e2")
		for _, name := range slices.Sorted(maps.Keys(m.Points)) {
			at := m.Points[name]
			for axis := range at {
				at[axis] += units.Length(0.04 * random.NormFloat64())
			}
			m.Points[name] = at
		}
		fine, err := mechanism.New(m)
		coarse, errCoarse := mechanism.NewCoarse(m, 16)
		switch {
		case (err == nil) != (errCoarse == nil):
			differ++
			t.Logf("%v: %v, and in fewer steps %v", m.Points, err, errCoarse)
		case err != nil:
			locked++
		default:
			moves++
			for i := range 5 {
				s := m.Stroke * units.Length(i) / 4
				if a, b := fine.Pose(s).LeverRatio, coarse.Pose(s).LeverRatio; math.Abs(a-b) > 1e-10*a {
					t.Fatalf("%v: a ratio of %v, and in fewer steps %v", m.Points, a, b)
				}
			}
		}
	}
	if moves < 60 || locked < 60 || differ > 0 {
		t.Errorf("%d move, %d lock, %d differ", moves, locked, differ)
	}
}

// An arm whose eye is next to the line from its pivot to the other eye locks there. With the eyes 100 and
// 300 mm from the pivot and the angle δ between them the shock is √(100² + 300² − 60 000·cos δ) long, and
// 200 in line. The stroke is said to two digits at least, and not above the way to there.
func TestLockSaysAShortStroke(t *testing.T) {
	said := regexp.MustCompile(`less than (0\.0*[1-9][0-9]+) mm, where`)
	for _, angle := range []float64{0.03, 0.005, 0.0028} {
		sin, cos := math.Sincos(angle)
		_, err := mechanism.New(mechanism.Spec{
			Points: map[string]mechanism.Point{"P": at(0, 0), "A": at(-400, 0), "S1": at(-100*cos, -100*sin), "S2": at(-300, 0)},
			Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "A", "S1"}},
			Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(10),
		})
		found := said.FindStringSubmatch(fmt.Sprint(err))
		if found == nil {
			t.Errorf("%v: %v", angle, err)
			continue
		}
		way := math.Sqrt(100*100+300*300-60000*cos) - 200
		if v, _ := strconv.ParseFloat(found[1], 64); !(v <= way && v > 0.7*way) {
			t.Errorf("%v: %v, want %v mm", angle, err, way)
		}
	}
}
