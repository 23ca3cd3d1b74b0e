package mechanism_test

import (
	"errors"
	"math"
	"testing"

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

// x1's drive link and second rocker come into line: the wheel stops and turns
// back, although every pose up to full stroke can be solved to the last digit.
func TestWheelThatTurnsBack(t *testing.T) {
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

// The dead point of a crank is known in closed form; it is found to a small
// share of the stroke by circles and by Newton's method alike.
func TestDeadPointOfACrank(t *testing.T) {
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
func TestLinksComeIntoLine(t *testing.T) {
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

// The sharper the turn, the more strokes a mechanism is followed at.
func TestStepsFollowTheMotion(t *testing.T) {
	if n := mechanism.NodesOf(solved("a1")); n != 101 {
		t.Errorf("a1 is followed at %d strokes, want 101", n)
	}
	m, dead := crank(80, 250, 0.9)
	m.Stroke = dead - mm(1e-3)
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	if n := mechanism.NodesOf(k); n < 120 {
		t.Errorf("followed at %d strokes only", n)
	}
}
