package calibration

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Point is a reading.
type Point struct {
	Stroke float64 // more than 0
	Phi    float64 // (F + A_o·p_a)/(g + p_a), more than 0
	Blur   float64 // standard error of Phi
}

// search is the state of a search. Its variables are the zero of Φ = (s − s₀)/N(s) and the
// knots of N,
//
//	N(s) = P·(L − s)/(L − s_l) + Q·(s − s_l)/(L − s_l) + R·(s − s_l)·(L − s)
//
// with L the deepest stroke and s_l = min(0, s₀). N is concave and more than 0 over the strokes, and
// the chambers are those of a spring, where P, Q and R are more than 0. Without a negative chamber
// Φ = 1/N with R = 0.
type search struct {
	points  []Point
	ring    float64
	deepest float64 // stroke
	double  bool    // whether there is a negative chamber
	at      Shape
	zero    float64 // of at
	knots   [3]float64
	least   [3]float64 // of the knots
}

// The variables by their index, the knots after the zero.
const (
	zeroAt    = 0
	knotsAt   = 1
	variables = 4
)

// Fit returns the shape of the least sum of squares of
//
//	(s_i − s(Φ_i))/√(ring² + (blur_i/Φ')²)
//
// for points at as many different strokes as there are unknowns or more: 2 without a negative chamber, 4
// with one. Ring is the standard error of a stroke, more than 0. It reports whether there is such a
// shape: the strokes must rise with Φ over the points.
func Fit(points []Point, ring float64, negative bool) (Solution, bool) {
	f := search{points: points, ring: ring, double: negative}
	sizes := make([]float64, len(points)) // of N
	for i, p := range points {
		f.deepest = max(f.deepest, p.Stroke)
		sizes[i] = 1 / p.Phi
		if negative {
			sizes[i] *= p.Stroke
		}
	}
	// Far below what any spring has, and far enough from 0 for the forces at both ends to be smooth.
	slices.Sort(sizes)
	least := 0.01 * sizes[len(sizes)/2]
	f.least = [3]float64{least, least, 0}
	if negative {
		f.least[2] = least / 10000 / f.deepest / f.deepest
	}
	if !f.minimise() {
		return Solution{}, false
	}
	return f.judge(), true
}

// unknowns returns the number of variables.
func (f *search) unknowns() int {
	if f.double {
		return variables
	}
	return 2
}

// basis returns what each knot adds to N, as coefficients of the powers of s, for a zero of Φ.
func (f *search) basis(zero float64) (basis [3][3]float64) {
	low := min(zero, 0)
	if !f.double {
		low = 0
	}
	width := f.deepest - low
	basis[0] = [3]float64{f.deepest / width, -1 / width}
	basis[1] = [3]float64{-low / width, 1 / width}
	if f.double {
		basis[2] = [3]float64{-low * f.deepest, low + f.deepest, -1}
	}
	return basis
}

// shape returns that of a zero and knots.
func (f *search) shape(zero float64, knots [3]float64) Shape {
	p := Shape{constant: 1}
	if f.double {
		p = Shape{constant: -zero, linear: 1}
	}
	for i, b := range f.basis(zero) {
		for j, c := range b {
			p.below[j] += knots[i] * c
		}
	}
	return p
}

// set makes a shape the one that was found so far.
func (f *search) set(zero float64, knots [3]float64) {
	f.zero, f.knots, f.at = zero, knots, f.shape(zero, knots)
}

// residual returns that of a point in standard errors, with its derivatives by the coefficients.
func (f *search) residual(p *Shape, at Point) (r float64, by [coefficients]float64) {
	s := p.Stroke(at.Phi)
	slope, curve := p.slopes(s)
	blur := at.Blur / slope
	spread := math.Hypot(f.ring, blur)
	r = (at.Stroke - s) / spread
	value, steeper := p.gradients(s)
	for i, d := range value {
		moves := -d / slope                                                             // the stroke
		widens := -blur / spread * (blur / spread) / slope * (steeper[i] + curve*moves) // the spread, relatively
		by[i] = -moves/spread - r*widens
	}
	return r, by
}

// squares returns the sum of squares of the residuals, and infinity where it is not finite.
func (f *search) squares(p Shape) float64 {
	sum := 0.0
	for _, at := range f.points {
		r, _ := f.residual(&p, at)
		sum += r * r
	}
	if !(sum <= math.MaxFloat64) {
		return math.Inf(1)
	}
	return sum
}

// rises reports whether the stroke rises with Φ over the readings.
func (f *search) rises() bool {
	stroke, phi, sum, n := 0.0, 0.0, 0.0, float64(len(f.points))
	for _, p := range f.points {
		stroke, phi = stroke+p.Stroke/n, phi+math.Log(p.Phi)/n
	}
	for _, p := range f.points {
		sum += (p.Stroke - stroke) * (math.Log(p.Phi) - phi)
	}
	return sum > 0
}

// minimise finds the shape of the least sum of squares, and reports whether there is one.
func (f *search) minimise() bool {
	if !f.rises() {
		return false
	}
	best, zero, knots := math.Inf(1), 0.0, [3]float64{}
	for _, z := range f.zeros() {
		k := f.linear(z)
		if sum := f.squares(f.shape(z, k)); sum < best {
			best, zero, knots = sum, z, k
		}
	}
	if math.IsInf(best, 1) {
		return false
	}
	f.set(zero, knots)
	f.polish()
	return f.double || f.knots[0] > f.knots[1]
}

// polish minimises the sum of squares by the method of Levenberg and Marquardt, in QR form, with the
// columns scaled to length 1. A knot that a step takes below its least stays there, until the sum falls
// the other way.
func (f *search) polish() {
	const mostSteps = 200
	best, damping := f.squares(f.at), 1e-6
	for range mostSteps {
		free, j, r, scale := f.jacobian()
		if len(free) == 0 {
			return
		}
		for accepted := false; !accepted; damping *= 5 {
			step, promised, ok := dampedStep(j, r, damping)
			if !ok || !(promised > 1e-30*(best+1e-6)) || damping > 1e12 {
				return
			}
			zero, knots, ok := f.moved(free, step, scale)
			sum := f.squares(f.shape(zero, knots))
			last := promised < 1e-13*best // a gain that is lost in the rounding of the sum
			if ok && (sum < best || last && sum < best*(1+1e-12)) {
				f.set(zero, knots)
				best, damping, accepted = sum, max(damping/50, 1e-30), true
			}
			if last {
				return
			}
		}
	}
}

// moved returns zero and knots after a step of the free variables, divided by their scales, and whether
// a spring has such a zero. The step is in the knots of the basis at f.zero, the knots returned are of
// that at the new zero.
func (f *search) moved(free []int, step, scale []float64) (zero float64, knots [3]float64, ok bool) {
	zero, knots = f.zero, f.knots
	for column, i := range free {
		d := step[column] / scale[column]
		if i == zeroAt {
			zero += d
		} else {
			knots[i-knotsAt] = max(knots[i-knotsAt]+d, f.least[i-knotsAt])
		}
	}
	if f.double {
		p := f.shape(f.zero, knots)
		knots[0] = max(polynomial(p.below, min(zero, 0)), f.least[0])
	}
	return zero, knots, zero < f.deepest && zero > -1e6*f.deepest
}

// dampedStep returns the step of the scaled variables, and the gain that the linear model promises.
func dampedStep(j *mat.Dense, r []float64, damping float64) (step []float64, promised float64, ok bool) {
	n, k := j.Dims()
	whole, right := mat.NewDense(n+k, k, nil), mat.NewVecDense(n+k, nil)
	whole.Slice(0, n, 0, k).(*mat.Dense).Copy(j)
	for i := range k {
		whole.Set(n+i, i, math.Sqrt(damping))
	}
	for i, v := range r {
		right.SetVec(i, -v)
	}
	step, ok = solve(whole, right)
	if !ok {
		return nil, 0, false
	}
	var change mat.VecDense
	change.MulVec(j, mat.NewVecDense(k, step))
	for i, v := range r {
		promised -= change.AtVec(i) * (2*v + change.AtVec(i))
	}
	return step, promised, true
}

// jacobian lists the free variables, and returns the derivatives of the residuals by them in columns
// scaled to length 1, the residuals, and the lengths before. A knot at its least is free if the sum of
// squares falls with it.
func (f *search) jacobian() (free []int, j *mat.Dense, r, scale []float64) {
	n := len(f.points)
	columns := [variables][]float64{}
	for i := range columns {
		columns[i] = make([]float64, n)
	}
	r = make([]float64, n)
	basis := f.basis(f.zero)
	for row, p := range f.points {
		var by [coefficients]float64
		r[row], by = f.residual(&f.at, p)
		columns[zeroAt][row] = -by[constantAt]
		for i, b := range basis {
			columns[knotsAt+i][row] = floats.Dot(b[:], by[belowAt:])
		}
	}
	for i, column := range columns {
		length := floats.Norm(column, 2)
		if i == zeroAt && !f.double || !(length > 0) {
			continue
		}
		if i >= knotsAt && f.knots[i-knotsAt] <= f.least[i-knotsAt] && floats.Dot(column, r) >= 0 {
			continue
		}
		free, scale = append(free, i), append(scale, length)
		floats.Scale(1/length, column)
	}
	if len(free) == 0 {
		return nil, nil, nil, nil
	}
	j = mat.NewDense(n, len(free), nil)
	for column, i := range free {
		j.SetCol(column, columns[i])
	}
	return free, j, r, scale
}
