package leastsquares

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Limits says when a search ends.
type Limits struct {
	Steps int // at most so many, each to a place with a lesser sum
	// Gain and Floor end it where the linear model promises no step that lowers the sum by more than
	// Gain of it and Floor. A gain of 1e-17 is rounding alone.
	Gain, Floor float64
}

// Minimise returns the place near a first one at which a sum of squares is least, found by the method of
// Levenberg and Marquardt, with the columns scaled to length 1. It is a local minimum.
//
// Squares returns the sum at a place, NaN or infinity at one that is out of bounds. Linear returns the
// derivatives of the residuals by the variables, in columns, which Minimise may overwrite, and the
// residuals. A variable whose column is 0 stays as it is: that holds a variable at a bound. Moved returns
// the place after a step of the variables, and may shorten the step to what the bounds permit.
func Minimise[P any](at P, squares func(P) float64, linear func(P) (*mat.Dense, []float64), moved func(P, []float64) P, limits Limits) P {
	best, damping := squares(at), 1e-6
	for range limits.Steps {
		j, r := linear(at)
		scale := normalise(j)
		for accepted := false; !accepted; damping *= 5 {
			step, promised := dampedStep(j, r, damping)
			if !(promised > limits.Gain*best+limits.Floor) {
				return at
			}
			next := moved(at, floats.DivTo(step, step, scale))
			sum := squares(next)
			last := promised < 1e-13*best && damping < 1e-6 // a gain that is lost in the rounding of the sum
			if sum < best || last && sum < best*(1+1e-12) {
				at, best, damping, accepted = next, sum, max(damping/50, 1e-30), true
			}
			if last {
				return at
			}
		}
	}
	return at
}

// dampedStep returns the step of the scaled variables, and the gain that the linear model promises.
func dampedStep(j *mat.Dense, r []float64, damping float64) (step []float64, promised float64) {
	n, k := j.Dims()
	whole, right := mat.NewDense(n+k, k, nil), make([]float64, n+k)
	whole.Slice(0, n, 0, k).(*mat.Dense).Copy(j)
	for i := range k {
		whole.Set(n+i, i, math.Sqrt(damping))
	}
	floats.ScaleTo(right[:n], -1, r)
	step, _ = Solve(whole, right)
	var change mat.VecDense
	change.MulVec(j, mat.NewVecDense(k, step))
	for i, v := range r {
		promised -= change.AtVec(i) * (2*v + change.AtVec(i))
	}
	return step, promised
}

// Solve returns the least-squares solution of a·x = b, and whether there is one in finite numbers. It
// scales the columns of a, which has no fewer rows than columns, to length 1 in place.
func Solve(a *mat.Dense, b []float64) (x []float64, ok bool) {
	scale := normalise(a)
	var qr mat.QR
	qr.Factorize(a)
	var solution mat.VecDense
	_ = qr.SolveVecTo(&solution, false, mat.NewVecDense(len(b), b)) // nearly singular: as good as any
	x = solution.RawVector().Data
	floats.Div(x, scale)
	return x, !floats.HasNaN(x)
}

// normalise scales the columns of a to length 1, and returns their lengths before, 1 for one of 0.
func normalise(a *mat.Dense) []float64 {
	_, n := a.Dims()
	scale := make([]float64, n)
	for i := range n {
		scale[i] = cmp.Or(mat.Norm(a.ColView(i), 2), 1)
	}
	a.Apply(func(_, column int, v float64) float64 { return v / scale[column] }, a)
	return scale
}

// Factor returns what the derivatives J of residuals by variables, in columns, say of the variables'
// errors at a minimum, for residuals with errors of 1. It returns the rows of a factor R of (JᵀJ)⁻¹ = RᵀR, and the leverage of each residual, from 0 to 1.
// A singular value of J, its columns scaled to length 1, of less than least of the greatest counts as that.
// A variable whose column is 0 has the error 0, and adds no row.
func Factor(j *mat.Dense, least float64) (rows [][]float64, leverage []float64) {
	n, k := j.Dims()
	leverage = make([]float64, n)
	scale := normalise(j)
	var svd mat.SVD
	var u, v mat.Dense
	if !svd.Factorize(j, mat.SVDThin) {
		return nil, leverage
	}
	svd.VTo(&v)
	svd.UTo(&u)
	values, held := svd.Values(nil), 0
	for column := range k {
		if mat.Norm(j.ColView(column), 2) == 0 {
			held++ // and with it the last of the singular values, which are 0
		}
	}
	values = values[:k-held]
	for i, value := range values {
		for row := range leverage {
			leverage[row] += u.At(row, i) * u.At(row, i)
		}
		moves := make([]float64, k)
		for column := range moves {
			moves[column] = v.At(column, i) / max(value, least*values[0]) / scale[column]
		}
		rows = append(rows, moves)
	}
	return rows, leverage
}
