package pivots

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// How a search goes downhill.
const (
	maxSteps   = 100
	gain       = 1e-9  // of the sum: a step that gains less isn't worth taking
	gainLeast  = 1e-14 // and of a sum near 0
	leastShare = 1e-3  // of what a step promises, that it must gain

	dampingFirst, dampingLeast, dampingMost = 1e-3, 1e-12, 1e12 // of the greatest curvature
)

// descend goes downhill from x within the bounds by Levenberg and Marquardt's method,
// and returns where it ends and the sum of the squares there. After every step the
// shock is given its length again; without that the steps would have to be short.
func (p *problem) descend(x []float64) ([]float64, float64) {
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
// damping for the next, or nil if no step gains anything.
func (p *problem) improve(j *mat.Dense, x, r []float64, damping float64) ([]float64, []float64, float64) {
	sum, size := squares(r), p.curvature(j)
	for ; damping <= dampingMost; damping *= 4 {
		next := boundedStep(j, x, r, damping*size)
		promised := sum - squares(predicted(j, x, r, next))
		if promised < 0 {
			continue // not the best step where bounds are in the way
		}
		if !(promised > gainLeast+gain*sum) {
			return nil, nil, 0
		}
		p.fitShock(next)
		after := p.residuals(next)
		if after != nil && sum-squares(after) > leastShare*promised {
			return next, after, eased(damping, sum-squares(after), promised)
		}
	}
	return nil, nil, 0
}

// eased returns the damping for the step after one that gained so much where so much was promised.
func eased(damping, gained, promised float64) float64 {
	if gained > promised/2 {
		return max(damping/10, dampingLeast)
	}
	return damping
}

func squares(r []float64) float64 { return floats.Dot(r, r) }

// predicted returns what the residuals at another place were, if they were linear.
func predicted(j *mat.Dense, x, r, to []float64) []float64 {
	step := floats.SubTo(make([]float64, len(x)), to, x)
	after := mat.NewVecDense(len(r), nil)
	after.MulVec(j, mat.NewVecDense(len(x), step))
	return floats.AddTo(make([]float64, len(r)), after.RawVector().Data, r)
}

// curvature returns the greatest curvature of the squares by a coordinate. The
// shock's length is left out, since no step goes against that. It is never 0, so that
// coordinates without any effect stay where they are.
func (p *problem) curvature(j *mat.Dense) float64 {
	greatest := 1e-9
	for i := range p.axes {
		sum := 0.0
		for row, v := range mat.Col(nil, i, j) {
			if p.shock == 0 || row != len(p.Stroke) {
				sum += v * v
			}
		}
		greatest = max(greatest, sum)
	}
	return greatest
}

// boundedStep returns the place from −1 to 1 with the least sum of the squares of the linear
// residuals there and damping times those of the step from x. Coordinates that would leave their
// bounds stop there and the rest are solved for once more, which is the best place, or nearly.
func boundedStep(j *mat.Dense, x, r []float64, damping float64) []float64 {
	rows, n := j.Dims()
	to, free := slices.Clone(x), make([]int, n)
	for i := range free {
		free[i] = i
	}
	for len(free) > 0 {
		// The damping as more rows of what is solved.
		a := mat.NewDense(rows+len(free), len(free), nil)
		b := mat.NewVecDense(rows+len(free), nil)
		for row, v := range predicted(j, x, r, to) {
			b.SetVec(row, -v)
		}
		for k, i := range free {
			a.SetCol(k, append(mat.Col(nil, i, j), make([]float64, len(free))...))
			a.Set(rows+k, k, math.Sqrt(damping))
		}
		var qr mat.QR
		qr.Factorize(a)
		step := mat.NewVecDense(len(free), nil)
		_ = qr.SolveVecTo(step, false, b) // nearly singular: the step is as good as any
		var inside []int
		for k, i := range free {
			if end := x[i] + step.AtVec(k); end > 1 || end < -1 {
				to[i] = math.Copysign(1, end)
			} else {
				inside = append(inside, i)
			}
		}
		if len(inside) == len(free) {
			for k, i := range free {
				to[i] = x[i] + step.AtVec(k)
			}
			break
		}
		free = inside
	}
	return to
}
