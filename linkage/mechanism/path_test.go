package mechanism_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The wheel's path is at least as long as its travel, and both grow.
func TestPathIsAtLeastAsLongAsTravel(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		if got := k.PathLength(0); got != 0 {
			t.Errorf("%s: %v at 0", name, got)
		}
		// Against another rule: Gauss and Legendre's, of 60 points over the
		// whole stroke.
		whole := quad.Fixed(func(s float64) float64 {
			p := k.Pose(units.Length(s))
			return math.Hypot(p.AxleForward, p.LeverRatio)
		}, 0, float64(k.Stroke()), 60, nil, 0)
		unitstest.Near(t, name, k.PathLength(k.Stroke()), units.Length(whole), unitstest.Abs(mm(1e-9)))
		var before mechanism.Pose
		for i := 1; i <= 50; i++ {
			p := k.Pose(k.Stroke() * units.Length(i) / 50)
			if step := k.PathLength(p.Stroke) - k.PathLength(before.Stroke); !(step >= p.Travel-before.Travel) || !(p.Travel > before.Travel) {
				t.Errorf("%s at %v: path grows by %v, travel by %v", name, p.Stroke, step, p.Travel-before.Travel)
			}
			before = p
		}
	}
}

// The axle of a single pivot moves along a circle: its path is radius times
// turn, in the middle of a step as well as near a dead point at the end of the
// stroke.
func TestPathOfAnArmIsAnArc(t *testing.T) {
	g := deadCrank
	for _, gap := range []float64{8, 0.5, 0.1} {
		stroke := g.DeadPoint() - gap
		for form, solve := range solvers {
			k, err := solve(g.Spec(stroke))
			if err != nil {
				t.Fatal(form, err)
			}
			for i := range 1001 {
				s := stroke * float64(i) / 1000
				turn := g.Turn(s)
				unitstest.Near(t, form+" path", k.PathLength(mm(s)), mm(g.R*turn), unitstest.Abs(mm(1e-9)))
				p := k.Pose(mm(s))
				unitstest.Near(t, form+" turn", float64(p.CarrierTurn), -turn, unitstest.Abs(1e-12*stroke/gap))
				unitstest.Near(t, form+" height", p.Axle[1], mm(g.R*math.Sin(g.Axle-turn)), unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, form+" distance", p.AxleGrowth, 0, unitstest.Abs(mm(1e-9)))
			}
		}
	}
}

// Next to full extension the path is as long as the axle's speed says, down to
// strokes whose reciprocal is infinite.
func TestPathOfTinyStrokesIsSpeedTimesStroke(t *testing.T) {
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
