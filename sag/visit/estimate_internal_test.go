package visit

import (
	"math"
	"testing"

	"example.com/wheelrate/units"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, rel)
	}
}

// reading is one that implies a load, give or take a standard error and a band.
func reading(load, u, low, high units.Force) ReadingReport {
	return ReadingReport{ImpliedLoad: ImpliedLoad{Load: load, StandardError: u, LoadBounds: LoadBounds{low, high, low, high}}}
}

// Weights neither overflow nor vanish, however far apart the errors are: what is
// known next to exactly stands alone.
func TestWeightsOfFarDifferentErrors(t *testing.T) {
	e := estimate([]ReadingReport{reading(500, 1, 400, 600), reading(520, 1e-200, 510, 530), reading(540, 2, 500, 600)})
	near(t, "load", float64(e.Load), 520, 1e-15)
	near(t, "stated", float64(e.StatedError), 1e-200, 1e-12)
	if e.Count != 3 || e.LoadBounds != (LoadBounds{510, 530, 510, 530}) {
		t.Errorf("%+v", e)
	}
	// Errors below 1 N, by hand: (2/0.01 + 1/0.04)/(1/0.01 + 1/0.04) more than 500.
	e = estimate([]ReadingReport{reading(502, 0.1, 400, 600), reading(501, 0.2, 400, 600)})
	near(t, "mean", float64(e.Load), 500+225./125, 1e-14)
	near(t, "stated", float64(e.StatedError), 1/math.Sqrt(125), 1e-14)
	near(t, "scatter", float64(e.ScatterError), math.Sqrt((0.2*0.2/0.01+0.8*0.8/0.04)/125), 1e-12)
	// One reading has no scatter.
	if e = estimate([]ReadingReport{reading(502, 3, 400, 600)}); e.ScatterError != 0 || e.StatedError != 3 || e.Load != 502 || e.Count != 1 {
		t.Errorf("%+v", e)
	}
}

// A median that is a reading's own bound is within it.
func TestMedianAtABoundIsNoOutlier(t *testing.T) {
	list := []ReadingReport{reading(500, 1, 400, 520), reading(520, 1, 510, 530), reading(540, 1, 520, 600), reading(520, 1, 521, 600), reading(520, 1, 400, 519)}
	e := estimate(list)
	for i, want := range []bool{false, false, false, true, true} {
		if list[i].Outlier != want {
			t.Errorf("%d: outlier %v of %+v", i, list[i].Outlier, list[i])
		}
	}
	near(t, "residual", float64(list[0].Residual), 500-float64(e.Load), 1e-12)
	for want, loads := range map[units.Force][]units.Force{3: {9, 1, 3}, 4: {9, 5, 1, 3}, 7: {7}} {
		if got := median(loads); got != want {
			t.Errorf("median %v, want %v", got, want)
		}
	}
}

// A predicted load at a bound agrees with it, and bounds that meet in one load are a
// load that all agree with.
func TestVerdictAtABound(t *testing.T) {
	for _, test := range []struct {
		bounds LoadBounds
		load   units.Force
		want   Verdict
	}{
		{LoadBounds{608, 672, 592, 688}, 608, Agrees}, {LoadBounds{608, 672, 592, 688}, 672, Agrees},
		{LoadBounds{608, 672, 592, 688}, 592, WithinFriction}, {LoadBounds{608, 672, 592, 688}, 688, WithinFriction},
		{LoadBounds{608, 672, 592, 688}, -1, Unexplained}, {LoadBounds{640, 640, 640, 640}, 640, Agrees},
		{LoadBounds{4, 6, 4, 6}, 0, NotCompared}, {LoadBounds{4, 6, 5, 4}, 0, Contradictory},
	} {
		if got := test.bounds.verdict(test.load); got != test.want {
			t.Errorf("%v against %+v: %s, want %s", test.load, test.bounds, got, test.want)
		}
	}
}

// An explanation is not what is stated already, nor what no number explains, and a
// bound that is infinite is left out.
func TestExplanationsHaveFiniteValues(t *testing.T) {
	inf := math.Inf(1)
	for _, test := range []struct {
		stated      units.Force
		low, high   float64
		needed      any // nil for no explanation
		least, most any
		relative    float64
	}{
		{5, 7, 9, units.Force(7), units.Force(7), units.Force(9), 0.4},
		{5, 1, 3, units.Force(3), units.Force(1), units.Force(3), 0.4},
		{5, 7, 7, units.Force(7), units.Force(7), units.Force(7), 0.4},
		{-5, 5, inf, units.Force(5), units.Force(5), nil, 2},
		{0, 7, inf, units.Force(7), units.Force(7), nil, 0},
		{0.5, -inf, 0.25, units.Force(0.25), nil, units.Force(0.25), 0.5},
		{5, 3, 9, nil, nil, nil, 0},       // as stated
		{5, 9, 7, nil, nil, nil, 0},       // no number
		{5, inf, inf, nil, nil, nil, 0},   // beyond all numbers
		{5, -inf, -inf, nil, nil, nil, 0}, // below all numbers
	} {
		var x explainer
		add(&x, CauseLoad, test.stated, test.low, test.high, "%s instead of %s")
		if test.needed == nil {
			if len(x.list) != 0 {
				t.Errorf("%+v: %+v", test, x.list)
			}
			continue
		}
		if len(x.list) != 1 {
			t.Fatalf("%+v: %+v", test, x.list)
		}
		e, needed := x.list[0], test.needed.(units.Force)
		if e.Needed != test.needed || e.Low != test.least || e.High != test.most || e.Stated != test.stated || e.Change != needed-test.stated {
			t.Errorf("%+v: %+v", test, e)
		}
		near(t, "relative", e.Relative, test.relative, 1e-15)
		if want := needed.Both().String() + " instead of " + test.stated.Both().String(); e.Text != want {
			t.Errorf("%q, want %q", e.Text, want)
		}
	}
}
