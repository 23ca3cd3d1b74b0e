package main

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// points are n points of an invented linkage over 65 mm, its lever ratio at 1024 strokes, in no order,
// and its table, in mm.
func points(n int) (x, y, at, ratios []float64, t linkage.Table) {
	for i := range n {
		s := 65 * float64(i) / float64(n-1)
		x, y = append(x, s), append(y, 2.6*s+6*math.Sin(s/25))
	}
	for i := range 1024 {
		s := 65 * float64(i*619%1024) / 1024
		at, ratios = append(at, s), append(ratios, 2.6+6./25*math.Cos(s/25))
	}
	return x, y, at, ratios, table(x, y)
}

func table(x, y []float64) (t linkage.Table) {
	for i := range x {
		t.Stroke = append(t.Stroke, units.Length(x[i])*units.Millimetre)
		t.Travel = append(t.Travel, units.Length(y[i])*units.Millimetre)
	}
	return t
}

// each returns the values of a function at places in mm.
func each(at []float64, value func(x float64) float64) []float64 {
	values := make([]float64, len(at))
	for i, x := range at {
		values[i] = value(x)
	}
	return values
}

// ratiosOf returns a curve's lever ratio at strokes in mm.
func ratiosOf(c *linkage.Curve, at []float64) []float64 {
	return each(at, func(x float64) float64 { return c.LeverRatio(units.Length(x) * units.Millimetre) })
}

// tableLookups reads the lever ratio of a table. The curve between its points is the same for all, so
// the library's is the right one.
func tableLookups() (comparison, error) {
	c := comparison{work: "lever ratio at 1024 strokes in a table of 14 points", within: 1e-12}
	x, y, at, _, t := points(14)
	curve, err := linkage.NewTable(t)
	if err != nil {
		return c, err
	}
	var other interp.FritschButland
	if err := other.Fit(x, y); err != nil {
		return c, err
	}
	c.ours = timed(func() ([]float64, int) { return ratiosOf(curve, at), 0 })
	c.want = c.ours.Values
	if c.peers, err = askSciPy("lookups", map[string]any{"x": x, "y": y, "at": at}); err == nil {
		c.peers["gonum/interp"] = timed(func() ([]float64, int) { return each(at, other.PredictDerivative), 0 })
	}
	return c, err
}

// splinesOfTables makes a spline of a table, and reads the lever ratio.
func splinesOfTables() (comparison, error) {
	c := comparison{work: "spline through 131 points, and its ratio at 16 strokes", within: 1e-6}
	x, y, at, ratios, t := points(131)
	at, c.want = at[:16], ratios[:16]
	t.Method = linkage.Smooth
	if _, err := linkage.NewTable(t); err != nil {
		return c, err
	}
	c.ours = timed(func() ([]float64, int) {
		curve, _ := linkage.NewTable(t)
		return ratiosOf(curve, at), 0
	})
	var err error
	if c.peers, err = askSciPy("splines", map[string]any{"x": x, "y": y, "at": at}); err == nil {
		c.peers["gonum's NotAKnotCubic"] = timed(func() ([]float64, int) {
			var other interp.NotAKnotCubic
			_ = other.Fit(x, y)
			return each(at, other.PredictDerivative), 0
		})
	}
	return c, err
}

// fitsOfReadings fits a polynomial to 27 readings. Their errors are binomial coefficients of alternating
// sign, whose product with every polynomial of a degree below 26 sums up to 0, so that the polynomial
// without the errors is the nearest.
func fitsOfReadings() (comparison, error) {
	c := comparison{work: "polynomial nearest to 27 readings, and its ratio at 16 strokes", within: 1e-12}
	_, _, at, _, _ := points(2)
	at = at[:16]
	powers := []float64{2.9, -0.012, 2e-4, -1.5e-6} // of mm
	travel := func(x float64) float64 { return x * (powers[0] + x*(powers[1]+x*(powers[2]+x*powers[3]))) }
	c.want = each(at, func(x float64) float64 { return powers[0] + x*(2*powers[1]+x*(3*powers[2]+x*4*powers[3])) })
	var x, y []float64
	e := 1e-7 // mm, and 1 mm in the middle
	for i := range 27 {
		x, y = append(x, 2.5*float64(i)), append(y, travel(2.5*float64(i))+e)
		e *= -float64(26-i) / float64(i+1)
	}
	t := table(x, y)
	if _, err := linkage.FitReadings(t); err != nil {
		return c, err
	}
	c.ours = timed(func() ([]float64, int) {
		fit, _ := linkage.FitReadings(t)
		return ratiosOf(fit.Curve, at), 0
	})
	var err error
	if c.peers, err = askSciPy("readings", map[string]any{"x": x, "y": y, "at": at}); err != nil {
		return c, err
	}
	c.peers["gonum's QR"] = timed(func() ([]float64, int) {
		full := x[len(x)-1]
		a := mat.NewDense(len(x), 4, nil)
		for i := range x {
			for k := range 4 {
				a.Set(i, k, math.Pow(x[i]/full, float64(k+1)))
			}
		}
		var b mat.VecDense
		if err := b.SolveVec(a, mat.NewVecDense(len(y), y)); err != nil {
			panic(fmt.Sprint("readings at 27 strokes: ", err))
		}
		return each(at, func(s float64) float64 {
			sum := 0.0
			for k := range 4 {
				sum += float64(k+1) * b.AtVec(k) * math.Pow(s/full, float64(k)) / full
			}
			return sum
		}), 0
	})
	return c, nil
}
