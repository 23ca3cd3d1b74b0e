package mechanism_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/num/hyperdual"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units/unitstest"
)

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

// Near a dead point the motion is too sharp for the strokes it is followed at:
// the curve must take more pieces to be as near as it promises, whether the
// ratio rises into the dead point at the end or falls from the one at the
// start. Rounding must not make them many more.
func TestCompiledCurveNearADeadPoint(t *testing.T) {
	for _, test := range []struct {
		name   string
		phi    float64
		gap    float64 // to the dead point, where the stroke ends short of one
		stroke float64
	}{
		{"2 mm before", 0.9, 2, 0},
		{"0.5 mm before", 0.9, 0.5, 0},
		{"0.1 mm before", 0.9, 0.1, 0},
		{"0.01 mm before", 0.9, 0.01, 0},
		{"0.002 mm before", 0.9, 0.002, 0},
		{"just after", 3, 0, 50},
		{"a little after", 2.9, 0, 50},
		{"just after, over a short stroke", 3.05, 0, 3},
	} {
		g := arm{80, 250, test.phi, 403, math.Pi + 0.125}
		stroke := test.stroke
		if test.gap > 0 {
			stroke = g.shock() - (g.d - g.a) - test.gap
		}
		for form, solve := range map[string]func(mechanism.Spec) (*mechanism.Mechanism, error){
			"circles": mechanism.New, "Newton": mechanism.NewByNewton,
		} {
			k, err := solve(g.mechanism(stroke))
			if err != nil {
				t.Fatal(test.name, form, err)
			}
			c := compiled(t, k)
			for i := range 701 {
				s := stroke * float64(i) / 700
				travel, ratio, slope := g.at(s)
				unitstest.Near(t, test.name+": travel", c.TravelAt(mm(s)), mm(travel), unitstest.Abs(mm(1e-6)))
				unitstest.Near(t, test.name+": ratio", c.LeverRatio(mm(s)), ratio, unitstest.Abs(1e-7))
				unitstest.Near(t, test.name+": slope", c.LeverRatioSlope(mm(s)).PerMetre(), 1e3*slope, unitstest.Rel(1e-5), unitstest.Abs(1e-5))
			}
		}
	}
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

// A ratio may leave what is usable between the strokes that a mechanism is
// followed at, a hundredth of the whole apart, and come back before the next:
// it is the curve that sees it, and the stroke named is the one before.
func TestRatioDipsBetweenSteps(t *testing.T) {
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
func TestWheelAtTheTop(t *testing.T) {
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

// What is promised of the travel is a length, and holds for the largest
// mechanism there may be, a ten-billionth of which it is.
func TestCompiledCurveOfALargeArm(t *testing.T) {
	for _, phi := range []float64{0.95, 1.4, 2.2, 2.8} {
		g := arm{20e3, 60e3, phi, 90e3, math.Pi + 0.125}
		const stroke = 10e3
		k, err := mechanism.New(g.mechanism(stroke))
		if err != nil {
			t.Fatal(err)
		}
		for i := range 1001 {
			s := stroke * float64(i) / 1000
			travel, ratio, _ := g.at(s)
			unitstest.Near(t, "travel", compiled(t, k).TravelAt(mm(s)), mm(travel), unitstest.Abs(mm(1e-6)))
			unitstest.Near(t, "ratio", compiled(t, k).LeverRatio(mm(s)), ratio, unitstest.Abs(1e-7))
		}
	}
	// Over the least of strokes what rounding spoils is no jump.
	k, err := mechanism.New(arm{20e3, 60e3, 1.4, 90e3, math.Pi + 0.125}.mechanism(0.001))
	if err != nil {
		t.Fatal(err)
	}
	_, ratio, _ := arm{20e3, 60e3, 1.4, 90e3, math.Pi + 0.125}.at(0)
	unitstest.Near(t, "ratio", compiled(t, k).LeverRatio(0), ratio, unitstest.Rel(1e-9))
}
