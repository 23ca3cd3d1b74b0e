package gas

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/units"
)

// VolumeHistory is the volume of a chamber at two or more points in time, linear between them. At the
// first point the gas has the walls' temperature.
type VolumeHistory struct {
	Time         []units.Time           `json:"time"`          // rising by 1 ps or more, from −10⁶ to 10⁶ s
	Volume       []units.Volume         `json:"volume"`        // at these times, from [MinVolume] to [MaxVolume]
	Fill         units.GaugePressure    `json:"fill"`          // at the first point
	Ambient      units.AbsolutePressure `json:"ambient"`       // around the spring
	HeatRatio    float64                `json:"heat_ratio"`    // γ = cp/cv, from 1 to 2
	TimeConstant units.Time             `json:"time_constant"` // τ, from 10⁻⁶ to 10⁶ s
}

// PressureHistory is the state of the gas over a [VolumeHistory], at the same times.
type PressureHistory struct {
	Pressure []units.AbsolutePressure `json:"pressure"`
	Warming  []float64                `json:"warming"` // T/T_w, with T_w the absolute temperature of the walls
	Work     []units.Energy           `json:"work"`    // done on the gas since the first point; the ambient's share is not subtracted
}

// Follow returns pressure, temperature and work of a gas over a history of its volume, while it
// exchanges heat with walls at T_w by
//
//	dT/dt = −(γ − 1)·(T/V)·dV/dt − (T − T_w)/τ
//
// With constant γ and τ this is linear in y = p·V^γ, and its solution
//
//	y(t) = y₀·e^(−t/τ) + (p₀·V₀/τ)·∫₀ᵗ e^(−(t−s)/τ)·V(s)^(γ−1) ds
//
// is exact for any V(t). Gauss–Legendre quadrature evaluates the deviation from a gas at T_w to a
// relative 1e-13, for slow strokes, which are isothermal, and for fast ones, which are adiabatic.
//
// Newton's law of cooling with one τ is itself an approximation: it does not give the phase of the
// heat flux in an oscillating gas (Hartig and others, 2020, arXiv 2012.06526, abstract seen).
//
// The error names every bad field, such as volume[3].
func Follow(h VolumeHistory) (PressureHistory, error) {
	c := units.Checker{Package: "gas"}
	h.check(&c)
	if err := c.Err(); err != nil {
		return PressureHistory{}, err
	}
	n := len(h.Time)
	out := PressureHistory{Pressure: make([]units.AbsolutePressure, n), Warming: make([]float64, n), Work: make([]units.Energy, n)}
	f := newLag(float64(h.TimeConstant), h.HeatRatio)
	p0, v0 := float64(h.Fill)+float64(h.Ambient), float64(h.Volume[0])
	off, lost := 0.0, 0.0
	for i := range h.Time {
		v := float64(h.Volume[i]) / v0
		if i > 0 {
			last, span := float64(h.Volume[i-1])/v0, float64(h.Time[i]-h.Time[i-1])
			slope := (v - last) / span
			off = f.follow(func(t float64) (float64, float64) { return last + slope*t, slope }, 0, span, off, &lost)
		}
		out.Warming[i] = 1 + off*math.Pow(v, -f.m)
		out.Pressure[i] = units.AbsolutePressure(p0 / v * out.Warming[i])
		out.Work[i] = units.Energy(p0 * v0 * (lost - math.Log(v)))
	}
	return out, nil
}

func (h *VolumeHistory) check(c *units.Checker) {
	if len(h.Time) < 2 {
		c.Fail("time", len(h.Time), "two points or more", nil)
	}
	if len(h.Volume) != len(h.Time) {
		c.Fail("volume", len(h.Volume), units.Exactly(len(h.Time)).Of("time").Count("values"), units.ErrConflict)
	}
	for i, t := range h.Time {
		own := c.Element("time", i)
		// A picosecond keeps the speed of the volume finite.
		if units.Between(&own, "", t, -1e6, 1e6) && i > 0 && !(t-h.Time[i-1] >= 1e-12) && h.Time[i-1] <= 1e6 {
			own.Fail("", t, units.AtLeast(h.Time[i-1]+1e-12).With("1 ps after the time before it"), units.ErrConflict)
		}
	}
	for i, v := range h.Volume {
		own := c.Element("volume", i)
		units.Between(&own, "", v, MinVolume, MaxVolume)
	}
	checkWarm(c, h.Fill, h.Ambient, h.HeatRatio)
	units.Between(c, "time_constant", h.TimeConstant, 1e-6, 1e6)
}

// path is a volume over time, monotone between the ends of one call of follow.
type path func(t float64) (volume, slope float64)

// lag solves the equation of [Follow] for z = y/(p₀·V₀) = V^m·T/T_w with m = γ − 1. Its variable is
// the deviation d = z − V^m from a gas at T_w. It changes from t₁ to t₂ as
//
//	d₂ = d₁·e^(−(t₂−t₁)/τ) − ∫ e^(−(t₂−s)/τ)·(V^m)′ ds
type lag struct {
	tau, m         float64
	nodes, weights [12]float64 // of Gauss and Legendre on [0, 1]
}

const recent = 40 // e^-40 is less than a float64 resolves

func newLag(tau, gamma float64) *lag {
	f := &lag{tau: tau, m: gamma - 1}
	quad.Legendre{}.FixedLocations(f.nodes[:], f.weights[:], 0, 1)
	return f
}

// over returns the integral of g from a to b.
func (f *lag) over(a, b float64, g func(t float64) float64) float64 {
	sum := 0.0
	for i, u := range f.nodes {
		sum += f.weights[i] * g(a+(b-a)*u)
	}
	return sum * (b - a)
}

// deviation returns d at b, given d at a, where the volume changes by a factor of 2 at most.
func (f *lag) deviation(p path, a, b, off float64) float64 {
	drift, from := 0.0, max(a, b-recent*f.tau)
	for to := b; to > from; {
		start := max(from, to-2*f.tau)
		drift += f.over(start, to, func(s float64) float64 {
			v, slope := p(s)
			return math.Exp((s-b)/f.tau) * f.m * math.Pow(v, f.m-1) * slope
		})
		to = start
	}
	return off*math.Exp((a-b)/f.tau) - drift
}

// follow returns d at b, given d at a, and adds ∫ −d·V^(−γ)·V′ dt to work: the work done on the gas
// less that done on a gas at T_w, divided by p₀·V₀.
func (f *lag) follow(p path, a, b, off float64, work *float64) float64 {
	for from := a; from < b; {
		// The steps are short while the deviation at a decays.
		to := b
		if from-a < recent*f.tau {
			to = min(b, from+2*f.tau)
		}
		for start, _ := p(from); ; to = from + (to-from)/2 {
			if end, _ := p(to); start <= 2*end && end <= 2*start {
				break
			}
		}
		*work -= f.over(from, to, func(t float64) float64 {
			v, slope := p(t)
			return f.deviation(p, from, t, off) * math.Pow(v, -f.m-1) * slope
		})
		off = f.deviation(p, from, to, off)
		from = to
	}
	return off
}

// Oscillation is a gas in the steady state of sinusoidal strokes of any size, with the volume
// MeanVolume − Amplitude·sin φ. It exchanges heat with the walls with a time constant τ.
type Oscillation struct {
	MeanVolume units.Volume           `json:"mean_volume"` // from [MinVolume] to [MaxVolume]
	Amplitude  units.Volume           `json:"amplitude"`   // more than 0, less than 0.99 of the mean volume
	Fill       units.GaugePressure    `json:"fill"`        // at the mean volume and the walls' temperature
	Ambient    units.AbsolutePressure `json:"ambient"`     // around the spring
	HeatRatio  float64                `json:"heat_ratio"`  // γ = cp/cv, from 1 to 2
	OmegaTau   float64                `json:"omega_tau"`   // 2π·frequency·τ, from 1e-6 to 1e6
}

// PressureLoop is one cycle of an [Oscillation].
type PressureLoop struct {
	// Pressure is absolute, at the phases φ of 0°, 5°, … 355°. The volume is the mean one at 0° and
	// the least at 90°.
	Pressure [72]units.AbsolutePressure `json:"pressure"`
	// Lost is the work dissipated in a cycle, the area inside the loop of pressure over volume.
	Lost units.Energy `json:"energy_lost"`
}

// Oscillate returns the periodic state of a gas under strokes of any size: the solution of [Follow]
// that repeats after a cycle. Lost is [Response.EnergyPerCycle] for small amplitudes and more for
// large ones, for which it is greatest a little below ωτ = 1.
// The error names every bad field of [Oscillation].
func Oscillate(o Oscillation) (PressureLoop, error) {
	c := units.Checker{Package: "gas"}
	widest := MaxVolume
	if units.Between(&c, "mean_volume", o.MeanVolume, MinVolume, MaxVolume) {
		widest = o.MeanVolume
	}
	if !(o.Amplitude > 0 && o.Amplitude < 0.99*widest) {
		c.Fail("amplitude", o.Amplitude, units.MoreThan(0).And(units.LessThan(0.99*widest)).With("0.99 of mean_volume"), nil)
	}
	checkWarm(&c, o.Fill, o.Ambient, o.HeatRatio)
	units.Between(&c, "omega_tau", o.OmegaTau, 1e-6, 1e6)
	if err := c.Err(); err != nil {
		return PressureLoop{}, err
	}
	// Time is counted in phase, so that ω = 1 and τ = ωτ; the volume is over its mean.
	f := newLag(o.OmegaTau, o.HeatRatio)
	swing := float64(o.Amplitude / o.MeanVolume)
	wave := func(phase float64) (float64, float64) {
		sin, cos := math.Sincos(phase)
		return 1 - swing*sin, -swing * cos
	}
	var out PressureLoop
	phase := func(i int) float64 { return 2 * math.Pi * float64(i) / float64(len(out.Pressure)) }
	// The deviation at the end is linear in that at the start: this one repeats.
	off, lost := 0.0, 0.0
	for i := range out.Pressure {
		off = f.follow(wave, phase(i), phase(i+1), off, &lost)
	}
	off /= -math.Expm1(-2 * math.Pi / f.tau)
	p := float64(o.Fill) + float64(o.Ambient)
	lost = 0
	for i := range out.Pressure {
		v, _ := wave(phase(i))
		out.Pressure[i] = units.AbsolutePressure(p / v * (1 + off*math.Pow(v, -f.m)))
		off = f.follow(wave, phase(i), phase(i+1), off, &lost)
	}
	out.Lost = units.Energy(p * float64(o.MeanVolume) * lost)
	return out, nil
}
