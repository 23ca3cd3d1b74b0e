package pivots

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/units"
)

// bent is the search of the other tests with a ratio that is further and
// further off what the linkage has.
func bent(t *testing.T, by float64) Search {
	s := asked(t)
	for i := range s.LeverRatio {
		s.LeverRatio[i] += by * float64(i*i)
	}
	return s
}

// least is the least sum of squares of r + j·s and damping times s, with x + s
// from −1 to 1: the least of those with some coordinates at a bound each and
// the rest solved for by the normal equations, over all that there are.
func least(j *mat.Dense, x, r []float64, damping float64) float64 {
	rows, n := j.Dims()
	best := math.Inf(1)
	choice := make([]int, n) // 0: free, 1 and 2: at a bound
	for {
		step := make([]float64, n)
		var free []int
		for i, c := range choice {
			if c == 0 {
				free = append(free, i)
			} else {
				step[i] = float64(2*c-3) - x[i]
			}
		}
		ok := true
		if len(free) > 0 {
			h, g := mat.NewSymDense(len(free), nil), mat.NewVecDense(len(free), nil)
			for a, i := range free {
				for row := range rows {
					v := r[row]
					for k := range n {
						v += j.At(row, k) * step[k]
					}
					g.SetVec(a, g.AtVec(a)-j.At(row, i)*v)
				}
				for b, k := range free[:a+1] {
					sum := 0.0
					for row := range rows {
						sum += j.At(row, i) * j.At(row, k)
					}
					if a == b {
						sum += damping
					}
					h.SetSym(a, b, sum)
				}
			}
			var s mat.VecDense
			ok = s.SolveVec(h, g) == nil
			for a, i := range free {
				if ok {
					step[i] = s.AtVec(a)
					ok = math.Abs(x[i]+step[i]) <= 1
				}
			}
		}
		if ok {
			best = min(best, objective(j, r, step, damping))
		}
		i := 0
		for ; i < n; i++ {
			if choice[i]++; choice[i] < 3 {
				break
			}
			choice[i] = 0
		}
		if i == n {
			return best
		}
	}
}

func objective(j *mat.Dense, r, step []float64, damping float64) float64 {
	rows, n := j.Dims()
	sum := 0.0
	for row := range rows {
		v := r[row]
		for k := range n {
			v += j.At(row, k) * step[k]
		}
		sum += v * v
	}
	for _, s := range step {
		sum += damping * s * s
	}
	return sum
}

// A step within the bounds is the best there is wherever no bound is in the
// way or none that is left again; else it is near it, and never leaves them.
func TestBoundedStepsAreTheBest(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	const tests = 1000
	worse := 0
	for range tests {
		rows, n := 1+random.IntN(5), 1+random.IntN(4)
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
		damping := math.Pow(10, -4+5*random.Float64())
		to := boundedStep(j, x, r, damping)
		step := make([]float64, n)
		for i, end := range to {
			if !(math.Abs(end) <= 1) {
				t.Fatalf("from %v to %v", x, to)
			}
			step[i] = end - x[i]
		}
		got, want := objective(j, r, step, damping), least(j, x, r, damping)
		if got < want*(1-1e-9) {
			t.Fatalf("%v is less than the least there is, %v", got, want)
		}
		if got > want*(1+1e-9) {
			worse++
		}
		// Heavily damped, nothing but downhill is left, and each coordinate by itself.
		const heavy = 1e9
		for i, end := range boundedStep(j, x, r, heavy) {
			s := end - x[i]
			down := 0.0
			for row := range r {
				down -= j.At(row, i) * r[row] / heavy
			}
			if want := min(max(x[i]+down, -1), 1) - x[i]; math.Abs(s-want) > 1e-6*math.Abs(down)+1e-16 {
				t.Fatalf("damped, coordinate %d goes by %v, want %v", i, s, want)
			}
		}
	}
	if worse > tests/10 {
		t.Errorf("%d of %d steps aren't the best", worse, tests)
	}
}

// The scale of the damping is the greatest curvature of the ratio's and the
// anti-squat's misses, not that of the shock's.
func TestDampingScaleIsTheGreatestCurvature(t *testing.T) {
	p := &problem{axes: make([]axis, 2), Search: Search{Stroke: make([]units.Length, 2)}}
	j := mat.NewDense(4, 2, []float64{1, 2, 3, 1, 100, 200, 2, 0.5})
	if got := p.curvature(j); got != 4+1+200*200+0.25 {
		t.Errorf("any shock: %v", got)
	}
	p.shock = 0.2
	if got := p.curvature(j); got != 1+9+4 {
		t.Errorf("a shock of a length: %v", got)
	}
	none := mat.NewDense(2, 2, nil)
	if got := p.curvature(none); !(got > 0 && got < 1e-6) {
		t.Errorf("of nothing: %v", got)
	}
	if to := boundedStep(none, []float64{0.5, -1}, []float64{1, 2}, p.curvature(none)); !slices.Equal(to, []float64{0.5, -1}) {
		t.Errorf("without any effect: to %v", to)
	}
	if got := p.curvature(mat.NewDense(2, 2, []float64{0.25, 0.5, 0, 0.25})); got != 0.25+0.0625 {
		t.Errorf("of less than 1: %v", got)
	}
}

// A step is taken where it gains enough of what it promises, at the damping
// given or, where that gains nothing, at more; and promises that come true ease it.
func TestStepsMustGainWhatTheyPromise(t *testing.T) {
	ask := bent(t, 0.02)
	ask.AnyShock = true
	p := checked(t, ask)
	x := []float64{0.1, -0.2, 0.3}
	r := p.residuals(x)
	j := p.linearise(x, r)
	for _, damping := range []float64{1e-3, 1, 30} {
		want := boundedStep(j, x, r, damping*p.curvature(j))
		next, after, damped := p.improve(j, x, r, damping)
		if !slices.Equal(next, want) || !slices.Equal(after, p.residuals(want)) || damped != damping/10 {
			t.Errorf("damped by %v: to %v, then by %v; want %v", damping, next, damped, want)
		}
	}
	if next, _, _ := p.improve(j, x, r, 4e12); next != nil {
		t.Errorf("damped beyond all bounds: %v", next)
	}
	// Derivatives of the wrong sign: no step gains.
	j.Scale(-1, j)
	if next, _, _ := p.improve(j, x, r, 1e-3); next != nil {
		t.Errorf("uphill: %v", next)
	}
	// Far from where the ratio is nearly linear: the promises come true in part.
	for i := range p.axes {
		p.axes[i].bound = 0.05
	}
	random, partly := rand.New(rand.NewPCG(7, 8)), 0
	for range 60 {
		x := []float64{2*random.Float64() - 1, 2*random.Float64() - 1, 2*random.Float64() - 1}
		r := p.residuals(x)
		if r == nil {
			continue
		}
		j := p.linearise(x, r)
		want := boundedStep(j, x, r, 1e-6*p.curvature(j))
		promised := squares(r) - squares(predicted(j, x, r, want))
		after := p.residuals(want)
		if after == nil || !(squares(r)-squares(after) > promised/500) {
			continue
		}
		eased := 1e-6
		if squares(r)-squares(after) > promised/2 {
			eased /= 10
		} else {
			partly++
		}
		if next, _, damped := p.improve(j, x, r, 1e-6); !slices.Equal(next, want) || damped != eased {
			t.Errorf("from %v: to %v, then by %v; want %v, %v", x, next, damped, want, eased)
		}
	}
	if partly < 3 {
		t.Errorf("%d promises came true in part", partly)
	}
	for _, test := range [][4]float64{ // damping, gained, promised and the next damping
		{1, 3, 4, 0.1}, {1, 1.9, 4, 1}, {1, 2.1, 4, 0.1}, {1e-11, 9, 9, 1e-12}, {2e-12, 9, 9, 1e-12}, {7, 0.1, 9, 7},
	} {
		if got := eased(test[0], test[1], test[2]); math.Abs(got-test[3]) > 1e-15*test[3] {
			t.Errorf("%v: %v", test, got)
		}
	}
}

// A search that starts where the mechanism locks ends there, and one that can't
// meet what is wanted ends soon.
func TestDescendEndsWhereNothingGains(t *testing.T) {
	m, _ := deadCrank(-0.001)
	p := &problem{Search: Search{Mechanism: m, Stroke: []units.Length{0, 0.001}, LeverRatio: []float64{5, 6}}, axes: []axis{{"S2", 0, 0.0001}}}
	if x, sum := p.descend([]float64{0}); x != nil || !math.IsInf(sum, 1) {
		t.Errorf("from a mechanism that locks: %v, %v", x, sum)
	}
	for _, any := range []bool{true, false} {
		ask := bent(t, 0.02)
		ask.AnyShock = any
		p := checked(t, ask)
		if _, sum := p.descend(make([]float64, 3)); !(sum > 1e-4) || p.tried > 16*(2*3+2) {
			t.Errorf("any shock %v: a sum of %v after %d mechanisms", any, sum, p.tried)
		}
	}
}
