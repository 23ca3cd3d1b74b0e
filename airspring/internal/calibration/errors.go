package calibration

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Solution is the shape that fits points best, and its errors.
type Solution struct {
	Shape
	Leverage []float64 // of each point, from 0 to 1
	AtLimit  bool      // whether the shape is at a limit of those that a spring has
	// The standard error of a quantity with the gradient g, by the coefficients, is |factor·g|·birge.
	factor [][coefficients]float64
	birge  float64 // √(χ²/ν), 1 or more
}

// PhiError returns the standard error of Φ at a stroke.
func (e *Solution) PhiError(s float64) float64 {
	gradient, _ := e.gradients(s)
	sum := 0.0
	for _, row := range e.factor {
		sum = math.Hypot(sum, floats.Dot(row[:], gradient[:]))
	}
	return sum * e.birge
}

// judge returns the errors of the shape found, by the coefficients of numerator and denominator. A
// direction that the readings don't tell, with a singular value of less than 1e-12 of the greatest, has
// the error of that limit. A knot at its least counts as known.
func (f *search) judge() Solution {
	e := Solution{Shape: f.at, birge: 1, Leverage: make([]float64, len(f.points))}
	if spare := len(f.points) - f.unknowns(); spare > 0 {
		e.birge = max(1, math.Sqrt(f.squares(f.at)/float64(spare)))
	}
	free, j, _, scale := f.jacobian()
	var svd mat.SVD
	var u, v mat.Dense
	if len(free) == 0 || !svd.Factorize(j, mat.SVDThin) {
		return e
	}
	svd.VTo(&v)
	svd.UTo(&u)
	e.AtLimit = len(free) < min(f.unknowns(), len(f.points))
	for i := range e.Leverage {
		e.Leverage[i] = mat.Dot(u.RowView(i), u.RowView(i))
	}
	values, basis := svd.Values(nil), f.basis(f.zero)
	for k, value := range values {
		var row [coefficients]float64
		for column, i := range free {
			d := v.At(column, k) / max(value, 1e-12*values[0]) / scale[column]
			if i == zeroAt {
				row[constantAt] -= d
				continue
			}
			for power, b := range basis[i-knotsAt] {
				row[belowAt+power] += b * d
			}
		}
		e.factor = append(e.factor, row)
	}
	return e
}
