package linkage

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"example.com/wheelrate/units"
)

// moved returns the mechanism with each coordinate moved by its share of the
// bound, from −1 to 1.
func (p *pivots) moved(x []float64) Mechanism {
	m := p.ask.Mechanism.clone()
	for i, a := range p.axes {
		at := m.Points[a.point]
		at[a.axis] += units.Length(x[i] * a.bound)
		m.Points[a.point] = at
	}
	return m
}

// shockWeight is what a metre too much or too little of shock weighs as lever
// ratio: a hundredth of a millimetre as much as 0.1 all along, so that the
// length that is wanted comes before the curve.
const shockWeight = 1e4

// residuals returns what is missed with the coordinates moved, or nil where
// the mechanism locks: the lever ratios, each over the root of their number,
// the shock's length and the anti-squat.
func (p *pivots) residuals(x []float64) []float64 {
	p.tried++
	k, err := follow(p.moved(x), true)
	if err != nil {
		p.locked++
		return nil
	}
	n := len(p.ask.Stroke)
	r := make([]float64, n, n+2)
	for i, s := range p.ask.Stroke {
		r[i] = (k.Pose(s).LeverRatio - p.ask.LeverRatio[i]) / math.Sqrt(float64(n))
	}
	if p.shock > 0 {
		r = append(r, (k.t.length*k.t.size-p.shock)*shockWeight)
	}
	if a := p.ask.AntiSquat; a != nil {
		d, err := NewDrive(k, *p.ask.Drive)
		if err != nil {
			p.locked++
			return nil
		}
		r = append(r, (d.AntiSquat(a.At)-a.Value)*a.Weight)
	}
	return r
}

// starts returns where the search starts from: the points as given, and four
// places spread over half the bounds.
func (p *pivots) starts() [][]float64 {
	list := [][]float64{make([]float64, len(p.axes))}
	for i := range 4 {
		z := make([]float64, len(p.axes))
		for k := range z {
			// Multiples of the golden ratio fill an interval evenly.
			_, f := math.Modf(float64(1+i*len(z)+k) * (math.Sqrt(5) - 1) / 2)
			z[k] = (f - 0.5) * math.Pi / 3
		}
		list = append(list, z)
	}
	return list
}

// descend goes downhill from a start and returns where it ends and the sum of
// the squares there. Coordinates are the sine of what is searched, which keeps
// them within their bounds.
func (p *pivots) descend(z []float64) ([]float64, float64) {
	n := len(z)
	at := func(z []float64) []float64 {
		x := make([]float64, n)
		for i, v := range z {
			x[i] = math.Sin(v)
		}
		return x
	}
	sum := func(z []float64) float64 {
		r := p.residuals(at(z))
		if r == nil {
			return math.Inf(1)
		}
		return mat.Dot(mat.NewVecDense(len(r), r), mat.NewVecDense(len(r), r))
	}
	if math.IsInf(sum(z), 1) {
		return nil, math.Inf(1)
	}
	// Gradient and curvature are asked for at the same places.
	var lastZ []float64
	var lastJ *mat.Dense
	var lastR *mat.VecDense
	linear := func(z []float64) (*mat.Dense, *mat.VecDense) {
		if !slices.Equal(z, lastZ) {
			lastZ = slices.Clone(z)
			lastJ, lastR = p.linearise(at(z), z)
		}
		return lastJ, lastR
	}
	problem := optimize.Problem{
		Func: sum,
		Grad: func(grad, z []float64) {
			if j, r := linear(z); j != nil {
				mat.NewVecDense(n, grad).MulVec(j.T(), r)
				for i := range grad {
					grad[i] *= 2
				}
			} else {
				clear(grad) // a place at the very edge of what moves: stay
			}
		},
		Hess: func(hess *mat.SymDense, z []float64) {
			hess.Zero()
			if j, _ := linear(z); j != nil {
				hess.SymOuterK(2, j.T())
			}
			for i := range n {
				hess.SetSym(i, i, hess.At(i, i)*(1+1e-9)+1e-12)
			}
		},
	}
	settings := &optimize.Settings{
		MajorIterations: 50,
		Converger:       &optimize.FunctionConverge{Absolute: 1e-14, Relative: 1e-6, Iterations: 3},
	}
	// The error of a search that can't go on says no more than where it ended.
	result, _ := optimize.Minimize(problem, z, settings, &optimize.Newton{Linesearcher: &optimize.Backtracking{}})
	if result == nil || !(result.F < math.Inf(1)) {
		return at(z), sum(z)
	}
	return at(result.X), result.F
}

// linearise returns the derivatives of the residuals by z, from central
// differences in the coordinates, and the residuals; nil where that takes a
// mechanism that locks.
func (p *pivots) linearise(x, z []float64) (*mat.Dense, *mat.VecDense) {
	r := p.residuals(x)
	if r == nil {
		return nil, nil
	}
	j := mat.NewDense(len(r), len(x), nil)
	for i, a := range p.axes {
		// A micrometre or so: the residuals are exact to 1e-13, and smooth over
		// centimetres.
		const step = 2e-6
		h := step / a.bound
		moved := slices.Clone(x)
		moved[i] = x[i] + h
		after := p.residuals(moved)
		moved[i] = x[i] - h
		before := p.residuals(moved)
		if after == nil || before == nil {
			return nil, nil
		}
		for row := range r {
			j.Set(row, i, (after[row]-before[row])/(2*h)*math.Cos(z[i]))
		}
	}
	return j, mat.NewVecDense(len(r), r)
}
