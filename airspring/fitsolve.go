package airspring

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"example.com/wheelrate/units"
)

// project sets the best fill for a volume and an exponent, where it is sought,
// and returns the sum of squares. Where the best is not more than vacuum it sets a
// thousandth of the ambient.
func (f *fitting) project(at *[unknowns]float64) float64 {
	if f.free[fill] {
		at[fill] = 1
		top, bottom := 0.0, 0.0
		for i, x := range f.x {
			gas := f.model.gas(x, *at)
			top += gas * (f.f[i] + f.model.outside)
			bottom += gas * gas
		}
		at[fill] = math.Max(top/bottom, f.model.ambient*1e-3)
	}
	return f.squares(*at)
}

func (f *fitting) squares(at [unknowns]float64) float64 {
	sum := 0.0
	for i, x := range f.x {
		r := f.model.gas(x, at) - f.model.outside - f.f[i]
		sum += r * r
	}
	return sum
}

// volumes are those that search tries: what is given, or 48 with shares swept
// from 0.9991 to 0.0009, closer together at the ends: the ratio of what is left to
// what is swept goes from e⁻⁷ to e⁷ in equal steps.
func (f *fitting) volumes() []float64 {
	if !f.free[volume] {
		return []float64{f.at[volume]}
	}
	list := make([]float64, 48)
	for i := range list {
		list[i] = f.model.swept * (1 + math.Exp(14*float64(i)/47-7))
	}
	return list
}

// exponents are those that search tries; they go beyond what is accepted, so that
// the best is seen to be outside.
func (f *fitting) exponents() []float64 {
	if !f.free[exponent] {
		return []float64{f.at[exponent]}
	}
	return []float64{0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.7, 2, 2.5}
}

// search finds the valley: it tries volumes and exponents, each with its best
// fill.
func (f *fitting) search() {
	volumes, exponents := f.volumes(), f.exponents()
	best, found := math.Inf(1), f.at
	for _, v := range volumes {
		for _, n := range exponents {
			at := f.at
			at[volume], at[exponent] = v, n
			if sum := f.project(&at); sum < best {
				best, found = sum, at
			}
		}
	}
	f.at = found
}

// problem is half the sum of squares over that of the forces of the gas alone,
// with its derivatives, as a function of the variables sought, which are those
// of [fitModel.look], each times a weight. Where the second derivatives are not
// positive definite, they are those of the linearised force, as in the method of
// Gauss and Newton. It returns besides what they are at present, and how to get
// from them to the unknowns.
func (f *fitting) problem() (p optimize.Problem, x []float64, unknownsAt func(x []float64) [unknowns]float64) {
	which := f.sought()
	vacuum := f.at
	vacuum[fill] = 0
	scale := f.squares(vacuum)
	start := f.model.variables(f.at)
	var weight [unknowns]float64 // with which the linear part of the second derivatives is 1 at the start
	for _, travel := range f.x {
		l := f.model.look(travel, f.at)
		for i, first := range l.first {
			weight[i] += first * first / scale
		}
	}
	for _, i := range which {
		weight[i] = math.Sqrt(weight[i])
		x = append(x, start[i]*weight[i])
	}
	unknownsAt = func(x []float64) [unknowns]float64 {
		all := start
		for row, i := range which {
			all[i] = x[row] / weight[i]
		}
		return f.model.unknowns(all)
	}
	p = optimize.Problem{
		Func: func(x []float64) float64 {
			if at := unknownsAt(x); f.model.sensible(at) {
				return f.squares(at) / (2 * scale)
			}
			return math.Inf(1)
		},
		Grad: func(grad, x []float64) {
			at := unknownsAt(x)
			clear(grad)
			for k, travel := range f.x {
				l := f.model.look(travel, at)
				r := (l.force - f.f[k]) / scale
				for row, i := range which {
					grad[row] += r * l.first[i] / weight[i]
				}
			}
		},
		Hess: func(hess *mat.SymDense, x []float64) {
			at := unknownsAt(x)
			hess.Zero()
			linear := mat.NewSymDense(len(which), nil)
			for k, travel := range f.x {
				l := f.model.look(travel, at)
				r := l.force - f.f[k]
				for row, i := range which {
					for column, j := range which[:row+1] {
						scale := scale * weight[i] * weight[j]
						more := l.first[i] * l.first[j] / scale
						linear.SetSym(row, column, linear.At(row, column)+more)
						hess.SetSym(row, column, hess.At(row, column)+more+r*l.second[i][j]/scale)
					}
				}
			}
			// Away from the least the residuals' part may leave no way down: over a short
			// stroke it is soon the greater one.
			if !new(mat.Cholesky).Factorize(hess) {
				hess.CopySym(linear)
			}
		},
	}
	return p, x, unknownsAt
}

// polish minimises [fitting.problem] by Newton's method of gonum/optimize. The
// variables are of the size of 1, and can't leave what a spring can be.
func (f *fitting) polish() {
	problem, x, unknownsAt := f.problem()
	if len(x) == 0 { // an exponent alone, held at a limit
		return
	}
	// An error says that no step helps any more, which is how it should end. Mostly
	// that takes less than a hundred steps, over a thousandth of the travel some
	// hundreds or thousands.
	end, _ := optimize.Minimize(problem, x, &optimize.Settings{
		MajorIterations: 5000,
		Converger:       &optimize.FunctionConverge{Iterations: 5},
	}, &optimize.Newton{Linesearcher: &optimize.Backtracking{}, GradStopThreshold: math.NaN()})
	if end == nil {
		return
	}
	if at := unknownsAt(end.X); f.squares(at) <= f.squares(f.at) {
		f.at = at
	}
}

// jacobian is the derivative of the forces by the variables sought, and the
// residuals.
func (f *fitting) jacobian() (*mat.Dense, *mat.VecDense, []int) {
	which := f.sought()
	j, r := mat.NewDense(len(f.x), len(which), nil), mat.NewVecDense(len(f.x), nil)
	for row, x := range f.x {
		l := f.model.look(x, f.at)
		r.SetVec(row, f.f[row]-l.force)
		for column, i := range which {
			j.Set(row, column, l.first[i])
		}
	}
	return j, r, which
}

// deviations are the standard errors of the unknowns and the deviation of the
// residuals. It fails where the columns of the Jacobian are too much alike.
func (f *fitting) deviations() ([unknowns]float64, float64, bool) {
	var out [unknowns]float64
	if len(f.sought()) == 0 {
		return out, math.Sqrt(f.squares(f.at) / float64(len(f.x))), true
	}
	j, r, which := f.jacobian()
	s := mat.Norm(r, 2) / math.Sqrt(float64(len(f.x)-len(which)))
	scale := make([]float64, len(which))
	for column := range which {
		scale[column] = mat.Norm(j.ColView(column), 2)
		if !(scale[column] > 0) {
			return out, s, false
		}
		for row := range f.x {
			j.Set(row, column, j.At(row, column)/scale[column])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(j, mat.SVDThinV) {
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
		out[i] = s * math.Sqrt(sum) / scale[column] * f.model.size(i, f.at)
	}
	return out, s, true
}

// alike is the ratio of singular values below which unknowns are not told apart,
// and vague the relative error above which one isn't known.
const (
	alike = 1e-5
	vague = 0.25
)

// judge returns the standard errors and the deviation of the residuals, and
// records each unknown that the readings don't determine.
func (f *fitting) judge(c *units.Checker) ([unknowns]float64, float64) {
	deviations, s, ok := f.deviations()
	sizes := f.at
	sizes[fill] -= f.model.ambient
	for _, i := range f.sought() {
		if !ok || !(deviations[i] <= vague*math.Abs(sizes[i])) {
			c.Fail(unknownNames[i], nil, "readings over more of the travel, or with less error, that determine it", ErrUndetermined)
		}
	}
	return deviations, s
}
