package calibration

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/spring/leastsquares"
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

// judge returns the errors of the shape found, by the coefficients of numerator and denominator. A
// direction that the readings don't tell, with a singular value of less than 1e-12 of the greatest, has
// the error of that limit. A knot at its least counts as known.
func (f *search) judge(at place) Solution {
	e := Solution{Shape: f.shape(at), birge: 1}
	if spare := len(f.points) - f.unknowns; spare > 0 {
		e.birge = max(1, math.Sqrt(f.squares(at)/float64(spare)))
	}
	j, _ := f.linear(at)
	for i := range f.unknowns {
		e.AtLimit = e.AtLimit || mat.Norm(j.ColView(i), 2) == 0
	}
	var rows [][]float64
	rows, e.Leverage = leastsquares.Factor(j, 1e-12)
	basis := f.basis(at[zeroAt])
	for _, moves := range rows {
		var row [coefficients]float64
		for i, d := range moves {
			if i == zeroAt {
				row[constantAt] = -d
			} else {
				floats.AddScaled(row[belowAt:], d, basis[i][:])
			}
		}
		e.factor = append(e.factor, row)
	}
	return e
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

// Chambers returns bore, positive and negative volume and port travel, and their standard errors. Shaft
// is the area of the shaft. Without a negative chamber the last two are 0.
func (e *Solution) Chambers(shaft float64) (values, deviations [4]float64) {
	const tiny = 1e-100 // of complex steps, whose imaginary parts are derivatives without cancellation
	for _, row := range e.factor {
		var n [3]complex128
		for i := range n {
			n[i] = complex(e.below[i], tiny*row[belowAt+i])
		}
		for i, v := range chambers(n, complex(-e.constant, -tiny*row[constantAt]), e.linear != 0, complex(shaft, 0)) {
			values[i], deviations[i] = real(v), math.Hypot(deviations[i], imag(v)/tiny*e.birge)
		}
	}
	return values, deviations
}

// chambers returns bore, positive and negative volume and port travel of the shape (s − zero)/N with a
// negative chamber around a shaft of an area, or of 1/N without one.
func chambers(n [3]complex128, zero complex128, negative bool, shaft complex128) (list [4]complex128) {
	bore := func(area complex128) complex128 { return cmplx.Sqrt(4 / math.Pi * area) }
	if !negative { // 1/Φ = 1/A − s/V
		return [4]complex128{bore(1 / n[0]), -1 / n[1]}
	}
	h, k, root := roots(n)
	a, b := (h-zero)/root, (k+zero)/root // N' at h is −root, and at −k root
	volume := k * (a/h - shaft)
	q := b / volume
	return [4]complex128{bore(a / h), a, volume, h * k * (q - 1) / (q*k + h)}
}
