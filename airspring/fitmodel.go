package airspring

import "math"

// fitModel is the force of [New] as a function of the unknowns of [Fit], with its
// derivatives by them:
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

// variables and unknowns turn into each other.
func (m *fitModel) variables(at [unknowns]float64) [unknowns]float64 {
	return [unknowns]float64{math.Log(at[fill]), math.Log(at[volume]/m.swept - 1), at[exponent]}
}

func (m *fitModel) unknowns(v [unknowns]float64) [unknowns]float64 {
	return [unknowns]float64{math.Exp(v[fill]), m.swept * (1 + math.Exp(v[volume])), v[exponent]}
}

// size is the derivative of an unknown by its variable.
func (m *fitModel) size(i int, at [unknowns]float64) float64 {
	switch i {
	case fill:
		return at[fill]
	case volume:
		return at[volume] - m.swept
	}
	return 1
}

// sensible tells whether the force of unknowns is a number, as it is far beyond
// what a spring can be: below 10¹² Pa and 10⁶ m³, with an exponent between 0.1 and
// 10, and a billionth of the chamber or more left at full travel.
func (m *fitModel) sensible(at [unknowns]float64) bool {
	return at[fill] < 1e12 && m.swept/at[volume] <= mostSwept && at[volume] < 1e6 && at[exponent] > 0.1 && at[exponent] < 10
}

// gas is p_f·G.
func (m *fitModel) gas(x float64, at [unknowns]float64) float64 {
	v0, n := at[volume], at[exponent]
	g := m.area * math.Exp(-n*math.Log1p(-m.area*x/v0))
	if m.negativeArea > 0 {
		q := (1 + m.negativeShare*m.port) / (1 - m.area*m.port/v0)
		g -= m.negativeArea * q * math.Exp(-n*math.Log1p(m.negativeShare*x))
	}
	return at[fill] * g
}

// look is the force at one travel and its first and second derivatives by the
// variables; of the second ones those with i ≥ j.
type look struct {
	force  float64
	first  [unknowns]float64
	second [unknowns][unknowns]float64
}

// part adds c·V₀-dependent parts exp(n·l + m): l, and the derivatives by V₀ of l
// and m, once and twice.
func (k *look) part(value, n, l, l1, l2, m1, m2 float64) {
	by := n*l1 + m1
	k.force += value
	k.first[fill] += value
	k.first[volume] += value * by
	k.first[exponent] += value * l
	k.second[fill][fill] += value
	k.second[volume][volume] += value * (by*by + n*l2 + m2)
	k.second[exponent][exponent] += value * l * l
	k.second[exponent][volume] += value * (l*by + l1)
}

func (m *fitModel) look(x float64, at [unknowns]float64) look {
	var k look
	v0, n := at[volume], at[exponent]
	inverse := 1 / v0
	// l = ln(V₀/V): its derivatives by V₀ are 1/V₀ − 1/V and 1/V² − 1/V₀².
	l, v := -math.Log1p(-m.area*x/v0), v0-m.area*x
	k.part(at[fill]*m.area*math.Exp(n*l), n, l, inverse-1/v, 1/(v*v)-inverse*inverse, 0, 0)
	if m.negativeArea > 0 {
		port := v0 - m.area*m.port
		q := (1 + m.negativeShare*m.port) * v0 / port
		l := -math.Log1p(m.negativeShare * x)
		k.part(-at[fill]*m.negativeArea*q*math.Exp(n*l), n, l, 0, 0, inverse-1/port, 1/(port*port)-inverse*inverse)
	}
	// From V₀ to its variable: dV₀ = d²V₀ = V₀ − swept.
	e := v0 - m.swept
	k.second[volume][volume] = e*e*k.second[volume][volume] + e*k.first[volume]
	k.second[exponent][volume] *= e
	k.first[volume] *= e
	k.second[volume][fill], k.second[exponent][fill] = k.first[volume], k.first[exponent]
	k.force -= m.outside
	return k
}
