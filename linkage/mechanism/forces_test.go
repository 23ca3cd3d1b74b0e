package mechanism_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Loads on all bodies, anywhere on them.
func TestForcesBalanceOnBodiesDrawnFree(t *testing.T) {
	three := spec("f1")
	three.Stroke = mm(30)
	three.Bodies["LK"], three.Bodies["SS"] = []string{"T", "Q"}, []string{"H", "AX", "T"}
	eye := spec("c1")
	eye.Shock[0], eye.Points["S2"], eye.Stroke = "H", at(-300, 250), mm(40)
	specs := map[string]mechanism.Spec{"three on a pivot": three, "eye on a pivot": eye, "slider": spec("slider"), "slot": pushedBySlot()}
	for _, name := range movable() {
		specs[name] = spec(name)
	}
	rng := rand.New(rand.NewPCG(21, 4))
	for name, s := range specs {
		k, err := mechanism.New(s)
		require.NoError(t, err, name)
		for i := range 5 {
			stroke := s.Stroke * units.Length(i) / 4
			var here mechanism.Motion
			k.ReadMotion(stroke, &here)
			var loads []mechanism.Load
			free, work := linkagetest.Draw(s, k.Positions(stroke)), 0.0
			for _, body := range slices.Sorted(maps.Keys(s.Bodies)) {
				mark, _ := k.Mark(body, at(200*rng.NormFloat64(), 200*rng.NormFloat64()))
				fx, fy, moment := 1000*rng.NormFloat64(), 1000*rng.NormFloat64(), 300*rng.NormFloat64()
				loads = append(loads, mechanism.Load{At: mark, Force: [2]units.Force{units.Force(fx), units.Force(fy)}, Moment: units.Torque(moment)})
				p, v := here.Place(mark), here.Velocity(mark)
				free.Load(linkagetest.Action{Hole: mechanism.Hole{Body: body}, At: linkagetest.Place(p), Force: complex(fx, fy), Moment: moment})
				work += v[0]*fx + v[1]*fy + here.Turning(mark)*moment
			}
			e, err := k.Equilibrium(stroke, loads...)
			require.NoError(t, err)
			want := free.Forces()
			unitstest.Near(t, name+" virtual work", float64(e.ShockForce), work, unitstest.Rel(1e-9), unitstest.Abs(1e-8))
			assert.Equal(t, stroke, e.Stroke)
			for h, hole := range k.Holes() {
				got := e.Holes[h]
				assert.Equal(t, hole, got.Hole)
				for axis, v := range []float64{real(want[hole]), imag(want[hole])} {
					unitstest.Near(t, fmt.Sprint(name, hole, axis), float64(got.Force[axis]), v, unitstest.Rel(1e-9), unitstest.Abs(1e-8))
				}
			}
			assert.Empty(t, e.Links, "every body is loaded")
		}
	}
}

// A force straight up at the axle: the shock carries lever ratio times it, and bodies of two holes are in
// tension or compression along them.
func TestForcesUnderAWheelLoad(t *testing.T) {
	for _, name := range movable() {
		k := solved(name)
		for i := range 5 {
			stroke := k.Stroke() * units.Length(i) / 4
			e, err := k.Equilibrium(stroke, mechanism.Load{At: k.Axle(), Force: [2]units.Force{0, 800}})
			require.NoError(t, err)
			unitstest.Near(t, name, float64(e.ShockForce), 800*k.Pose(stroke).LeverRatio, unitstest.Rel(1e-12))
			at := k.Positions(stroke)
			for _, link := range e.Links {
				var ends []mechanism.HoleForce
				for _, h := range e.Holes {
					if h.Body == link.Body {
						ends = append(ends, h)
					}
				}
				require.Len(t, ends, 2, link.Body)
				a, b := at[ends[0].Point], at[ends[1].Point]
				way := units.Angle(math.Atan2(float64(a[1]-b[1]), float64(a[0]-b[0])))
				if link.Tension < 0 {
					way += math.Pi
				}
				unitstest.Near(t, name+link.Body, math.Remainder(float64(way-ends[0].Angle()), 2*math.Pi), 0, unitstest.Abs(1e-9))
				unitstest.Near(t, name+link.Body, ends[0].Size(), units.Force(math.Abs(float64(link.Tension))), unitstest.Rel(1e-12))
			}
		}
	}
	links := func(name string) (list []string) {
		k := solved(name)
		e, err := k.Equilibrium(0, mechanism.Load{At: k.Axle(), Force: [2]units.Force{0, 1}})
		require.NoError(t, err)
		for _, link := range e.Links {
			list = append(list, link.Body)
		}
		return list
	}
	pushed, err := mechanism.New(pushedBySlot())
	require.NoError(t, err)
	e, err := pushed.Equilibrium(0, mechanism.Load{At: pushed.Axle(), Force: [2]units.Force{0, 1}})
	require.NoError(t, err)
	assert.Empty(t, e.Links, "the slot's line loads its body at a third place")
	c1 := solved("c1")
	chainstay, _ := c1.Mark("CS", at(0, 0))
	e, err = c1.Equilibrium(0, mechanism.Load{At: chainstay, Moment: 1})
	require.NoError(t, err)
	assert.Equal(t, "SS", e.Links[0].Body, "a moment bends the chainstay")
	assert.Empty(t, links("a1"))
	assert.Equal(t, []string{"CS"}, links("c1"))
	assert.Equal(t, []string{"CS", "LK", "RK"}, links("f1"))
}

// A horizontal strut of 4 m that weighs 600 N, with 400 N at its end, hangs from a cable to a point 3 m
// above its hinge: University Physics (OpenStax), volume 1, module m58341, exercise fs-id1163709749614,
// prints a tension of 1167 N and a force of 980 N at 18° on the hinge.
func TestForcesOnAStrut(t *testing.T) {
	s := mechanism.Spec{
		Points: map[string]mechanism.Point{"hinge": {}, "wall": {0, 3}, "end": {4, 0}},
		Bodies: map[string][]string{"frame": {"hinge", "wall"}, "strut": {"hinge", "end"}},
		Axle:   "end", Shock: [2]string{"end", "wall"}, Stroke: 0.1,
	}
	k, err := mechanism.New(s)
	require.NoError(t, err)
	middle, _ := k.Mark("strut", mechanism.Point{2, 0})
	e, err := k.Equilibrium(0, mechanism.Load{At: k.Axle(), Force: [2]units.Force{0, -400}}, mechanism.Load{At: middle, Force: [2]units.Force{0, -600}})
	require.NoError(t, err)
	unitstest.Near(t, "tension", -e.ShockForce, 1167, unitstest.Abs(units.Force(0.5)))
	hinge := e.Holes[2]
	assert.Equal(t, mechanism.Hole{Body: "strut", Point: "hinge"}, hinge.Hole)
	unitstest.Near(t, "hinge", hinge.Size(), 980, unitstest.Abs(units.Force(0.5)))
	unitstest.Near(t, "its angle", hinge.Angle().Degrees(), 18, unitstest.Abs(0.5))
}

// A body on a pin and a roller under 250 lbf and a couple of 500 ft·lbf: Engineering Statics: Open and
// Interactive (Baker, Haynes), chapter 5, example pin-and-roller, prints 246 lbf at the roller and 213, 127
// and 248 lbf at 149.2° on the pin. The shock pushes as the roller does.
func TestForcesOnAPinAndARoller(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 3)
	s := mechanism.Spec{
		Points: map[string]mechanism.Point{"A": {}, "B": {-7, 3}, "floor": {units.Length(-7 - 2*sin), units.Length(3 - 2*cos)}, "end": {1, 0}},
		Bodies: map[string][]string{"frame": {"A", "floor"}, "body": {"A", "B", "end"}},
		Axle:   "end", Shock: [2]string{"B", "floor"}, Stroke: 0.1,
	}
	k, err := mechanism.New(s)
	require.NoError(t, err)
	c, _ := k.Mark("body", mechanism.Point{-4, 0})
	e, err := k.Equilibrium(0, mechanism.Load{At: c, Force: [2]units.Force{0, -250}, Moment: 500})
	require.NoError(t, err)
	unitstest.Near(t, "roller", e.ShockForce, 246, unitstest.Abs(units.Force(0.05)))
	pin := e.Holes[2]
	assert.Equal(t, mechanism.Hole{Body: "body", Point: "A"}, pin.Hole)
	unitstest.Near(t, "A_x", pin.Force[0], -213, unitstest.Abs(units.Force(0.05)))
	unitstest.Near(t, "A_y", pin.Force[1], 127, unitstest.Abs(units.Force(0.05)))
	unitstest.Near(t, "A", pin.Size(), 248, unitstest.Abs(units.Force(0.05)))
	unitstest.Near(t, "its angle", pin.Angle().Degrees(), 149.2, unitstest.Abs(0.05))
}

// A four-bar of 300, 360, 360 and 600 mm with 50 N·m on its crank at 60°: Khurmi and Gupta, Theory of
// Machines, example 7.10, seen in the code of a textbook companion, prints a resisting torque of 58.6 N·m on
// the rocker with an efficiency of 0.7, from speeds that are measured on a drawing to 1 %. The figure
// with the crank's angle was not seen. The shock resists, across the rocker's end.
func TestForcesOfAFourBar(t *testing.T) {
	sin, cos := math.Sincos(math.Pi / 3)
	a := complex(0.3*cos, 0.3*sin)
	// B is as far from A as from C: on the line square to A–C through its middle.
	way := 0.6 - a
	half := math.Hypot(real(way), imag(way)) / 2
	b := a + way/2 + 1i*way/complex(2*half, 0)*complex(math.Sqrt(0.36*0.36-half*half), 0)
	to := func(z complex128) mechanism.Point {
		return mechanism.Point{units.Length(real(z)), units.Length(imag(z))}
	}
	across := b + 1i*(b-0.6)
	s := mechanism.Spec{
		Points: map[string]mechanism.Point{"O": {}, "C": {0.6, 0}, "A": to(a), "B": to(b), "S": to(across), "axle": {1, 0}},
		Bodies: map[string][]string{"frame": {"O", "C", "S"}, "crank": {"O", "A"}, "coupler": {"A", "B"}, "rocker": {"C", "B", "axle"}},
		Axle:   "axle", Shock: [2]string{"B", "S"}, Stroke: 0.001,
	}
	k, err := mechanism.New(s)
	require.NoError(t, err)
	crank, _ := k.Mark("crank", mechanism.Point{})
	e, err := k.Equilibrium(0, mechanism.Load{At: crank, Moment: 50})
	require.NoError(t, err)
	unitstest.Near(t, "resisting torque", 0.7*0.36*math.Abs(float64(e.ShockForce)), 58.6, unitstest.Rel(0.01))
}

func TestAngleIsThePrincipalValue(t *testing.T) {
	at := func(x, y float64) float64 {
		return mechanism.HoleForce{Force: [2]units.Force{units.Force(x), units.Force(y)}}.Angle().Degrees()
	}
	assert.Equal(t, 180.0, at(-1, 0))
	assert.Equal(t, 180.0, at(-1, math.Copysign(0, -1)))
	assert.Equal(t, -90.0, at(0, -3))
	assert.Equal(t, 0.0, at(0, 0))
}

func TestEquilibriumRefuses(t *testing.T) {
	k := solved("a1")
	of := func(x, y units.Force, moment units.Torque) mechanism.Load {
		return mechanism.Load{At: k.Axle(), Force: [2]units.Force{x, y}, Moment: moment}
	}
	_, err := k.Equilibrium(0, of(1e9, -1e9, 1e9), of(-1e9, 1e9, -1e9))
	require.NoError(t, err)
	_, err = k.Equilibrium(0, of(1.1e9, -1.1e9, 1.1e9), of(-1.1e9, 1.1e9, -1.1e9))
	refuses(t, err, "loads[0].force[0]", "loads[0].force[1]", "loads[0].moment", "loads[1].force[0]", "loads[1].force[1]", "loads[1].moment")
	nan := math.NaN()
	e, err := k.Equilibrium(0, of(units.Force(nan), 1.1e9, 0), of(0, units.Force(math.Inf(-1)), 0), of(0, 0, units.Torque(nan)))
	refuses(t, err, "loads[0].force[0]", "loads[0].force[1]", "loads[1].force[1]", "loads[2].moment")
	assert.Empty(t, e)
	var zero mechanism.Mechanism
	e, err = zero.Equilibrium(1)
	require.NoError(t, err)
	assert.Empty(t, e)
	assert.Empty(t, zero.Bearings())
	assert.Empty(t, zero.Turns(1))
}

// A crank turns an arm by a pin in a slot, around a point near the arm's pivot: the arm turns by more
// than half a turn. The law of cosines has the crank's turn, and the way from pivot to pin the arm's.
func TestTurnsCountOnBeyondHalfATurn(t *testing.T) {
	polar := func(r, degrees float64) mechanism.Point {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return at(r*cos, r*sin)
	}
	pin := polar(100, 60)
	s := mechanism.Spec{
		Points: map[string]mechanism.Point{
			"O": {}, "Q": at(80, 0), "C": pin, "K": {2*pin[0] - mm(80), 2 * pin[1]}, "A": polar(400, 240), "S1": polar(100, 150), "S2": polar(300, -10),
		},
		Bodies: map[string][]string{"frame": {"O", "Q", "S2"}, "crank": {"O", "C", "A", "S1"}, "arm": {"Q", "K"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: mm(160),
		Slots: []mechanism.Slot{{Point: "C", On: "arm", Along: [2]string{"Q", "K"}}},
	}
	k, err := mechanism.New(s)
	require.NoError(t, err)
	assert.Equal(t, []mechanism.Bearing{
		{Point: "C", First: "arm", Second: "crank"}, {Point: "O", First: "crank", Second: "frame"}, {Point: "Q", First: "arm", Second: "frame"},
		{Point: "S1", First: "crank"}, {Point: "S2", First: "frame"},
	}, k.Bearings())
	reach := func(angle float64) float64 { return math.Sqrt(0.1*0.1 + 0.3*0.3 - 2*0.1*0.3*math.Cos(angle)) }
	from := 160 * math.Pi / 180
	beyond := false
	for i := range 9 {
		stroke := s.Stroke * units.Length(i) / 8
		l := reach(from) - float64(stroke)
		angle := math.Acos((0.1*0.1 + 0.3*0.3 - l*l) / (2 * 0.1 * 0.3))
		crank := angle - from // clockwise
		sin, cos := math.Sincos(math.Pi/3 + crank)
		arm := math.Atan2(sin, cos-0.8) - math.Atan2(math.Sin(math.Pi/3), 0.5-0.8)
		// The shock against the frame: its direction from S2 to S1.
		shock := func(angle float64) float64 { return math.Atan2(0.1*math.Sin(angle), 0.1*math.Cos(angle)-0.3) }
		lean := shock(angle) - shock(from)
		want := []float64{crank - arm, -crank, -arm, lean - crank, lean}
		for b, got := range k.Turns(stroke) {
			unitstest.Near(t, fmt.Sprint(k.Bearings()[b], " at ", stroke), float64(got), want[b], unitstest.Abs(1e-9))
		}
		beyond = beyond || math.Abs(arm) > math.Pi
	}
	assert.True(t, beyond, "no bearing turns by more than half a turn")
}

// Three bodies on one pivot have two bearings there, and an eye on a pivot one more.
func TestBearingsOfSharedPoints(t *testing.T) {
	s := spec("f1")
	s.Stroke, s.Shock[1] = mm(10), "M"
	s.Bodies["LK"], s.Bodies["SS"] = []string{"T", "Q"}, []string{"H", "AX", "T"}
	k, err := mechanism.New(s)
	require.NoError(t, err)
	assert.Equal(t, []mechanism.Bearing{
		{Point: "H", First: "CS", Second: "SS"}, {Point: "M", First: "CS"}, {Point: "M", First: "CS", Second: "frame"},
		{Point: "Q", First: "LK", Second: "RK2"}, {Point: "R", First: "RK", Second: "frame"}, {Point: "R2", First: "RK2", Second: "frame"},
		{Point: "S1", First: "RK2"}, {Point: "T", First: "LK", Second: "RK"}, {Point: "T", First: "LK", Second: "SS"},
	}, k.Bearings())
	assert.Equal(t, make([]units.Angle, 9), k.Turns(0))
}
