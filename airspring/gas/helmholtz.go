package gas

import (
	_ "embed"
	"encoding/json"
	"math"
)

// equation is an equation of state: the Helmholtz energy over RT, α⁰ + αʳ, as a function of
// δ = ρ/ρ_r and τ = T_r/T.
type equation struct {
	Temperature float64 // T_r, K
	Density     float64 // ρ_r, mol/m³
	R           float64 // gas constant as the paper has it, J/(mol K)

	// αʳ: terms n·δ^d·τ^t·exp(−δ^c), without exp where c is 0, and bells
	// n·δ^d·τ^t·exp(−φ(δ − 1)² − β(τ − γ)²), which matter near the critical point only.
	Terms []struct{ N, D, T, C float64 }
	Bells []struct{ N, D, T, Phi, Beta, Gamma float64 }

	// α⁰ without ln δ and the terms that set its zeros: log·ln τ, powers n·τ^i, and
	// the vibrations of the molecules, n·ln(1 + c·e^(−θτ)).
	Log        float64
	Powers     []struct{ N, I float64 }
	Vibrations []struct{ N, C, Theta float64 }
}

//go:embed equations.json
var equationsText []byte

// equations are those of equations.json, with their sources.
var equations = func() (list map[Species]*equation) {
	_ = json.Unmarshal(equationsText, &list) // a test reads them
	return list
}()

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
	delta := density / q.Density
	logDelta, logTau := math.Log(delta), math.Log(tau)
	square := delta * delta
	powers := [...]float64{0, delta, square, square * delta, square * square}
	for i := range q.Terms {
		k := &q.Terms[i]
		e := powers[int(k.C)]
		h.add(k.N*math.Exp(k.D*logDelta+k.T*logTau-e), k.D-k.C*e, -k.C*k.C*e, k.T, 0)
	}
	for i := range q.Bells {
		k := &q.Bells[i]
		u, v := delta-1, tau-k.Gamma
		h.add(k.N*math.Exp(k.D*logDelta+k.T*logTau-k.Phi*u*u-k.Beta*v*v),
			k.D-2*k.Phi*delta*u, -2*k.Phi*delta*(2*delta-1),
			k.T-2*k.Beta*tau*v, -2*k.Beta*tau*(2*tau-k.Gamma))
	}
	return h
}

// z returns p/(ρRT), slow (∂p/∂ρ)_T/RT, and cross (∂p/∂T)_ρ/ρR.
func (h helmholtz) z() float64     { return 1 + h.d }
func (h helmholtz) slow() float64  { return 1 + 2*h.d + h.dd }
func (h helmholtz) cross() float64 { return 1 + h.d - h.dt }

// ideal returns α⁰ as [equation] has it, τ·∂α⁰/∂τ and τ²·∂²α⁰/∂τ² of the same.
func (q *equation) ideal(tau float64) (a, t, tt float64) {
	a, t, tt = q.Log*math.Log(tau), q.Log, -q.Log
	for _, k := range q.Powers {
		v := k.N * math.Pow(tau, k.I)
		a, t, tt = a+v, t+v*k.I, tt+v*k.I*(k.I-1)
	}
	for _, k := range q.Vibrations {
		u := k.Theta * tau
		e := k.C * math.Exp(-u)
		a += k.N * math.Log1p(e)
		t -= k.N * u * e / (1 + e)
		tt += k.N * u * u * e / ((1 + e) * (1 + e))
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
	tau := q.Temperature / t
	h := q.residual(density, tau)
	a, at, _ := q.ideal(tau)
	return at + h.t - a - h.a - math.Log(density)
}

// pressure returns the pressure at a density in mol/m³.
func (q *equation) pressure(density, t float64) float64 {
	return density * q.R * t * q.residual(density, q.Temperature/t).z()
}

// densityAt returns the density at a pressure. Far above the critical temperature, 133 K and
// less here, the pressure is nearly proportional to the density.
func (q *equation) densityAt(p, t float64) float64 {
	return newton(p/(q.R*t), func(density float64) float64 {
		h := q.residual(density, q.Temperature/t)
		return (p/(density*q.R*t) - h.z()) / h.slow()
	})
}

// isentrope returns the temperature at another density at the same entropy; ds/dlnT = c_v.
func (q *equation) isentrope(from, t, to float64) float64 {
	want := q.entropy(from, t)
	return newton(t*math.Pow(to/from, 0.4), func(t float64) float64 {
		tau := q.Temperature / t
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
