package pivots_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// shares are eleven even shares of the stroke.
var shares = []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1}

// curve returns the lever ratio of a mechanism as a target, within 1, so that its misses are of the ratio.
func curve(k *mechanism.Mechanism) *pivots.Target[float64] {
	t := &pivots.Target[float64]{At: slices.Clone(shares), Within: 1}
	for _, share := range t.At {
		t.Value = append(t.Value, k.Pose(k.Stroke()*units.Length(share)).LeverRatio)
	}
	return t
}

// wanted asks for the lever ratio that a mechanism of the tests has, starting
// from it with points shifted, in mm.
func wanted(name string, shifts map[string][2]float64, room float64) pivots.Search {
	ask := pivots.Search{Mechanism: spec(name), Targets: pivots.Targets{LeverRatio: curve(solved(name))}}
	ask.Targets.LeverRatio.Within = 0.01
	for _, point := range slices.Sorted(maps.Keys(shifts)) {
		by, p := shifts[point], ask.Mechanism.Points[point]
		ask.Mechanism.Points[point] = mechanism.Point{p[0] + mm(by[0]), p[1] + mm(by[1])}
		ask.Move = append(ask.Move, around(point, room))
	}
	return ask
}

// find answers a search that has an answer.
func find(t *testing.T, what string, ask pivots.Search) *pivots.Solution {
	t.Helper()
	fit, err := pivots.Find(ask)
	if err != nil {
		t.Fatal(what, err)
	}
	return fit
}

// A curve that some mechanism within the bounds has is found again, and the answer says of itself what
// its mechanism does.
func TestFindFindsACurveThatExists(t *testing.T) {
	for name, shifts := range map[string]map[string][2]float64{
		"a1": {"S1": {4, -3}},
		"c1": {"S1": {3, -2}, "R": {-2, 4}},
		"e1": {"T": {2, 3}},
		"f1": {"Q": {-3, 2}, "S1": {2, 2}},
	} {
		ask := wanted(name, shifts, 8)
		ask.AnyShock = true
		fit := find(t, name, ask)
		miss := fit.Misses[0]
		if len(fit.Misses) != 1 || miss.Of != "lever_ratio" || !(miss.StartRMS > 0.5) || !(miss.RMS < 1e-3 && miss.Worst < 5e-3) {
			t.Errorf("%s: misses %+v", name, fit.Misses)
		}
		k, err := mechanism.New(fit.Mechanism)
		if err != nil {
			t.Fatal(name, err)
		}
		sum, worst, worstAt := 0.0, 0.0, units.Length(0)
		for i, share := range shares {
			s := k.Stroke() * units.Length(share)
			miss := math.Abs(k.Pose(s).LeverRatio - ask.Targets.LeverRatio.Value[i])
			if sum += miss * miss; miss > worst {
				worst, worstAt = miss, s
			}
		}
		unitstest.Near(t, name+" rms", miss.RMS, math.Sqrt(sum/11)/0.01, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" worst", miss.Worst, worst/0.01, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" worst at", miss.WorstAt, worstAt, unitstest.Exact)
		for i, move := range fit.Moved {
			from, to := ask.Mechanism.Points[move.Point], fit.Mechanism.Points[move.Point]
			if to[0]-from[0] != move.X || to[1]-from[1] != move.Y || move.Point != ask.Move[i].Point {
				t.Errorf("%s: %+v, but %v became %v", name, move, from, to)
			}
		}
		for point, p := range ask.Mechanism.Points {
			if _, may := shifts[point]; !may && fit.Mechanism.Points[point] != p {
				t.Errorf("%s: %s was moved", name, point)
			}
		}
	}
}

// Every number that can be wanted is met where a mechanism within the bounds has it: what a shifted
// mechanism does is asked for, one number at a time, beside little weight on its ratio.
func TestFindMeetsEveryTarget(t *testing.T) {
	d := drive(32, 24, nil)
	shifted := spec("c1")
	for point, by := range map[string][2]float64{"M": {3, -4}, "T": {-2, 3}, "S1": {2, 2}} {
		p := shifted.Points[point]
		shifted.Points[point] = mechanism.Point{p[0] + mm(by[0]), p[1] + mm(by[1])}
	}
	k, err := mechanism.New(shifted)
	if err != nil {
		t.Fatal(err)
	}
	chain, err := drivetrain.New(k, d)
	if err != nil {
		t.Fatal(err)
	}
	at := []float64{0.25, 0.6, 1}
	poses, drives := []mechanism.Pose{}, []drivetrain.Pose{}
	for _, share := range at {
		poses, drives = append(poses, k.Pose(k.Stroke()*units.Length(share))), append(drives, chain.At(k.Stroke()*units.Length(share)))
	}
	lengths := func(of func(i int) units.Length) *pivots.Target[units.Length] {
		return &pivots.Target[units.Length]{At: at, Value: []units.Length{of(0), of(1), of(2)}}
	}
	numbers := func(of func(i int) float64) *pivots.Target[float64] {
		return &pivots.Target[float64]{At: at, Value: []float64{of(0), of(1), of(2)}}
	}
	angles := func(of func(i int) units.Angle) *pivots.Target[units.Angle] {
		return &pivots.Target[units.Angle]{At: at, Value: []units.Angle{of(0), of(1), of(2)}}
	}
	start, end := k.Pose(0).LeverRatio, k.Pose(k.Stroke()).LeverRatio
	for name, targets := range map[string]pivots.Targets{
		"lever_ratio":            {LeverRatio: numbers(func(i int) float64 { return poses[i].LeverRatio })},
		"progression":            {Progression: &pivots.Target[float64]{Value: []float64{(start - end) / start}}},
		"travel":                 {Travel: lengths(func(i int) units.Length { return poses[i].Travel })},
		"wheelbase_growth":       {WheelbaseGrowth: lengths(func(i int) units.Length { return poses[i].WheelbaseGrowth })},
		"anti_squat":             {AntiSquat: numbers(func(i int) float64 { return drives[i].AntiSquat })},
		"anti_rise":              {AntiRise: numbers(func(i int) float64 { return drives[i].AntiRise })},
		"chain_growth":           {ChainGrowth: lengths(func(i int) units.Length { return drives[i].ChainGrowth })},
		"kickback_wheel_fixed":   {KickbackWheelFixed: angles(func(i int) units.Angle { return drives[i].KickbackWheelFixed })},
		"kickback_wheel_rolling": {KickbackWheelRolling: angles(func(i int) units.Angle { return drives[i].KickbackWheelRolling })},
	} {
		fit := find(t, name, pivots.Search{
			Mechanism: spec("c1"), Drive: &d, Targets: targets, AnyShock: true,
			Move: []pivots.Movable{around("M", 8), around("T", 8), around("S1", 8)},
		})
		if m := fit.Misses; len(m) != 1 || m[0].Of != name || !(m[0].StartRMS > 0.05) || !(m[0].RMS < 1e-4) {
			t.Errorf("%s: misses %+v", name, m)
		}
	}
}

// The weight of a target is the inverse of its Within: what is met less well has the greater one. The
// values left out are those that the documentation names.
func TestWithinIsTheWeightOfATarget(t *testing.T) {
	d := drive(32, 24, nil)
	ask := wanted("a1", map[string][2]float64{"S1": {0, 0}, "P": {0, 0}}, 15)
	ask.Drive, ask.AnyShock = &d, true
	for i := range ask.Targets.LeverRatio.Value {
		ask.Targets.LeverRatio.Value[i] += 0.2
	}
	last := math.Inf(1)
	for _, within := range []float64{0.5, 0.05, 0.005} {
		ask.Targets.AntiSquat = &pivots.Target[float64]{At: []float64{0.3}, Value: []float64{1.2}, Within: within}
		fit := find(t, "weights", ask)
		miss := fit.Misses[1].RMS * within
		if !(miss < 0.9*last) {
			t.Errorf("within %v it misses by %v, after %v", within, miss, last)
		}
		last = miss
		if within == 0.05 {
			ask.Targets.AntiSquat.Within, ask.Targets.LeverRatio.Within = 0, 0
			if diff := cmp.Diff(fit, find(t, "weights", ask)); diff != "" {
				t.Error(diff)
			}
			ask.Targets.LeverRatio.Within = 0.01
		}
	}
}

// However far the wanted curve is, the answer moves over its whole stroke.
func TestFindNeverGoesThroughADeadPoint(t *testing.T) {
	ask := wanted("f1", map[string][2]float64{"R": {0, 0}}, 60)
	ask.AnyShock = true
	for i := range ask.Targets.LeverRatio.Value {
		ask.Targets.LeverRatio.Value[i] = 4.5 - 0.4*float64(i)
	}
	asks := []pivots.Search{ask}
	for _, gap := range []float64{4.85e-4, 5.46e-4, 1e-2} { // of a stroke that ends near a dead point
		g := linkagetest.Arm{A: 80, D: 250, Phi: 0.9, R: 403, Axle: 3.3}
		asks = append(asks, pivots.Search{
			Mechanism: g.Spec(g.DeadPoint() - gap), Move: []pivots.Movable{{Point: "S2", X: around("", 4).X}}, AnyShock: true,
			Targets: pivots.Targets{LeverRatio: &pivots.Target[float64]{At: []float64{0, 0.5}, Value: []float64{5, 6}}},
		})
	}
	for _, ask := range asks {
		fit, err := pivots.Find(ask)
		if err != nil {
			continue // at the edge it may lock as it was given
		}
		if fit.Locked == 0 {
			t.Error("no mechanism that locks was ever near: the test shows nothing")
		}
		if _, err := mechanism.New(fit.Mechanism); err != nil {
			t.Error(err)
		}
		if m := fit.Misses[0]; !(m.RMS < m.StartRMS) {
			t.Errorf("misses by %g, from %g", m.RMS, m.StartRMS)
		}
	}
}

// Where the drive can't be over the whole stroke the search goes on elsewhere: here the mass centre is
// just above the ground at full travel.
func TestFindKeepsTheDrive(t *testing.T) {
	d := drive(32, 24, nil)
	d.MassCentre = at(60, 140)
	ask := wanted("a1", map[string][2]float64{"S1": {0, 0}}, 25)
	ask.Drive, ask.AnyShock = &d, true
	for i := range ask.Targets.LeverRatio.Value {
		ask.Targets.LeverRatio.Value[i] *= 1.2
	}
	fit := find(t, "drive", ask)
	if fit.Locked == 0 {
		t.Error("no drive was refused: the test shows nothing")
	}
	k, err := mechanism.New(fit.Mechanism)
	if err == nil {
		_, err = drivetrain.New(k, d)
	}
	if err != nil {
		t.Error(err)
	}
}

// The same search gives the same answer.
func TestFindIsRepeatable(t *testing.T) {
	ask := wanted("d1", map[string][2]float64{"S1": {3, -2}}, 8)
	if diff := cmp.Diff(find(t, "once", ask), find(t, "again", ask)); diff != "" {
		t.Error(diff)
	}
}

// An answer is where no other place nearby, within the bounds and with the same
// shock, misses less, the anti-squat by its weight beside the ratio: places are tried all
// around, near and far. What can't be met exactly takes few mechanisms too.
func TestNoPlaceNearbyIsBetter(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	e2, shock := spec("e2"), solved("e2").ShockLength()
	d := drive(32, 24, nil)
	const squatAt, squat = 0.35, 1.2
	for _, test := range []struct {
		by     float64
		any    bool
		within float64 // of the anti-squat; 0 for none
	}{
		{0.02, true, 0}, {0.02, false, 0}, {-0.04, true, 0}, {-0.04, false, 0}, {0.06, true, 0}, {0.06, false, 0}, {0.002, false, 0}, {-0.003, true, 0},
		{0.02, true, 3}, {-0.02, true, 0.3},
	} {
		ask := pivots.Search{Mechanism: spec("e2"), AnyShock: test.any, Targets: pivots.Targets{LeverRatio: curve(solved("e2"))}, Move: []pivots.Movable{
			{Point: "S1", X: pivots.Bounds{Min: -mm(4), Max: mm(1)}, Y: pivots.Bounds{Min: -mm(2), Max: mm(2)}}, {Point: "U2", Y: pivots.Bounds{Max: mm(3)}},
		}}
		ratio := ask.Targets.LeverRatio
		for i := range ratio.Value {
			ratio.Value[i] += test.by / 24 * float64(i*i)
		}
		ratio.Within = 0.01
		if test.within > 0 {
			ask.Drive, ask.Targets.AntiSquat = &d, &pivots.Target[float64]{At: []float64{squatAt}, Value: []float64{squat}, Within: test.within}
		}
		misses := func(m mechanism.Spec) float64 {
			k, err := mechanism.NewCoarse(m, 16)
			if err != nil {
				return math.Inf(1)
			}
			sum := 0.0
			for i, share := range ratio.At {
				miss := (k.Pose(k.Stroke()*units.Length(share)).LeverRatio - ratio.Value[i]) / 0.01
				sum += miss * miss / float64(len(ratio.At))
			}
			if test.within > 0 {
				it, err := drivetrain.New(k, d)
				if err != nil {
					t.Fatal(test, err)
				}
				miss := (it.At(k.Stroke()*squatAt).AntiSquat - squat) / test.within
				sum += miss * miss
			}
			return math.Sqrt(sum)
		}
		fit := find(t, "nearby", ask)
		said := 0.0
		for _, m := range fit.Misses {
			said = math.Hypot(said, m.RMS)
		}
		least := misses(fit.Mechanism)
		unitstest.Near(t, "misses", said, least, unitstest.Rel(1e-9), unitstest.Abs(1e-9))
		if d := fit.ShockLength - shock; !test.any && math.Abs(float64(d)) > 1e-9 {
			t.Errorf("%+v: the shock is %v longer", test, d)
		}
		if fit.Tried > 16*90 {
			t.Errorf("%+v: %d mechanisms were tried", test, fit.Tried)
		}
		tried := 0
		for range 150 {
			m, scale := e2, units.Length(math.Pow(10, -3*random.Float64()))
			m.Points = maps.Clone(e2.Points)
			for _, move := range ask.Move {
				p, from := fit.Mechanism.Points[move.Point], m.Points[move.Point]
				for axis, room := range []pivots.Bounds{move.X, move.Y} {
					by := p[axis] - from[axis] + scale*(room.Max-room.Min)*units.Length(random.NormFloat64())
					p[axis] = from[axis] + min(max(by, room.Min), room.Max)
				}
				m.Points[move.Point] = p
			}
			if !test.any { // S1 along the shock, until that is as long as before
				p, q, from := m.Points["S1"], m.Points["S2"], e2.Points["S1"]
				f := shock / units.Length(math.Hypot(float64(p[0]-q[0]), float64(p[1]-q[1])))
				p = mechanism.Point{q[0] + f*(p[0]-q[0]), q[1] + f*(p[1]-q[1])}
				if x, y := (p[0]-from[0])/units.Millimetre, (p[1]-from[1])/units.Millimetre; x < -4 || x > 1 || y < -2 || y > 2 {
					continue
				}
				m.Points["S1"] = p
			}
			tried++
			if got := misses(m); got < least*(1-1e-6) {
				t.Errorf("%+v: %v misses by %g, and what was found by %g", test, m.Points, got, least)
				break
			}
		}
		if tried < 20 {
			t.Errorf("%+v: %d places tried", test, tried)
		}
	}
}
