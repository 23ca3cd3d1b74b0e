package pivots

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

const (
	maxSteps   = 100   // of one descent
	gain       = 1e-9  // the least share of the sum that a step must promise to gain
	gainLeast  = 1e-14 // what it must promise besides, for a sum near 0
	leastShare = 1e-3  // the least share of its promise that a step must gain

	dampingFirst, dampingLeast, dampingMost = 1e-3, 1e-12, 1e12 // shares of the greatest curvature
)

// descend minimises the sum of the squared residuals from x within the bounds by Levenberg
// and Marquardt's method, and returns the place and the sum there: nil and infinity if x locks.
// After every step the shock is given its length again, so that long steps are possible.
func (p *problem) descend(x []float64) ([]float64, float64) {
	r := p.residuals(x)
	if r == nil {
		return nil, math.Inf(1)
	}
	damping := dampingFirst
	for range maxSteps {
		j := p.linearise(x, r)
		if j == nil {
			break // a mechanism beside this one locks
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

// eased returns the damping for the next step: a tenth if this one gained more than half of
// what it promised.
func eased(damping, gained, promised float64) float64 {
	if gained > promised/2 {
		return max(damping/10, dampingLeast)
	}
	return damping
}

func squares(r []float64) float64 { return floats.Dot(r, r) }

// predicted returns the residuals at the place to by the linear model at x.
func predicted(j *mat.Dense, x, r, to []float64) []float64 {
	step := floats.SubTo(make([]float64, len(x)), to, x)
	after := mat.NewVecDense(len(r), nil)
	after.MulVec(j, mat.NewVecDense(len(x), step))
	return floats.AddTo(make([]float64, len(r)), after.RawVector().Data, r)
}

// curvature returns the greatest curvature of the sum along a coordinate, without the
// shock's length, which no step changes. It is never 0: coordinates that change nothing are
// damped too, and stay where they are.
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
// residuals there and damping times those of the step from x. It goes towards the least place
// without bounds, holds each coordinate at the bound that it meets, and releases one where
// the sum falls inward, until none does: the active-set method for bounded least squares.
func boundedStep(j *mat.Dense, x, r []float64, damping float64) []float64 {
	to, held := slices.Clone(x), make([]bool, len(x))
	for range 4 * (len(x) + 1) { // it takes fewer; a limit in case rounding makes it go in circles
		aim := unboundedStep(j, x, r, to, held, damping)
		share, met := 1.0, -1
		for i, end := range aim {
			if way := (math.Copysign(1, end-to[i]) - to[i]) / (end - to[i]); way < share {
				share, met = way, i
			}
		}
		for i, end := range aim {
			to[i] += share * (end - to[i])
		}
		if met >= 0 {
			to[met], held[met] = math.Copysign(1, aim[met]), true
			continue
		}
		inward := mostInward(j, x, r, to, held, damping)
		if inward < 0 {
			break
		}
		held[inward] = false
	}
	return to
}

// unboundedStep returns the place with the least sum, as at boundedStep but without bounds, that
// shares the coordinates held with the place to.
func unboundedStep(j *mat.Dense, x, r, to []float64, held []bool, damping float64) []float64 {
	aim := slices.Clone(to)
	var free []int
	for i := range aim {
		if !held[i] {
			aim[i], free = x[i], append(free, i)
		}
	}
	if len(free) == 0 {
		return aim
	}
	// The damping as more rows of what is solved.
	rows := len(r)
	a := mat.NewDense(rows+len(free), len(free), nil)
	b := mat.NewVecDense(rows+len(free), nil)
	for row, v := range predicted(j, x, r, aim) {
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
	for k, i := range free {
		aim[i] += step.AtVec(k)
	}
	return aim
}

// mostInward returns the coordinate held at a bound along which the sum falls most
// steeply inward, or -1 if it falls along none.
func mostInward(j *mat.Dense, x, r, to []float64, held []bool, damping float64) int {
	const rounding = 1e-12
	after := mat.NewVecDense(len(r), predicted(j, x, r, to))
	most, inward := rounding*mat.Norm(j, 2)*mat.Norm(after, 2), -1
	for i, end := range to {
		slope := damping*(end-x[i]) + mat.Dot(j.ColView(i), after)
		if rises := slope * end; held[i] && rises > most {
			most, inward = rises, i
		}
	}
	return inward
}
