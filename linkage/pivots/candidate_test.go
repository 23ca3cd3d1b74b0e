package pivots

import (
	"math"
	"testing"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// everything is a search with a target of each kind, and all that can be required broken.
func everything() *descent {
	mm, at := linkagetest.MM, linkagetest.At
	m := linkagetest.Spec("c1")
	full := []float64{0.3, 1}
	lengths := &Target[units.Length]{At: full, Value: []units.Length{0, mm(3)}}
	s := &Search{
		Mechanism: m, Move: []Movable{{Point: "T"}, {Point: "S1"}, {Point: "R"}},
		Drive: &drivetrain.Spec{
			Drivetrain:  drivetrain.Pulleys{Chainring: 32, Sprocket: 21, Idler: &drivetrain.Idler{Teeth: 12, At: at(-60, 120), On: "CS"}},
			WheelRadius: mm(370), FrontAxleX: mm(780), MassCentre: at(60, 1120), Ground: drivetrain.GroundFront,
		},
		Targets: Targets{
			LeverRatio: &Target[float64]{At: []float64{0, 0.5}, Value: []float64{2.5, 2.4}}, Progression: &Target[float64]{Value: []float64{0.3}},
			Travel: lengths, WheelbaseGrowth: lengths, ChainGrowth: lengths,
			AntiSquat: &Target[float64]{At: full, Value: []float64{1, 1}}, AntiRise: &Target[float64]{At: full, Value: []float64{1, 1}},
			KickbackWheelFixed:   &Target[units.Angle]{At: full, Value: []units.Angle{0, 0}},
			KickbackWheelRolling: &Target[units.Angle]{At: full, Value: []units.Angle{0, 0}},
		},
		KeepOut:   []Region{{Line: []mechanism.Point{at(-100, 420), at(-30, 380), at(60, 330)}, Radius: mm(50)}},
		LeastLink: mm(170), ShockClearance: mm(110),
	}
	p := &descent{Search: s, given: m, goals: s.Targets.goals(m.Stroke), shock: 0.2}
	p.listPoints()
	for _, point := range []string{"T", "S1", "R", "M"} {
		for xy := range 2 {
			p.axes = append(p.axes, axis{point, xy, -0.02, 0.02})
		}
	}
	return p
}

// The derivatives that a search goes down by, against differences that are extrapolated.
func TestLinearResidualsAreDerivatives(t *testing.T) {
	for _, shock := range []float64{0.2, 0} {
		linearResiduals(t, shock)
	}
}

func linearResiduals(t *testing.T, shock float64) {
	p := everything()
	p.shock = shock
	x := []float64{0.003, -0.002, 0.001, 0.004, -0.001, 0.002, 0.002, -0.003}
	residuals := func(x []float64) []float64 {
		c := p.at(x)
		if math.IsInf(c.sum, 1) {
			t.Fatal("locks")
		}
		list := append([]float64{}, c.misses...)
		for _, v := range c.violations {
			list = append(list, v.by*perMetre)
		}
		if shock > 0 {
			list = append(list, abs(p.alongShock(x))*perMetre)
		}
		return list
	}
	c := p.at(x)
	j, r := p.linear(c)
	if fields := map[string]bool{}; true {
		for _, v := range c.violations {
			fields[v.field] = true
		}
		if len(fields) != 3 || len(p.goals) != 17 {
			t.Fatalf("violations of %v, %d goals", fields, len(p.goals))
		}
	}
	sum := 0.0
	of := len(c.misses) + len(c.violations)
	for i, v := range residuals(x)[:of] {
		if sum += v * v; v != r[i] {
			t.Errorf("residual %d is %v, want %v", i, r[i], v)
		}
	}
	if math.Abs(sum-c.sum) > 1e-12*sum || shock > 0 && (len(r) != of+1 || r[of] != 0) || shock == 0 && len(r) != of {
		t.Errorf("a sum of %v, want %v; the shock's residual %v", c.sum, sum, r[len(r)-1])
	}
	for k := range x {
		difference := func(h float64) []float64 {
			up, down := append([]float64{}, x...), append([]float64{}, x...)
			up[k], down[k] = x[k]+h, x[k]-h
			a, b := residuals(up), residuals(down)
			for i := range a {
				a[i] = (a[i] - b[i]) / (2 * h)
			}
			return a
		}
		wide, narrow := difference(2e-5), difference(1e-5)
		for i := range wide {
			want := (4*narrow[i] - wide[i]) / 3
			if got := j.At(i, k); math.Abs(got-want) > 1e-5*(1+math.Abs(want)) {
				t.Errorf("residual %d by axis %d: %v, want %v", i, k, got, want)
			}
		}
	}
}

// The shock gets its length by as little as will do: both ends go along it, each half
// of the way. A shock of any length stays as it is.
func TestFitShockMovesTheEndsAsLittleAsItCan(t *testing.T) {
	for by, half := range map[float64]float64{0.006: 0.003, -0.004: -0.002, 0: 0} {
		p := everything()
		p.axes = nil
		for _, point := range []string{"S1", "T", "S2"} {
			p.axes = append(p.axes, axis{point, 0, -0.02, 0.02}, axis{point, 1, -0.02, 0.02})
		}
		x := make([]float64, len(p.axes))
		length := abs(p.alongShock(x))
		p.shock = length + by
		p.fitShock(x)
		a, b := p.Mechanism.Points["S1"], p.Mechanism.Points["S2"]
		for i, axis := range p.axes {
			want := float64(b[axis.xy]-a[axis.xy]) / length * half
			switch axis.point {
			case "S1":
				want = -want
			case "T":
				want = 0
			}
			if math.Abs(x[i]-want) > 1e-12 {
				t.Errorf("%v m longer: %s[%d] moved by %g, want %g", by, axis.point, axis.xy, x[i], want)
			}
		}
		p.shock = 0
		clear(x)
		p.fitShock(x)
		for _, v := range x {
			if v != 0 {
				t.Errorf("moved by %v for a shock of any length", x)
			}
		}
	}
}

// The starts: the points as given, four over half the bounds, and eleven over all of them, where the
// multiples of the golden ratio put them.
func TestStartsAreSpread(t *testing.T) {
	p := &descent{axes: []axis{{"A", 0, -1, 1}, {"A", 1, -1, 3}, {"B", 0, 0, 2}}}
	list := p.starts()
	if len(list) != 16 {
		t.Fatalf("%d starts", len(list))
	}
	for i, x := range list {
		for k, a := range p.axes {
			multiple := float64((i-1)*3+k+1) * math.Phi
			share := multiple - math.Floor(multiple) - 0.5
			if i < 5 {
				share /= 2
			}
			want := (a.min+a.max)/2 + share*(a.max-a.min)
			if i == 0 {
				want = 0
			}
			if math.Abs(x[k]-want) > 1e-12 || x[k] < a.min || x[k] > a.max {
				t.Errorf("start %d, axis %d: %v, want %v", i, k, x[k], want)
			}
		}
	}
}

// From a mechanism that locks there is no way down.
func TestDescendNeedsAMechanismThatMoves(t *testing.T) {
	g := linkagetest.Arm{A: 80, D: 250, Phi: 0.9, R: 403, Axle: 3.3}
	s := &Search{Mechanism: g.Spec(g.DeadPoint() + 1), Targets: Targets{LeverRatio: &Target[float64]{At: []float64{0}, Value: []float64{5}}}}
	p := &descent{Search: s, goals: s.Targets.goals(0.03), axes: []axis{{"S2", 0, -0.0001, 0.0001}}}
	if c := p.descend([]float64{0}); !math.IsInf(c.sum, 1) || p.tried != 1 || p.locked != 1 {
		t.Errorf("to %v; %d tried, %d locked", c.sum, p.tried, p.locked)
	}
}

// Where nothing is left to gain the shock gets its length all the same.
func TestDescendGivesTheShockItsLength(t *testing.T) {
	p := everything()
	p.goals, p.links, p.KeepOut, p.ShockClearance = nil, nil, nil, 0
	end := p.descend(make([]float64, len(p.axes)))
	if got := abs(p.alongShock(end.x)); math.Abs(got-p.shock) > 1e-12 {
		t.Errorf("a length of %v, want %v", got, p.shock)
	}
}

// A later start's answer is taken where it is better by a hundredth and more
// than 1e-6, or where there was none.
func TestLaterAnswersMustBeBetterByAHundredth(t *testing.T) {
	inf := math.Inf(1)
	for _, test := range []struct {
		sum, best float64
		want      bool
	}{
		{5, inf, true}, {1e12, inf, true}, {inf, inf, false}, {inf, 1, false},
		{0.98, 1, true}, {0.995, 1, false}, {1, 1, false}, {1.2, 1, false}, {2, 0.5, false}, {3, 4, true},
		{0, 1e-6, false}, {0, 2e-6, true}, {0.985e-6, 2e-6, false}, {0.975e-6, 2e-6, true},
	} {
		if got := better(test.sum, test.best); got != test.want {
			t.Errorf("%v after %v: %v", test.sum, test.best, got)
		}
	}
}

// An end of the shock at its bound is free to go inward, and held where a miss asks it outward, or
// where it may be asked either way.
func TestEndsAtTheirBoundsAreFreeInwardAlone(t *testing.T) {
	p := everything()
	p.axes = []axis{{"S1", 1, -0.02, 0.02}, {"S2", 1, -0.02, 0.02}, {"T", 0, -0.02, 0.02}} // S1 is above S2
	for _, test := range []struct {
		x            []float64
		miss         float64
		upper, lower bool // whether S1 and S2 are free
	}{
		{[]float64{0, 0, 0}, 0.01, true, true}, {[]float64{0, 0, 0}, 0, true, true},
		{[]float64{0.02, 0, 0}, 0.01, false, true}, {[]float64{0.02, 0, 0}, -0.01, true, true}, {[]float64{0.02, 0, 0}, 0, false, true},
		{[]float64{-0.02, 0, 0}, 0.01, true, true}, {[]float64{-0.02, 0, 0}, -0.01, false, true}, {[]float64{-0.02, 0, 0}, 0, false, true},
		{[]float64{0, 0.02, 0}, 0.01, true, true}, {[]float64{0, 0.02, 0}, -0.01, true, false}, {[]float64{0, -0.02, 0}, 0.01, true, false},
		{[]float64{0.02, -0.02, 0.02}, 0.01, false, false},
	} {
		grows, free, sum := p.shockGrowth(test.x, test.miss)
		if !(grows[0] > 0.9 && grows[1] < -0.9 && grows[2] == 0) {
			t.Fatalf("grows by %v", grows)
		}
		want := 0.0
		for i, is := range []bool{test.upper, test.lower} {
			if is {
				want += grows[i] * grows[i]
			}
			if (free[i] != 0) != is || is && free[i] != grows[i] {
				t.Errorf("%+v: free %v", test, free)
			}
		}
		if math.Abs(sum-want) > 1e-15 {
			t.Errorf("%+v: a sum of %v, want %v", test, sum, want)
		}
	}
}

// A direction has a length of 1 even between places that are the same, or so near that a square underflows.
func TestDirectionsAreOfLengthOne(t *testing.T) {
	for _, to := range []complex128{0, 1e-200i, 3 + 4i, -1e200} {
		if d := abs(away(0, to)); !(math.Abs(d-1) <= 1e-15) { // NaN fails
			t.Errorf("to %v: %v", to, d)
		}
	}
}
