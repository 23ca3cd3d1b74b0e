package pivots_test

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// wanted asks for the lever ratio that a mechanism of the tests has, starting
// from it with points shifted, in mm.
func wanted(name string, shifts map[string][2]float64, room float64) pivots.Search {
	k := solved(name)
	ask := pivots.Search{Mechanism: spec(name)}
	for i := range 11 {
		s := k.Stroke() * units.Length(i) / 10
		ask.Stroke = append(ask.Stroke, s)
		ask.LeverRatio = append(ask.LeverRatio, k.Pose(s).LeverRatio)
	}
	var names []string
	for point := range shifts {
		names = append(names, point)
	}
	slices.Sort(names)
	for _, point := range names {
		by, p := shifts[point], ask.Mechanism.Points[point]
		ask.Mechanism.Points[point] = mechanism.Point{p[0] + mm(by[0]), p[1] + mm(by[1])}
		ask.Move = append(ask.Move, pivots.Movable{Point: point, X: mm(room), Y: mm(room)})
	}
	return ask
}

// A curve that some mechanism within the bounds has is found again.
func TestFindFindsACurveThatExists(t *testing.T) {
	for name, shifts := range map[string]map[string][2]float64{
		"a1": {"S1": {4, -3}},
		"c1": {"S1": {3, -2}, "R": {-2, 4}},
		"e1": {"T": {2, 3}},
		"f1": {"Q": {-3, 2}, "S1": {2, 2}},
	} {
		ask := wanted(name, shifts, 8)
		ask.AnyShock = true
		fit, err := pivots.Find(ask)
		if err != nil {
			t.Fatal(name, err)
		}
		if !(fit.StartRMS > 0.005) {
			t.Errorf("%s: nothing to do: %g", name, fit.StartRMS)
		}
		if !(fit.RMS < 1e-5 && fit.Worst < 5e-5) {
			t.Errorf("%s: misses by %g rms, %g at %v, from %g", name, fit.RMS, fit.Worst, fit.WorstAt, fit.StartRMS)
		}
		// The answer says of itself what its mechanism does.
		k, err := mechanism.New(fit.Mechanism)
		if err != nil {
			t.Fatal(name, err)
		}
		sum, worst, worstAt := 0.0, 0.0, units.Length(0)
		for i, s := range ask.Stroke {
			miss := math.Abs(k.Pose(s).LeverRatio - ask.LeverRatio[i])
			if sum += miss * miss; miss > worst {
				worst, worstAt = miss, s
			}
		}
		unitstest.Near(t, name+" rms", fit.RMS, math.Sqrt(sum/11), unitstest.Rel(1e-9))
		unitstest.Near(t, name+" worst", fit.Worst, worst, unitstest.Rel(1e-9))
		unitstest.Near(t, name+" worst at", fit.WorstAt, worstAt, unitstest.Exact)
		for i, move := range fit.Moved {
			from, to := ask.Mechanism.Points[move.Point], fit.Mechanism.Points[move.Point]
			if to[0]-from[0] != move.X || to[1]-from[1] != move.Y || move.Point != ask.Move[i].Point {
				t.Errorf("%s: %+v, but %v became %v", name, move, from, to)
			}
			if math.Abs(float64(move.X)) > float64(mm(8))*(1+1e-12) || math.Abs(float64(move.Y)) > float64(mm(8))*(1+1e-12) {
				t.Errorf("%s: %+v is out of bounds", name, move)
			}
		}
		for point, p := range ask.Mechanism.Points {
			if _, may := shifts[point]; !may && fit.Mechanism.Points[point] != p {
				t.Errorf("%s: %s was moved", name, point)
			}
		}
	}
}

// The shock keeps its length or gets the one asked for, or as near as the bounds
// permit, whatever that costs the curve.
func TestFindGivesTheShockItsLength(t *testing.T) {
	for what, test := range map[string]struct {
		move    []pivots.Movable
		by      float64 // mm that the shock shall be longer
		nearest float64 // mm that is missed
	}{
		"as it is":                     {[]pivots.Movable{{"S1", 0.01, 0.01}}, 0, 0},
		"one end":                      {[]pivots.Movable{{"S1", 0.01, 0.01}}, 4, 0},
		"the other, shorter":           {[]pivots.Movable{{"S2", 0.01, 0.01}}, -4, 0},
		"both, and another point":      {[]pivots.Movable{{"S1", 0.01, 0.01}, {"U2", 0.01, 0.01}, {"S2", 0.01, 0.01}}, 6, 0},
		"across the shock, nearly":     {[]pivots.Movable{{"S1", 0.01, 0}}, 0.5, 0},
		"both ends at their bounds":    {[]pivots.Movable{{"S1", 0, 0.001}, {"S2", 0, 0.001}}, 50, 48},
		"one end at its bound":         {[]pivots.Movable{{"S1", 0, 0.001}, {"S2", 0, 0.03}}, 20, 0},
		"one at its bound and shorter": {[]pivots.Movable{{"S1", 0, 0.001}, {"S2", 0, 0.03}}, -20, 0},
		"no end":                       {[]pivots.Movable{{"U2", 0.01, 0.01}}, 4, 4},
	} {
		ask := wanted("e2", nil, 0)
		ask.Move = test.move
		want := solved("e2").ShockLength() + mm(test.by)
		if test.by != 0 {
			ask.ShockLength = want
		}
		fit, err := pivots.Find(ask)
		if err != nil {
			t.Fatal(what, err)
		}
		length := func(m mechanism.Spec) units.Length {
			a, b := m.Points["S1"], m.Points["S2"]
			return units.Length(math.Hypot(float64(a[0]-b[0]), float64(a[1]-b[1])))
		}
		unitstest.Near(t, what, max(want-length(fit.Mechanism), length(fit.Mechanism)-want), mm(test.nearest), unitstest.Abs(max(mm(0.03*test.nearest), mm(1e-4))))
		unitstest.Near(t, what+" said", fit.ShockLength, length(fit.Mechanism), unitstest.Rel(1e-12))
	}
}

// With too little room the answer lies at a bound and says so; with more room
// it comes nearer.
func TestActiveBoundsAreNamed(t *testing.T) {
	miss := math.Inf(1)
	for _, room := range []float64{1, 2, 3} {
		ask := wanted("a1", map[string][2]float64{"S1": {6, -5}}, room)
		ask.AnyShock = true
		fit, err := pivots.Find(ask)
		if err != nil {
			t.Fatal(err)
		}
		if len(fit.ActiveBounds) == 0 {
			t.Errorf("room of %v mm: leans on nothing, misses by %g", room, fit.RMS)
		}
		moved := map[string]units.Length{"x": fit.Moved[0].X, "y": fit.Moved[0].Y}
		atBounds := 0
		for _, by := range moved {
			if math.Abs(float64(by)) > 0.9999*float64(mm(room)) {
				atBounds++
			}
		}
		if len(fit.ActiveBounds) != atBounds {
			t.Errorf("room of %v mm: %d of %d bounds named", room, len(fit.ActiveBounds), atBounds)
		}
		for _, lean := range fit.ActiveBounds {
			at := moved[lean.Axis]
			unitstest.Near(t, "at the bound", at, lean.Bound, unitstest.Abs(mm(0.01*room)))
			unitstest.Near(t, "bound", math.Abs(float64(lean.Bound)), float64(mm(room)), unitstest.Rel(1e-12))
		}
		if !(fit.RMS < miss) {
			t.Errorf("more room, %v mm, misses by more: %g after %g", room, fit.RMS, miss)
		}
		miss = fit.RMS
	}
}

// However far the wanted curve is, the answer moves over its whole stroke.
func TestFindNeverGoesThroughADeadPoint(t *testing.T) {
	ask := wanted("f1", map[string][2]float64{"R": {0, 0}}, 60)
	ask.AnyShock = true
	for i := range ask.LeverRatio {
		ask.LeverRatio[i] = 4.5 - 0.4*float64(i)
	}
	asks := []pivots.Search{ask}
	// A stroke that ends so near a dead point that a step of the derivatives to one
	// side moves and one to the other doesn't.
	for _, gap := range []float64{4.85e-4, 4.95e-4, 5.05e-4, 5.25e-4, 5.46e-4, 5.68e-4} {
		g := linkagetest.Arm{A: 80, D: 250, Phi: 0.9, R: 403, Axle: 3.3}
		m := g.Spec(g.DeadPoint() - gap)
		asks = append(asks, pivots.Search{
			Mechanism: m, Move: []pivots.Movable{{Point: "S2", X: mm(4)}}, AnyShock: true,
			Stroke: []units.Length{0, m.Stroke / 2}, LeverRatio: []float64{5, 6},
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
		if !(fit.RMS < fit.StartRMS) {
			t.Errorf("misses by %g, from %g", fit.RMS, fit.StartRMS)
		}
	}
}

// An anti-squat beside the curve: with room for both, both are met.
func TestFindMeetsAnAntiSquat(t *testing.T) {
	ask := wanted("a1", map[string][2]float64{"P": {0, 0}, "S1": {0, 0}}, 25)
	ask.AnyShock = true
	d := drive(32, 24, nil)
	ask.Drive = &d
	ask.AntiSquat = &pivots.AntiSquat{At: mm(17), Value: 0.9, Weight: 1}
	fit, err := pivots.Find(ask)
	if err != nil {
		t.Fatal(err)
	}
	if fit.AntiSquat == nil || math.Abs(*fit.AntiSquat-0.9) > 0.02 || fit.RMS > 0.02 {
		t.Errorf("anti-squat %v, misses by %g", fit.AntiSquat, fit.RMS)
	}
	k, err := mechanism.New(fit.Mechanism)
	if err != nil {
		t.Fatal(err)
	}
	it, err := drivetrain.New(k, d)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "anti-squat", *fit.AntiSquat, it.At(mm(17)).AntiSquat, unitstest.Rel(1e-12))

	// The mass centre is just above the ground over the stroke. Where the axle rises more
	// there is no drivetrain, and the search goes on elsewhere.
	d.MassCentre = at(60, 140)
	ask.Drive, ask.AntiSquat.Weight, ask.Move = &d, 0, []pivots.Movable{{Point: "S1", X: mm(25), Y: mm(25)}}
	for i := range ask.LeverRatio {
		ask.LeverRatio[i] *= 1.2
	}
	if fit, err = pivots.Find(ask); err != nil || fit.Locked == 0 {
		t.Fatalf("%+v, %v", fit, err)
	}
	if k, err = mechanism.New(fit.Mechanism); err == nil {
		_, err = drivetrain.New(k, d)
	}
	if err != nil {
		t.Error(err)
	}
}

// The same search gives the same answer.
func TestFindIsRepeatable(t *testing.T) {
	ask := wanted("d1", map[string][2]float64{"S1": {3, -2}}, 8)
	a, err := pivots.Find(ask)
	if err != nil {
		t.Fatal(err)
	}
	b, err := pivots.Find(ask)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(a, b); diff != "" {
		t.Error(diff)
	}
}

func TestFindRefuses(t *testing.T) {
	nan := math.NaN()
	for _, test := range []struct {
		what  string
		spoil func(*pivots.Search)
		want  []string
	}{
		{"nothing to move", func(a *pivots.Search) { a.Move = nil }, []string{"move"}},
		{"no room", func(a *pivots.Search) { a.Move[0].X, a.Move[0].Y = 0, 0 }, []string{"move"}},
		{"bounds that are none", func(a *pivots.Search) { a.Move[0].X, a.Move[0].Y = units.Length(nan), -1 }, []string{"move[0].x", "move[0].y"}},
		{"an unknown point, twice a point", func(a *pivots.Search) {
			a.Move = append(a.Move, pivots.Movable{Point: "XX", X: 1}, a.Move[0])
		}, []string{"move[1].point", "move[2].point"}},
		{"a mechanism that locks", func(a *pivots.Search) { a.Mechanism = spec("x1"); a.Mechanism.Stroke = mm(57.5) }, []string{"mechanism.stroke"}},
		{"one stroke", func(a *pivots.Search) { a.Stroke, a.LeverRatio = a.Stroke[:1], a.LeverRatio[:1] }, []string{"stroke"}},
		{"strokes that fall, or too long", func(a *pivots.Search) { a.Stroke[3], a.Stroke[10] = 0, 1 }, []string{"stroke[10]", "stroke[3]"}},
		{"fewer ratios", func(a *pivots.Search) { a.LeverRatio = a.LeverRatio[1:] }, []string{"lever_ratio"}},
		{"ratios that are none", func(a *pivots.Search) { a.LeverRatio[0], a.LeverRatio[4] = nan, -2 }, []string{"lever_ratio[0]", "lever_ratio[4]"}},
		{"a shock shorter than its stroke", func(a *pivots.Search) { a.ShockLength = mm(50) }, []string{"shock_length"}},
		{"a shock of a length and any", func(a *pivots.Search) { a.ShockLength, a.AnyShock = mm(210), true }, []string{"shock_length"}},
		{"anti-squat without a drive", func(a *pivots.Search) {
			a.AntiSquat = &pivots.AntiSquat{At: 1, Value: nan, Weight: -1}
		}, []string{"anti_squat.at", "anti_squat.value", "anti_squat.weight", "drive"}},
		{"a bad drive", func(a *pivots.Search) {
			d := drive(32, 20, nil)
			d.Ground, a.Drive = "", &d
		}, []string{"drive.ground"}},
		{"a bad drive beside a mechanism that locks", func(a *pivots.Search) {
			d := drive(32, 20, nil)
			d.Ground, a.Drive = "", &d
			a.Mechanism, a.Mechanism.Stroke = spec("x1"), mm(57.5)
		}, []string{"drive.ground", "mechanism.stroke"}},
	} {
		ask := wanted("a1", map[string][2]float64{"S1": {0, 0}}, 5)
		test.spoil(&ask)
		fit, err := pivots.Find(ask)
		if fit != nil {
			t.Errorf("%s: accepted", test.what)
		}
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: (-want +got)\n%s%v", test.what, diff, err)
		}
	}
	ask := wanted("a1", map[string][2]float64{"S1": {0, 0}}, 5)
	ask.Mechanism = spec("x1")
	ask.Mechanism.Stroke = mm(57.5)
	if _, err := pivots.Find(ask); !errors.Is(err, mechanism.ErrLocks) || !strings.HasPrefix(err.Error(), "mechanism: ") {
		t.Errorf("a mechanism that locks: %v", err)
	}
}

// The bounds in the doc comments of Search and Find, each taken at its
// very value and refused beyond.
func TestBoundsOfASearch(t *testing.T) {
	strokes := func(n int) func(*pivots.Search) {
		return func(a *pivots.Search) {
			a.Stroke, a.LeverRatio = nil, nil
			for i := range n {
				a.Stroke = append(a.Stroke, a.Mechanism.Stroke*units.Length(i)/units.Length(max(n-1, 1)))
				a.LeverRatio = append(a.LeverRatio, 2.5)
			}
		}
	}
	moves := func(n int) func(*pivots.Search) {
		return func(a *pivots.Search) {
			a.Move = nil
			for i := range n {
				name := fmt.Sprint("mark", i)
				a.Mechanism.Points[name] = mechanism.Point{}
				a.Mechanism.Bodies["RT"] = append(a.Mechanism.Bodies["RT"], name)
				a.Move = append(a.Move, pivots.Movable{Point: name, X: 0.001})
			}
		}
	}
	wish := func(w pivots.AntiSquat) func(*pivots.Search) {
		return func(a *pivots.Search) {
			d := drive(32, 20, nil)
			a.Drive = &d
			a.AntiSquat = &w
		}
	}
	const full = 55 * units.Millimetre
	for _, test := range []struct {
		what string
		set  func(*pivots.Search)
		want []string
	}{
		{"as it is", func(*pivots.Search) {}, nil},
		{"12 points", moves(12), nil},
		{"13 points", moves(13), []string{"move"}},
		{"1 m of room", func(a *pivots.Search) { a.Move[0].X, a.Move[1].Y = 1, 1 }, nil},
		{"more room", func(a *pivots.Search) { a.Move[0].X, a.Move[1].Y = above(1), above(1) }, []string{"move[0].x", "move[1].y"}},
		{"2 strokes", strokes(2), nil},
		{"1 stroke", strokes(1), []string{"stroke"}},
		{"200 strokes", strokes(200), nil},
		{"201 strokes", strokes(201), []string{"stroke"}},
		{"the same stroke twice", func(a *pivots.Search) { a.Stroke[2] = a.Stroke[1] }, []string{"stroke[2]"}},
		{"the first stroke twice", func(a *pivots.Search) { a.Stroke[1] = a.Stroke[0] }, []string{"stroke[1]"}},
		{"a first stroke below 0", func(a *pivots.Search) { a.Stroke[0] = -1e-9 }, []string{"stroke[0]"}},
		{"beyond full stroke", func(a *pivots.Search) { a.Stroke[4] = full * (1 + 1e-6) }, []string{"stroke[4]"}},
		{"ratios at their limits", func(a *pivots.Search) { a.LeverRatio[0], a.LeverRatio[4] = 0.001, 1000 }, nil},
		{"ratios beyond", func(a *pivots.Search) {
			a.LeverRatio[0], a.LeverRatio[4] = math.Nextafter(0.001, 0), math.Nextafter(1000, 2000)
		}, []string{"lever_ratio[0]", "lever_ratio[4]"}},
		{"a shock as long as the stroke", func(a *pivots.Search) { a.ShockLength = full }, []string{"shock_length"}},
		{"a shock a little longer", func(a *pivots.Search) { a.ShockLength = above(full) }, nil},
		{"the shortest shock", func(a *pivots.Search) {
			strokes(2)(a)
			a.Mechanism.Stroke, a.Stroke[1], a.ShockLength = 1e-6, 1e-6, 1.1e-6
		}, nil},
		{"a shock of 1 km", func(a *pivots.Search) { a.ShockLength = 1e3 }, nil},
		{"a longer one", func(a *pivots.Search) { a.ShockLength = above(1e3) }, []string{"shock_length"}},
		{"no anti-squat, of no weight, at full extension", wish(pivots.AntiSquat{}), nil},
		{"anti-squat of the most weight, at full stroke", wish(pivots.AntiSquat{At: full, Value: -3, Weight: 1000}), nil},
		{"a stroke of less than 0, too little weight", wish(pivots.AntiSquat{At: -1e-9, Weight: -1e-9}), []string{"anti_squat.at", "anti_squat.weight"}},
		{"beyond full stroke, too much weight", wish(pivots.AntiSquat{At: full * (1 + 1e-6), Weight: math.Nextafter(1000, 2000)}), []string{"anti_squat.at", "anti_squat.weight"}},
	} {
		ask := wanted("e2", map[string][2]float64{"S1": {0, 0}, "U2": {0, 0}}, 3)
		ask.Stroke, ask.LeverRatio = ask.Stroke[:5], ask.LeverRatio[:5]
		ask.Stroke[4] = full
		test.set(&ask)
		_, err := pivots.Find(ask)
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("%s: refused (-want +got)\n%s%v", test.what, diff, err)
		}
	}
}

// An answer is where no other place nearby, within the bounds and with the same
// shock, misses less, the anti-squat by its weight beside the ratio: places are tried all
// around, near and far. What can't be met exactly takes few mechanisms too.
func TestNoPlaceNearbyIsBetter(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	e2, shock := spec("e2"), solved("e2").ShockLength()
	d := drive(32, 24, nil)
	for _, test := range []struct {
		by     float64
		any    bool
		weight float64 // of the anti-squat; 0 for none
	}{
		{0.02, true, 0}, {0.02, false, 0}, {-0.04, true, 0}, {-0.04, false, 0}, {0.06, true, 0}, {0.06, false, 0}, {0.002, false, 0}, {-0.003, true, 0},
		{0.02, true, 0.3}, {-0.02, true, 3},
	} {
		what := fmt.Sprintf("%+v", test)
		ask := wanted("e2", map[string][2]float64{"S1": {0, 0}, "U2": {0, 0}}, 4)
		ask.AnyShock = test.any
		ask.Move = []pivots.Movable{{Point: "S1", X: mm(4), Y: mm(2)}, {Point: "U2", Y: mm(3)}}
		for i := range ask.LeverRatio {
			ask.LeverRatio[i] += test.by / 6 * float64(i*i)
		}
		const where = 20 * units.Millimetre
		if test.weight > 0 {
			ask.Drive, ask.AntiSquat = &d, &pivots.AntiSquat{At: where, Value: 1.2, Weight: test.weight}
		}
		misses := func(m mechanism.Spec) (rms, all float64) {
			k, err := mechanism.NewCoarse(m, 16)
			if err != nil {
				return math.Inf(1), math.Inf(1)
			}
			sum := 0.0
			for i, s := range ask.Stroke {
				miss := k.Pose(s).LeverRatio - ask.LeverRatio[i]
				sum += miss * miss / float64(len(ask.Stroke))
			}
			rms, all = math.Sqrt(sum), math.Sqrt(sum)
			if test.weight > 0 {
				it, err := drivetrain.New(k, d)
				if err != nil {
					t.Fatal(what, err)
				}
				all = math.Hypot(rms, test.weight*(it.At(where).AntiSquat-1.2))
			}
			return rms, all
		}
		fit, err := pivots.Find(ask)
		if err != nil {
			t.Fatal(what, err)
		}
		rms, least := misses(fit.Mechanism)
		if math.Abs(rms-fit.RMS) > 1e-12 {
			t.Errorf("%s: misses by %g, not by %g", what, rms, fit.RMS)
		}
		if d := fit.ShockLength - shock; !test.any && math.Abs(float64(d)) > 1e-8 {
			t.Errorf("%s: the shock is %v longer", what, d)
		}
		if fit.Tried > 5*20*(2*3+2) {
			t.Errorf("%s: %d mechanisms were tried", what, fit.Tried)
		}
		tried := 0
		for range 150 {
			m, scale := e2, units.Length(math.Pow(10, -3*random.Float64()))
			m.Points = maps.Clone(e2.Points)
			for _, move := range ask.Move {
				p, from := fit.Mechanism.Points[move.Point], m.Points[move.Point]
				for axis, room := range []units.Length{move.X, move.Y} {
					by := p[axis] - from[axis] + scale*room*units.Length(random.NormFloat64())
					p[axis] = from[axis] + min(max(by, -room), room)
				}
				m.Points[move.Point] = p
			}
			if !test.any { // S1 along the shock, until that is as long as before
				p, q := m.Points["S1"], m.Points["S2"]
				x, y := p[0]-q[0], p[1]-q[1]
				f := shock / units.Length(math.Hypot(float64(x), float64(y)))
				p = mechanism.Point{q[0] + f*x, q[1] + f*y}
				from := ask.Mechanism.Points["S1"]
				if math.Abs(float64(p[0]-from[0])) > 0.004 || math.Abs(float64(p[1]-from[1])) > 0.002 {
					continue
				}
				m.Points["S1"] = p
			}
			tried++
			if _, got := misses(m); got < least*(1-1e-6) {
				t.Errorf("%s: %v misses by %g, and what was found by %g", what, m.Points, got, least)
				break
			}
		}
		if tried < 20 {
			t.Errorf("%s: %d places tried", what, tried)
		}
	}
}

// Where an answer exists, damped least squares come to it from each of the five
// starts in a few steps, each of which takes a mechanism for its sum and two for
// every coordinate for the derivatives: eight steps, and one try over in each,
// are plenty.
func TestFindTakesFewSteps(t *testing.T) {
	for _, by := range []float64{0.5, -1, 1.5} {
		ask := wanted("e2", map[string][2]float64{"S1": {by, -by / 2}}, 4)
		ask.AnyShock = true
		fit, err := pivots.Find(ask)
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Hypot(float64(fit.Moved[0].X+mm(by)), float64(fit.Moved[0].Y-mm(by/2))); d > 1e-5 || !(fit.RMS < 1e-5) {
			t.Errorf("%v: ends %g m away, misses by %g", by, d, fit.RMS)
		}
		if fit.Tried > 5*8*(2+4) {
			t.Errorf("%v: %d mechanisms were looked at", by, fit.Tried)
		}
	}
}
