package calibration

import (
	"math"

	"gonum.org/v1/gonum/num/dual"
)

// Chambers returns bore, positive and negative volume and port travel, and their standard errors. Shaft
// is the area of the shaft. Without a negative chamber the last two are 0.
func (e *Solution) Chambers(shaft float64) (values, deviations [4]float64) {
	along := func(d [coefficients]float64) [4]dual.Number {
		at := [coefficients]dual.Number{{Real: e.constant, Emag: d[constantAt]}}
		for i, n := range e.below {
			at[belowAt+i] = dual.Number{Real: n, Emag: d[belowAt+i]}
		}
		return chambersOf(at, e.linear != 0, shaft)
	}
	for i, v := range along([coefficients]float64{}) {
		values[i] = v.Real
	}
	for _, row := range e.factor {
		for i, v := range along(row) {
			deviations[i] = math.Hypot(deviations[i], v.Emag*e.birge)
		}
	}
	return values, deviations
}

// chambersOf returns bore, positive and negative volume and port travel of a shape with a negative
// chamber around a shaft of an area, or without one. In dual numbers it gives their derivatives too.
func chambersOf(at [coefficients]dual.Number, negative bool, shaft float64) (list [4]dual.Number) {
	add, sub, mul := dual.Add, dual.Sub, dual.Mul
	div := func(a, b dual.Number) dual.Number { return mul(a, dual.Inv(b)) }
	n0, n1, n2 := at[belowAt], at[belowAt+1], at[belowAt+2]
	bore := func(area dual.Number) dual.Number { return dual.Sqrt(dual.Scale(4/math.Pi, area)) }
	if !negative { // 1/Φ = 1/A − s/V
		list[0], list[1] = bore(dual.Inv(n0)), dual.Scale(-1, dual.Inv(n1))
		return list
	}
	zero := dual.Scale(-1, at[constantAt])
	root := dual.Sqrt(sub(mul(n1, n1), dual.Scale(4, mul(n2, n0))))
	h := div(add(n1, root), dual.Scale(-2, n2))
	k := div(dual.Scale(2, n0), add(n1, root))
	if n1.Real < 0 {
		h, k = div(dual.Scale(2, n0), sub(root, n1)), div(sub(root, n1), dual.Scale(-2, n2))
	}
	// N' at h is −root, and at −k root.
	a, b := div(sub(h, zero), root), div(add(k, zero), root)
	piston := div(a, h)
	volume := mul(k, sub(piston, dual.Number{Real: shaft}))
	q := div(b, volume)
	port := div(mul(mul(h, k), sub(q, dual.Number{Real: 1})), add(mul(q, k), h))
	return [4]dual.Number{bore(piston), a, volume, port}
}
