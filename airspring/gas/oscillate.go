package gas

import (
	"math"

	"example.com/wheelrate/units"
)

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
		c.Fail("amplitude", o.Amplitude, "more than 0 and less than 0.99 of mean_volume", nil)
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
