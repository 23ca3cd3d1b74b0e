package leastsquares_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/spring/leastsquares"
)

// How fast does it cool? Readings of 80·exp(−t/5) to the nearest degree, and the curve a·exp(−b·t) nearest
// to them, with what their errors of half a degree leave open of b.
func ExampleProblem_Minimise() {
	times, readings := []float64{0, 2, 4, 6, 8}, []float64{80, 54, 36, 24, 16}
	linear := func(p [2]float64) (*mat.Dense, []float64) {
		j, r := mat.NewDense(len(times), 2, nil), make([]float64, len(times))
		for i, t := range times {
			e := math.Exp(-p[1] * t)
			j.SetRow(i, []float64{e, -p[0] * t * e})
			r[i] = p[0]*e - readings[i]
		}
		return j, r
	}
	squares := func(p [2]float64) float64 {
		_, r := linear(p)
		return mat.Dot(mat.NewVecDense(len(r), r), mat.NewVecDense(len(r), r))
	}
	moved := func(p [2]float64, step []float64) [2]float64 { return [2]float64{p[0] + step[0], p[1] + step[1]} }
	p := leastsquares.Problem[[2]float64]{Squares: squares, Linear: linear, Moved: moved, Steps: 100, Gain: 1e-17}.Minimise([2]float64{50, 1})
	j, _ := linear(p)
	rows, _ := leastsquares.Factor(j, 1e-12)
	deviation := 0.0
	for _, row := range rows {
		deviation = math.Hypot(deviation, 0.5*row[1])
	}
	fmt.Printf("a = %.1f, b = %.4f ± %.4f\n", p[0], p[1], deviation)
	// Output:
	// a = 80.1, b = 0.2002 ± 0.0023
}

// A straight line through three points that are nearly in line.
func ExampleSolve() {
	a := mat.NewDense(3, 2, []float64{1, 0, 1, 1, 1, 2})
	x, ok := leastsquares.Solve(a, []float64{1, 3.1, 4.9})
	fmt.Printf("%.2f + %.2f·x, %v\n", x[0], x[1], ok)
	// Output: 1.05 + 1.95·x, true
}

// Of a mean of four readings with errors of 1, the error is 1/√4, and each reading has a quarter of the say.
func ExampleFactor() {
	rows, leverage := leastsquares.Factor(mat.NewDense(4, 1, []float64{1, 1, 1, 1}), 1e-12)
	fmt.Printf("%.2f %.2f\n", math.Abs(rows[0][0]), leverage)
	// Output: 0.50 [0.25 0.25 0.25 0.25]
}
