package linkage

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
// and the same at the other end. The system is tridiagonal and solved by one forward and
// one backward sweep, without pivoting, since every pivot exceeds the element right of it.
// Gonum's NotAKnotCubic solves a full matrix, whose time grows with the cube of the number
// of points.
func splineSlopes(x, y []float64) []float64 {
	last := len(x) - 1
	h, slope := make([]float64, last), make([]float64, last)
	for i := range h {
		h[i] = x[i+1] - x[i]
		slope[i] = (y[i+1] - y[i]) / h[i]
	}
	// end is the right side of the equation of an end: a is the outer interval, b the inner one.
	end := func(a, b, outer, inner float64) float64 {
		return ((3*a+2*b)*b*outer + a*a*inner) / (a + b)
	}
	d, right := make([]float64, last+1), make([]float64, last+1) // right of the pivot, over the pivot
	pivot := h[1]
	right[0], d[0] = (h[0]+h[1])/pivot, end(h[0], h[1], slope[0], slope[1])/pivot
	for i := 1; i < last; i++ {
		pivot = 2*(h[i-1]+h[i]) - h[i]*right[i-1]
		right[i] = h[i-1] / pivot
		d[i] = (3*(h[i]*slope[i-1]+h[i-1]*slope[i]) - h[i]*d[i-1]) / pivot
	}
	a, b := h[last-1], h[last-2]
	pivot = b - (a+b)*right[last-1]
	d[last] = (end(a, b, slope[last-1], slope[last-2]) - (a+b)*d[last-1]) / pivot
	for i := last - 1; i >= 0; i-- {
		d[i] -= right[i] * d[i+1]
	}
	return d
}
