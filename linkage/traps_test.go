package linkage_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// What gonum's interpolators do with a table as it comes, and what a curve
// does instead. Where gonum is looked at first, it is to see that the trap is
// still there: a change of it should be noticed here.

// Outside the table a value of gonum's stands still and its derivative
// doesn't. A curve is what it is at its end.
func TestTrapOutside(t *testing.T) {
	ref := refTables(t)[0]
	var fit interp.FritschButland
	if err := fit.Fit(ref.Stroke, ref.Travel); err != nil {
		t.Fatal(err)
	}
	if fit.Predict(100) != 154.7 || fit.PredictDerivative(100) == 0 {
		t.Errorf("gonum has changed: value %v, derivative %v", fit.Predict(100), fit.PredictDerivative(100))
	}
	c := curve(t, ref.table(linkage.Monotone))
	for _, s := range []units.Length{mm(62.5), mm(62.6), mm(100), 1e9, units.Length(math.Inf(1))} {
		if c.TravelAt(s) != mm(154.7) || c.LeverRatio(s) != c.LeverRatio(c.Stroke()) || c.LeverRatioSlope(s) != c.LeverRatioSlope(c.Stroke()) {
			t.Errorf("beyond full stroke at %v: %v, %v, %v", s, c.TravelAt(s), c.LeverRatio(s), c.LeverRatioSlope(s))
		}
	}
	for _, s := range []units.Length{0, mm(-0.1), -1e9, units.Length(math.Inf(-1))} {
		if c.TravelAt(s) != 0 || c.LeverRatio(s) != c.LeverRatio(0) || c.LeverRatioSlope(s) != c.LeverRatioSlope(0) {
			t.Errorf("before full extension at %v: %v, %v, %v", s, c.TravelAt(s), c.LeverRatio(s), c.LeverRatioSlope(s))
		}
	}
}

// NaN in a table passes gonum's Fit and poisons what comes out; as an argument
// it gives the first value.
func TestTrapNaN(t *testing.T) {
	var fit interp.FritschButland
	if err := fit.Fit([]float64{0, math.NaN(), 2}, []float64{0, 1, 2}); err != nil {
		t.Errorf("gonum has changed: %v", err)
	}
	for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth, linkage.Measured} {
		table := refTables(t)[0].table(method)
		table.Stroke[2], table.Travel[5] = units.Length(math.NaN()), units.Length(math.NaN())
		_, err := linkage.NewTable(table)
		refuses(t, err, "stroke[2]", "travel[5]")
	}
}

// Too few points, unsorted and unequal columns make gonum panic; here they are
// errors, in TestTableRefuses, for each method.
func TestTrapPanics(t *testing.T) {
	for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth, linkage.Measured} {
		for _, table := range []linkage.Table{
			{},
			{Stroke: lengths(0), Travel: lengths(0)},
			{Stroke: lengths(0, 10, 20, 30), Travel: lengths(0, 1)},
			{Stroke: lengths(0, 10, 5, 30, 40, 50, 60, 70), Travel: lengths(0, 10, 20, 30, 40, 50, 60, 70)},
			{Stroke: lengths(0, 10, 10, 30, 40, 50, 60, 70), Travel: lengths(0, 10, 20, 30, 40, 50, 60, 70)},
		} {
			table.Method = method
			if c, err := linkage.NewTable(table); err == nil || c != nil {
				t.Errorf("%s: %v accepted", method, table)
			}
		}
	}
}

// The zero value of gonum's predictors panics; that of a curve answers.
func TestTrapZeroValue(t *testing.T) {
	var c linkage.Curve
	if c.TravelAt(mm(10)) != 0 || c.StrokeAt(mm(10)) != 0 || c.LeverRatio(mm(10)) != 1 || c.LeverRatioSlope(0) != 0 ||
		c.Stroke() != 0 || c.Travel() != 0 || c.Progression() != (linkage.Progression{}) {
		t.Error("the zero curve has a stroke, a travel or another ratio than 1")
	}
	for s := range c.Samples(3) {
		if s != (linkage.Sample{LeverRatio: 1}) {
			t.Errorf("sample %+v", s)
		}
	}
}

// A spline overshoots a step and would run backwards; a clamped one would
// start and end with a ratio of 0.
func TestTrapOvershoot(t *testing.T) {
	step := linkage.Table{Stroke: lengths(0, 10, 20, 30, 40, 50), Travel: lengths(0, 60, 120, 121, 122, 123), Method: linkage.Smooth}
	_, err := linkage.NewTable(step)
	refuses(t, err, "travel")
	step.Method = linkage.Monotone
	soundCurve(t, curve(t, step))

	for _, ref := range refTables(t) {
		for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth} {
			if p := curve(t, ref.table(method)).Progression(); p.Start < 2.5 || p.End < 2.1 {
				t.Errorf("%s, %s: ratios %v and %v at the ends", ref.Name, method, p.Start, p.End)
			}
		}
	}
}

// The monotone curve may stand still at an end that the points bend into: its
// three-point end gives ((2+1)·1 − 1·9)/2 < 0, so 0. A wheel that does not
// move gives the shock no force, so this is refused.
func TestTrapFlatEnd(t *testing.T) {
	_, err := linkage.NewTable(linkage.Table{Stroke: lengths(0, 1, 2), Travel: lengths(0, 1, 10)})
	refuses(t, err, "travel")
	soundCurve(t, curve(t, linkage.Table{Stroke: lengths(0, 1, 2), Travel: lengths(0, 4, 10)}))
}

// The slope of a monotone curve's ratio jumps at the points: the right-hand
// value counts, at full stroke the left-hand one.
func TestTrapSlopeJumps(t *testing.T) {
	ref := refTables(t)[3]
	c := curve(t, ref.table(linkage.Monotone))
	const knot = 15.0
	exact := ref.Exact[linkage.Monotone].Slope[4] * 1e3 // right-hand, exact arithmetic
	left := c.LeverRatioSlope(mm(knot - 1e-6)).PerMetre()
	right := c.LeverRatioSlope(mm(knot + 1e-6)).PerMetre()
	if math.Abs(left-right) < 0.1 {
		t.Fatalf("no jump: %v and %v", left, right)
	}
	for _, s := range []units.Length{mm(knot), units.Length(math.Nextafter(0.015, 0)), units.Length(math.Nextafter(0.015, 1)), 3 * mm(5)} {
		if at := c.LeverRatioSlope(s).PerMetre(); math.Abs(at-exact) > 1e-9 {
			t.Errorf("slope %v at %v, want the right-hand %v", at, s, exact)
		}
	}
	end := c.LeverRatioSlope(c.Stroke()).PerMetre()
	if want := c.LeverRatioSlope(c.Stroke() - 1e-9).PerMetre(); math.Abs(end-want) > 1e-4 {
		t.Errorf("slope %v at full stroke, want the left-hand %v", end, want)
	}
}
