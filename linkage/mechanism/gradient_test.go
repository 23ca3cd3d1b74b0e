package mechanism_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// byHole returns the derivatives of some numbers by a hole's place along an axis, of the mechanism
// assembled anew with the hole off its place to both sides.
func (a *assembly) byHole(hole mechanism.Hole, axis int, numbers func() []float64) []float64 {
	at := func(x float64) []float64 {
		var off [2]float64
		off[axis] = x
		a.off[hole] = off
		defer delete(a.off, hole)
		return numbers()
	}
	slope := func(h float64) []float64 {
		list := at(h)
		for i, before := range at(-h) {
			list[i] = (list[i] - before) / (2 * h)
		}
		return list
	}
	const h = 2e-4
	wide, near := slope(h), slope(h/2)
	for i := range near {
		near[i] = (4*near[i] - wide[i]) / 3 // Richardson's extrapolation
	}
	return near
}

// gradientAgrees moves every hole by itself and assembles the mechanism anew, by its constraints alone.
func gradientAgrees(t *testing.T, s mechanism.Spec) {
	t.Helper()
	k, err := mechanism.New(s)
	if err != nil {
		t.Fatal(err)
	}
	strokes := []units.Length{0, s.Stroke * 0.37, s.Stroke * 0.95}
	a := newAssembly(s)
	for i, hole := range k.Holes() {
		for axis := range 2 {
			want := a.byHole(hole, axis, func() []float64 { return a.motion(strokes) })
			for j, stroke := range strokes {
				g := k.PointMotionGradient(stroke, k.Axle())
				what := fmt.Sprint(hole, " axis ", axis, " at ", stroke)
				for xy := range 2 {
					unitstest.Near(t, what, g.Place[xy].Holes[i][axis], want[4*j+xy], unitstest.Abs(1e-6))
					unitstest.Near(t, what, g.Velocity[xy].Holes[i][axis], want[4*j+2+xy], unitstest.Abs(1e-4))
				}
			}
		}
	}
}

func TestGradientIsThatOfTheMechanismAssembledAnew(t *testing.T) {
	names := []string{"a1", "c1", "e2", "slider"}
	if unitstest.Long() {
		names = append(movable(), "slider")
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) { gradientAgrees(t, spec(name)) })
	}
}

// A point of the drawing moves all its holes, and the shock's length with its eyes. The mechanism with
// the point elsewhere is solved anew.
func TestPointGradientIsThatOfTheDrawing(t *testing.T) {
	for _, name := range movable() {
		s, k := spec(name), solved(name)
		stroke := s.Stroke * 0.63
		g, progression := k.PoseGradient(stroke), k.ProgressionGradient()
		turn, turning := k.TurnGradient(stroke, k.Axle())
		gradients := []mechanism.Gradient{g.Travel, g.LeverRatio, g.AxleForward, g.WheelbaseGrowth, g.Axle[0], g.Axle[1], turn, turning, progression}
		for point := range s.Points {
			for axis := range 2 {
				numbers := func(by units.Length) []float64 {
					moved := spec(name)
					at := moved.Points[point]
					at[axis] += by
					moved.Points[point] = at
					m, err := mechanism.New(moved)
					if err != nil {
						t.Fatal(err)
					}
					p, from := m.Pose(stroke), m.Pose(0).LeverRatio
					return []float64{float64(p.Travel), p.LeverRatio, p.AxleForward, float64(p.WheelbaseGrowth), float64(p.Axle[0]), float64(p.Axle[1]),
						float64(p.CarrierTurn), p.CarrierTurning, (from - m.Pose(m.Stroke()).LeverRatio) / from}
				}
				const h = 2e-6
				before, after := numbers(-h), numbers(h)
				for i, of := range gradients {
					unitstest.Near(t, fmt.Sprint(name, " ", point, axis, " number ", i), k.PointGradient(of, point)[axis], (after[i]-before[i])/(2*h), unitstest.Abs(1e-6), unitstest.Rel(1e-6))
				}
			}
		}
	}
}

// A body whose holes are all shifted alike, or turned about one place, is the same body.
func TestShiftedBodyIsTheSame(t *testing.T) {
	for _, name := range movable() {
		s, k := spec(name), solved(name)
		g := k.PoseGradient(s.Stroke * 0.7)
		for _, of := range []mechanism.Gradient{g.Travel, g.LeverRatio, g.AxleForward, g.WheelbaseGrowth} {
			sums := map[string][3]float64{}
			for i, hole := range k.Holes() {
				p, d, sum := s.Points[hole.Point], of.Holes[i], sums[hole.Body]
				sum[0] += d[0]
				sum[1] += d[1]
				sum[2] += float64(p[0])*d[1] - float64(p[1])*d[0]
				sums[hole.Body] = sum
			}
			delete(sums, mechanism.Frame) // the axes, and where the travel counts from
			for body, sum := range sums {
				for _, v := range sum {
					unitstest.Near(t, name+" "+body, v, 0, unitstest.Abs(1e-9))
				}
			}
		}
	}
}

// pushedBySlot is a swingarm whose pin drives an arm with the shock by a slot in it.
func pushedBySlot() mechanism.Spec {
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"P": at(12, 72), "A": at(-438, 28), "C": at(-150, 200), "Q": at(-20, 100), "K": at(-215, 250), "S1": at(40, 220), "S2": at(220, 140),
		},
		Bodies: map[string][]string{"frame": {"P", "Q", "S2"}, "arm": {"P", "A", "C"}, "rocker": {"Q", "K", "S1"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(40),
		Slots: []mechanism.Slot{{Point: "C", On: "rocker", Along: [2]string{"Q", "K"}}},
	}
}

// Two bodies that share the axle's hole, a shock's eye on a pivot, three bodies on one pivot, and a slot.
func TestGradientOfSharedHoles(t *testing.T) {
	shared := spec("c1")
	shared.Axle, shared.Carrier = "H", "SS"
	eye := spec("c1")
	eye.Shock[0], eye.Points["S2"], eye.Stroke = "H", at(-300, 250), mm(40)
	three := spec("f1")
	three.Stroke = mm(30)
	three.Bodies["LK"], three.Bodies["SS"] = []string{"T", "Q"}, []string{"H", "AX", "T"}
	for name, s := range map[string]mechanism.Spec{"axle": shared, "eye": eye, "three": three, "slot": pushedBySlot()} {
		t.Run(name, func(t *testing.T) { gradientAgrees(t, s) })
	}
}

func TestGradientOfNoMechanism(t *testing.T) {
	var k mechanism.Mechanism
	assert.Empty(t, k.Holes())
	assert.Empty(t, k.PointMotionGradient(0, k.Axle()))
	turn, turning := k.TurnGradient(0, k.Axle())
	assert.Empty(t, turn)
	assert.Empty(t, turning)
	assert.Empty(t, k.PoseGradient(0).LeverRatio.Holes)
	assert.Empty(t, k.ProgressionGradient())
	assert.Empty(t, k.PointGradient(mechanism.Gradient{}, "A"))
}

// A point without a hole, and one that is not there, change nothing.
func TestGradientByAMarkIsZero(t *testing.T) {
	s := spec("a1")
	s.Points["BB"] = mechanism.Point{}
	s.Bodies["SW"] = append(s.Bodies["SW"], "bridge")
	s.Points["bridge"] = at(-200, 100)
	k, err := mechanism.New(s)
	if err != nil {
		t.Fatal(err)
	}
	g := k.PoseGradient(mm(20)).LeverRatio
	for _, point := range []string{"BB", "bridge", "nowhere"} {
		assert.Equal(t, [2]float64{}, k.PointGradient(g, point), point)
	}
	assert.Equal(t, mechanism.Hole{Body: "SW", Point: "bridge"}, k.Holes()[5])
}
