package calibration

import (
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// zeros returns the zeros of Φ that the search tries first: some from next to the shallowest stroke to far
// before full extension, and that of the least-squares solution of s = s₀ + Φ·N(s), which is linear in
// the zero and the coefficients of N.
func (f *search) zeros() []float64 {
	if !f.double {
		return []float64{0}
	}
	list := floats.LogSpan(make([]float64, 8), 1e-3, 3)
	shallowest := f.deepest
	for _, p := range f.points {
		shallowest = min(shallowest, p.Stroke)
	}
	for i, d := range list {
		list[i] = shallowest - d*f.deepest
	}
	j, right := mat.NewDense(len(f.points), 4, nil), mat.NewVecDense(len(f.points), nil)
	for row, p := range f.points {
		u, phi := p.Stroke/f.deepest, p.Phi/f.points[0].Phi
		j.SetRow(row, []float64{1, phi, phi * u, phi * u * u})
		right.SetVec(row, u)
	}
	if x, ok := solve(j, right); ok && x[0] < 1 {
		list = append(list, x[0]*f.deepest)
	}
	return list
}

// linear returns knots for a zero: the least-squares solution of M(s) = Φ·N(s), where Φ = M/N, with none
// below its least.
func (f *search) linear(zero float64) (knots [3]float64) {
	basis, used := f.basis(zero), f.unknowns()-1
	if !f.double {
		used = 2
	}
	j, right := mat.NewDense(len(f.points), used, nil), mat.NewVecDense(len(f.points), nil)
	for row, p := range f.points {
		m, weight := p.Stroke-zero, 1.0
		if !f.double {
			m, weight = 1, 1/p.Phi
		}
		for column := range used {
			j.Set(row, column, weight*p.Phi*polynomial(basis[column], p.Stroke))
		}
		right.SetVec(row, weight*m)
	}
	x, _ := solve(j, right)
	for i := range knots {
		knots[i] = f.least[i]
		if i < len(x) && x[i] > knots[i] {
			knots[i] = x[i]
		}
	}
	return knots
}

// solve returns the least-squares solution of a·x = b, and whether there is one. The columns of a are
// scaled to length 1.
func solve(a *mat.Dense, b *mat.VecDense) (x []float64, ok bool) {
	_, n := a.Dims()
	scale := make([]float64, n)
	for i := range n {
		scale[i] = mat.Norm(a.ColView(i), 2)
	}
	a.Apply(func(_, column int, v float64) float64 { return v / scale[column] }, a)
	var qr mat.QR
	qr.Factorize(a)
	var solution mat.VecDense
	if err := qr.SolveVecTo(&solution, false, b); err != nil {
		if _, conditioned := err.(mat.Condition); !conditioned {
			return nil, false
		}
	}
	x = solution.RawVector().Data
	for i := range x {
		x[i] /= scale[i]
	}
	return x, !floats.HasNaN(x)
}
