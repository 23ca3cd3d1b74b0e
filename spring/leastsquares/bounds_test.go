package leastsquares_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/spring/leastsquares"
)

// box is what the variables of a linear problem a·x ≈ b may be.
type box struct {
	a        *mat.Dense
	b        []float64
	low, top float64 // of each variable
}

func (p box) residuals(x []float64) []float64 {
	var r mat.VecDense
	r.MulVec(p.a, mat.NewVecDense(len(x), x))
	r.SubVec(&r, mat.NewVecDense(len(p.b), p.b))
	return r.RawVector().Data
}

func (p box) squares(x []float64) (sum float64) {
	for _, r := range p.residuals(x) {
		sum += r * r
	}
	for _, v := range x {
		if v < p.low*(1+1e-12) || v > p.top*(1+1e-12) {
			return math.NaN()
		}
	}
	return sum
}

// least returns the least sum by trying all ways of holding variables at their bounds.
func (p box) least() float64 {
	n, k := p.a.Dims()
	best := math.Inf(1)
	for way := range int(math.Pow(3, float64(k))) {
		x, right, free := make([]float64, k), append([]float64{}, p.b...), []int{}
		for i := range k {
			switch way % 3 {
			case 0:
				free = append(free, i)
			case 1:
				x[i] = p.low
			case 2:
				x[i] = p.top
			}
			way /= 3
			for row := range right {
				right[row] -= p.a.At(row, i) * x[i]
			}
		}
		if len(free) > 0 {
			part := mat.NewDense(n, len(free), nil)
			for column, i := range free {
				part.SetCol(column, mat.Col(nil, i, p.a))
			}
			solution, _ := leastsquares.Solve(part, right)
			for column, i := range free {
				x[i] = solution[column]
			}
		}
		if sum := p.squares(x); sum < best {
			best = sum
		}
	}
	return best
}

// Within bounds a linear problem comes to the least of all places, whichever variables are held there.
func TestMinimiseKeepsRoom(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	held := 0
	for n := range 60 {
		size := []float64{1, 1e-8}[n%2] // of residuals and bounds
		p := box{a: mat.NewDense(6, 4, nil), b: make([]float64, 6), low: -0.5 * size, top: 0.8 * size}
		for row := range 6 {
			p.b[row] = size * random.NormFloat64()
			for column := range 4 {
				p.a.Set(row, column, random.NormFloat64())
			}
		}
		steps := 0
		problem := leastsquares.Problem[[]float64]{
			Squares: p.squares,
			Linear:  func(x []float64) (*mat.Dense, []float64) { steps++; return mat.DenseCopyOf(p.a), p.residuals(x) },
			Moved: func(x, step []float64) []float64 {
				next := make([]float64, len(x))
				for i := range x {
					next[i] = x[i] + step[i]
				}
				return next
			},
			Room: func(x []float64) (down, up []float64) {
				for _, v := range x {
					down, up = append(down, p.low-v), append(up, p.top-v)
				}
				return down, up
			},
			Steps: 50, Gain: 1e-17,
		}
		for _, start := range [][]float64{{0, 0, 0, 0}, {p.low, p.top, p.low, p.top}} {
			steps = 0
			x := problem.Minimise(start)
			if got, want := p.squares(x), p.least(); !(math.Abs(got-want) <= 1e-9*(size*size+want)) || steps > 6 {
				t.Errorf("a sum of %v after %d steps, want %v", got, steps, want)
			}
			for _, v := range x {
				if v == p.low || v == p.top {
					held++
				}
			}
		}
	}
	if held < 60 {
		t.Errorf("%d variables at bounds: the test shows little", held)
	}
}

// A residual that weighs much, and counts as a constraint, does not shorten the steps along the valley
// that it makes: x + y stays 1, and (x − 3)² + (y² − 4)² is least where 4y³ − 14y + 4 = 0, on the right side.
func TestLooseResidualsSetTheScale(t *testing.T) {
	steps := 0
	residuals := func(p point) []float64 { return []float64{p[0] - 3, p[1]*p[1] - 4, 1e7 * (p[0] + p[1] - 1)} }
	problem := leastsquares.Problem[point]{
		Squares: func(p point) (sum float64) {
			for _, r := range residuals(p) {
				sum += r * r
			}
			return sum
		},
		Linear: func(p point) (*mat.Dense, []float64) {
			steps++
			return mat.NewDense(3, 2, []float64{1, 0, 0, 2 * p[1], 1e7, 1e7}), residuals(p)
		},
		Moved: moved, Steps: 100, Gain: 1e-14, Loose: 2,
	}
	p := problem.Minimise(point{2, -1})
	if y := p[1]; !(math.Abs(p[0]+y-1) < 1e-9) || !(math.Abs(4*y*y*y-14*y+4) < 1e-3) || steps > 9 {
		t.Errorf("%v after %d steps", p, steps)
	}
}
