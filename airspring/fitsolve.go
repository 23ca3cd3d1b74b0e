package airspring

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"example.com/wheelrate/units"
)

// project sets the best fill for a volume and an exponent, where it is sought,
// and returns the sum of squares.
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

// search finds the valley: it tries volumes by the share of them that is swept,
// and exponents, each with its best fill.
func (f *fitting) search() {
	volumes, exponents := []float64{f.at[volume]}, []float64{f.at[exponent]}
	if f.free[volume] {
		volumes = volumes[:0]
		for i := range 48 { // shares from 0.001 to 0.999, closer together at the ends
			volumes = append(volumes, f.model.swept*(1+math.Exp(7-14*float64(i)/47)))
		}
	}
	if f.free[exponent] && !f.hold {
		exponents = []float64{0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.7, 2, 2.5}
	}
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

// polish minimises half the sum of squares, over that of the readings, by
// Newton's method of gonum/optimize. The variables are those of [fitModel.look],
// of the size of 1, and can't leave what a spring can be.
func (f *fitting) polish() {
	which := f.sought()
	if len(which) == 0 { // an exponent alone, held at a limit
		return
	}
	scale := 0.0
	for _, force := range f.f {
		scale += (force + f.model.outside) * (force + f.model.outside)
	}
	if !(scale > 0) {
		return
	}
	start := f.model.variables(f.at)
	unknownsAt := func(x []float64) [unknowns]float64 {
		all := start
		for row, i := range which {
			all[i] = x[row]
		}
		at := f.model.unknowns(all)
		for i, free := range f.free { // what was given keeps its bits
			if !free || i == exponent && f.hold {
				at[i] = f.at[i]
			}
		}
		return at
	}
	problem := optimize.Problem{
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
					grad[row] += r * l.first[i]
				}
			}
		},
		Hess: func(hess *mat.SymDense, x []float64) {
			at := unknownsAt(x)
			hess.Zero()
			for k, travel := range f.x {
				l := f.model.look(travel, at)
				r := l.force - f.f[k]
				for row, i := range which {
					for column, j := range which[:row+1] {
						more := (l.first[i]*l.first[j] + r*l.second[i][j]) / scale
						hess.SetSym(row, column, hess.At(row, column)+more)
					}
				}
			}
		},
	}
	x := make([]float64, len(which))
	for row, i := range which {
		x[row] = start[i]
	}
	// An error says that no step helps any more, which is how it should end.
	end, _ := optimize.Minimize(problem, x, &optimize.Settings{
		MajorIterations: 200,
		Converger:       &optimize.FunctionConverge{Iterations: 5},
	}, &optimize.Newton{Linesearcher: &optimize.Backtracking{}, GradStopThreshold: math.NaN()})
	if end == nil {
		return
	}
	if at := unknownsAt(end.X); f.model.sensible(at) && f.squares(at) <= f.squares(f.at) {
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
	if !svd.Factorize(j, mat.SVDThin) {
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
