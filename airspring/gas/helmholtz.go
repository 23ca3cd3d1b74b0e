package gas

import "math"

// equation is an equation of state: the Helmholtz energy over RT, α⁰ + αʳ, as a function of
// δ = ρ/ρ_r and τ = T_r/T.
type equation struct {
	temperature float64 // T_r, K
	density     float64 // ρ_r, mol/m³
	r           float64 // gas constant as the paper has it, J/(mol K)

	// αʳ: terms n·δ^d·τ^t·exp(−δ^c), without exp where c is 0, and bells, which
	// matter near the critical point only.
	terms []term
	bells []bell

	// α⁰ without ln δ and the terms that set its zeros: log·ln τ, powers n·τ^i, and
	// the vibrations of the molecules, n·ln(1 + c·e^(−θτ)).
	log        float64
	powers     []power
	vibrations []vibration
}

type term struct{ n, d, t, c float64 }

// bell is n·δ^d·τ^t·exp(−φ(δ − 1)² − β(τ − γ)²).
type bell struct{ n, d, t, phi, beta, gamma float64 }

type power struct{ n, i float64 }

type vibration struct{ n, c, theta float64 }

// helmholtz holds αʳ and its derivatives, each times the δ and τ it is taken by.
type helmholtz struct{ a, d, dd, t, tt, dt float64 }

// add adds a term of value a. The derivatives of its logarithm by ln δ and ln τ are d and t,
// and the derivatives of these are dd and tt.
func (h *helmholtz) add(a, d, dd, t, tt float64) {
	h.a += a
	h.d += a * d
	h.dd += a * (d*d - d + dd)
	h.t += a * t
	h.tt += a * (t*t - t + tt)
	h.dt += a * d * t
}

// residual returns αʳ at a density in mol/m³ and τ.
func (q *equation) residual(density, tau float64) helmholtz {
	var h helmholtz
	delta := density / q.density
	logDelta, logTau := math.Log(delta), math.Log(tau)
	square := delta * delta
	powers := [...]float64{0, delta, square, square * delta, square * square}
	for i := range q.terms {
		k := &q.terms[i]
		e := powers[int(k.c)]
		h.add(k.n*math.Exp(k.d*logDelta+k.t*logTau-e), k.d-k.c*e, -k.c*k.c*e, k.t, 0)
	}
	for i := range q.bells {
		k := &q.bells[i]
		u, v := delta-1, tau-k.gamma
		h.add(k.n*math.Exp(k.d*logDelta+k.t*logTau-k.phi*u*u-k.beta*v*v),
			k.d-2*k.phi*delta*u, -2*k.phi*delta*(2*delta-1),
			k.t-2*k.beta*tau*v, -2*k.beta*tau*(2*tau-k.gamma))
	}
	return h
}

// z returns p/(ρRT), slow (∂p/∂ρ)_T/RT, and cross (∂p/∂T)_ρ/ρR.
func (h helmholtz) z() float64     { return 1 + h.d }
func (h helmholtz) slow() float64  { return 1 + 2*h.d + h.dd }
func (h helmholtz) cross() float64 { return 1 + h.d - h.dt }

// ideal returns α⁰ as [equation] has it, τ·∂α⁰/∂τ and τ²·∂²α⁰/∂τ² of the same.
func (q *equation) ideal(tau float64) (a, t, tt float64) {
	a, t, tt = q.log*math.Log(tau), q.log, -q.log
	for _, k := range q.powers {
		v := k.n * math.Pow(tau, k.i)
		a, t, tt = a+v, t+v*k.i, tt+v*k.i*(k.i-1)
	}
	for _, k := range q.vibrations {
		u := k.theta * tau
		e := k.c * math.Exp(-u)
		a += k.n * math.Log1p(e)
		t -= k.n * u * e / (1 + e)
		tt += k.n * u * u * e / ((1 + e) * (1 + e))
	}
	return a, t, tt
}

// heat returns c_v/R.
func (q *equation) heat(h helmholtz, tau float64) float64 {
	_, _, tt := q.ideal(tau)
	return -(tt + h.tt)
}

// entropy returns s/R but for a constant.
func (q *equation) entropy(density, t float64) float64 {
	tau := q.temperature / t
	h := q.residual(density, tau)
	a, at, _ := q.ideal(tau)
	return at + h.t - a - h.a - math.Log(density)
}

// pressure returns the pressure at a density in mol/m³.
func (q *equation) pressure(density, t float64) float64 {
	return density * q.r * t * q.residual(density, q.temperature/t).z()
}

// densityAt returns the density at a pressure. Far above the critical temperature, 133 K and
// less here, the pressure is nearly proportional to the density.
func (q *equation) densityAt(p, t float64) float64 {
	return newton(p/(q.r*t), func(density float64) float64 {
		h := q.residual(density, q.temperature/t)
		return (p/(density*q.r*t) - h.z()) / h.slow()
	})
}

// isentrope returns the temperature at another density at the same entropy; ds/dlnT = c_v.
func (q *equation) isentrope(from, t, to float64) float64 {
	want := q.entropy(from, t)
	return newton(t*math.Pow(to/from, 0.4), func(t float64) float64 {
		tau := q.temperature / t
		return (want - q.entropy(to, t)) / q.heat(q.residual(to, tau), tau)
	})
}

// newton returns a root near v > 0 by Newton's method in ln v, whose step the function
// returns. The exact derivatives save two thirds of the evaluations of a bracketing method.
func newton(v float64, step func(v float64) float64) float64 {
	for range 50 {
		d := step(v)
		if v *= math.Exp(d); math.Abs(d) < 1e-15 {
			break
		}
	}
	return v
}
