package airspring

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/units"
)

// project sets the best fill for a volume and an exponent if it is sought: at least a
// thousandth of the ambient, so that it has a logarithm.
func (f *fitting) project(at *[unknowns]float64) {
	if !f.free[fill] {
		return
	}
	at[fill] = 1
	top, bottom := 0.0, 0.0
	for i, x := range f.x {
		gas, _ := f.gas(x, *at)
		top += gas * (f.f[i] + f.unit.outside)
		bottom += gas * gas
	}
	at[fill] = max(top/bottom, float64(f.given.Ambient)*1e-3)
}

// squares returns the sum of squares of the residuals.
func (f *fitting) squares(at [unknowns]float64) float64 {
	sum := 0.0
	for i, x := range f.x {
		gas, _ := f.gas(x, at)
		r := gas - f.unit.outside - f.f[i]
		sum += r * r
	}
	return sum
}

// minimise finds the least sum of squares. It starts from the best of 24 volumes, each
// with its best fill, for each of a few exponents: readings without much error make a
// valley too narrow for one grid to find. The ratio of what is left of the volume to
// what is swept goes from e⁻⁷ to e⁷; the exponents go beyond what is accepted, so that a
// best one outside is found there.
func (f *fitting) minimise() {
	exponents, volumes := []float64{f.at[exponent]}, []float64{f.at[volume]}
	if f.free[exponent] && !f.hold {
		exponents = []float64{0.9, 1.1, 1.3, 1.6, 2.2}
	}
	if f.free[volume] {
		volumes = nil
		for i := range 24 {
			volumes = append(volumes, f.swept*(1+math.Exp(14*float64(i)/23-7)))
		}
	}
	best, found := math.Inf(1), f.at
	for _, n := range exponents {
		start := math.Inf(1)
		for _, v := range volumes {
			at := [unknowns]float64{f.at[fill], v, n}
			f.project(&at)
			if sum := f.squares(at); sum < start {
				start, f.at = sum, at
			}
		}
		f.polish(f.sought())
		if sum := f.squares(f.at); sum < best {
			best, found = sum, f.at
		}
	}
	f.at = found
	if f.free[volume] && f.least(f.at) { // which stops the others too
		f.polish(slices.DeleteFunc(f.sought(), func(i int) bool { return i == volume }))
	}
}

// polish minimises the sum of squares by the method of Levenberg and Marquardt in the
// variables of [fitting], scaled to columns of length 1. The damping follows the gain
// over what the linear model promises (Nielsen's rule, from memory). It ends where a
// step promises nothing that float64 could tell: mostly after a dozen steps, over a
// thousandth of the travel after hundreds.
func (f *fitting) polish(which []int) {
	k := len(which)
	if k == 0 { // an exponent alone, held at a limit
		return
	}
	const mostSteps = 5000
	best, damping := f.squares(f.at), 1e-3
	forces := floats.Norm(f.f, 2)
	for range mostSteps {
		j, r, scale := f.jacobian(which)
		if scale == nil {
			return
		}
		var square, damped mat.SymDense
		var slope, delta, linear mat.VecDense
		square.SymOuterK(1, j.T())
		slope.MulVec(j.T(), mat.NewVecDense(len(r), r))
		for {
			damped.AddSym(&square, mat.NewDiagDense(k, slices.Repeat([]float64{damping}, k)))
			var factors mat.Cholesky
			if !factors.Factorize(&damped) || factors.SolveVecTo(&delta, &slope) != nil {
				return
			}
			var step [unknowns]float64
			for row, i := range which {
				step[i] = delta.AtVec(row) / scale[row]
			}
			linear.MulVec(&square, &delta)
			promised := 2*mat.Dot(&delta, &slope) - mat.Dot(&delta, &linear)
			if !(promised > 1e-17*best+1e-30*forces*forces) {
				return
			}
			next := f.moved(f.at, step)
			if sum := f.squares(next); f.sensible(next) && sum < best {
				damping = max(damping*max(1.0/3, 1-math.Pow(2*(best-sum)/promised-1, 3)), 1e-20)
				f.at, best = next, sum
				break
			}
			damping *= 3
		}
	}
}

// jacobian returns the derivatives of the forces by the variables sought, in columns
// of length 1, the residuals, and the lengths; nil lengths if one is not more than 0.
func (f *fitting) jacobian(which []int) (j *mat.Dense, r, scale []float64) {
	j, r, scale = mat.NewDense(len(f.x), len(which), nil), make([]float64, len(f.x)), make([]float64, len(which))
	for row, x := range f.x {
		gas, slope := f.gas(x, f.at)
		r[row] = f.f[row] + f.unit.outside - gas
		for column, i := range which {
			j.Set(row, column, slope[i])
			scale[column] = math.Hypot(scale[column], slope[i])
		}
	}
	for _, length := range scale {
		if !(length > 0) {
			return j, r, nil
		}
	}
	j.Apply(func(_, column int, v float64) float64 { return v / scale[column] }, j)
	return j, r, scale
}

// The ratio of singular values below which unknowns are alike, and the
// relative error above which one is not known.
const (
	alike = 1e-5
	vague = 0.25
)

// deviations returns the standard errors of the unknowns and the deviation of the
// residuals. It reports false if the columns of the Jacobian are too much alike.
func (f *fitting) deviations() (out [unknowns]float64, s float64, ok bool) {
	which := f.sought()
	s = math.Sqrt(f.squares(f.at) / float64(len(f.x)-len(which)))
	if len(which) == 0 {
		return out, s, true
	}
	j, _, scale := f.jacobian(which)
	var svd mat.SVD
	if scale == nil || !svd.Factorize(j, mat.SVDThinV) {
		return out, s, false
	}
	values := svd.Values(nil)
	if !(values[len(values)-1] > alike*values[0]) {
		return out, s, false
	}
	var v mat.Dense
	svd.VTo(&v)
	for column, i := range which {
		sum := 0.0
		for k, value := range values {
			sum += v.At(column, k) * v.At(column, k) / (value * value)
		}
		out[i] = s * math.Sqrt(sum) / scale[column] * f.sizes(f.at)[i]
	}
	return out, s, true
}

// judge returns the deviations, and records each unknown that the readings don't
// determine.
func (f *fitting) judge(c *units.Checker) ([unknowns]float64, float64) {
	deviations, s, ok := f.deviations()
	sizes := f.at
	sizes[fill] -= float64(f.given.Ambient)
	for _, i := range f.sought() {
		if !ok || !(deviations[i] <= vague*math.Abs(sizes[i])) {
			c.Fail(unknownNames[i], nil, "readings over more of the travel, or with less error, that determine it", ErrUndetermined)
		}
	}
	return deviations, s
}
