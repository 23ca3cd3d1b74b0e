package gas

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/units"
)

// VolumeHistory is the volume of a chamber over time, by its values at points that
// straight lines join. At the first the gas is as warm as the walls.
type VolumeHistory struct {
	Time         []units.Time           `json:"time"`          // rising by 1 ps or more, from −10⁶ s to 10⁶ s
	Volume       []units.Volume         `json:"volume"`        // at these times
	Fill         units.GaugePressure    `json:"fill"`          // at the first
	Ambient      units.AbsolutePressure `json:"ambient"`       // as everywhere
	HeatRatio    float64                `json:"heat_ratio"`    // γ = cp/cv, from 1 to 2
	TimeConstant units.Time             `json:"time_constant"` // τ, more than 0
}

// PressureHistory is the state of the gas over a [VolumeHistory], at the same times.
type PressureHistory struct {
	Pressure []units.AbsolutePressure
	Warming  []float64      // temperature over that of the walls
	Work     []units.Energy // done on the gas since the first; the ambient's share is not subtracted
}

// Follow returns pressure, temperature and work of a gas over any history of
// its volume, while it exchanges heat with walls at T_w:
//
//	dT/dt = −(γ − 1)·(T/V)·dV/dt − (T − T_w)/τ
//
// With constant γ and τ this is linear in y = p·V^γ, and its solution
//
//	y(t) = y₀·e^(−t/τ) + (m·R·T_w/τ)·∫₀ᵗ e^(−(t−s)/τ)·V(s)^(γ−1) ds
//
// is exact for any V(t). It is evaluated as the deviation from the gas at T_w, which
// keeps its digits for slow and for fast strokes, by Gauss–Legendre quadrature to about
// 1e-13. A slow stroke is isothermal, a fast one adiabatic.
//
// Newton's law of cooling with one τ is itself an approximation: it does not
// give the phase of the heat flux in an oscillating gas (Hartig and others,
// 2020, arXiv 2012.06526, abstract seen). Kinetic energy, moisture and the heat
// that the walls take up are not modelled.
//
// Fields are as in [VolumeHistory], two points or more; the error names every bad
// one, such as volume[3].
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
			line := func(t float64) (float64, float64) { return last + slope*t, slope }
			var more float64
			off, more = f.follow(line, 0, span, off)
			lost += more
		}
		out.Warming[i] = 1 + off*math.Pow(v, -f.m)
		out.Pressure[i] = units.AbsolutePressure(p0 / v * out.Warming[i])
		out.Work[i] = units.Energy(p0 * v0 * (lost - math.Log(v)))
	}
	return out, nil
}

// leastTime is the least time between two points of a history: far less than any
// piston needs, and enough for the speed of the volume to be a number.
const leastTime = units.Time(1e-12)

func (h *VolumeHistory) check(c *units.Checker) {
	if len(h.Time) < 2 {
		c.Fail("time", len(h.Time), "two points or more", nil)
	}
	if len(h.Volume) != len(h.Time) {
		c.Fail("volume", len(h.Volume), fmt.Sprintf("as many as time, %d", len(h.Time)), units.ErrConflict)
	}
	for i, t := range h.Time {
		switch {
		case !(math.Abs(float64(t)) <= 1e6):
			c.Fail(fmt.Sprintf("time[%d]", i), t, "from -1e6 s to 1e6 s", nil)
		case i > 0 && !(t-h.Time[i-1] >= leastTime) && h.Time[i-1] <= 1e6:
			c.Fail(fmt.Sprintf("time[%d]", i), t, "1 ps or more after the time before it", units.ErrConflict)
		}
	}
	for i, v := range h.Volume {
		units.Between(c, fmt.Sprintf("volume[%d]", i), v, MinVolume, MaxVolume)
	}
	checkWarm(c, h.Fill, h.Ambient, h.HeatRatio)
	checkTimeConstant(c, h.TimeConstant)
}

// path is a volume over time, monotone between the ends of one call of follow.
type path func(t float64) (volume, slope float64)

// lag follows z = y/(m·R·T_w) = V^m·T/T_w, m = γ − 1, by its deviation from the gas at
// T_w, d = z − V^m: from t₁ to t₂ it becomes
//
//	d₂ = d₁·e^(−(t₂−t₁)/τ) − ∫ e^(−(t₂−s)/τ)·(V^m)′ ds
type lag struct {
	tau, m         float64
	nodes, weights [points]float64 // of Gauss and Legendre on [0, 1]
}

const (
	points = 12
	recent = 40 // e^-40 is beyond the digits of a float64
)

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

// drift returns ∫ e^(−(b−s)/τ)·(V^m)′ ds from a to b, between which the volume changes
// by a factor of 2 at most.
func (f *lag) drift(p path, a, b float64) float64 {
	sum := 0.0
	from := math.Max(a, b-recent*f.tau)
	for to := b; to > from; {
		start := math.Max(from, to-2*f.tau)
		sum += f.over(start, to, func(s float64) float64 {
			v, slope := p(s)
			return math.Exp((s-b)/f.tau) * f.m * math.Pow(v, f.m-1) * slope
		})
		to = start
	}
	return sum
}

// follow returns the deviation at b, given that at a, and ∫ −d·V^(−γ)·V′ dt, the work
// that a gas at T_w would not take, over its p·V.
func (f *lag) follow(p path, a, b, off float64) (float64, float64) {
	work := 0.0
	for from := a; from < b; {
		// The steps are short while the deviation at a decays.
		to := b
		if from-a < recent*f.tau {
			to = math.Min(b, from+2*f.tau)
		}
		for start, _ := p(from); ; to = from + (to-from)/2 {
			if end, _ := p(to); start <= 2*end && end <= 2*start {
				break
			}
		}
		work -= f.over(from, to, func(t float64) float64 {
			v, slope := p(t)
			d := off*math.Exp((from-t)/f.tau) - f.drift(p, from, t)
			return d * math.Pow(v, -f.m-1) * slope
		})
		off = off*math.Exp((from-to)/f.tau) - f.drift(p, from, to)
		from = to
	}
	return off, work
}
