package mechanism_test

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
)

// A mechanism that is at a dead point as it is drawn locks there; it is not one
// whose bodies are held too often. Seen in a mirror it is the same, and with a
// stroke as long as the shock but for a hair. What was asked for stays as it
// was.
func TestDeadAtTheStartIsNotHeldTwice(t *testing.T) {
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

// A link that holds the swingarm still, and another that dangles: the count of
// ways to move is 1 all the same. Wherever they are, it is the bodies that are
// refused.
func TestHeldTwiceWherever(t *testing.T) {
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
		if err == nil || !strings.Contains(err.Error(), "held too often") {
			t.Errorf("%d: %v", i, err)
		}
		if !maps.Equal(before, m.Points) {
			t.Errorf("%d: the points asked for were moved", i)
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
