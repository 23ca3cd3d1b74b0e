package airspring

import "math"

// The unknowns of a fit, in the order in which they are kept.
const (
	fill   = iota // absolute, Pa
	volume        // of the chamber beside oil and spacers, m³
	exponent
	unknowns
)

var unknownNames = [unknowns]string{"fill", "positive_volume", "exponent"}

// fitting is a fit in progress. Its model is the force of [New] as a function of the
// unknowns,
//
//	F = p_f·G − outside
//	G = A_p·(V₀/V)ⁿ − A_n·q·(V_n0/V_n)ⁿ,  q = V₀/V(x_t)·V_n(x_t)/V_n0
//
// where V₀ is the positive chamber's volume and the second part is there with a
// negative chamber alone. Its variables are ln p_f, ln(V₀/swept − 1) and n: any
// values of them make a spring.
type fitting struct {
	given Spec
	unit  Spring  // what is known of the spring, with an absolute fill of 1 Pa
	swept float64 // by the whole travel
	x, f  []float64
	free  [unknowns]bool // what is sought
	hold  bool           // the exponent is kept at a limit of its range
	at    [unknowns]float64
}

// sought lists the unknowns.
func (f *fitting) sought() []int {
	var list []int
	for i, free := range f.free {
		if free && !(i == exponent && f.hold) {
			list = append(list, i)
		}
	}
	return list
}

// leastLeft is the part of the swept volume that a chamber keeps at full travel, a
// little more than [New] wants.
const leastLeft = 1.0001e-9

// least reports whether the chamber keeps no more than that.
func (f *fitting) least(at [unknowns]float64) bool { return at[volume] <= f.swept*(1+2*leastLeft) }

// moved returns the unknowns after a step of the variables.
func (f *fitting) moved(at, step [unknowns]float64) [unknowns]float64 {
	left := max((at[volume]-f.swept)*math.Exp(step[volume]), f.swept*leastLeft)
	return [unknowns]float64{at[fill] * math.Exp(step[fill]), f.swept + left, at[exponent] + step[exponent]}
}

// sizes returns the derivatives of the unknowns by their variables.
func (f *fitting) sizes(at [unknowns]float64) [unknowns]float64 {
	return [unknowns]float64{at[fill], at[volume] - f.swept, 1}
}

// sensible reports whether the force of unknowns is a number, as it is far beyond
// what a spring can be: below 10¹² Pa and 10⁶ m³, with an exponent between 0.1 and 10.
func (f *fitting) sensible(at [unknowns]float64) bool {
	return at[fill] < 1e12 && at[volume] < 1e6 && at[exponent] > 0.1 && at[exponent] < 10
}

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
		port := float64(f.given.PortTravel)
		open := v0 - positive.area*port // of the positive chamber, at the port
		l := -math.Log1p(-negative.share * x)
		add(-at[fill]*negative.area*negative.left(port)*v0/open*math.Exp(n*l), l, 1/v0-1/open)
	}
	slope[fill] = force
	return force, slope
}
