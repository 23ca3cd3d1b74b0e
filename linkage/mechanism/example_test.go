package mechanism_test

import (
	"errors"
	"fmt"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// A single pivot as JSON. Its lever ratio falls from 2.41 to 2.27, and the
// wheel turns about the pivot.
func Example() {
	var m mechanism.Spec
	if err := strictjson.Unmarshal("linkage", []byte(`{
		"points": {"P": ["12 mm", "72 mm"], "A": ["-438 mm", "28 mm"], "S1": ["-92 mm", "238 mm"], "S2": ["112 mm", "292 mm"]},
		"bodies": {"frame": ["P", "S2"], "swingarm": ["P", "A", "S1"]},
		"axle": "A", "shock": ["S1", "S2"], "stroke": "57.5 mm"
	}`), &m); err != nil {
		fmt.Println(err)
		return
	}
	k, err := mechanism.New(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	p := k.Pose(k.Stroke())
	fmt.Printf("travel %.3f, lever ratio %.4f to %.4f\n", k.Travel(), k.Pose(0).LeverRatio, p.LeverRatio)
	fmt.Printf("path %.3f, axle growth %.2f, turns about (%.0f, %.0f)\n",
		k.PathLength(p.Stroke), p.AxleGrowth, p.InstantCentre[0], p.InstantCentre[1])
	// Output:
	// travel 134.659 mm, lever ratio 2.4053 to 2.2652
	// path 135.348 mm, axle growth 21.74 mm, turns about (12 mm, 72 mm)
}

// The error names every fault by its field.
func ExampleNew() {
	s := spec("a1")
	s.Axle, s.Stroke = "B", -1*units.Millimetre
	_, err := mechanism.New(s)
	for _, fault := range units.Fields(err) {
		fmt.Println(fault)
	}
	// Output:
	// mechanism: axle "B": want a point of a body that moves
	// mechanism: stroke -1 mm: want from 0.001 mm to 1000000 mm
}

// A search follows each of its mechanisms in fewer steps, and its answer in a hundred. Poses are as
// exact by either.
func ExampleNewCoarse() {
	fine, err := mechanism.New(spec("a1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	coarse, err := mechanism.NewCoarse(spec("a1"), 16)
	if err != nil {
		fmt.Println(err)
		return
	}
	half := fine.Stroke() / 2
	fmt.Printf("%.6f at %d strokes, %.6f at %d\n",
		fine.Pose(half).LeverRatio, len(fine.Strokes()), coarse.Pose(half).LeverRatio, len(coarse.Strokes()))
	// Output:
	// 2.345233 at 101 strokes, 2.345233 at 17
}

// A drawing of the bike asks where all points are.
func ExampleMechanism_Positions() {
	m, err := mechanism.New(spec("a1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, stroke := range []units.Length{0, m.Stroke()} {
		at := m.Positions(stroke)
		fmt.Printf("axle (%.0f, %.0f), eye (%.0f, %.0f)\n", at["AX"][0], at["AX"][1], at["S1"][0], at["S1"][1])
	}
	fmt.Printf("the shock is %.1f long\n", m.ShockLength())
	// Output:
	// axle (-438 mm, 28 mm), eye (-92 mm, 238 mm)
	// axle (-431 mm, 163 mm), eye (-38 mm, 261 mm)
	// the shock is 211.0 mm long
}

// What boring the main pivot's hole in the swingarm 1 mm further back does to the axle, and by how much
// it turns the swingarm, half-way.
func ExampleMechanism_PointMotionGradient() {
	m, err := mechanism.New(spec("a1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	half := m.Stroke() / 2
	place := m.PointMotionGradient(half, m.Axle()).Place
	turn, _ := m.TurnGradient(half, m.Axle())
	for i, hole := range m.Holes() {
		if hole == (mechanism.Hole{Body: "SW", Point: "P"}) {
			fmt.Printf("forward %.2f mm, up %.2f mm, turned by %.3f°\n",
				-place[0].Holes[i][0], -place[1].Holes[i][0], -units.Angle(turn.Holes[i][0]/1000).Degrees())
		}
	}
	// Output:
	// forward 0.87 mm, up -2.33 mm, turned by 0.277°
}

// The mean of the lever ratio at both ends, and what the shock's lower eye drawn 1 mm higher does to it.
func ExampleGradient_AddScaled() {
	m, err := mechanism.New(spec("a1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	var mean mechanism.Gradient
	for _, stroke := range []units.Length{0, m.Stroke()} {
		mean.AddScaled(0.5, m.PoseGradient(stroke).LeverRatio)
	}
	fmt.Printf("%+.4f\n", m.PointGradient(mean, "S2")[1]/1000)
	// Output:
	// -0.0021
}

// The error of a mechanism that can't be used over its stroke says where and why.
func ExampleLockError() {
	_, err := mechanism.New(spec("x1"))
	var lock *mechanism.LockError
	if errors.As(err, &lock) {
		fmt.Println(errors.Is(err, mechanism.ErrLocks))
		fmt.Println(lock.Reason)
	}
	// Output:
	// true
	// the axle stops rising while the shock is compressed
}

// Where a point of the swingarm goes that is no pivot, 100 mm ahead of the axle:
// it turns about the pivot at (12, 72) as the axle does.
func ExampleMechanism_ReadMotion() {
	m, err := mechanism.New(spec("a1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	bolt, ok := m.Mark("SW", mechanism.Point{-338 * units.Millimetre, 28 * units.Millimetre})
	if !ok {
		fmt.Println("no body SW")
		return
	}
	var at mechanism.Motion
	m.ReadMotion(m.Stroke(), &at)
	p, q := at.Place(bolt), at.Place(m.Axle())
	fmt.Printf("bolt at (%.1f, %.1f), axle at (%.1f, %.1f)\n", p[0], p[1], q[0], q[1])
	// Output:
	// bolt at (-335.4 mm, 133.2 mm), axle at (-431.0 mm, 162.7 mm)
}

// How the lever ratio half-way follows the place of the shock's lower eye: as drawn, and as the
// frame's hole alone is bored, the shock being as long as before.
func ExampleMechanism_PoseGradient() {
	m, err := mechanism.New(spec("a1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	ratio := m.PoseGradient(m.Stroke() / 2).LeverRatio
	for i, hole := range m.Holes() {
		if hole == (mechanism.Hole{Body: "frame", Point: "S2"}) {
			d := ratio.Holes[i]
			fmt.Printf("bored off its place: %+.4f and %+.4f per mm of x and y\n", d[0]/1000, d[1]/1000)
		}
	}
	d := m.PointGradient(ratio, "S2")
	fmt.Printf("drawn elsewhere: %+.4f and %+.4f per mm of x and y\n", d[0]/1000, d[1]/1000)
	// Output:
	// bored off its place: -0.0019 and -0.0029 per mm of x and y
	// drawn elsewhere: +0.0005 and -0.0023 per mm of x and y
}

// Holes bored to a tenth of a millimetre, and a bearing pressed in less exactly: the curve's band, and
// which holes are worth care.
func ExampleTolerance_Spread() {
	m, err := mechanism.New(spec("c1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	tolerance, err := mechanism.NewTolerance(m, mechanism.Tolerances{
		Every: 0.1 * units.Millimetre,
		Holes: []mechanism.HoleTolerance{{Hole: mechanism.Hole{Body: "RK", Point: "R"}, Within: 0.3 * units.Millimetre}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range 3 {
		stroke := m.Stroke() * units.Length(i) / 2
		s := tolerance.Spread(m.PoseGradient(stroke).LeverRatio)
		fmt.Printf("%.3f ± %.4f, at worst ± %.4f\n", m.Pose(stroke).LeverRatio, s.RootSumSquare, s.WorstCase)
		for _, h := range s.Holes[:2] {
			fmt.Printf("  %s of %s: %.4f\n", h.Point, h.Body, h.Effect)
		}
	}
	progression := tolerance.Spread(m.ProgressionGradient())
	fmt.Printf("progression at worst ± %.2f %%\n", 100*progression.WorstCase)
	// Output:
	// 2.900 ± 0.0161, at worst ± 0.0275
	//   R of RK: 0.0151
	//   S1 of RK: 0.0041
	// 2.428 ± 0.0129, at worst ± 0.0214
	//   R of RK: 0.0123
	//   S1 of RK: 0.0032
	// 2.251 ± 0.0144, at worst ± 0.0223
	//   R of RK: 0.0138
	//   S1 of RK: 0.0037
	// progression at worst ± 0.40 %
}

// The forces under a wheel load of 2 kN at full stroke, and how far the pivots have turned.
func ExampleMechanism_Equilibrium() {
	m, err := mechanism.New(spec("c1"))
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := m.Equilibrium(m.Stroke(), mechanism.Load{At: m.Axle(), Force: [2]units.Force{0, 2000 * units.Newton}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("shock %.0f, %.3f of the wheel's\n", e.ShockForce, float64(e.ShockForce)/2000)
	for _, h := range e.Holes {
		if h.Body == "RK" {
			fmt.Printf("%s on the rocker: %.0f at %.0f\n", h.Point, h.Size(), h.Angle())
		}
	}
	for _, link := range e.Links {
		fmt.Printf("tension in %s: %.0f\n", link.Body, link.Tension)
	}
	turns := m.Turns(m.Stroke())
	for i, b := range m.Bearings() {
		fmt.Printf("%s turns by %.1f in %s\n", b.Point, turns[i], b.First)
	}
	// Output:
	// shock 4503 N, 2.251 of the wheel's
	// T on the rocker: 2414 N at 35°
	// R on the rocker: 6323 N at -112°
	// S1 on the rocker: 4503 N at 85°
	// tension in CS: 2077 N
	// H turns by 5.0° in CS
	// M turns by 20.4° in CS
	// R turns by 47.7° in RK
	// S1 turns by 47.1° in RK
	// S2 turns by -0.6° in frame
	// T turns by 32.3° in RK
}
