package leastsquares_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/spring/leastsquares"
)

type point [2]float64

// minimise searches until no gain is left but that of rounding.
func minimise(at point, squares func(point) float64, linear func(point) (*mat.Dense, []float64)) point {
	return leastsquares.Problem[point]{Squares: squares, Linear: linear, Moved: moved, Steps: 5000, Gain: 1e-17}.Minimise(at)
}

// residuals are those of Rosenbrock's function, which is 0 at (1, 1), and of a part that keeps it from 0.
func residuals(p point) []float64 { return []float64{10 * (p[1] - p[0]*p[0]), 1 - p[0], 3} }

func squares(p point) float64 {
	sum := 0.0
	for _, r := range residuals(p) {
		sum += r * r
	}
	return sum
}

func linear(p point) (*mat.Dense, []float64) {
	return mat.NewDense(3, 2, []float64{-20 * p[0], 10, -1, 0, 0, 0}), residuals(p)
}

func moved(p point, step []float64) point { return point{p[0] + step[0], p[1] + step[1]} }

func TestMinimiseFollowsACurvedValley(t *testing.T) {
	for _, start := range []point{{-1.2, 1}, {5, -20}, {1, 1}} {
		if p := minimise(start, squares, linear); !(math.Hypot(p[0]-1, p[1]-1) < 1e-9) {
			t.Errorf("from %v: %v", start, p)
		}
	}
}

// Out of bounds nothing is found, and a variable without a column stays: the least of
// 100·(y − x²)² + (1 − x)² with y = 0.25 held is where 400x³ − 98x − 2 = 0.
func TestMinimiseKeepsBoundsAndHeldVariables(t *testing.T) {
	bounded := func(p point) float64 {
		if p[0] > 0.5 {
			return math.NaN()
		}
		return squares(p)
	}
	if p := minimise(point{-1.2, 1}, bounded, linear); !(p[0] <= 0.5 && p[0] > 0.49) {
		t.Errorf("bounded at 0.5: %v", p)
	}
	held := func(p point) (*mat.Dense, []float64) {
		j, r := linear(p)
		j.SetCol(1, make([]float64, 3))
		return j, r
	}
	p := minimise(point{1, 0.25}, squares, held)
	if x := p[0]; p[1] != 0.25 || !(math.Abs(400*x*x*x-98*x-2) < 1e-6) {
		t.Errorf("held: %v", p)
	}
}

// A straight line a + b·x over x of 0, 1, 2 and 3, by hand: (JᵀJ)⁻¹ = [14 −6; −6 4]/20, and the leverages
// are 1/4 + (x − 1.5)²/5. Held, b has no error, and that of a is that of a mean.
func TestFactorIsThatOfTheCovariance(t *testing.T) {
	line := func() *mat.Dense { return mat.NewDense(4, 2, []float64{1, 0, 1, 1, 1, 2, 1, 3}) }
	check := func(j *mat.Dense, covariance [3]float64, leverages ...float64) {
		t.Helper()
		rows, leverage := leastsquares.Factor(j, 1e-12)
		var got [3]float64
		for _, r := range rows {
			got[0], got[1], got[2] = got[0]+r[0]*r[0], got[1]+r[0]*r[1], got[2]+r[1]*r[1]
		}
		for i, want := range covariance {
			if !(math.Abs(got[i]-want) < 1e-12) {
				t.Errorf("covariance %v, want %v", got, covariance)
			}
		}
		for i, want := range leverages {
			if !(math.Abs(leverage[i]-want) < 1e-12) {
				t.Errorf("leverage %v, want %v", leverage, leverages)
			}
		}
	}
	check(line(), [3]float64{0.7, -0.3, 0.2}, 0.7, 0.3, 0.3, 0.7)
	held := line()
	held.SetCol(1, make([]float64, 4))
	check(held, [3]float64{0.25, 0, 0}, 0.25, 0.25, 0.25, 0.25)
}

// Columns of length 1 at an angle θ have the singular values √(1 ± cos θ). Where the least is below the
// share of the greatest that is asked for, that share stands for it.
func TestFactorTellsColumnsThatAreAlike(t *testing.T) {
	for _, theta := range []float64{1.5, 0.1, 1e-3} {
		j := mat.NewDense(2, 2, []float64{3, 5 * math.Cos(theta), 0, 5 * math.Sin(theta)})
		greatest, least := math.Sqrt(1+math.Cos(theta)), math.Sqrt2*math.Sin(theta/2)
		rows, _ := leastsquares.Factor(j, 0.02)
		// The vectors of both values are at 45° to the columns.
		want := math.Hypot(1/greatest, 1/max(least, 0.02*greatest)) / math.Sqrt2
		if got := math.Hypot(rows[0][1], rows[1][1]) * 5; !(math.Abs(got/want-1) < 1e-9) {
			t.Errorf("error %v, want %v", got, want)
		}
	}
	if rows, leverage := leastsquares.Factor(mat.NewDense(2, 2, nil), 1e-12); len(rows) > 0 || len(leverage) != 2 {
		t.Errorf("of nothing: %v %v", rows, leverage)
	}
}

// The steps promise what they gain: a linear problem takes two, a quadratic valley few.
func TestMinimiseTakesFewSteps(t *testing.T) {
	steps := 0
	counted := func(p point) (*mat.Dense, []float64) {
		steps++
		return linear(p)
	}
	minimise(point{-1.2, 1}, squares, counted)
	if steps > 15 {
		t.Errorf("the valley takes %d steps", steps)
	}
	steps = 0
	straight := func(p point) []float64 { return []float64{p[0] - 3, 2*p[1] + p[0] - 1, 1} }
	sum := func(p point) float64 {
		r := straight(p)
		return r[0]*r[0] + r[1]*r[1] + r[2]*r[2]
	}
	p := minimise(point{}, sum, func(p point) (*mat.Dense, []float64) {
		steps++
		return mat.NewDense(3, 2, []float64{1, 0, 1, 2, 0, 0}), straight(p)
	})
	if steps > 3 || !(math.Hypot(p[0]-3, p[1]+1) < 1e-9) {
		t.Errorf("a linear problem takes %d steps to %v", steps, p)
	}
	if p := (leastsquares.Problem[point]{Squares: sum, Linear: linear, Moved: moved, Steps: 5000, Floor: 100}).Minimise(point{}); p != (point{}) {
		t.Errorf("moved to %v for a gain of less than the floor", p)
	}
}

func TestSolveScalesColumns(t *testing.T) {
	a := mat.NewDense(3, 2, []float64{1e-150, 0, 1e-150, 1e150, 1e-150, 2e150})
	x, ok := leastsquares.Solve(a, []float64{1, 3, 5})
	if !ok || !(math.Abs(x[0]/1e150-1) < 1e-12) || !(math.Abs(x[1]/2e-150-1) < 1e-12) {
		t.Errorf("%v %v", x, ok)
	}
	if _, ok := leastsquares.Solve(mat.NewDense(2, 1, []float64{math.NaN(), 1}), []float64{1, 1}); ok {
		t.Error("NaN is solved")
	}
}

// A step is one place further down: after a few the search stops on its way, and with a gain of a tenth
// it stops where the next step promises less.
func TestMinimiseEndsAtItsLimits(t *testing.T) {
	start := point{-1.2, 1}
	before := squares(start)
	for steps := range 4 {
		p := leastsquares.Problem[point]{Squares: squares, Linear: linear, Moved: moved, Steps: steps}.Minimise(start)
		if sum := squares(p); (steps == 0) != (p == start) || steps > 0 && !(sum < before) {
			t.Errorf("%d steps to %v, of the sum %v after %v", steps, p, sum, before)
		}
		before = squares(leastsquares.Problem[point]{Squares: squares, Linear: linear, Moved: moved, Steps: steps}.Minimise(start))
	}
	short := leastsquares.Problem[point]{Squares: squares, Linear: linear, Moved: moved, Steps: 5000, Gain: 0.1}.Minimise(start)
	if sum := squares(short); !(sum > 9.001) || !(sum < squares(start)) {
		t.Errorf("ended at %v, of the sum %v", short, sum)
	}
}

// Of a linear problem the gain is known: from (0, 0) the sum falls from 9 + 16 + 1 to 1. A floor, or a share
// of the sum, that is just below it lets the search go; one just above keeps it where it is.
func TestMinimiseWeighsWhatAStepPromises(t *testing.T) {
	residuals := func(p point) []float64 { return []float64{p[0] - 3, 2 * (p[1] + p[0] - 2), 1} }
	problem := leastsquares.Problem[point]{
		Squares: func(p point) (sum float64) {
			for _, r := range residuals(p) {
				sum += r * r
			}
			return sum
		},
		Linear: func(p point) (*mat.Dense, []float64) {
			return mat.NewDense(3, 2, []float64{1, 0, 2, 2, 0, 0}), residuals(p)
		},
		Moved: moved, Steps: 1,
	}
	const before, gain = 9 + 16 + 1, 25
	for _, test := range []struct {
		gain, floor float64
		moves       bool
	}{
		{0, 0.999 * gain, true}, {0, 1.001 * gain, false}, {0.999 * gain / before, 0, true}, {1.001 * gain / before, 0, false},
		{0.4 * gain / before, 0.59 * gain, true}, {0.4 * gain / before, 0.61 * gain, false},
	} {
		problem.Gain, problem.Floor = test.gain, test.floor
		if p := problem.Minimise(point{}); (p != point{}) != test.moves {
			t.Errorf("gain %v and floor %v: moved to %v", test.gain, test.floor, p)
		}
	}
}

// The last step gains less than the sum, with a part of 1000 that nothing lowers, can show. It is taken, since
// the place is known better than the sum: x² = 2 to all digits. Where it leads to a greater sum it is not taken.
func TestMinimiseTakesALastStepThatTheSumDoesNotShow(t *testing.T) {
	residual := func(p point) float64 { return p[0]*p[0] - 2 }
	problem := leastsquares.Problem[point]{
		Squares: func(p point) float64 { return residual(p)*residual(p) + 1e6 },
		Linear: func(p point) (*mat.Dense, []float64) {
			return mat.NewDense(2, 1, []float64{2 * p[0], 0}), []float64{residual(p), 1000}
		},
		Moved: func(p point, step []float64) point { return point{p[0] + step[0]} }, Steps: 100, Gain: 1e-17,
	}
	for _, off := range []float64{2e-3, -2e-3, 2e-6} {
		if p := problem.Minimise(point{math.Sqrt2 + off}); !(math.Abs(p[0]-math.Sqrt2) < 1e-11) {
			t.Errorf("from %v beside the root: %v beside it", off, p[0]-math.Sqrt2)
		}
	}
	for _, off := range []float64{2e-6, 1e-2} {
		start := point{math.Sqrt2 + off}
		for _, above := range []float64{1, 1e-5, 0, math.NaN()} {
			problem.Squares = func(p point) float64 {
				if p != start {
					return 1e6 + above
				}
				return 1e6
			}
			if p := problem.Minimise(start); p != start && (above != 0 || off > 1e-5) {
				t.Errorf("from %v beside the root to %v, where the sum is greater by %v", off, p, above)
			}
		}
	}
}

// Towards a double root each step goes half the way, as often as it is let, and needs no damping.
func TestMinimiseHalvesTheWayToADoubleRoot(t *testing.T) {
	for _, steps := range []int{1, 10, 40} {
		p := leastsquares.Problem[point]{
			Squares: func(p point) float64 { return math.Pow(p[0], 4) },
			Linear: func(p point) (*mat.Dense, []float64) {
				return mat.NewDense(1, 1, []float64{2 * p[0]}), []float64{p[0] * p[0]}
			},
			Moved: func(p point, step []float64) point { return point{p[0] + step[0]} }, Steps: steps,
		}.Minimise(point{1})
		if want := math.Pow(0.5, float64(steps)); !(math.Abs(p[0]/want-1) < 1e-5) {
			t.Errorf("%v after %d steps, want %v", p[0], steps, want)
		}
	}
}
