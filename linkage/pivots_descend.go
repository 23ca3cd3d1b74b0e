package linkage

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// How a search goes downhill.
const (
	maxSteps     = 100
	gain         = 1e-9  // of the sum: a step that gains less isn't worth taking
	gainLeast    = 1e-14 // and of a sum near 0
	dampingFirst = 1e-3  // of the greatest curvature
	dampingMost  = 1e12
)

// descend goes downhill from x, within the bounds, and returns where it ends
// and the sum of the squares there: by steps that are least squares of what is
// linear in them, damped so that they don't go further than that holds
// (Levenberg and Marquardt's method). After every step the shock is given its
// length again, which is cheap and would else keep the steps short.
func (p *pivots) descend(x []float64) ([]float64, float64) {
	x = slices.Clone(x)
	p.hold(x)
	r := p.residuals(x)
	if r == nil {
		return nil, math.Inf(1)
	}
	damping := dampingFirst
	for range maxSteps {
		j := p.linearise(x, r)
		if j == nil {
			break // at the very edge of what moves
		}
		next, after, eased := p.improve(j, x, r, damping)
		if next == nil {
			break
		}
		x, r, damping = next, after, eased
	}
	return x, squares(r)
}

// improve returns the place after one step, the residuals there and the
// damping for the next, or nil where no step gains anything.
func (p *pivots) improve(j *mat.Dense, x, r []float64, damping float64) ([]float64, []float64, float64) {
	sum, size := squares(r), p.curvature(j)
	for ; damping <= dampingMost; damping *= 4 {
		step := boxed(j, x, r, damping*size)
		promised := sum - squares(predicted(j, r, step))
		if promised < 0 {
			continue // not the best step where bounds are in the way
		}
		if !(promised > gainLeast+gain*sum) {
			return nil, nil, 0
		}
		next := slices.Clone(x)
		for i := range next {
			next[i] = min(max(x[i]+step[i], -1), 1)
		}
		p.hold(next)
		after := p.residuals(next)
		if after == nil || !(sum-squares(after) > 1e-3*promised) {
			continue
		}
		if sum-squares(after) > 0.5*promised {
			damping = max(damping/10, 1e-12)
		}
		return next, after, damping
	}
	return nil, nil, 0
}

func squares(r []float64) float64 {
	v := mat.NewVecDense(len(r), r)
	return mat.Dot(v, v)
}

// predicted returns the residuals after a step, were they linear.
func predicted(j *mat.Dense, r, step []float64) []float64 {
	after := mat.NewVecDense(len(r), nil)
	after.MulVec(j, mat.NewVecDense(len(step), step))
	after.AddVec(after, mat.NewVecDense(len(r), r))
	return after.RawVector().Data
}

// curvature returns the greatest of the squares' curvatures by a coordinate,
// that of the shock's length left out: no step goes against that one.
func (p *pivots) curvature(j *mat.Dense) float64 {
	greatest := 0.0
	for i := range p.axes {
		sum := 0.0
		for row := range j.RawMatrix().Rows {
			if v := j.At(row, i); p.shock == 0 || row != len(p.ask.Stroke) {
				sum += v * v
			}
		}
		greatest = max(greatest, sum)
	}
	return greatest
}

// boxed returns the step that makes the squares of the linear residuals
// r + j·step, and damping times those of the step, as small as can be, with
// x + step from −1 to 1. Coordinates that would leave their bounds stop there
// and the rest are solved for once more, which is the best step, or nearly.
func boxed(j *mat.Dense, x, r []float64, damping float64) []float64 {
	rows, n := j.Dims()
	step := make([]float64, n)
	var downhill mat.VecDense
	downhill.MulVec(j.T(), mat.NewVecDense(rows, r))
	free := make([]int, 0, n)
	for i := range n {
		if way := -downhill.AtVec(i); way > 0 && x[i] < 1 || way < 0 && x[i] > -1 {
			free = append(free, i)
		}
	}
	for len(free) > 0 {
		// The damping as more rows of what is solved.
		a := mat.NewDense(rows+len(free), len(free), nil)
		b := mat.NewVecDense(rows+len(free), nil)
		for row, v := range predicted(j, r, step) {
			b.SetVec(row, -v)
		}
		for k, i := range free {
			a.SetCol(k, append(mat.Col(nil, i, j), make([]float64, len(free))...))
			a.Set(rows+k, k, math.Sqrt(damping))
		}
		var qr mat.QR
		qr.Factorize(a)
		solved := mat.NewVecDense(len(free), nil)
		// An error tells of a matrix near to having no inverse: a step as good
		// as any.
		_ = qr.SolveVecTo(solved, false, b)
		inside := free[:0]
		var reached []int
		for k, i := range free {
			if to := x[i] + solved.AtVec(k); to > 1 || to < -1 {
				step[i] = math.Copysign(1, to) - x[i]
				reached = append(reached, k)
			} else {
				inside = append(inside, i)
			}
		}
		if len(reached) == 0 {
			for k, i := range inside {
				step[i] = solved.AtVec(k)
			}
			return step
		}
		free = inside
	}
	return step
}
