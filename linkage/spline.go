package linkage

import "gonum.org/v1/gonum/mat"

// splineSlopes returns the slopes at the points of the cubic spline through them
// that has not-a-knot ends: its third derivative is continuous at the second
// point and at the last but one. There are 4 points or more, x rising strictly.
//
// Let hᵢ = xᵢ₊₁ − xᵢ and Δᵢ = (yᵢ₊₁ − yᵢ)/hᵢ. The second derivative is continuous
// at an inner point if
//
//	hᵢ·dᵢ₋₁ + 2(hᵢ₋₁ + hᵢ)·dᵢ + hᵢ₋₁·dᵢ₊₁ = 3(hᵢ·Δᵢ₋₁ + hᵢ₋₁·Δᵢ)
//
// and the third at the second point, with d₂ eliminated, if
//
//	h₁·d₀ + (h₀ + h₁)·d₁ = ((3h₀ + 2h₁)·h₁·Δ₀ + h₀²·Δ₁)/(h₀ + h₁)
//
// and the same at the other end. The system is tridiagonal: gonum's NotAKnotCubic solves it as a full
// matrix, whose time grows with the cube of the number of points.
func splineSlopes(x, y []float64) []float64 {
	last := len(x) - 1
	h, slope := make([]float64, last), make([]float64, last)
	for i := range h {
		h[i] = x[i+1] - x[i]
		slope[i] = (y[i+1] - y[i]) / h[i]
	}
	below, pivot, above, right := make([]float64, last), make([]float64, last+1), make([]float64, last), make([]float64, last+1)
	for i := 1; i < last; i++ {
		below[i-1], pivot[i], above[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
		right[i] = 3 * (h[i]*slope[i-1] + h[i-1]*slope[i])
	}
	// end returns the equation of an end, at which the intervals are a and then b long.
	end := func(a, b, outer, inner float64) (own, next, right float64) {
		return b, a + b, ((3*a+2*b)*b*outer + a*a*inner) / (a + b)
	}
	pivot[0], above[0], right[0] = end(h[0], h[1], slope[0], slope[1])
	pivot[last], below[last-1], right[last] = end(h[last-1], h[last-2], slope[last-1], slope[last-2])
	d := mat.NewVecDense(last+1, right)
	_ = mat.NewTridiag(last+1, below, pivot, above).SolveVecTo(d, false, d) // every pivot exceeds the element right of it
	return right
}
