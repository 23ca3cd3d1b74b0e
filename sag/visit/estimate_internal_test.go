package visit

import (
	"math"
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// reading is one that implies a load, give or take a standard error and a band.
func reading(load, u, low, high units.Force) ReadingReport {
	return ReadingReport{ImpliedLoad: ImpliedLoad{Load: load, StandardError: u, LoadBounds: LoadBounds{low, high, low, high}}}
}

// Weights neither overflow nor vanish, however far apart the errors are: what is
// known next to exactly stands alone.
func TestWeightsOfFarDifferentErrors(t *testing.T) {
	e := estimate([]ReadingReport{reading(500, 1, 400, 600), reading(520, 1e-200, 510, 530), reading(540, 2, 500, 600)})
	unitstest.Near(t, "load", float64(e.Load), 520, unitstest.Rel(1e-15))
	unitstest.Near(t, "stated", float64(e.StatedError), 1e-200, unitstest.Rel(1e-12))
	if e.Count != 3 || e.LoadBounds != (LoadBounds{510, 530, 510, 530}) {
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
	unitstest.Near(t, "residual", float64(list[0].Residual), 500-float64(e.Load), unitstest.Rel(1e-12))
	for want, loads := range map[units.Force][]units.Force{3: {9, 1, 3}, 4: {9, 5, 1, 3}, 7: {7}} {
		if got := median(loads); got != want {
			t.Errorf("median %v, want %v", got, want)
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
		unitstest.Near(t, "relative", e.Relative, test.relative, unitstest.Rel(1e-15))
		if want := needed.Both().String() + " instead of " + test.stated.Both().String(); e.Text != want {
			t.Errorf("%q, want %q", e.Text, want)
		}
	}
}
