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

// fitModel is the force of [New] as a function of the unknowns,
//
//	F = p_f·G − outside
//	G = A_p·(V₀/V)ⁿ − A_n·q·(V_n0/V_n)ⁿ,  q = V₀/V(x_t)·V_n(x_t)/V_n0
//
// where V₀ is the positive chamber's volume and the second part is there with a
// negative chamber alone. Its variables are ln p_f, ln(V₀/swept − 1) and n: any
// values of them make a spring.
type fitModel struct {
	area, negativeArea float64
	negativeShare      float64 // A_n/V_n0
	port               float64
	swept              float64 // by the whole travel
	outside            float64
	ambient            float64
}

func newFitModel(spec *Spec) fitModel {
	s := newSpring(spec, 1)
	return fitModel{
		area: s.positive.area, negativeArea: s.negative.area, negativeShare: -s.negative.share,
		port: float64(spec.PortTravel), swept: spec.sweep(spec.Travel), outside: s.outside, ambient: float64(spec.Ambient),
	}
}

// leastLeft is the part of the swept volume that a chamber keeps at full travel, a
// little more than [New] wants.
const leastLeft = 1.0001e-9

// least reports whether the chamber keeps no more than that.
func (m *fitModel) least(at [unknowns]float64) bool { return at[volume] <= m.swept*(1+2*leastLeft) }

// moved returns the unknowns after a step of the variables.
func (m *fitModel) moved(at, step [unknowns]float64) [unknowns]float64 {
	left := max((at[volume]-m.swept)*math.Exp(step[volume]), m.swept*leastLeft)
	return [unknowns]float64{at[fill] * math.Exp(step[fill]), m.swept + left, at[exponent] + step[exponent]}
}

// size returns the derivative of an unknown by its variable.
func (m *fitModel) size(i int, at [unknowns]float64) float64 {
	switch i {
	case fill:
		return at[fill]
	case volume:
		return at[volume] - m.swept
	}
	return 1
}

// sensible reports whether the force of unknowns is a number, as it is far beyond
// what a spring can be: below 10¹² Pa and 10⁶ m³, with an exponent between 0.1 and
// 10, and a billionth of the chamber or more left at full travel.
func (m *fitModel) sensible(at [unknowns]float64) bool {
	return at[fill] < 1e12 && m.swept/at[volume] <= mostSwept && at[volume] < 1e6 && at[exponent] > 0.1 && at[exponent] < 10
}

// gas returns p_f·G at a travel, and its derivatives by the variables.
func (m *fitModel) gas(x float64, at [unknowns]float64) (force float64, slope [unknowns]float64) {
	v0, n := at[volume], at[exponent]
	// add adds p_f·a·exp(n·l + …), given l and the derivative of the exponent by V₀.
	add := func(value, l, byVolume float64) {
		force += value
		slope[volume] += value * byVolume * (v0 - m.swept)
		slope[exponent] += value * l
	}
	// l = ln(V₀/V): its derivative by V₀ is 1/V₀ − 1/V.
	l := -math.Log1p(-m.area * x / v0)
	add(at[fill]*m.area*math.Exp(n*l), l, n*(1/v0-1/(v0-m.area*x)))
	if m.negativeArea > 0 {
		port := v0 - m.area*m.port
		q := (1 + m.negativeShare*m.port) * v0 / port
		l := -math.Log1p(m.negativeShare * x)
		add(-at[fill]*m.negativeArea*q*math.Exp(n*l), l, 1/v0-1/port)
	}
	slope[fill] = force
	return force, slope
}
