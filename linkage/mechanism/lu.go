package mechanism

import "math"

const maxUnknowns = 3 * maxMoving // if all bodies float

// system is a linear system, factored in place as L·U with rows exchanged. It is small and stays on
// the stack. Its factors give the determinant's sign and the least pivot, which show a dead point.
type system struct {
	n     int
	lu    []float64 // n·n of them or more
	swap  [maxUnknowns]int
	sign  float64 // of the determinant
	least float64 // of the pivots, each against the length of its row
}

const singular = 1e-12 // a least pivot that counts as 0, well above its rounding

// factor factors the matrix in place, rows swapped for the greatest pivot, and leaves its
// determinant's sign and its least pivot. It reports whether every pivot is finite and not 0.
func (sys *system) factor() bool {
	n := sys.n
	sys.sign, sys.least = 1, 1
	var length [maxUnknowns]float64 // of each row, squared
	for i := range n {
		for _, v := range sys.lu[i*n : i*n+n] {
			length[i] += v * v
		}
	}
	for k := range n {
		pivot, at := 0.0, k
		for i := k; i < n; i++ {
			if v := math.Abs(sys.lu[i*n+k]); v > pivot {
				pivot, at = v, i
			}
		}
		if !(pivot > 0) || math.IsInf(pivot, 0) {
			sys.sign, sys.least = 0, 0
			return false
		}
		sys.swap[k] = at
		top := sys.lu[k*n : k*n+n]
		if at != k {
			other := sys.lu[at*n : at*n+n]
			for j := range top {
				top[j], other[j] = other[j], top[j]
			}
			length[k], length[at] = length[at], length[k]
			sys.sign = -sys.sign
		}
		sys.least = min(sys.least, pivot/math.Sqrt(length[k]))
		sys.sign = math.Copysign(sys.sign, sys.sign*top[k])
		inverse := 1 / top[k]
		for i := k + 1; i < n; i++ {
			row := sys.lu[i*n : i*n+n]
			if row[k] == 0 {
				continue
			}
			f := row[k] * inverse
			row[k] = f
			for j := k + 1; j < n; j++ {
				row[j] -= f * top[j]
			}
		}
	}
	return true
}

// solve replaces b by the solution.
func (sys *system) solve(b *coordinates) {
	n := sys.n
	for k := range n {
		b[k], b[sys.swap[k]] = b[sys.swap[k]], b[k]
	}
	for i := range n {
		row := sys.lu[i*n : i*n+n]
		sum := b[i]
		for j := range i {
			sum -= row[j] * b[j]
		}
		b[i] = sum
	}
	for i := n - 1; i >= 0; i-- {
		row := sys.lu[i*n : i*n+n]
		sum := b[i]
		for j := i + 1; j < n; j++ {
			sum -= row[j] * b[j]
		}
		b[i] = sum / row[i]
	}
}

// transpose replaces the matrix by its transpose.
func (sys *system) transpose() {
	n := sys.n
	for i := range n {
		for j := range i {
			sys.lu[i*n+j], sys.lu[j*n+i] = sys.lu[j*n+i], sys.lu[i*n+j]
		}
	}
}
