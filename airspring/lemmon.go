package airspring

import "math"

// The equation of state of air of Lemmon and others (2000), as the Debian
// package python3-iapws 1.5.3 transcribes it: the Helmholtz energy over RT,
// α⁰ + αʳ, as a function of δ = ρ/ρ_j and τ = T_j/T.
const (
	airReference = 132.6312 // T_j, K
	airReducing  = 10447.7  // ρ_j, mol/m³
	airR         = 8.31451  // J/(mol K), as the paper has it
)

// airTerms are those of αʳ, n·δ^d·τ^t·exp(−δ^c); without exp where c is 0.
var airTerms = [...]struct{ n, d, t, c float64 }{
	{0.118160747229, 1, 0, 0},
	{0.713116392079, 1, 0.33, 0},
	{-0.161824192067e1, 1, 1.01, 0},
	{0.714140178971e-1, 2, 0, 0},
	{-0.865421396646e-1, 3, 0, 0},
	{0.134211176704, 3, 0.15, 0},
	{0.112626704218e-1, 4, 0, 0},
	{-0.420533228842e-1, 4, 0.2, 0},
	{0.349008431982e-1, 4, 0.35, 0},
	{0.164957183186e-3, 6, 1.35, 0},
	{-0.101365037912, 1, 1.6, 1},
	{-0.173813690970, 3, 0.8, 1},
	{-0.472103183731e-1, 5, 0.95, 1},
	{-0.122523554253e-1, 6, 1.25, 1},
	{-0.146629609713, 1, 3.6, 2},
	{-0.316055879821e-1, 3, 6, 2},
	{0.233594806142e-3, 11, 3.25, 2},
	{0.148287891978e-1, 1, 3.5, 3},
	{-0.938782884667e-2, 3, 15, 3},
}

// helmholtz holds αʳ and its derivatives, each times the δ and τ it was
// differentiated by.
type helmholtz struct{ a, d, dd, t, tt, dt float64 }

// residual is αʳ at a density in mol/m³.
func residual(density, tau float64) helmholtz {
	var h helmholtz
	delta := density / airReducing
	for _, k := range &airTerms {
		a := k.n * math.Pow(delta, k.d) * math.Pow(tau, k.t)
		e := 0.0 // c·δ^c
		if k.c > 0 {
			power := math.Pow(delta, k.c)
			a *= math.Exp(-power)
			e = k.c * power
		}
		h.a += a
		h.d += a * (k.d - e)
		h.dd += a * ((k.d-e)*(k.d-1-e) - k.c*e)
		h.t += a * k.t
		h.tt += a * k.t * (k.t - 1)
		h.dt += a * k.t * (k.d - e)
	}
	return h
}

// z is p/(ρRT), slow is (∂p/∂ρ)_T/RT, cross is (∂p/∂T)_ρ/ρR.
func (h helmholtz) z() float64     { return 1 + h.d }
func (h helmholtz) slow() float64  { return 1 + 2*h.d + h.dd }
func (h helmholtz) cross() float64 { return 1 + h.d - h.dt }

// ideal is α⁰ without ln δ and without the two terms that set its zeros, τ·∂α⁰/∂τ
// and τ²·∂²α⁰/∂τ² of the same.
func ideal(tau float64) (a, t, tt float64) {
	const log = 2.490888032
	a, t, tt = log*math.Log(tau), log, -log
	for _, k := range [...]struct{ n, i float64 }{
		{0.6057194e-7, -3}, {-0.210274769e-4, -2}, {-0.158860716e-3, -1}, {-0.19536342e-3, 1.5},
	} {
		v := k.n * math.Pow(tau, k.i)
		a, t, tt = a+v, t+v*k.i, tt+v*k.i*(k.i-1)
	}
	// n·ln(1 − e^(−θτ)), the vibrations of the molecules.
	for _, k := range [...]struct{ n, theta float64 }{{0.791309509, 25.36365}, {0.212236768, 16.90741}} {
		u := k.theta * tau
		e := math.Exp(-u)
		a += k.n * math.Log1p(-e)
		t += k.n * u * e / (1 - e)
		tt -= k.n * u * u * e / ((1 - e) * (1 - e))
	}
	// n·ln(2/3 + e^(θτ)), less n·θτ, which sets a zero only.
	const n, theta = -0.197938904, 87.31279
	u := theta * tau
	e := 2.0 / 3 * math.Exp(-u)
	a += n * math.Log1p(e)
	t -= n * u * e / (1 + e)
	tt += n * u * u * e / ((1 + e) * (1 + e))
	return a, t, tt
}

// airHeat is c_v/R.
func airHeat(h helmholtz, tau float64) float64 {
	_, _, tt := ideal(tau)
	return -(tt + h.tt)
}

// airEntropy is s/R, but for a constant.
func airEntropy(density, t float64) float64 {
	tau := airReference / t
	h := residual(density, tau)
	a, at, _ := ideal(tau)
	return at + h.t - a - h.a - math.Log(density/airReducing)
}

// airPressure is the pressure at a density in mol/m³.
func airPressure(density, t float64) float64 {
	return density * airR * t * residual(density, airReference/t).z()
}

// airDensity turns airPressure round by Newton's method. Far above the critical
// temperature of 133 K the pressure rises nearly in proportion to the density.
func airDensity(p, t float64) float64 {
	density := p / (airR * t)
	for range 50 {
		h := residual(density, airReference/t)
		step := (p/(density*airR*t) - h.z()) / h.slow()
		density *= 1 + step
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return density
}

// airIsentrope returns the temperature at another density with the same
// entropy, by Newton's method with ds/dlnT = c_v.
func airIsentrope(from, t, to float64) float64 {
	want := airEntropy(from, t)
	t *= math.Pow(to/from, 0.4)
	for range 50 {
		tau := airReference / t
		step := (want - airEntropy(to, t)) / airHeat(residual(to, tau), tau)
		t *= math.Exp(step)
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	return t
}
