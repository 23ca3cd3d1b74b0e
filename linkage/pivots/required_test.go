package pivots_test

import (
	"math"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func apart(m map[string]mechanism.Point, a, b string) units.Length {
	return units.Length(math.Hypot(float64(m[a][0]-m[b][0]), float64(m[a][1]-m[b][1])))
}

// The shock keeps its length or gets the one asked for, or as near as the bounds
// permit, whatever that costs the curve.
func TestFindGivesTheShockItsLength(t *testing.T) {
	only := func(point string, x, y float64) pivots.Movable {
		return pivots.Movable{Point: point, X: around("", x).X, Y: around("", y).Y}
	}
	for what, test := range map[string]struct {
		move    []pivots.Movable
		by      float64 // mm that the shock shall be longer
		nearest float64 // mm that is missed
	}{
		"as it is":                     {[]pivots.Movable{around("S1", 10)}, 0, 0},
		"one end":                      {[]pivots.Movable{around("S1", 10)}, 4, 0},
		"the other, shorter":           {[]pivots.Movable{around("S2", 10)}, -4, 0},
		"both, and another point":      {[]pivots.Movable{around("S1", 10), around("U2", 10), around("S2", 10)}, 6, 0},
		"across the shock, nearly":     {[]pivots.Movable{only("S1", 10, 0)}, 0.5, 0},
		"both ends at their bounds":    {[]pivots.Movable{only("S1", 0, 1), only("S2", 0, 1)}, 50, 48},
		"at their bounds, shorter":     {[]pivots.Movable{only("S1", 0, 1), only("S2", 0, 1)}, -30, 28},
		"one end at its bound":         {[]pivots.Movable{only("S1", 0, 1), only("S2", 0, 30)}, 20, 0},
		"one at its bound and shorter": {[]pivots.Movable{only("S1", 0, 1), only("S2", 0, 30)}, -20, 0},
		"no end":                       {[]pivots.Movable{around("U2", 10)}, 4, 4},
	} {
		ask := wanted("e2", nil, 0)
		ask.Move = test.move
		want := solved("e2").ShockLength() + mm(test.by)
		if test.by != 0 {
			ask.Shocks = []pivots.Shock{{Length: want, Stroke: ask.Mechanism.Stroke}}
		}
		fit := find(t, what, ask)
		length := apart(fit.Mechanism.Points, "S1", "S2")
		unitstest.Near(t, what, units.Length(math.Abs(float64(want-length))), mm(test.nearest), unitstest.Abs(max(mm(0.03*test.nearest), mm(1e-9))))
		unitstest.Near(t, what+" said", fit.ShockLength, length, unitstest.Rel(1e-12))
		if violated := len(fit.Violations) > 0; violated != (test.nearest > 0) || violated && (fit.Violations[0].Field != "shocks" || fit.Violations[0].By < mm(1)) {
			t.Errorf("%s: violations %+v", what, fit.Violations)
		}
	}
}

// Of several sizes the one is chosen that the targets can be met with: here the mechanism's own, and a
// travel that it has.
func TestFindChoosesTheShock(t *testing.T) {
	k := solved("e2")
	length, stroke := k.ShockLength(), k.Stroke()
	sizes := []pivots.Shock{{length, stroke * 0.9}, {length + mm(15), stroke}, {length, stroke}, {length - mm(15), stroke * 0.8}}
	ask := pivots.Search{
		Mechanism: spec("e2"), Shocks: sizes, Move: []pivots.Movable{around("S1", 5), around("U2", 5)},
		Targets: pivots.Targets{LeverRatio: curve(k), Travel: &pivots.Target[units.Length]{At: []float64{1}, Value: []units.Length{k.Travel()}}},
	}
	ask.Mechanism.Stroke = stroke * 0.8
	fit := find(t, "sizes", ask)
	if fit.Mechanism.Stroke != stroke || math.Abs(float64(fit.ShockLength-length)) > 1e-9 || fit.Misses[1].RMS > 1e-3 || !(fit.Misses[1].StartRMS > 10) {
		t.Errorf("a shock of %v with a stroke of %v, misses %+v", fit.ShockLength, fit.Mechanism.Stroke, fit.Misses)
	}
}

// A size that the bounds don't reach is no answer beside one that they do, however well its ends at their
// bounds would meet the targets. Every mechanism that any size took is counted.
func TestFindChoosesAShockThatTheBoundsReach(t *testing.T) {
	ask := wanted("a1", map[string][2]float64{"S1": {8, 8}}, 8)
	own := pivots.Shock{Length: apart(ask.Mechanism.Points, "S1", "S2"), Stroke: ask.Mechanism.Stroke}
	long := pivots.Shock{Length: own.Length + mm(50), Stroke: own.Stroke}
	answers := map[int]*pivots.Solution{}
	for n, sizes := range [][]pivots.Shock{{long}, {own}, {long, own}, {own, long}} {
		ask.Shocks = sizes
		answers[n] = find(t, "sizes", ask)
	}
	clamped, reached := answers[0], answers[1]
	unitstest.Near(t, "the long one meets the targets", clamped.Misses[0].RMS, 0, unitstest.Abs(1e-3))
	if !(reached.Misses[0].RMS > 0.1) || len(clamped.Violations) != 1 {
		t.Errorf("the test looks at too little: %+v and %+v", reached.Misses, clamped.Violations)
	}
	for _, both := range []*pivots.Solution{answers[2], answers[3]} {
		unitstest.Near(t, "length", both.ShockLength, own.Length, unitstest.Rel(1e-9))
		if both.Tried != clamped.Tried+reached.Tried || both.Locked != clamped.Locked+reached.Locked || len(both.Violations) > 0 {
			t.Errorf("%+v is not of %+v and %+v", both, clamped, reached)
		}
	}
}

// With too little room the answer lies at a bound and says so; with more room
// it comes nearer.
func TestActiveBoundsAreNamed(t *testing.T) {
	miss := math.Inf(1)
	for _, room := range []float64{1, 2, 3} {
		ask := wanted("a1", map[string][2]float64{"S1": {6, -5}}, room)
		ask.AnyShock = true
		ask.Move[0].X.Max = mm(room / 2)
		fit := find(t, "bounds", ask)
		moved, atBounds := map[string]units.Length{"x": fit.Moved[0].X, "y": fit.Moved[0].Y}, 0
		for axis, b := range map[string]pivots.Bounds{"x": ask.Move[0].X, "y": ask.Move[0].Y} {
			if by := moved[axis]; by < b.Min-1e-12 || by > b.Max+1e-12 {
				t.Errorf("room of %v mm: %s by %v", room, axis, by)
			} else if math.Abs(float64(by-b.Min)) < 1e-7 || math.Abs(float64(by-b.Max)) < 1e-7 {
				atBounds++
			}
		}
		if len(fit.ActiveBounds) != atBounds || atBounds == 0 {
			t.Errorf("room of %v mm: %d of %d bounds named", room, len(fit.ActiveBounds), atBounds)
		}
		for _, lean := range fit.ActiveBounds {
			unitstest.Near(t, "at the bound", moved[lean.Axis], lean.Bound, unitstest.Abs(mm(0.01*room)))
		}
		if !(fit.Misses[0].RMS < miss) {
			t.Errorf("more room, %v mm, misses by more: %g after %g", room, fit.Misses[0].RMS, miss)
		}
		miss = fit.Misses[0].RMS
	}
}

// nearestTo returns how near a point of a mechanism comes to a line over the stroke, by places along it.
func nearestTo(t *testing.T, m mechanism.Spec, point string, line func(map[string]mechanism.Point) [2]mechanism.Point) units.Length {
	t.Helper()
	k, err := mechanism.New(m)
	if err != nil {
		t.Fatal(err)
	}
	least := units.Length(math.Inf(1))
	for i := range 5 {
		at := k.Positions(k.Stroke() * units.Length(i) / 4)
		ends := line(at)
		for j := range 2001 {
			share := units.Length(j) / 2000
			x, y := ends[0][0]+share*(ends[1][0]-ends[0][0])-at[point][0], ends[0][1]+share*(ends[1][1]-ends[0][1])-at[point][1]
			least = min(least, units.Length(math.Hypot(float64(x), float64(y))))
		}
	}
	return least
}

// What is required comes before the targets: without it the answer lies within a region, has too short
// a link or comes too near the shock; with it none does, and misses by more.
func TestFindKeepsWhatIsRequired(t *testing.T) {
	ask := wanted("c1", map[string][2]float64{"R": {-7, 5}, "S1": {4, 3}}, 12)
	ask.AnyShock = true
	free := find(t, "free", ask)
	goal := free.Mechanism.Points
	tube := [2]mechanism.Point{{goal["R"][0] - mm(40), goal["R"][1] - mm(2)}, {goal["R"][0] + mm(40), goal["R"][1] + mm(4)}}
	link := apart(goal, "R", "S1") + mm(2.5) // the shortest of all
	inTube := func(m mechanism.Spec) units.Length {
		return nearestTo(t, m, "R", func(map[string]mechanism.Point) [2]mechanism.Point { return tube })
	}
	toShock := func(m mechanism.Spec) units.Length {
		return nearestTo(t, m, "R", func(at map[string]mechanism.Point) [2]mechanism.Point {
			return [2]mechanism.Point{at["S1"], at["S2"]}
		})
	}
	clear := toShock(free.Mechanism) + mm(2)
	for what, test := range map[string]struct {
		set   func(*pivots.Search)
		kept  func(mechanism.Spec) units.Length
		least units.Length
	}{
		"keep_out": {func(a *pivots.Search) { a.KeepOut = []pivots.Region{{Line: tube[:], Radius: mm(5)}} }, inTube, mm(5)},
		"a disc": {func(a *pivots.Search) { a.KeepOut = []pivots.Region{{Line: tube[:1], Radius: mm(42)}} }, func(m mechanism.Spec) units.Length {
			return nearestTo(t, m, "R", func(map[string]mechanism.Point) [2]mechanism.Point { return [2]mechanism.Point{tube[0], tube[0]} })
		}, mm(42)},
		"least_link":      {func(a *pivots.Search) { a.LeastLink = link }, func(m mechanism.Spec) units.Length { return apart(m.Points, "R", "S1") }, link},
		"shock_clearance": {func(a *pivots.Search) { a.ShockClearance = clear }, toShock, clear},
	} {
		if before := test.kept(free.Mechanism); !(before < test.least-mm(1)) {
			t.Errorf("%s: kept without being required, %v", what, before)
		}
		required := ask
		test.set(&required)
		fit := find(t, what, required)
		for _, v := range fit.Violations {
			if v.Point == "R" || v.Field != "shock_clearance" && v.Field != "least_link" {
				t.Errorf("%s: violated: %+v", what, v)
			}
		}
		if got := test.kept(fit.Mechanism); !(got > test.least-mm(0.005)) {
			t.Errorf("%s: %v, want %v or more", what, got, test.least)
		}
		if !(fit.Misses[0].RMS > 2*free.Misses[0].RMS) {
			t.Errorf("%s costs nothing: misses by %g, and by %g without", what, fit.Misses[0].RMS, free.Misses[0].RMS)
		}
	}
	// What can't be kept is named.
	ask.KeepOut = []pivots.Region{{Line: tube[:], Radius: mm(60)}}
	if v := find(t, "no way out", ask).Violations; len(v) != 2 || v[0].Field != "keep_out[0]" {
		t.Errorf("violations %+v", v)
	}
}

// A violation is the worst of those over the stroke, at full extension, at full stroke and at the quarters
// between.
func TestViolationIsTheWorstOverTheStroke(t *testing.T) {
	for _, place := range []units.Length{0, 0.25, 1} {
		ask := wanted("a1", map[string][2]float64{"S1": {0, 0}}, 1)
		ask.AnyShock = true
		ask.KeepOut = []pivots.Region{{Line: []mechanism.Point{solved("a1").Positions(ask.Mechanism.Stroke * place)["S1"]}, Radius: mm(50)}}
		fit := find(t, "kept out", ask)
		k, err := mechanism.New(fit.Mechanism)
		if err != nil {
			t.Fatal(err)
		}
		worst := units.Length(0)
		for i := range 5 {
			at := k.Positions(k.Stroke() * units.Length(i) / 4)
			at["centre"] = ask.KeepOut[0].Line[0]
			worst = max(worst, mm(50)-apart(at, "S1", "centre"))
		}
		if len(fit.Violations) != 1 || fit.Violations[0].Field != "keep_out[0]" || fit.Violations[0].Point != "S1" {
			t.Fatalf("violations %+v", fit.Violations)
		}
		unitstest.Near(t, "the worst", fit.Violations[0].By, worst, unitstest.Rel(1e-9))
	}
}

// A link goes from pivot to pivot, eyes of the shock included, of a body that moves: neither from the
// rear axle, 47 mm from the pivot H, nor across the frame.
func TestLinksAreBetweenPivots(t *testing.T) {
	for _, seatstay := range [][]string{{"H", "AX", "T"}, {"AX", "H", "T"}} {
		ask := wanted("c1", map[string][2]float64{"S1": {0, 0}}, 1)
		ask.AnyShock, ask.LeastLink = true, mm(100)
		ask.Mechanism.Bodies["SS"] = seatstay
		fit := find(t, "c1", ask)
		short := apart(fit.Mechanism.Points, "R", "S1") // as drawn 77 mm
		if len(fit.Violations) != 1 || fit.Violations[0].Field != "least_link" || fit.Violations[0].Point != "R, S1" {
			t.Fatalf("violations %+v", fit.Violations)
		}
		unitstest.Near(t, "too short", fit.Violations[0].By, mm(100)-short, unitstest.Rel(1e-9))
	}
}
