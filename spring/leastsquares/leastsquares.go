// Package leastsquares minimises sums of squares of residuals, and returns the errors of what minimises
// them.
//
// Picture a valley whose height is the sum of squares. [Problem.Minimise] steps downhill to its floor, and
// the steeper the valley, the better is the place known: [Factor] returns the errors. [Solve] solves a
// linear problem, whose floor is one step away.
//
// Not modelled: errors of the residuals that depend on each other, and minima other than the one downhill
// from the start.
package leastsquares

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Problem is a sum of squares of residuals to be minimised over places.
type Problem[P any] struct {
	Squares func(P) float64 // the sum at a place; NaN or infinity at one that can't be
	// Linear returns the derivatives of the residuals by the variables, in columns, which the search
	// may overwrite, and the residuals. A variable whose column is 0 stays as it is.
	Linear func(P) (*mat.Dense, []float64)
	Moved  func(P, []float64) P // the place after a step of the variables
	// Room returns how far each variable may go from a place, down, 0 or less, and up, 0 or
	// more. Without Room there are no bounds.
	Room func(P) (down, up []float64)
	// Loose, if not 0, is how many residuals come first that the columns are scaled by. Those after
	// them are of constraints with great weights, whose scale would make the other steps short.
	Loose int

	Steps int // the search takes at most so many, each to a place with a lesser sum
	// Gain and Floor end it where the linear model promises no step that lowers the sum by more than
	// Gain of it and Floor. A gain of 1e-17 is rounding alone.
	Gain, Floor float64
}

// Minimise returns the place near a first one at which the sum is least, found by the method of
// Levenberg and Marquardt, with the columns scaled to length 1. It is a local minimum.
func (p Problem[P]) Minimise(at P) P {
	best, damping := p.Squares(at), 1e-6
	for range p.Steps {
		j, r := p.Linear(at)
		scale := normalise(j, cmp.Or(p.Loose, len(r)))
		var down, up []float64
		if p.Room != nil {
			down, up = p.Room(at)
			floats.Mul(down, scale)
			floats.Mul(up, scale)
		}
		for accepted := false; !accepted; damping *= 5 {
			step := boundedStep(j, r, damping, down, up)
			promised := 0.0
			for i, change := range change(j, step) {
				promised -= change * (2*r[i] + change)
			}
			if !(promised > p.Gain*best+p.Floor) {
				return at
			}
			next := p.Moved(at, floats.DivTo(step, step, scale))
			switch sum := p.Squares(next); {
			case promised < 1e-13*best && damping <= 1e-6: // a gain that is lost in the rounding of the sum
				if sum < best*(1+1e-12) {
					return next
				}
				return at
			case sum < best:
				at, best, damping, accepted = next, sum, damping/50+1e-30, true
			}
		}
	}
	return at
}

// boundedStep returns the step of the scaled variables with the least sum of the squares of the linear
// residuals and damping times those of the step, by the active-set method for bounded least squares: a
// variable is held at the bound that it meets, and released where the sum falls inward.
func boundedStep(j *mat.Dense, r []float64, damping float64, down, up []float64) []float64 {
	_, k := j.Dims()
	to, held := make([]float64, k), make([]bool, k)
	if down == nil {
		return dampedStep(j, r, damping, to, held)
	}
	for range 8 * k { // it takes fewer; a limit in case rounding makes it go in circles
		aim := dampedStep(j, r, damping, to, held)
		var bound float64
		share, met := 1.0, -1
		for i, end := range aim {
			limit := up[i]
			if end < to[i] {
				limit = down[i]
			}
			if way := (limit - to[i]) / (end - to[i]); way < share {
				share, met, bound = way, i, limit
			}
		}
		floats.AddScaled(to, share, floats.SubTo(aim, aim, to))
		if met >= 0 {
			to[met], held[met] = bound, true
			continue
		}
		inward := mostInward(j, r, damping, to, held, up)
		if inward < 0 {
			break
		}
		held[inward] = false
	}
	return to
}

// mostInward returns the variable held at a bound along which the sum falls most steeply inward, or -1
// if it falls along none.
func mostInward(j *mat.Dense, r []float64, damping float64, to []float64, held []bool, up []float64) int {
	const rounding = 1e-12
	after := floats.AddTo(make([]float64, len(r)), r, change(j, to))
	most, inward := rounding*floats.Norm(after, 2), -1
	for i, end := range to {
		slope := damping*end + mat.Dot(j.ColView(i), mat.NewVecDense(len(after), after))
		if end < up[i] { // at its lower bound
			slope = -slope
		}
		if held[i] && slope > most {
			most, inward = slope, i
		}
	}
	return inward
}

// change returns by how much the linear residuals change after a step.
func change(j *mat.Dense, step []float64) []float64 {
	var change mat.VecDense
	change.MulVec(j, mat.NewVecDense(len(step), step))
	return change.RawVector().Data
}

// dampedStep returns the step with the least sum, as at boundedStep but without bounds, that shares the
// variables held with the step to.
func dampedStep(j *mat.Dense, r []float64, damping float64, to []float64, held []bool) []float64 {
	step := make([]float64, len(to))
	var free []int
	for i := range to {
		if held[i] {
			step[i] = to[i]
		} else {
			free = append(free, i)
		}
	}
	if len(free) == 0 {
		return step
	}
	n := len(r)
	whole, right := mat.NewDense(n+len(free), len(free), nil), make([]float64, n+len(free))
	for row, change := range change(j, step) {
		right[row] = -r[row] - change
	}
	for column, i := range free {
		for row := range n {
			whole.Set(row, column, j.At(row, i))
		}
		whole.Set(n+column, column, math.Sqrt(damping))
	}
	solution, _ := Solve(whole, right)
	for column, i := range free {
		step[i] = solution[column]
	}
	return step
}

// Solve returns the least-squares solution of a·x = b, and whether there is one in finite numbers. It
// scales the columns of a, which has no fewer rows than columns, to length 1 in place.
func Solve(a *mat.Dense, b []float64) (x []float64, ok bool) {
	scale := normalise(a, len(b))
	var qr mat.QR
	qr.Factorize(a)
	var solution mat.VecDense
	_ = qr.SolveVecTo(&solution, false, mat.NewVecDense(len(b), b)) // nearly singular: as good as any
	x = solution.RawVector().Data
	floats.Div(x, scale)
	return x, !floats.HasNaN(x)
}

// normalise divides the columns of a by their lengths, of as many rows, and returns these, 1 for one of 0.
func normalise(a *mat.Dense, rows int) []float64 {
	_, n := a.Dims()
	scale := make([]float64, n)
	for i := range n {
		scale[i] = cmp.Or(mat.Norm(a.ColView(i).(*mat.VecDense).SliceVec(0, rows), 2), 1)
	}
	a.Apply(func(_, column int, v float64) float64 { return v / scale[column] }, a)
	return scale
}

// Factor returns what the derivatives J of residuals by variables, in columns, say of the variables'
// errors at a minimum, for residuals with errors of 1. It returns the rows of a factor R of (JᵀJ)⁻¹ = RᵀR,
// and the leverage of each residual, from 0 to 1. A singular value of J, its columns scaled to length 1,
// of less than least of the greatest counts as that. A variable whose column is 0 has the error 0, and
// adds no row.
func Factor(j *mat.Dense, least float64) (rows [][]float64, leverage []float64) {
	n, k := j.Dims()
	leverage = make([]float64, n)
	scale := normalise(j, n)
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
