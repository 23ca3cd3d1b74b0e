package airspring

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// point is a reading as the search takes it.
type point struct {
	stroke float64
	phi    float64 // (F + A_o·p_a)/(g + p_a)
	blur   float64 // standard error of phi
}

// calibrating is the state of a calibration. Its variables are the zero of Φ = (s − s₀)/N(s) and the
// knots of N,
//
//	N(s) = P·(L − s)/(L − s_l) + Q·(s − s_l)/(L − s_l) + R·(s − s_l)·(L − s)
//
// with L the deepest stroke and s_l = min(0, s₀). N is concave and more than 0 over the strokes, and
// the chambers are those of a spring, where P, Q and R are more than 0. Without a negative chamber
// Φ = 1/N with R = 0.
type calibrating struct {
	points  []point
	ring    float64
	deepest float64 // stroke
	double  bool    // whether there is a negative chamber
	at      shape
	zero    float64 // of at
	knots   [3]float64
	least   [3]float64 // of the knots
}

// The variables by their index, the knots after the zero.
const (
	zeroAt   = 0
	knotsAt  = 1
	variable = 4
)

func newCalibrating(g *GaugeReadings) *calibrating {
	f := &calibrating{ring: float64(g.RingError), double: g.negative()}
	scale := 0.0 // of N
	for _, r := range g.Readings {
		absolute := float64(r.Fill.Absolute(g.Ambient))
		phi := (float64(r.Force) + g.outside()) / absolute
		f.points = append(f.points, point{r.middle(), phi, phi * float64(g.GaugeError) / absolute})
		f.deepest = max(f.deepest, r.middle())
		scale = max(scale, phi)
	}
	// Far below what any spring has.
	scale = 1e-6 / scale
	f.least = [3]float64{scale, scale, 0}
	if f.double {
		f.least = [3]float64{scale * f.deepest, scale * f.deepest, scale / f.deepest}
	}
	return f
}

// basis returns what each knot adds to N, as coefficients of the powers of s, for a zero of Φ.
func (f *calibrating) basis(zero float64) (basis [3][3]float64) {
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
func (f *calibrating) shape(zero float64, knots [3]float64) shape {
	p := shape{constant: 1}
	if f.double {
		p = shape{constant: -zero, linear: 1}
	}
	for i, b := range f.basis(zero) {
		for j, c := range b {
			p.below[j] += knots[i] * c
		}
	}
	return p
}

// set makes a shape the one that was found so far.
func (f *calibrating) set(zero float64, knots [3]float64) {
	f.zero, f.knots, f.at = zero, knots, f.shape(zero, knots)
}

// residual returns that of a point in standard errors, with its derivatives by the coefficients.
func (f *calibrating) residual(p *shape, at point) (r float64, by [coefficients]float64) {
	s := p.stroke(at.phi)
	slope, curve := p.slopes(s)
	blur := at.blur / slope
	spread := math.Hypot(f.ring, blur)
	r = (at.stroke - s) / spread
	value, steeper := p.gradients(s)
	for i, d := range value {
		moves := -d / slope                                                             // the stroke
		widens := -blur / spread * (blur / spread) / slope * (steeper[i] + curve*moves) // the spread, relatively
		by[i] = -moves/spread - r*widens
	}
	return r, by
}

// squares returns the sum of squares of the residuals, and infinity where it is not finite.
func (f *calibrating) squares(p shape) float64 {
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
func (f *calibrating) rises() bool {
	stroke, phi, sum, n := 0.0, 0.0, 0.0, float64(len(f.points))
	for _, p := range f.points {
		stroke, phi = stroke+p.stroke/n, phi+math.Log(p.phi)/n
	}
	for _, p := range f.points {
		sum += (p.stroke - stroke) * (math.Log(p.phi) - phi)
	}
	return sum > 0
}

// minimise finds the shape of the least sum of squares, and reports whether there is one.
func (f *calibrating) minimise() bool {
	if !f.rises() {
		return false
	}
	best, zero, knots := math.Inf(1), 0.0, [3]float64{}
	try := func(z float64) {
		if k, ok := f.linear(z); ok {
			if sum := f.squares(f.shape(z, k)); sum < best {
				best, zero, knots = sum, z, k
			}
		}
	}
	if f.double {
		shallowest := f.deepest
		for _, p := range f.points {
			shallowest = min(shallowest, p.stroke)
		}
		for _, d := range floats.LogSpan(make([]float64, 25), 1e-4, 10) {
			try(shallowest - d*f.deepest)
		}
		if z, ok := f.linearZero(); ok && z < f.deepest {
			try(z)
		}
	} else {
		try(0)
	}
	if math.IsInf(best, 1) {
		return false
	}
	f.set(zero, knots)
	f.polish()
	return f.double || f.knots[0] > f.knots[1]
}

// linear returns the best knots for a zero. The residuals are (M − Φ_i·N)/(M' − Φ_i·N'), strokes to
// first order, with the M of Φ = M/N and the denominators of the solution before.
func (f *calibrating) linear(zero float64) (knots [3]float64, ok bool) {
	basis := f.basis(zero)
	used := 3
	if !f.double {
		used = 2
	}
	weights := make([]float64, len(f.points))
	for i, p := range f.points {
		weights[i] = 1
		if !f.double {
			weights[i] = 1 / p.phi
		}
	}
	for range 4 {
		j, right := mat.NewDense(len(f.points), used, nil), mat.NewVecDense(len(f.points), nil)
		for row, p := range f.points {
			for column := range used {
				j.Set(row, column, p.phi*polynomial(basis[column], p.stroke)*weights[row])
			}
			m := 1.0
			if f.double {
				m = p.stroke - zero
			}
			right.SetVec(row, m*weights[row])
		}
		knots, ok = f.bounded(j, right)
		if !ok || !f.double {
			return knots, ok
		}
		shape := f.shape(zero, knots)
		for i, p := range f.points {
			weights[i] = 1 / max(1-p.phi*shape.belowSlope(p.stroke), 0.05)
		}
	}
	return knots, true
}

// bounded returns the least-squares solution of j·knots = right with no knot below its least: that of
// the free knots with which it is so and the sum of squares is least.
func (f *calibrating) bounded(j *mat.Dense, right *mat.VecDense) (knots [3]float64, ok bool) {
	n, used := j.Dims()
	best := math.Inf(1)
	for held := range 1 << used {
		var free []int
		trial, rest := [3]float64{}, mat.VecDenseCopyOf(right)
		for i := range used {
			if held>>i&1 == 0 {
				free = append(free, i)
				continue
			}
			trial[i] = f.least[i]
			rest.AddScaledVec(rest, -trial[i], j.ColView(i))
		}
		if len(free) > 0 && !solve(j, free, rest, &trial) {
			continue
		}
		feasible, sum := true, 0.0
		for i := range used {
			feasible = feasible && trial[i] >= f.least[i]
		}
		for row := range n {
			r := right.AtVec(row)
			for i := range used {
				r -= trial[i] * j.At(row, i)
			}
			sum += r * r
		}
		if feasible && sum < best {
			best, knots, ok = sum, trial, true
			if held == 0 {
				break // no other is better
			}
		}
	}
	return knots, ok
}

// solve sets the free ones of x to the least-squares solution of j·x = right.
func solve(j *mat.Dense, free []int, right *mat.VecDense, x *[3]float64) bool {
	n, _ := j.Dims()
	if n < len(free) {
		return false
	}
	part, scale := mat.NewDense(n, len(free), nil), make([]float64, len(free))
	for column, i := range free {
		scale[column] = mat.Norm(j.ColView(i), 2)
		for row := range n {
			part.Set(row, column, j.At(row, i)/scale[column])
		}
	}
	var qr mat.QR
	qr.Factorize(part)
	var solution mat.VecDense
	if !(slices.Min(scale) > 0) || !solved(qr.SolveVecTo(&solution, false, right)) {
		return false
	}
	for column, i := range free {
		x[i] = solution.AtVec(column) / scale[column]
	}
	return true
}

// solved reports whether a system was solved, however badly conditioned.
func solved(err error) bool {
	_, conditioned := err.(mat.Condition)
	return err == nil || conditioned
}

// linearZero returns the zero of the least-squares solution of s = s₀ + Φ·N(s), which is linear in the
// zero and the coefficients of N.
func (f *calibrating) linearZero() (float64, bool) {
	n := len(f.points)
	j, right := mat.NewDense(n, 4, nil), mat.NewVecDense(n, nil)
	for row, p := range f.points {
		u := p.stroke / f.deepest
		phi := p.phi / f.points[0].phi
		j.SetRow(row, []float64{1, phi, phi * u, phi * u * u})
		right.SetVec(row, u)
	}
	var qr mat.QR
	qr.Factorize(j)
	var solution mat.VecDense
	if !solved(qr.SolveVecTo(&solution, false, right)) {
		return 0, false
	}
	zero := solution.AtVec(0) * f.deepest
	return zero, !math.IsNaN(zero)
}

// polish minimises the sum of squares by the method of Levenberg and Marquardt, in QR form, with the
// columns scaled to length 1. A knot that a step takes below its least stays there, until the sum falls
// the other way.
func (f *calibrating) polish() {
	const mostSteps = 200
	best, damping := f.squares(f.at), 1e-6
	for range mostSteps {
		free, j, r, scale := f.jacobian()
		if len(free) == 0 {
			return
		}
		gained := false
		for damping < 1e12 {
			step, promised, ok := dampedStep(j, r, damping)
			if !ok || !(promised > 1e-30*(best+1e-6)) {
				return
			}
			zero, knots := f.zero, f.knots
			for column, i := range free {
				if i == zeroAt {
					zero += step[column] / scale[column]
				} else {
					knots[i-knotsAt] = max(knots[i-knotsAt]+step[column]/scale[column], f.least[i-knotsAt])
				}
			}
			// The knots are those of the basis at the zero before the step.
			next := f.stepped(zero, knots)
			if sum := f.squares(f.shape(next.zero, next.knots)); next.ok && sum < best {
				gained = best-sum > 1e-14*sum
				best, damping = sum, max(damping/10, 1e-30)
				f.set(next.zero, next.knots)
				break
			}
			damping = max(damping*5, 1e-12)
		}
		if !gained {
			return
		}
	}
}

type steppedShape struct {
	zero  float64
	knots [3]float64
	ok    bool
}

// stepped returns knots of the basis at f.zero as those at another zero.
func (f *calibrating) stepped(zero float64, knots [3]float64) steppedShape {
	if !f.double {
		return steppedShape{0, knots, true}
	}
	if !(zero < f.deepest && zero > -1e6*f.deepest) {
		return steppedShape{}
	}
	p := f.shape(f.zero, knots)
	low := min(zero, 0)
	next := steppedShape{zero, [3]float64{polynomial(p.below, low), knots[1], knots[2]}, true}
	next.knots[0] = max(next.knots[0], f.least[0])
	return next
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
	var qr mat.QR
	qr.Factorize(whole)
	var delta, change mat.VecDense
	if !solved(qr.SolveVecTo(&delta, false, right)) {
		return nil, 0, false
	}
	change.MulVec(j, &delta)
	for i, v := range r {
		promised -= change.AtVec(i) * (2*v + change.AtVec(i))
	}
	return delta.RawVector().Data, promised, true
}

// jacobian lists the free variables, and returns the derivatives of the residuals by them in columns
// scaled to length 1, the residuals, and the lengths before. A knot at its least is free if the sum of
// squares falls with it.
func (f *calibrating) jacobian() (free []int, j *mat.Dense, r, scale []float64) {
	n := len(f.points)
	columns := [variable][]float64{}
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

// calibrationErrors are the errors of a shape: for a quantity with the gradient g, the length of
// factor·g.
type calibrationErrors struct {
	factor [][coefficients]float64
	birge  float64 // √(χ²/ν), 1 or more
}

// of returns the standard error of a quantity from its derivatives by the coefficients.
func (e *calibrationErrors) of(gradient [coefficients]float64) float64 {
	sum := 0.0
	for _, row := range e.factor {
		sum = math.Hypot(sum, floats.Dot(row[:], gradient[:]))
	}
	return sum * e.birge
}

// judge returns the errors of the shape found, by the coefficients of numerator and denominator. A
// direction that the readings don't tell, with a singular value of less than 1e-12 of the greatest, has
// the error of that limit. A knot at its least counts as known.
func (f *calibrating) judge() calibrationErrors {
	e := calibrationErrors{birge: 1}
	spare := len(f.points) - 2
	if f.double {
		spare = len(f.points) - 4
	}
	if spare > 0 {
		e.birge = max(1, math.Sqrt(f.squares(f.at)/float64(spare)))
	}
	free, j, _, scale := f.jacobian()
	var svd mat.SVD
	var v mat.Dense
	if len(free) == 0 || !svd.Factorize(j, mat.SVDThinV) {
		return e
	}
	svd.VTo(&v)
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
