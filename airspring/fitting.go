package airspring

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/airspring/internal/leastsquares"
	"example.com/wheelrate/units"
)

// The unknowns of a fit, in the order in which they are kept.
const (
	fill   = iota // absolute, Pa
	volume        // of the chamber beside oil and spacers, m³
	exponent
	unknowns
)

var unknownNames = [unknowns]string{"fill", "positive_volume", "exponent"}

// fitting is the state of a fit. Its model is the force of [New] as a function of the unknowns,
//
//	F = p_f·G − outside
//	G = A_p·(V₀/V)ⁿ − A_n·q·(V_n0/V_n)ⁿ,  q = V₀/V(x_t)·V_n(x_t)/V_n0
//
// with V₀ the volume of the positive chamber. The second part of G is that of a negative chamber.
// The variables are ln p_f, ln(V₀/swept − 1) and n, which have a spring at any values.
type fitting struct {
	unit  Spring  // what is known of the spring, with an absolute fill of 1 Pa
	swept float64 // by the whole travel
	x, f  []float64
	free  [unknowns]bool // what is sought
	at    [unknowns]float64
}

// sought returns the number of unknowns.
func (f *fitting) sought() (k int) {
	for _, free := range f.free {
		if free {
			k++
		}
	}
	return k
}

// leastLeft is the part of the swept volume that a chamber keeps at full travel, a little more
// than [New] wants.
const leastLeft = 1.0001e-9

// gas returns p_f·G at a travel, and its derivatives by the variables.
func (f *fitting) gas(x float64, at [unknowns]float64) (force float64, slope [unknowns]float64) {
	positive, negative, v0, n := &f.unit.positive, &f.unit.negative, at[volume], at[exponent]
	// add adds p_f·a·exp(n·l + …), given l and the derivative of the exponent by V₀.
	add := func(value, l, byVolume float64) {
		force += value
		slope[volume] += value * byVolume * (v0 - f.swept)
		slope[exponent] += value * l
	}
	// l = ln(V₀/V): its derivative by V₀ is 1/V₀ − 1/V.
	l := -math.Log1p(-positive.area * x / v0)
	add(at[fill]*positive.area*math.Exp(n*l), l, n*(1/v0-1/(v0-positive.area*x)))
	if negative.area > 0 {
		port := float64(f.unit.spec.PortTravel)
		open := v0 - positive.area*port // of the positive chamber, at the port
		l := -math.Log1p(-negative.share * x)
		add(-at[fill]*negative.area*negative.left(port)*v0/open*math.Exp(n*l), l, 1/v0-1/open)
	}
	slope[fill] = force
	return force, slope
}

// project sets the best fill for a volume and an exponent if it is sought: at least a thousandth
// of the ambient, so that it has a logarithm.
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
	at[fill] = max(top/bottom, float64(f.unit.spec.Ambient)*1e-3)
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

// minimise finds the least sum of squares. For each of a few exponents it starts from the best of
// 24 volumes, each with its best fill: the valley of readings with small errors is too narrow for one
// grid. The volume at full travel is from e⁻⁷ to e⁷ of the swept one. The exponents go beyond 1 to 2,
// so that a best exponent outside is found there.
func (f *fitting) minimise() {
	exponents, volumes := []float64{f.at[exponent]}, []float64{f.at[volume]}
	if f.free[exponent] {
		exponents = []float64{0.9, 1.1, 1.3, 1.6, 2.2}
	}
	if f.free[volume] {
		volumes = floats.LogSpan(make([]float64, 24), math.Exp(-7), math.Exp(7))
		for i, ratio := range volumes {
			volumes[i] = f.swept * (1 + ratio)
		}
	}
	best, found, forces := math.Inf(1), f.at, floats.Norm(f.f, 2)
	for _, n := range exponents {
		start := math.Inf(1)
		for _, v := range volumes {
			at := [unknowns]float64{f.at[fill], v, n}
			f.project(&at)
			if sum := f.squares(at); sum < start {
				start, f.at = sum, at
			}
		}
		f.at = leastsquares.Minimise(f.at, f.squares, f.bounded, f.moved, 1e-30*forces*forces)
		if sum := f.squares(f.at); sum < best {
			best, found = sum, f.at
		}
	}
	f.at = found
}

// moved returns the unknowns after a step of the variables.
func (f *fitting) moved(at [unknowns]float64, step []float64) [unknowns]float64 {
	at[fill] *= math.Exp(step[fill])
	at[volume] = f.swept + max((at[volume]-f.swept)*math.Exp(step[volume]), f.swept*leastLeft)
	at[exponent] += step[exponent]
	if !(at[fill] < 1e12 && at[volume] < 1e6 && at[exponent] > 0.1 && at[exponent] < 10) {
		at[fill] = math.NaN() // far beyond any spring the force is not finite
	}
	return at
}

// linear returns the derivatives of the forces by the variables, 0 for one that is given, and the
// residuals.
func (f *fitting) linear(at [unknowns]float64) (*mat.Dense, []float64) {
	j, r := mat.NewDense(len(f.x), unknowns, nil), make([]float64, len(f.x))
	for row, x := range f.x {
		gas, slope := f.gas(x, at)
		r[row] = gas - f.unit.outside - f.f[row]
		for i, free := range f.free {
			if free {
				j.Set(row, i, slope[i])
			}
		}
	}
	return j, r
}

// bounded is linear, with 0 for a volume at its least if the sum of squares does not fall with it.
func (f *fitting) bounded(at [unknowns]float64) (*mat.Dense, []float64) {
	j, r := f.linear(at)
	if at[volume] <= f.swept*(1+2*leastLeft) && mat.Dot(j.ColView(volume), mat.NewVecDense(len(r), r)) >= 0 {
		j.SetCol(volume, make([]float64, len(r)))
	}
	return j, r
}

// Unknowns are undetermined where the least singular value is at most alike times the greatest, or
// where the relative standard error is more than vague.
const alike, vague = 1e-5, 0.25

// judge returns the standard errors of the unknowns and the deviation of the residuals, and
// records each unknown that the readings don't determine.
func (f *fitting) judge(c *units.Checker) (deviations [unknowns]float64, s float64) {
	s = math.Sqrt(f.squares(f.at) / float64(len(f.x)-f.sought()))
	j, _ := f.linear(f.at)
	rows, _, ratio := leastsquares.Factor(j, 0)
	distinct := len(rows) == f.sought() && ratio > alike
	sizes := [unknowns]float64{f.at[fill], f.at[volume] - f.swept, 1} // by their variables
	whole := [unknowns]float64{f.at[fill] - float64(f.unit.spec.Ambient), f.at[volume], f.at[exponent]}
	for i, free := range f.free {
		for _, row := range rows {
			deviations[i] = math.Hypot(deviations[i], s*row[i]*sizes[i])
		}
		if free && !(distinct && deviations[i] <= vague*math.Abs(whole[i])) {
			c.Fail(unknownNames[i], nil, "readings over more of the travel, or with less error, that determine it", ErrUndetermined)
		}
	}
	return deviations, s
}
