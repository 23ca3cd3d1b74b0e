package pivots

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/units"
)

// asked asks for the ratios of the invented mechanism e2 with three coordinates that
// may move; each ratio is further off by that much times the square of its number.
func asked(t *testing.T, off float64) *problem {
	t.Helper()
	k := linkagetest.Solved("e2")
	s := Search{Mechanism: k.Spec(), Move: []Movable{{"S1", 0.004, 0.002}, {"U2", 0, 0.003}}, AnyShock: true}
	for i := range 5 {
		at := k.Stroke() * units.Length(i) / 4
		s.Stroke = append(s.Stroke, at)
		s.LeverRatio = append(s.LeverRatio, k.Pose(at).LeverRatio+off*float64(i*i))
	}
	p, err := newProblem(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A step within the bounds is the least there is, for the sum is convex, where its
// slope is 0 along every coordinate between the bounds and outward at every bound.
func TestBoundedStepsAreTheBest(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	const tests = 1000
	atBounds := 0
	for range tests {
		rows, n := 1+random.IntN(30), 1+random.IntN(24)
		j := mat.NewDense(rows, n, nil)
		x, r := make([]float64, n), make([]float64, rows)
		for i := range x {
			x[i] = min(max(1.4*(2*random.Float64()-1), -1), 1) // many at a bound
			for row := range rows {
				j.Set(row, i, random.NormFloat64())
			}
		}
		for row := range r {
			r[row] = random.NormFloat64()
		}
		damping := math.Pow(10, -4+13*random.Float64())
		to := boundedStep(j, x, r, damping)
		after := predicted(j, x, r, to)
		for i, end := range to {
			slope, rounding := damping*(end-x[i]), 1e-13+damping*1e-15
			for row, v := range after {
				slope += j.At(row, i) * v
				rounding += math.Abs(j.At(row, i)*v) * 1e-11
			}
			between := math.Abs(end) < 1
			if !(math.Abs(end) <= 1) || between && !(math.Abs(slope) <= rounding) || !between && !(slope*end <= rounding) {
				t.Fatalf("from %v to %v damped by %v: coordinate %d has a slope of %v", x, to, damping, i, slope)
			}
			if !between {
				atBounds++
			}
		}
	}
	if atBounds < tests/2 {
		t.Errorf("%d bounds were met: the test looks at too little", atBounds)
	}
}

func TestPredictedResidualsAreLinear(t *testing.T) {
	j := mat.NewDense(2, 2, []float64{1, 2, 3, -4})
	if got := predicted(j, []float64{0.5, 0.25}, []float64{10, 20}, []float64{1, 1}); !slices.Equal(got, []float64{12, 18.5}) {
		t.Errorf("%v", got)
	}
}

// The scale of the damping is the greatest curvature of the ratio's and the
// anti-squat's misses, not that of the shock's. Without any effect nothing moves.
func TestDampingScaleIsTheGreatestCurvature(t *testing.T) {
	p := &problem{axes: make([]axis, 2), Search: Search{Stroke: make([]units.Length, 2)}}
	none := mat.NewDense(2, 2, nil)
	for _, test := range []struct {
		shock    float64 // 0 for any
		j        *mat.Dense
		from, to float64
	}{
		{0, mat.NewDense(4, 2, []float64{1, 2, 3, 1, 100, 200, 2, 0.5}), 40005.25, 40005.25},
		{0.2, mat.NewDense(4, 2, []float64{1, 2, 3, 1, 100, 200, 2, 0.5}), 14, 14},
		{0.2, mat.NewDense(2, 2, []float64{0.25, 0.5, 0, 0.25}), 0.3125, 0.3125},
		{0.2, none, 1e-12, 1e-6},
	} {
		p.shock = test.shock
		if got := p.curvature(test.j); !(got >= test.from && got <= test.to) {
			t.Errorf("%v with a shock of %v m: %v, want %v", test.j.RawMatrix().Data, test.shock, got, test.from)
		}
	}
	if to := boundedStep(none, []float64{0.5, -1}, []float64{1, 2}, p.curvature(none)); !slices.Equal(to, []float64{0.5, -1}) {
		t.Errorf("without any effect: to %v", to)
	}
}

// A step is taken where it gains enough of what it promises, at the damping
// given or, where that gains nothing, at more; and promises that come true ease it.
// Far from where the ratio is nearly linear they come true in part.
func TestStepsMustGainWhatTheyPromise(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for _, test := range []struct {
		bound         float64 // m of room; 0 for a few millimetres
		fully, partly int     // promises that come true, at the least
	}{{0, 120, 0}, {0.05, 40, 3}} {
		p := asked(t, 0.02)
		for i := range p.axes {
			p.axes[i].bound = max(p.axes[i].bound, test.bound)
		}
		fully, partly := 0, 0
		for i := range 160 {
			damping := []float64{1e-6, 1e-5, 1e-3, 10}[i%4]
			x := []float64{2*random.Float64() - 1, 2*random.Float64() - 1, 2*random.Float64() - 1}
			r := p.residuals(x)
			if r == nil {
				continue
			}
			j := p.linearise(x, r)
			want := boundedStep(j, x, r, damping*p.curvature(j))
			promised, after := squares(r)-squares(predicted(j, x, r, want)), p.residuals(want)
			if after == nil || !(squares(r)-squares(after) > promised/500) {
				continue
			}
			eased := damping
			if squares(r)-squares(after) > promised/2 {
				eased /= 10
				fully++
			} else {
				partly++
			}
			if next, _, damped := p.improve(j, x, r, damping); !slices.Equal(next, want) || damped != eased {
				t.Errorf("from %v: to %v, then by %v; want %v, %v", x, next, damped, want, eased)
			}
			if next, _, _ := p.improve(j, x, r, 4e12); next != nil {
				t.Errorf("damped beyond all bounds: %v", next)
			}
			if i < 8 && test.bound == 0 {
				j.Scale(-1, j) // derivatives of the wrong sign
				if next, _, _ := p.improve(j, x, r, damping); next != nil {
					t.Errorf("uphill: %v", next)
				}
			}
		}
		if fully < test.fully || partly < test.partly {
			t.Errorf("room of %v m: %d promises came true, %d in part", test.bound, fully, partly)
		}
	}
	for _, test := range [][4]float64{ // damping, gained, promised and the next damping
		{1, 3, 4, 0.1}, {1, 1.9, 4, 1}, {1, 2.1, 4, 0.1}, {1e-11, 9, 9, 1e-12}, {2e-12, 9, 9, 1e-12}, {7, 0.1, 9, 7},
	} {
		if got := eased(test[0], test[1], test[2]); math.Abs(got-test[3]) > 1e-15*test[3] {
			t.Errorf("%v: %v", test, got)
		}
	}
}
