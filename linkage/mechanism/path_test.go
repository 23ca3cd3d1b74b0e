package mechanism_test

import (
	"math"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// turn returns by how much the arm has turned clockwise at a stroke in mm.
func (g arm) turn(s float64) float64 {
	length := g.shock() - s
	return g.phi - math.Acos((g.a*g.a+g.d*g.d-length*length)/(2*g.a*g.d))
}

// The axle of a single pivot moves along a circle: its path is radius times
// turn, in the middle of a step as well as near a dead point at the end of the
// stroke. Seen from the pivot nothing else changes.
func TestPathOfAnArm(t *testing.T) {
	for _, gap := range []float64{8, 0.5, 0.1} {
		g := arm{80, 250, 0.9, 403, math.Pi + 0.125}
		stroke := g.shock() - (g.d - g.a) - gap
		for form, solve := range map[string]func(mechanism.Spec) (*mechanism.Mechanism, error){
			"circles": mechanism.New, "Newton": mechanism.NewByNewton,
		} {
			k, err := solve(g.mechanism(stroke))
			if err != nil {
				t.Fatal(form, err)
			}
			for i := range 1001 {
				s := stroke * float64(i) / 1000
				turn := g.turn(s)
				unitstest.Near(t, form+" path", k.PathLength(mm(s)), mm(g.r*turn), unitstest.Abs(mm(1e-9)))
				p := k.Pose(mm(s))
				unitstest.Near(t, form+" turn", float64(p.CarrierTurn), -turn, unitstest.Abs(1e-12*stroke/gap))
				unitstest.Near(t, form+" height", p.Axle[1], mm(g.r*math.Sin(g.axle-turn)), unitstest.Abs(mm(1e-9)))
				unitstest.Near(t, form+" distance", p.AxleGrowth, 0, unitstest.Abs(mm(1e-9)))
			}
		}
	}
}

// Slots are the motion's own, as points and bodies are.
func TestSlotsAreCopied(t *testing.T) {
	m := crowd(0, true)
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	m.Slots[0].On = "frame"
	k.Spec().Slots[0].Point = "Q"
	if got := k.Spec().Slots[0]; got.On != "SW" || got.Point != "N" {
		t.Errorf("the slot has become %+v", got)
	}
}

// The centre that the arm turns about is its pivot, for a wheel that rises by
// less than the shock takes up too.
func TestCentreOfALowRatio(t *testing.T) {
	g := arm{150, 250, 1.2, 100, 3.3}
	k, err := mechanism.New(g.mechanism(30))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 11 {
		p := k.Pose(mm(float64(3 * i)))
		for axis := range 2 {
			unitstest.Near(t, "centre", p.InstantCentre[axis], 0, unitstest.Abs(mm(1e-9)))
		}
	}
}

// Where c3's carrier doesn't turn, see TestInstantCentreThroughInfinity, the
// centre is put 1000 km from the axle, whatever the mechanism's size.
func TestFarthestCentre(t *testing.T) {
	for _, scale := range []units.Length{0.25, 1, 3, 20} {
		m := spec("c3")
		for name, p := range m.Points {
			m.Points[name] = mechanism.Point{scale * p[0], scale * p[1]}
		}
		m.Stroke *= scale
		k, err := mechanism.New(m)
		if err != nil {
			t.Fatal(err)
		}
		p := k.Pose(scale * mm(14.46784191624455376))
		d := math.Hypot(float64(p.InstantCentre[0]-p.Axle[0]), float64(p.InstantCentre[1]-p.Axle[1]))
		unitstest.Near(t, "far", d, 1e6, unitstest.Rel(1e-9))
	}
}
