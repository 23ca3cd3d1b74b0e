package calibration

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"

	"example.com/wheelrate/spring/leastsquares"
)

// Point is a reading.
type Point struct {
	Stroke float64 // more than 0
	Phi    float64 // (F + A_o·p_a)/(g + p_a), more than 0
	Blur   float64 // standard error of Phi
}

// search is what a shape is sought from. A place of the search is the knots of N and the zero of
// Φ = (s − s₀)/N(s),
//
//	N(s) = P·(L − s)/(L − s_l) + Q·(s − s_l)/(L − s_l) + R·(s − s_l)·(L − s)
//
// with L the deepest stroke and s_l = min(0, s₀). N is concave and more than 0 over the strokes, and
// the chambers are those of a spring, where P, Q and R are more than 0. Without a negative chamber
// Φ = 1/N with R = s₀ = 0.
type search struct {
	points   []Point
	ring     float64
	deepest  float64 // stroke
	double   bool    // whether there is a negative chamber
	unknowns int
	least    [knots]float64
}

// A place of the search is P, Q, R and s₀. The first two are the unknowns without a negative chamber.
type place [4]float64

const knots, zeroAt = 3, 3

// Fit returns the shape of the least sum of squares of
//
//	(s_i − s(Φ_i))/√(ring² + (blur_i/Φ')²)
//
// for points at as many different strokes as there are unknowns or more: 2 without a negative chamber, 4
// with one. Ring is the standard error of a stroke, more than 0. It reports whether there is such a
// shape: the strokes must rise with Φ over the points.
func Fit(points []Point, ring float64, negative bool) (Solution, bool) {
	f := search{points: points, ring: ring, double: negative, unknowns: 2}
	n := len(points)
	strokes, logs, sizes := make([]float64, n), make([]float64, n), make([]float64, n) // sizes are of N
	for i, p := range points {
		strokes[i], logs[i], sizes[i] = p.Stroke, math.Log(p.Phi), 1/p.Phi
		if negative {
			sizes[i] *= p.Stroke
		}
	}
	f.deepest = slices.Max(strokes)
	// Far below what any spring has, and far enough from 0 for the forces at both ends to be smooth.
	slices.Sort(sizes)
	least := 0.01 * sizes[n/2]
	f.least = [knots]float64{least, least, 0}
	if negative {
		f.unknowns, f.least[2] = 4, least/10000/f.deepest/f.deepest
	}
	best, at := math.Inf(1), place{}
	for _, zero := range f.zeros(slices.Min(strokes)) {
		if p := f.start(zero); f.squares(p) < best {
			best, at = f.squares(p), p
		}
	}
	if math.IsInf(best, 1) || !(stat.Covariance(strokes, logs, nil) > 0) {
		return Solution{}, false
	}
	at = leastsquares.Problem[place]{Squares: f.squares, Linear: f.linear, Moved: f.moved, Steps: 5000, Gain: 1e-17, Floor: 1e-36}.Minimise(at)
	if !negative && !(at[0] > at[1]) {
		return Solution{}, false
	}
	return f.judge(at), true
}

// basis returns what each knot adds to N, as coefficients of the powers of s, for a zero of Φ.
func (f *search) basis(zero float64) (basis [knots][3]float64) {
	low := min(zero, 0)
	width := f.deepest - low
	basis[0] = [3]float64{f.deepest / width, -1 / width}
	basis[1] = [3]float64{-low / width, 1 / width}
	if f.double {
		basis[2] = [3]float64{-low * f.deepest, low + f.deepest, -1}
	}
	return basis
}

// shape returns that of a place.
func (f *search) shape(at place) Shape {
	p := Shape{constant: 1}
	if f.double {
		p = Shape{constant: -at[zeroAt], linear: 1}
	}
	for i, b := range f.basis(at[zeroAt]) {
		floats.AddScaled(p.below[:], at[i], b[:])
	}
	return p
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

// squares returns the sum of squares of the residuals, and infinity where it is not finite or no spring
// has such a zero.
func (f *search) squares(at place) float64 {
	sum, shape := 0.0, f.shape(at)
	for _, p := range f.points {
		r, _ := f.residual(&shape, p)
		sum += r * r
	}
	if zero := at[zeroAt]; !(sum <= math.MaxFloat64 && zero < f.deepest && zero > -1e6*f.deepest) {
		return math.Inf(1)
	}
	return sum
}

// moved returns the place after a step in the basis of the old zero. A knot that would fall below its
// least stays there.
func (f *search) moved(at place, step []float64) place {
	before := at[zeroAt]
	for i, d := range step {
		if at[i] += d; i < knots {
			at[i] = max(at[i], f.least[i])
		}
	}
	if f.double {
		zero := at[zeroAt]
		at[zeroAt] = before
		at[0] = max(polynomial(f.shape(at).below, min(zero, 0)), f.least[0])
		at[zeroAt] = zero
	}
	return at
}

// linear returns the derivatives of the residuals by the unknowns, and the residuals. The column of a
// knot at its least is 0 unless the sum of squares falls with it.
func (f *search) linear(at place) (*mat.Dense, []float64) {
	n := len(f.points)
	j, r := mat.NewDense(n, f.unknowns, nil), make([]float64, n)
	basis, shape := f.basis(at[zeroAt]), f.shape(at)
	for row, p := range f.points {
		var by [coefficients]float64
		r[row], by = f.residual(&shape, p)
		for i := range f.unknowns {
			if i == zeroAt {
				j.Set(row, i, -by[constantAt])
			} else {
				j.Set(row, i, floats.Dot(basis[i][:], by[belowAt:]))
			}
		}
	}
	for i := range min(f.unknowns, knots) {
		if at[i] <= f.least[i] && mat.Dot(j.ColView(i), mat.NewVecDense(n, r)) >= 0 {
			j.SetCol(i, make([]float64, n))
		}
	}
	return j, r
}

// zeros returns the zeros of Φ that the search tries first: some from next to the shallowest stroke to far
// before full extension, and that of the least-squares solution of s = s₀ + Φ·N(s), which is linear in
// the zero and the coefficients of N.
func (f *search) zeros(shallowest float64) []float64 {
	if !f.double {
		return []float64{0}
	}
	list := floats.LogSpan(make([]float64, 8), 1e-3, 3)
	for i, d := range list {
		list[i] = shallowest - d*f.deepest
	}
	j, right := mat.NewDense(len(f.points), 4, nil), make([]float64, len(f.points))
	for row, p := range f.points {
		u, phi := p.Stroke/f.deepest, p.Phi/f.points[0].Phi
		j.SetRow(row, []float64{1, phi, phi * u, phi * u * u})
		right[row] = u
	}
	if x, ok := leastsquares.Solve(j, right); ok && x[0] < 1 {
		list = append(list, x[0]*f.deepest)
	}
	return list
}

// start returns the place with a zero where M(s) = Φ·N(s) by least squares, with no knot below its least.
func (f *search) start(zero float64) place {
	at, basis, used := place{zeroAt: zero}, f.basis(zero), min(f.unknowns, knots)
	j, right := mat.NewDense(len(f.points), used, nil), make([]float64, len(f.points))
	for row, p := range f.points {
		weight := p.Phi
		if right[row] = p.Stroke - zero; !f.double {
			weight, right[row] = 1, 1/p.Phi
		}
		for column := range used {
			j.Set(row, column, weight*polynomial(basis[column], p.Stroke))
		}
	}
	copy(at[:], f.least[:])
	x, _ := leastsquares.Solve(j, right)
	for i := range x {
		if x[i] > at[i] {
			at[i] = x[i]
		}
	}
	return at
}
