package pivots

import (
	"math"
	"slices"
	"testing"

	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/units"
)

// The starts: the points as given, and four others over half the bounds either
// way, where the multiples of the golden ratio put them.
func TestStartsAreSpread(t *testing.T) {
	p := &problem{axes: make([]axis, 7)}
	list := p.starts()
	if len(list) != 5 || slices.Max(list[0]) != 0 || slices.Min(list[0]) != 0 {
		t.Fatalf("starts %v", list)
	}
	for i, v := range slices.Concat(list[1:]...) {
		multiple := float64(i+1) * math.Phi
		if want := multiple - math.Floor(multiple) - 0.5; math.Abs(v-want) > 1e-13 {
			t.Errorf("number %d is %v, want %v", i, v, want)
		}
	}
}

// The derivatives that a search goes down by, against wider differences that
// are extrapolated.
func TestLinearisedResidualsAreDerivatives(t *testing.T) {
	p := asked(t, 0)
	p.shock = 0.2
	x := []float64{0.3, -0.6, 0.5}
	j := p.linearise(x, p.residuals(x))
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

// The shock gets its length by as little as will do: both ends go along it, each half
// of the way. Less than a tenth of a nanometre is not made up for, and a shock of any
// length stays as it is.
func TestFitShockMovesTheEndsAsLittleAsItCan(t *testing.T) {
	for by, half := range map[float64]float64{0.006: 0.003, -0.004: -0.002, 0.8e-10: 0, 0: 0} {
		p := asked(t, 0)
		p.Move = []Movable{{"S1", 0.01, 0.02}, {"U2", 0.01, 0.01}, {"S2", 0.03, 0.01}}
		p.axes = nil
		p.addMoves(&units.Checker{})
		length := float64(p.start.ShockLength())
		p.shock = length + by
		x := make([]float64, len(p.axes))
		p.fitShock(x)
		a, b := p.Mechanism.Points["S1"], p.Mechanism.Points["S2"]
		for i, axis := range p.axes {
			want := float64(b[axis.xy]-a[axis.xy]) / length * half
			switch axis.point {
			case "S1":
				want = -want
			case "U2":
				want = 0
			}
			if got := x[i] * axis.bound; math.Abs(got-want) > 1e-12 {
				t.Errorf("%v m longer: %s[%d] moved by %g, want %g", by, axis.point, axis.xy, got, want)
			}
		}
		p.shock = 0
		clear(x)
		if p.fitShock(x); slices.Max(x) != 0 || slices.Min(x) != 0 {
			t.Errorf("moved by %v for a shock of any length", x)
		}
	}
}

// An end at its bound leaves the rest of the way to the other.
func TestFitShockKeepsToTheBounds(t *testing.T) {
	for _, by := range []float64{0.02, -0.02} {
		p := asked(t, 0)
		p.Move, p.axes = []Movable{{"S1", 0, 0.001}, {"S2", 0, 0.03}}, nil
		p.addMoves(&units.Checker{})
		p.shock = float64(p.start.ShockLength()) + by
		x := make([]float64, 2)
		p.fitShock(x)
		m := p.moved(x)
		a, b := m.Points["S1"], m.Points["S2"]
		length := math.Hypot(float64(a[0]-b[0]), float64(a[1]-b[1]))
		if math.Abs(length-p.shock) > 1e-10 || !(math.Abs(x[0]) > 0.99 && math.Abs(x[0]) <= 1 && math.Abs(x[1]) < 1) {
			t.Errorf("%v m longer: %v m missed, with the ends at %v of their bounds", by, length-p.shock, x)
		}
	}
}

// From a mechanism that locks there is no way down.
func TestDescendNeedsAMechanismThatMoves(t *testing.T) {
	g := linkagetest.Arm{A: 80, D: 250, Phi: 0.9, R: 403, Axle: 3.3}
	p := &problem{Search: Search{Mechanism: g.Spec(g.DeadPoint() + 1), Stroke: []units.Length{0, 0.001}, LeverRatio: []float64{5, 6}}, axes: []axis{{"S2", 0, 0.0001}}}
	if x, sum := p.descend([]float64{0}); x != nil || !math.IsInf(sum, 1) || p.tried != 1 || p.locked != 1 {
		t.Errorf("to %v, %v; %d tried, %d locked", x, sum, p.tried, p.locked)
	}
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
