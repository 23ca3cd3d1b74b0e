package mechanism_test

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/num/hyperdual"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// lockOf returns where a mechanism locks.
func lockOf(t *testing.T, what string, m mechanism.Spec) units.Length {
	t.Helper()
	k, err := mechanism.New(m)
	var lock *mechanism.LockError
	if k != nil || !errors.As(err, &lock) || !errors.Is(err, mechanism.ErrLocks) {
		t.Errorf("%s: %v", what, err)
		return units.Length(math.NaN())
	}
	return lock.At
}

// arm is a swingarm on a pivot at the origin: one eye of the shock at radius a
// and the angle phi, the other at (d, 0), the axle at radius r and the angle
// axle. Lengths are in mm.
type arm struct{ a, d, phi, r, axle float64 }

func (g arm) mechanism(stroke float64) mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(0, 0), "S2": at(g.d, 0), "S1": at(g.a*math.Cos(g.phi), g.a*math.Sin(g.phi)),
			"A": at(g.r*math.Cos(g.axle), g.r*math.Sin(g.axle)),
		},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(stroke),
	}
}

func (g arm) shock() float64 {
	return math.Sqrt(g.a*g.a + g.d*g.d - 2*g.a*g.d*math.Cos(g.phi))
}

// at returns the axle's travel in mm, the lever ratio and its slope in 1/mm in
// closed form: with cos φ = (a² + d² − L²)/2ad for the shock's length L, the
// arm has turned clockwise by as much as φ has fallen. Hyperdual numbers give
// both derivatives without a difference.
func (g arm) at(s float64) (travel, ratio, slope float64) {
	length := hyperdual.Number{Real: g.shock() - s, E1mag: -1, E2mag: -1}
	square := hyperdual.Mul(length, length)
	square.Real -= g.a*g.a + g.d*g.d
	angle := hyperdual.Acos(hyperdual.Scale(-1/(2*g.a*g.d), square)) // φ
	angle.Real += g.axle - g.phi
	w := hyperdual.Scale(g.r, hyperdual.Sin(angle))
	return w.Real - g.r*math.Sin(g.axle), w.E1mag, w.E1E2mag
}

// extreme returns where the ratio's slope is 0 between two strokes.
func (g arm) extreme(lo, hi float64) float64 {
	_, _, below := g.at(lo)
	for range 60 {
		mid := (lo + hi) / 2
		if _, _, slope := g.at(mid); math.Signbit(slope) == math.Signbit(below) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// crank is a swingarm whose shock is compressed most when its eyes and the
// pivot are in line: pivot P at the origin, shock eye S1 at radius a, other
// eye S2 at distance d. The shock can't get shorter than d − a, which it is at
// a stroke of L − (d − a), L² = a² + d² − 2ad·cos φ.
func crank(a, d, phi float64) (mechanism.Spec, units.Length) {
	length := math.Sqrt(a*a + d*d - 2*a*d*math.Cos(phi))
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(0, 0), "S2": at(d, 0), "S1": at(a*math.Cos(phi), a*math.Sin(phi)), "A": at(-400, -50),
		},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(50),
	}, mm(length - (d - a))
}

// x1's drive link and second rocker come into line: the wheel stops and turns
// back, although every pose up to full stroke can be solved to the last digit.
func TestWheelThatTurnsBackLocks(t *testing.T) {
	m := spec("x1")
	if got := lockOf(t, "x1", m); !(got > mm(36) && got < mm(37)) {
		t.Errorf("x1 locks at %v, want between 36 and 37 mm", got)
	}
	// Up to there it works.
	m.Stroke = mm(36)
	if _, err := mechanism.New(m); err != nil {
		t.Error(err)
	}
}

// The dead point of a crank is known in closed form; it is found to a small
// share of the stroke by circles and by Newton's method alike.
func TestDeadPointOfACrankIsFound(t *testing.T) {
	m, dead := crank(80, 250, 0.9)
	if !(dead > mm(10) && dead < mm(50)) {
		t.Fatalf("dead at %v", dead)
	}
	// The lever ratio exceeds 1000 a hair before the dead point.
	unitstest.Near(t, "circles", lockOf(t, "crank", m), dead, unitstest.Abs(mm(0.01)))
	_, err := mechanism.NewByNewton(m)
	var lock *mechanism.LockError
	if !errors.As(err, &lock) {
		t.Fatal(err)
	}
	unitstest.Near(t, "Newton", lock.At, dead, unitstest.Abs(mm(0.01)))

	m.Stroke = dead - mm(0.5)
	if _, err := mechanism.New(m); err != nil {
		t.Errorf("short of the dead point: %v", err)
	}
	m.Stroke = dead
	lockOf(t, "at the very end", m)
}

// At full extension already.
func TestDeadPointAtTheStart(t *testing.T) {
	m, _ := crank(80, 250, 0)
	if got := lockOf(t, "in line", m); got != 0 {
		t.Errorf("locks at %v, want 0", got)
	}
	if _, err := mechanism.NewByNewton(m); !errors.Is(err, mechanism.ErrLocks) {
		t.Errorf("Newton: %v", err)
	}
}

// A four-bar whose links come into line within the stroke: the motion ends
// there, and beyond it no pose exists.
func TestLinksThatComeIntoLineLock(t *testing.T) {
	m := spec("c1")
	// H so near to M and T that their links are soon stretched to a line.
	m.Points["H"] = at(-10, 280)
	k, err := mechanism.New(m)
	var lock *mechanism.LockError
	if k != nil || !errors.As(err, &lock) {
		t.Fatalf("moves over its whole stroke: %v", err)
	}
	n, err := mechanism.NewByNewton(m)
	var other *mechanism.LockError
	if n != nil || !errors.As(err, &other) {
		t.Fatalf("moves by Newton's method: %v", err)
	}
	unitstest.Near(t, "where", lock.At, other.At, unitstest.Abs(mm(0.02)))
	// Just short of it both move, and agree.
	m.Stroke = lock.At - mm(0.1)
	a, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	b, err := mechanism.NewByNewton(m)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "travel", a.Travel(), b.Travel(), unitstest.Abs(mm(1e-8)))
}

// Where the motion is smooth the steps are even, a hundredth of the stroke: more
// would cost as much more.
func TestSmoothMechanismsTakeEvenSteps(t *testing.T) {
	for _, name := range movable() {
		if n := len(solved(name).Strokes()); n != 101 {
			t.Errorf("%s is followed at %d strokes, want 101", name, n)
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
		{"least", arm{a: 100, d: 200, phi: 0.8, axle: 1 + math.Pi/2}, 15, 39, 0.001, 1 - 1e-6, "rises no more"},
		{"greatest", arm{a: 120, d: 150, phi: 2.7, axle: 2.8 + math.Pi/2}, 5, 25, 1000, 1 + 1e-6, "more than 1000 times"},
	} {
		g := test.arm
		g.r = 1
		where := g.extreme(test.lo, test.hi)
		_, ratio, _ := g.at(where)
		stroke := where * 100 / 60.5 // in the middle of a step
		g.r = test.limit / ratio * test.out
		err := error(nil)
		if _, err = mechanism.New(g.mechanism(stroke)); !errors.Is(err, mechanism.ErrLocks) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		var lock *mechanism.LockError
		errors.As(err, &lock)
		unitstest.Near(t, test.name, lock.At, mm(stroke*0.6), unitstest.Abs(mm(1e-9)))
		g.r = test.limit / ratio / test.out
		if _, err := mechanism.New(g.mechanism(stroke)); err != nil {
			t.Errorf("%s, within: %v", test.name, err)
		}
	}
}

// A wheel that has come to the top of its path goes down from there: the
// stroke named is at most one step, a hundredth of the whole, before the ratio
// gets too small.
func TestWheelAtTheTopLocks(t *testing.T) {
	for _, axle := range []float64{1.8, 2, 2.2} { // from the horizontal ahead; the top is at a quarter turn
		g := arm{100, 200, 2.2, 240, axle}
		top := axle - math.Pi/2
		// The arm turns clockwise to the top while φ falls by as much.
		at := g.shock() - arm{g.a, g.d, g.phi - top, 0, 0}.shock()
		stroke := at / 0.6543
		_, err := mechanism.New(g.mechanism(stroke))
		var lock *mechanism.LockError
		if !errors.As(err, &lock) || !strings.Contains(err.Error(), "rises no more") {
			t.Fatalf("%v: %v", axle, err)
		}
		if !(lock.At <= mm(at) && lock.At > mm(at-1.01*stroke/100)) {
			t.Errorf("%v: locks at %v, want at most 1 %% of the stroke before %v mm", axle, lock.At, at)
		}
	}
}

// Where a mechanism locks, and of which stroke that is, is said in mm whatever
// its size.
func TestLockNamesTheStroke(t *testing.T) {
	for _, scale := range []float64{0.25, 1, 7} {
		g := arm{80 * scale, 250 * scale, 0.9, 403 * scale, math.Pi + 0.125}
		dead := g.shock() - (g.d - g.a)
		_, err := mechanism.New(g.mechanism(50 * scale))
		var lock *mechanism.LockError
		if !errors.As(err, &lock) || !(math.Abs(float64(lock.At)*1e3-dead) < 1e-3*dead) {
			t.Fatalf("%v: %v", scale, err)
		}
		if says := fmt.Sprintf("stroke %v mm", 50*scale); !strings.Contains(err.Error(), says) {
			t.Errorf("%v doesn't say %s", err, says)
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
	m, dead := crank(80, 250, 0.9)
	m.Stroke = dead - 1e-5
	for _, solve := range []func(mechanism.Spec) (*mechanism.Mechanism, error){mechanism.New, mechanism.NewByNewton} {
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

// A dead point locks only where it is: an arm whose axle is so near its pivot that
// the ratio stays small moves up to a thousandth of a millimetre short of
// it.
func TestMotionGoesOnUpToADeadPoint(t *testing.T) {
	m, dead := crank(80, 250, 0.9)
	m.Points["A"] = at(-0.4, -0.05)
	for _, short := range []units.Length{mm(0.01), mm(1e-3)} {
		m.Stroke = dead - short
		for _, solve := range []func(mechanism.Spec) (*mechanism.Mechanism, error){mechanism.New, mechanism.NewByNewton} {
			if _, err := solve(m); err != nil {
				t.Errorf("%v short: %v", short, err)
			}
		}
	}
}
