package pivots

import (
	"math"
	"slices"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// asked asks for an invented linkage's own ratios, with points that may move.
func asked(t *testing.T) Search {
	t.Helper()
	k, err := mechanism.New(floating())
	if err != nil {
		t.Fatal(err)
	}
	s := Search{Mechanism: floating(), Move: []Movable{{"S1", 0.004, 0.002}, {"U2", 0, 0.003}}}
	for i := range 5 {
		at := k.Stroke() * units.Length(i) / 4
		s.Stroke = append(s.Stroke, at)
		s.LeverRatio = append(s.LeverRatio, k.Pose(at).LeverRatio)
	}
	return s
}

// checked returns a search that is checked.
func checked(t *testing.T, s Search) *problem {
	t.Helper()
	p, err := newProblem(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// floating is an invented linkage with two short links and a floating shock,
// which circles alone don't solve.
func floating() mechanism.Spec {
	at := func(x, y units.Length) mechanism.Point {
		return mechanism.Point{x * units.Millimetre, y * units.Millimetre}
	}
	return mechanism.Spec{
		Points: map[string]mechanism.Point{
			"M1": at(2, 53), "M2": at(-49, 15), "U1": at(-42, 284), "U2": at(-153, 353), "AX": at(-435, 26), "S1": at(70, 299), "S2": at(33, 92),
		},
		Bodies: map[string][]string{"frame": {"M1", "U1"}, "LL": {"M1", "M2", "S2"}, "RT": {"M2", "U2", "AX"}, "UL": {"U1", "U2", "S1"}},
		Axle:   "AX", Shock: [2]string{"S1", "S2"}, Stroke: 55 * units.Millimetre,
	}
}

// deadCrank is an arm whose stroke ends a gap short of the dead point that it
// also returns, in m.
func deadCrank(gap float64) (mechanism.Spec, float64) {
	const a, d, phi = 0.08, 0.25, 0.9
	dead := math.Sqrt(a*a+d*d-2*a*d*math.Cos(phi)) - (d - a)
	return mechanism.Spec{
		Points: map[string]mechanism.Point{"P": {0, 0}, "S1": {units.Length(a * math.Cos(phi)), units.Length(a * math.Sin(phi))}, "S2": {d, 0}, "A": {-0.4, -0.05}},
		Bodies: map[string][]string{"frame": {"P", "S2"}, "arm": {"P", "S1", "A"}},
		Axle:   "A", Shock: [2]string{"S1", "S2"}, Stroke: units.Length(dead - gap),
	}, dead
}

// What a search sums: each miss of the ratio over the root of their number, a
// hundredth of a millimetre of shock as much as 0.1 of ratio all along, and the
// anti-squat by its weight.
func TestResidualsAreWeighted(t *testing.T) {
	ask := asked(t)
	d := &drivetrain.Spec{Drivetrain: drivetrain.Pulleys{Chainring: 32, Sprocket: 20}, WheelRadius: 0.37, FrontAxleX: 0.78, MassCentre: mechanism.Point{0, 1.1}, Ground: drivetrain.GroundLevel}
	p := checked(t, ask)
	k := p.start
	drive, err := drivetrain.New(k, *d)
	if err != nil {
		t.Fatal(err)
	}
	const at = 20 * units.Millimetre
	p.Drive, p.AntiSquat = d, &AntiSquat{At: at, Value: drive.At(at).AntiSquat - 0.25, Weight: 3}
	misses := []float64{0.5, -0.1, 0, 0.2, 0.3}
	for i, miss := range misses {
		ask.LeverRatio[i] -= miss
	}
	p.shock -= 1e-5
	r := p.residuals(make([]float64, len(p.axes)))
	want := []float64{0.5 / math.Sqrt(5), -0.1 / math.Sqrt(5), 0, 0.2 / math.Sqrt(5), 0.3 / math.Sqrt(5), 0.1, 0.75}
	if len(r) != len(want) {
		t.Fatalf("%d residuals, want %d", len(r), len(want))
	}
	for i := range r {
		if math.Abs(r[i]-want[i]) > 1e-9 {
			t.Errorf("residual %d is %v, want %v", i, r[i], want[i])
		}
	}
	rms, worst, where := p.misses(k)
	if math.Abs(rms-math.Sqrt((0.25+0.01+0.04+0.09)/5)) > 1e-12 || math.Abs(worst-0.5) > 1e-12 || where != 0 {
		t.Errorf("misses by %v rms, %v at %v", rms, worst, where)
	}
	if p.tried != 1 || p.locked != 0 {
		t.Errorf("%d tried, %d locked", p.tried, p.locked)
	}
	// With a drive that there can't be, here a mass centre that comes below the
	// ground, it is as if it locked.
	low := *d
	low.MassCentre[1] = 0.01
	p.Drive = &low
	if r := p.residuals(make([]float64, len(p.axes))); r != nil || p.tried != 2 || p.locked != 1 {
		t.Errorf("residuals %v, %d tried, %d locked", r, p.tried, p.locked)
	}
	// Points moved by their share of the room.
	m := p.moved([]float64{0.5, -1, 1})
	for name, by := range map[string]mechanism.Point{"S1": {0.002, -0.002}, "U2": {0, 0.003}, "U1": {}} {
		from := ask.Mechanism.Points[name]
		for axis := range 2 {
			if got := float64(m.Points[name][axis] - from[axis]); math.Abs(got-float64(by[axis])) > 1e-15 {
				t.Errorf("%s moved by %v along axis %d, want %v", name, got, axis, by[axis])
			}
		}
	}
}

// The starts: the points as given, and four others over half the bounds either
// way, sin(π/6) = 1/2, where the multiples of the golden ratio put them.
func TestStartsAreSpread(t *testing.T) {
	p := &problem{axes: make([]axis, 7)}
	list := p.starts()
	if len(list) != 5 || slices.Max(list[0]) != 0 || slices.Min(list[0]) != 0 {
		t.Fatalf("starts %v", list)
	}
	n := 0
	for _, x := range list[1:] {
		for _, v := range x {
			n++
			multiple := float64(n) * math.Phi
			if want := multiple - math.Floor(multiple) - 0.5; math.Abs(v-want) > 1e-13 {
				t.Errorf("number %d is %v, want %v", n, v, want)
			}
		}
	}
	if n != 28 {
		t.Errorf("%d coordinates", n)
	}
}

// An answer tells of its bounds with their sign, from 0.999 of them on.
func TestResultNamesActiveBounds(t *testing.T) {
	ask := asked(t)
	p := checked(t, ask)
	fit, err := p.result([]float64{-0.9991, 0.9991, 0.9989})
	if err != nil {
		t.Fatal(err)
	}
	if want := []ActiveBound{{"S1", "x", -0.004}, {"S1", "y", 0.002}}; !slices.Equal(fit.ActiveBounds, want) {
		t.Errorf("leans on %+v, want %+v", fit.ActiveBounds, want)
	}
	for i, want := range []Movement{{"S1", -0.9991 * 0.004, 0.9991 * 0.002}, {"U2", 0, 0.9989 * 0.003}} {
		got := fit.Moved[i]
		if got.Point != want.Point || math.Abs(float64(got.X-want.X)) > 1e-15 || math.Abs(float64(got.Y-want.Y)) > 1e-15 {
			t.Errorf("moved %+v, want %+v", got, want)
		}
	}
	if fit.StartRMS > 1e-9 || !(fit.RMS > 1e-3) || !(fit.Worst >= fit.RMS) {
		t.Errorf("misses by %v from %v, %v at the worst", fit.RMS, fit.StartRMS, fit.Worst)
	}
}

// The derivatives that a search goes down by, against wider differences that
// are extrapolated.
func TestLinearisedResidualsAreDerivatives(t *testing.T) {
	ask := asked(t)
	p := checked(t, ask)
	x := []float64{0.3, -0.6, 0.5}
	j := p.linearise(x, p.residuals(x))
	if j == nil {
		t.Fatal("no derivatives")
	}
	for i := range x {
		difference := func(h float64) []float64 {
			up, down := slices.Clone(x), slices.Clone(x)
			up[i], down[i] = x[i]+h, x[i]-h
			a, b := p.residuals(up), p.residuals(down)
			for k := range a {
				a[k] = (a[k] - b[k]) / (2 * h)
			}
			return a
		}
		wide, narrow := difference(0.02), difference(0.01)
		for row := range wide {
			want := (4*narrow[row] - wide[row]) / 3
			if got := j.At(row, i); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
				t.Errorf("residual %d by coordinate %d: %v, want %v", row, i, got, want)
			}
		}
	}
}

// At the very edge of what moves, where a step to one side makes a mechanism of
// no use and one to the other doesn't, there are no derivatives.
func TestNoDerivativesAtTheEdgeOfWhatMoves(t *testing.T) {
	edges := 0
	for _, gap := range []float64{4.85e-7, 4.95e-7, 5.05e-7, 5.25e-7, 5.46e-7, 5.68e-7} {
		m, _ := deadCrank(gap)
		p := &problem{
			Search: Search{Mechanism: m, Stroke: []units.Length{0, m.Stroke / 2}, LeverRatio: []float64{5, 6}, AnyShock: true},
			axes:   []axis{{"S2", 0, 0.004}},
		}
		const h = 2e-6 / 0.004
		before, here, after := p.residuals([]float64{-h}), p.residuals([]float64{0}), p.residuals([]float64{h})
		if here == nil || (before == nil) == (after == nil) {
			continue
		}
		edges++
		if j := p.linearise([]float64{0}, here); j != nil {
			t.Errorf("a gap of %v: derivatives %v", gap, j)
		}
	}
	if edges == 0 {
		t.Error("no edge was met: the test shows nothing")
	}
}

// hold gives the shock its length, by as little as will do, or as nearly as the
// bounds permit; coordinates that are none of its ends' stay.
func TestFitShockGivesTheShockItsLength(t *testing.T) {
	for _, test := range []struct {
		what    string
		move    []Movable
		by      float64 // m that the shock shall be longer
		nearest float64 // m that is missed
	}{
		{"as it is", []Movable{{"S1", 0.01, 0.01}}, 0, 0},
		{"near enough", []Movable{{"S1", 0.01, 0.01}}, 0.8e-10, 0.8e-10},
		{"one end", []Movable{{"S1", 0.01, 0.01}}, 0.004, 0},
		{"the other, shorter", []Movable{{"S2", 0.01, 0.01}}, -0.004, 0},
		{"both, and another point", []Movable{{"S1", 0.01, 0.01}, {"U2", 0.01, 0.01}, {"S2", 0.01, 0.01}}, 0.006, 0},
		{"across the shock, nearly", []Movable{{"S1", 0.01, 0}}, 0.0005, 0},
		{"both ends at their bounds", []Movable{{"S1", 0, 0.001}, {"S2", 0, 0.001}}, 0.05, 0.048},
		{"one end at its bound, the other not", []Movable{{"S1", 0, 0.001}, {"S2", 0, 0.03}}, 0.02, 0},
		{"so, but shorter", []Movable{{"S1", 0, 0.001}, {"S2", 0, 0.03}}, -0.02, 0},
		{"no end", []Movable{{"U2", 0.01, 0.01}}, 0.004, 0.004},
	} {
		ask := asked(t)
		ask.Move = test.move
		want := shockOf(ask.Mechanism) + test.by
		ask.ShockLength = units.Length(want)
		p := checked(t, ask)
		x := make([]float64, len(p.axes))
		p.fitShock(x)
		m := p.moved(x)
		got := shockOf(m)
		if math.Abs(math.Abs(got-want)-test.nearest) > max(0.03*test.nearest, 1e-10) {
			t.Errorf("%s: %v, want %v", test.what, got, want)
		}
		for name, at := range m.Points {
			from := ask.Mechanism.Points[name]
			if !slices.Contains(ask.Mechanism.Shock[:], name) && at != from {
				t.Errorf("%s: %s went to %v", test.what, name, at)
			}
		}
		if test.nearest == 0.8e-10 && slices.Max(x) != 0 {
			t.Errorf("%s: moved by %v", test.what, x)
		}
		for i, v := range x {
			if !(math.Abs(v) <= 1) {
				t.Errorf("%s: coordinate %d at %v of its bound", test.what, i, v)
			}
		}
	}
	// As little as will do: the ends go along the shock, each half of the way.
	ask := asked(t)
	ask.Move = []Movable{{"S1", 0.01, 0.02}, {"S2", 0.03, 0.01}}
	ask.ShockLength = units.Length(shockOf(ask.Mechanism) + 0.006)
	p := checked(t, ask)
	x := make([]float64, 4)
	p.fitShock(x)
	a, b := ask.Mechanism.Points["S1"], ask.Mechanism.Points["S2"]
	for i, axis := range p.axes {
		along := float64(b[axis.xy]-a[axis.xy]) / shockOf(ask.Mechanism)
		want := along * 0.003
		if axis.point == "S1" {
			want = -want
		}
		if got := x[i] * axis.bound; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s[%d] moved by %g, want %g", axis.point, axis.xy, got, want)
		}
	}
	// Any length: nothing moves.
	p.shock = 0
	clear(x)
	if p.fitShock(x); slices.Max(x) != 0 || slices.Min(x) != 0 {
		t.Errorf("moved by %v for a shock of any length", x)
	}
}

// shockOf is the length of a mechanism's shock.
func shockOf(m mechanism.Spec) float64 {
	a, b := m.Points[m.Shock[0]], m.Points[m.Shock[1]]
	return math.Hypot(float64(b[0]-a[0]), float64(b[1]-a[1]))
}

// A later start's answer is taken where it is better by a hundredth and more
// than 1e-10, or where there was none.
func TestLaterAnswersMustBeBetterByAHundredth(t *testing.T) {
	inf := math.Inf(1)
	for _, test := range []struct {
		sum, best float64
		want      bool
	}{
		{5, inf, true}, {1e12, inf, true}, {inf, inf, false}, {inf, 1, false},
		{0.98, 1, true}, {0.995, 1, false}, {1, 1, false}, {1.2, 1, false}, {2, 0.5, false}, {3, 4, true}, {1, 0.1, false},
		{0, 1e-10, false}, {0, 2e-10, true}, {0.985e-10, 2e-10, false}, {0.975e-10, 2e-10, true},
	} {
		if got := better(test.sum, test.best); got != test.want {
			t.Errorf("%v after %v: %v", test.sum, test.best, got)
		}
	}
}
