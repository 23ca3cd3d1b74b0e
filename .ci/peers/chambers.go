package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"example.com/wheelrate/spring/leastsquares"
	"example.com/wheelrate/spring/root"
)

// An invented air spring: the area of its piston in m², its travel in m and the air around in Pa.
const (
	area    = 9.079202768874502e-4
	travel  = 0.16
	ambient = 101325.
)

// chamber is the volume in 100 cm³, the absolute pressure in bar and the exponent of a chamber.
type chamber [3]float64

// force returns the force at a travel, and its derivatives by volume, pressure and exponent.
func (p chamber) force(x float64) (force float64, derivatives [3]float64) {
	volume, pressure, n := 1e-4*p[0], 1e5*p[1], p[2]
	ratio := volume / (volume - area*x)
	absolute := area * pressure * math.Pow(ratio, n)
	return absolute - area*ambient, [3]float64{absolute * n * (1 - ratio) / p[0], absolute / p[1], absolute * math.Log(ratio)}
}

// forces returns the derivatives of forces at travels, in columns, and by how much the forces exceed what was read.
func (p chamber) forces(x, read []float64) (*mat.Dense, []float64) {
	j, r := mat.NewDense(len(x), 3, nil), make([]float64, len(x))
	for i := range x {
		force, row := p.force(x[i])
		j.SetRow(i, row[:])
		r[i] = force - read[i]
	}
	return j, r
}

// fitsOfChambers looks for a chamber from 12 forces. Their errors are at right angles to the derivatives
// at the chamber without errors, so that it is the one with the least sum of squares. All searches start
// near it: from twice as far the methods of Levenberg and Marquardt go to negative volumes.
func fitsOfChambers() (comparison, error) {
	truth, start := chamber{1.9, 6.5, 1.3}, chamber{1.6, 7, 1.4}
	c := comparison{work: "volume, pressure and exponent from 12 forces", want: truth[:], within: 1e-6}
	var x, read, errs []float64
	for i := range 12 {
		x, read, errs = append(x, travel*float64(i)/12), append(read, 0), append(errs, 3*math.Cos(float64(5*i)))
	}
	j, forces := truth.forces(x, read)
	share, ok := leastsquares.Solve(mat.DenseCopyOf(j), errs)
	if !ok {
		return c, fmt.Errorf("no share of the errors %v", errs)
	}
	var along mat.VecDense
	along.MulVec(j, mat.NewVecDense(3, share))
	for i := range read {
		read[i] = forces[i] + errs[i] - along.AtVec(i)
	}

	calls := 0 // of forces, with their derivatives or without
	linear := func(p chamber) (*mat.Dense, []float64) { calls++; return p.forces(x, read) }
	squares := func(p chamber) float64 {
		calls++
		sum := 0.0
		for i := range x {
			force, _ := p.force(x[i])
			sum += (force - read[i]) * (force - read[i])
		}
		return sum
	}
	ours := leastsquares.Problem[chamber]{
		Squares: squares, Linear: linear, Steps: 100, Gain: 1e-17,
		Moved: func(p chamber, step []float64) chamber { floats.Add(p[:], step); return p },
	}
	c.ours = timed(func() ([]float64, int) {
		calls = 0
		p := ours.Minimise(start)
		return p[:], calls
	})
	var err error
	if c.peers, err = askSciPy("chamber", map[string]any{"x": x, "force": read, "area": area, "ambient": ambient, "start": start}); err != nil {
		return c, err
	}
	problem := optimize.Problem{
		Func: func(p []float64) float64 { return squares(chamber(p)) },
		Grad: func(gradient, p []float64) {
			j, r := linear(chamber(p))
			mat.NewVecDense(3, gradient).MulVec(j.T(), mat.NewVecDense(len(r), r))
			floats.Scale(2, gradient)
		},
	}
	for name, method := range map[string]optimize.Method{"gonum's BFGS": &optimize.BFGS{}, "gonum's Nelder–Mead": &optimize.NelderMead{}} {
		c.peers[name] = timed(func() ([]float64, int) {
			calls = 0
			r, _ := optimize.Minimize(problem, start[:], &optimize.Settings{Converger: &optimize.FunctionConverge{Relative: 1e-15, Iterations: 30}}, method)
			return r.X, calls
		})
	}
	return c, nil
}

// travelsAtLoads looks for the travel at 200 loads. It is x = V/A·(1 − (p/(F/A + p_a))^(1/n)).
func travelsAtLoads() (comparison, error) {
	c := comparison{work: "travel of an air spring at 200 loads", within: 1e-12}
	const volume, pressure, n = 190e-6, 651325., 1.3
	force := func(x float64) float64 { return area * (pressure*math.Pow(volume/(volume-area*x), n) - ambient) }
	low, high := force(0), force(travel)
	var loads []float64
	for i := range 200 {
		load := low + (high-low)*float64(i+1)/202
		loads = append(loads, load)
		c.want = append(c.want, volume/area*(1-math.Pow(pressure/(load/area+ambient), 1/n)))
	}
	var failed error
	c.ours = timed(func() ([]float64, int) {
		calls := 0
		return each(loads, func(load float64) float64 {
			x, err := root.Find(func(x float64) float64 { calls++; return force(x) - load }, 0, travel, 1e-13)
			if err != nil {
				failed = err
			}
			return x
		}), calls
	})
	if failed != nil {
		return c, failed
	}
	var err error
	c.peers, err = askSciPy("roots", map[string]any{"area": area, "volume": volume, "pressure": pressure, "ambient": ambient, "n": n, "travel": travel, "loads": loads})
	return c, err
}
