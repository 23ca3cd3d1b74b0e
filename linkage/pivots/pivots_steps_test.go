package pivots

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// asked asks for an invented linkage's own ratios, with points that may move.
func asked(t *testing.T) *search {
	t.Helper()
	k, err := mechanism.New(floating())
	if err != nil {
		t.Fatal(err)
	}
	p := &search{ask: Search{Mechanism: floating(), Move: []Movable{{"S1", 0.004, 0.002}, {"U2", 0, 0.003}}}}
	for i := range 5 {
		s := k.Stroke() * units.Length(i) / 4
		p.ask.Stroke = append(p.ask.Stroke, s)
		p.ask.LeverRatio = append(p.ask.LeverRatio, k.Pose(s).LeverRatio)
	}
	return p
}

// The bounds in the doc comments of Search and Find, each taken at its
// very value and refused beyond.
func TestSearchBounds(t *testing.T) {
	up := func(v units.Length) units.Length { return units.Length(math.Nextafter(float64(v), math.Inf(1))) }
	strokes := func(n int) func(*Search) {
		return func(a *Search) {
			a.Stroke, a.LeverRatio = nil, nil
			for i := range n {
				a.Stroke = append(a.Stroke, a.Mechanism.Stroke*units.Length(i)/units.Length(max(n-1, 1)))
				a.LeverRatio = append(a.LeverRatio, 2.5)
			}
		}
	}
	moves := func(n int) func(*Search) {
		return func(a *Search) {
			a.Move = nil
			for i := range n {
				name := fmt.Sprint("mark", i)
				a.Mechanism.Points[name] = mechanism.Point{}
				a.Mechanism.Bodies["RT"] = append(a.Mechanism.Bodies["RT"], name)
				a.Move = append(a.Move, Movable{Point: name, X: 0.001})
			}
		}
	}
	wish := func(w AntiSquat) func(*Search) {
		return func(a *Search) {
			a.Drive = &drivetrain.Spec{Drivetrain: drivetrain.Pulleys{Chainring: 32, Sprocket: 20}, WheelRadius: 0.37, FrontAxleX: 0.78, MassCentre: mechanism.Point{0, 1.1}, Ground: drivetrain.GroundLevel}
			a.AntiSquat = &w
		}
	}
	const full = 55 * units.Millimetre
	for _, test := range []struct {
		what string
		set  func(*Search)
		want []string
	}{
		{"as it is", func(*Search) {}, nil},
		{"12 points", moves(12), nil},
		{"13 points", moves(13), []string{"move"}},
		{"1 m of room", func(a *Search) { a.Move[0].X, a.Move[1].Y = 1, 1 }, nil},
		{"more room", func(a *Search) { a.Move[0].X, a.Move[1].Y = up(1), up(1) }, []string{"move[0].x", "move[1].y"}},
		{"2 strokes", strokes(2), nil},
		{"1 stroke", strokes(1), []string{"stroke"}},
		{"200 strokes", strokes(200), nil},
		{"201 strokes", strokes(201), []string{"stroke"}},
		{"the same stroke twice", func(a *Search) { a.Stroke[2] = a.Stroke[1] }, []string{"stroke[2]"}},
		{"the first stroke twice", func(a *Search) { a.Stroke[1] = a.Stroke[0] }, []string{"stroke[1]"}},
		{"a first stroke below 0", func(a *Search) { a.Stroke[0] = -1e-9 }, []string{"stroke[0]"}},
		{"beyond full stroke", func(a *Search) { a.Stroke[4] = full * (1 + 1e-6) }, []string{"stroke[4]"}},
		{"ratios at their limits", func(a *Search) { a.LeverRatio[0], a.LeverRatio[4] = 0.001, 1000 }, nil},
		{"ratios beyond", func(a *Search) {
			a.LeverRatio[0], a.LeverRatio[4] = math.Nextafter(0.001, 0), math.Nextafter(1000, 2000)
		}, []string{"lever_ratio[0]", "lever_ratio[4]"}},
		{"a shock as long as the stroke", func(a *Search) { a.ShockLength = full }, []string{"shock_length"}},
		{"a shock a little longer", func(a *Search) { a.ShockLength = up(full) }, nil},
		{"the shortest shock", func(a *Search) {
			strokes(2)(a)
			a.Mechanism.Stroke, a.Stroke[1], a.ShockLength = 1e-6, 1e-6, 1.1e-6
		}, nil},
		{"a shock of 1 km", func(a *Search) { a.ShockLength = 1e3 }, nil},
		{"a longer one", func(a *Search) { a.ShockLength = up(1e3) }, []string{"shock_length"}},
		{"no anti-squat, of no weight, at full extension", wish(AntiSquat{}), nil},
		{"anti-squat of the most weight, at full stroke", wish(AntiSquat{At: full, Value: -3, Weight: 1000}), nil},
		{"a stroke of less than 0, too little weight", wish(AntiSquat{At: -1e-9, Weight: -1e-9}), []string{"anti_squat.at", "anti_squat.weight"}},
		{"beyond full stroke, too much weight", wish(AntiSquat{At: full * (1 + 1e-6), Weight: math.Nextafter(1000, 2000)}), []string{"anti_squat.at", "anti_squat.weight"}},
	} {
		p := asked(t)
		test.set(&p.ask)
		_, err := p.check()
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		slices.Sort(got)
		if !slices.Equal(got, test.want) {
			t.Errorf("%s: refused %q, want %q (%v)", test.what, got, test.want, err)
		}
	}
	// A length that is below both limits is refused for each of them.
	p := asked(t)
	p.ask.ShockLength = 0.5e-6
	if _, err := p.check(); !errors.Is(err, units.ErrRange) {
		t.Errorf("a shock of half a micrometre: %v", err)
	}
}

// What a search sums: each miss of the ratio over the root of their number, a
// hundredth of a millimetre of shock as much as 0.1 of ratio all along, and the
// anti-squat by its weight.
func TestWhatASearchMisses(t *testing.T) {
	p := asked(t)
	d := &drivetrain.Spec{Drivetrain: drivetrain.Pulleys{Chainring: 32, Sprocket: 20}, WheelRadius: 0.37, FrontAxleX: 0.78, MassCentre: mechanism.Point{0, 1.1}, Ground: drivetrain.GroundLevel}
	k, err := p.check()
	if err != nil {
		t.Fatal(err)
	}
	drive, err := drivetrain.New(k, *d)
	if err != nil {
		t.Fatal(err)
	}
	const at = 20 * units.Millimetre
	p.ask.Drive, p.ask.AntiSquat = d, &AntiSquat{At: at, Value: drive.AntiSquat(at) - 0.25, Weight: 3}
	misses := []float64{0.5, -0.1, 0, 0.2, 0.3}
	for i, miss := range misses {
		p.ask.LeverRatio[i] -= miss
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
	p.ask.Drive = &low
	if r := p.residuals(make([]float64, len(p.axes))); r != nil || p.tried != 2 || p.locked != 1 {
		t.Errorf("residuals %v, %d tried, %d locked", r, p.tried, p.locked)
	}
	// Points moved by their share of the room.
	m := p.moved([]float64{0.5, -1, 1})
	for name, by := range map[string]mechanism.Point{"S1": {0.002, -0.002}, "U2": {0, 0.003}, "U1": {}} {
		from := p.ask.Mechanism.Points[name]
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
	p := &search{axes: make([]moveAxis, 7)}
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
func TestAnswerLeans(t *testing.T) {
	p := asked(t)
	k, err := p.check()
	if err != nil {
		t.Fatal(err)
	}
	fit, err := p.answer(k, []float64{-0.9991, 0.9991, 0.9989})
	if err != nil {
		t.Fatal(err)
	}
	if want := []Lean{{"S1", "x", -0.004}, {"S1", "y", 0.002}}; !slices.Equal(fit.Leans, want) {
		t.Errorf("leans on %+v, want %+v", fit.Leans, want)
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
func TestLinearise(t *testing.T) {
	p := asked(t)
	if _, err := p.check(); err != nil {
		t.Fatal(err)
	}
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

// Where an answer exists, damped least squares come to it in a few steps,
// each of which looks at a mechanism for its sum and at two for every coordinate
// for the derivatives: six steps, and one try over in each, are plenty.
func TestDescendTakesFewSteps(t *testing.T) {
	for _, by := range []units.Length{0.0005, -0.001, 0.0015} {
		p := asked(t)
		p.ask.AnyShock = true
		from := p.ask.Mechanism.Points["S1"]
		p.ask.Mechanism.Points["S1"] = mechanism.Point{from[0] + by, from[1] - by/2}
		p.ask.Move = []Movable{{"S1", 0.004, 0.004}}
		if _, err := p.check(); err != nil {
			t.Fatal(err)
		}
		x, sum := p.descend(make([]float64, 2))
		if !(sum < 1e-10) {
			t.Errorf("%v: ends at a sum of %g", by, sum)
		}
		at := p.moved(x).Points["S1"]
		if d := math.Hypot(float64(at[0]-from[0]), float64(at[1]-from[1])); d > 1e-5 {
			t.Errorf("%v: ends %g m away", by, d)
		}
		if p.tried > 6*(2+5) {
			t.Errorf("%v: %d mechanisms were looked at", by, p.tried)
		}
	}
}

// A later start's answer is taken where it is better by a hundredth and more
// than 1e-10, or where there was none.
func TestBetterAnswers(t *testing.T) {
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

// At the very edge of what moves, where a step to one side makes a mechanism of
// no use and one to the other doesn't, there are no derivatives.
func TestLineariseAtTheEdge(t *testing.T) {
	edges := 0
	for _, gap := range []float64{4.85e-7, 4.95e-7, 5.05e-7, 5.25e-7, 5.46e-7, 5.68e-7} {
		m, _ := deadCrank(gap)
		p := &search{
			ask:  Search{Mechanism: m, Stroke: []units.Length{0, m.Stroke / 2}, LeverRatio: []float64{5, 6}, AnyShock: true},
			axes: []moveAxis{{"S2", 0, 0.004}},
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
