// Package work is a small package to put faults into.
package work

import "math"

// Length is a named number.
type Length float64

// Mean is tested well.
func Mean(a, b Length) Length { return (a + b) / 2 }

// Clip is tested at its bounds.
func Clip(x float64) float64 {
	if x < 0 || x > 1 {
		x = math.Round(min(max(x, 0), 1))
	}
	return x
}

// Hypotenuse is called, but nobody looks at what it returns.
func Hypotenuse(a, b float64) float64 {
	sum := a * a
	sum += b * b
	return math.Sqrt(sum)
}

// Forgotten is called by no test.
func Forgotten(on bool, n int) int {
	if on &&
		n != 3 {
		n++
	}
	return -n
}

// Endless ends by its condition alone.
func Endless(n int) int {
	k := 0
	for k < n {
		k++
	}
	return k
}
