package gas

import (
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// Vibration is a gas under small sinusoidal strokes about a mean volume, fast or slow
// against the time τ in which it exchanges heat with the walls.
type Vibration struct {
	Area      units.Area             `json:"area"`       // of the piston
	Volume    units.Volume           `json:"volume"`     // mean
	Fill      units.GaugePressure    `json:"fill"`       // at the mean volume and the walls' temperature
	Ambient   units.AbsolutePressure `json:"ambient"`    // as everywhere
	HeatRatio float64                `json:"heat_ratio"` // γ = cp/cv, from 1 to 2; 1.4 for air at low pressure
	OmegaTau  float64                `json:"omega_tau"`  // 2π·frequency·τ, 0 or more
}

// Response is the stiffness of a vibrating gas: the part in phase with the stroke, and
// the part a quarter of a period ahead of it, which turns work into heat.
type Response struct {
	IsothermalRate units.Stiffness // A²·p/V, of an infinitely slow stroke
	StorageRate    units.Stiffness // in phase
	LossRate       units.Stiffness // out of phase
	LossFactor     float64         // LossRate/StorageRate
}

// Vibrate returns the stiffness of a gas for small sinusoidal strokes:
//
//	K = k_iso·(1 + iγw)/(1 + iw),  k_iso = A²·p/V,  w = ωτ
//	storage = k_iso·(1 + γw²)/(1 + w²),  loss = k_iso·(γ − 1)·w/(1 + w²)
//
// from k_iso when slow to γ·k_iso when fast. The loss is greatest at w = 1, where
// it is k_iso·(γ − 1)/2; the loss factor at w = 1/√γ, (γ − 1)/(2√γ), 0.169 for
// air. It is the linearised equation of [Hold] and [Follow]: a spring beside a
// spring and a dashpot in line. Published work on vehicle air springs (Löcken
// and Welsch, 2015, abstract seen) reduces them to the same three elements.
//
// No published τ of a fork or a shock was found, so there is no default: measure it.
// Fields are as in [Vibration], omega_tau up to 1e12; the error names every bad one.
func Vibrate(v Vibration) (Response, error) {
	c := units.Checker{Package: "gas"}
	if !(v.Area >= 1e-12 && v.Area <= 10) {
		c.Fail("area", v.Area, "more than 0, up to 10 m²", nil)
	}
	units.Between(&c, "volume", v.Volume, MinVolume, MaxVolume)
	checkWarm(&c, v.Fill, v.Ambient, v.HeatRatio)
	units.Between(&c, "omega_tau", v.OmegaTau, 0, 1e12)
	if err := c.Err(); err != nil {
		return Response{}, err
	}
	w, g := v.OmegaTau, v.HeatRatio
	k := float64(v.Area) * float64(v.Area) * (float64(v.Fill) + float64(v.Ambient)) / float64(v.Volume)
	return Response{
		IsothermalRate: units.Stiffness(k),
		StorageRate:    units.Stiffness(k * (1 + g*w*w) / (1 + w*w)),
		LossRate:       units.Stiffness(k * (g - 1) * w / (1 + w*w)),
		LossFactor:     (g - 1) * w / (1 + g*w*w),
	}, nil
}

// EnergyPerCycle returns the work in J that turns into heat in each cycle of an
// amplitude X, π·X²·LossRate. It holds for strokes that are small against V/A;
// [Oscillate] has no such limit. An amplitude that is not a finite number gives 0.
func (r Response) EnergyPerCycle(amplitude units.Length) units.Energy {
	e := math.Pi * float64(amplitude) * float64(amplitude) * float64(r.LossRate)
	if math.IsNaN(e) || math.IsInf(e, 0) {
		return 0
	}
	return units.Energy(e)
}

// checkWarm checks the fields of a gas that exchanges heat.
func checkWarm(c *units.Checker, fill units.GaugePressure, ambient units.AbsolutePressure, heatRatio float64) {
	CheckFill(c, "fill", fill)
	CheckAmbient(c, ambient)
	units.Between(c, "heat_ratio", heatRatio, 1, 2)
}

// checkTimeConstant keeps τ where times can be told apart.
func checkTimeConstant(c *units.Checker, tau units.Time) {
	if !(tau >= 1e-6 && tau <= 1e6) {
		c.Fail("time_constant", tau, "more than 0, from 1e-6 s to 1e6 s", nil)
	}
}

// VolumeStep is a gas that is compressed, or expands, at once and is then held.
type VolumeStep struct {
	Volume       units.Volume           `json:"volume"`        // before, as warm as the walls
	ToVolume     units.Volume           `json:"to_volume"`     // after
	Fill         units.GaugePressure    `json:"fill"`          // before
	Ambient      units.AbsolutePressure `json:"ambient"`       // as everywhere
	HeatRatio    float64                `json:"heat_ratio"`    // γ = cp/cv, from 1 to 2
	TimeConstant units.Time             `json:"time_constant"` // τ, from 10⁻⁶ to 10⁶ s
}

// Relaxation is the pressure of a gas after a [VolumeStep]. [Hold] makes one. The zero
// value has no pressure.
type Relaxation struct {
	adiabatic, isothermal, tau float64
}

// Hold returns the pressure of a gas that was compressed at once and is then held,
// exchanging heat with the walls:
//
//	p = p_iso + (p_ad − p_iso)·e^(−t/τ),  p_ad = p₁·(V₁/V₂)^γ,  p_iso = p₁·V₁/V₂
//
// the exact solution of dT/dt = −(γ − 1)·(T/V)·dV/dt − (T − T_w)/τ. Fields are as
// in [VolumeStep]; the error names every bad one.
func Hold(s VolumeStep) (Relaxation, error) {
	c := units.Checker{Package: "gas"}
	units.Between(&c, "volume", s.Volume, MinVolume, MaxVolume)
	units.Between(&c, "to_volume", s.ToVolume, MinVolume, MaxVolume)
	checkWarm(&c, s.Fill, s.Ambient, s.HeatRatio)
	checkTimeConstant(&c, s.TimeConstant)
	if err := c.Err(); err != nil {
		return Relaxation{}, err
	}
	p, ratio := float64(s.Fill)+float64(s.Ambient), float64(s.Volume/s.ToVolume)
	return Relaxation{adiabatic: p * math.Pow(ratio, s.HeatRatio), isothermal: p * ratio, tau: float64(s.TimeConstant)}, nil
}

// Pressure returns the absolute pressure at a time after the step. A time
// before it, and NaN, count as 0.
func (h Relaxation) Pressure(after units.Time) units.AbsolutePressure {
	if !(after > 0) {
		return units.AbsolutePressure(h.adiabatic)
	}
	return units.AbsolutePressure(h.isothermal + (h.adiabatic-h.isothermal)*math.Exp(-float64(after)/h.tau))
}

// String describes the course of the pressure, such as "from 1425.78 kPa(a) to 1139.82
// kPa(a) with a time constant of 1.5 s".
func (h Relaxation) String() string {
	return fmt.Sprintf("from %.6g to %.6g with a time constant of %.6g", h.Pressure(0), h.Settled(), units.Time(h.tau))
}

// Settled returns the absolute pressure that the gas ends at.
func (h Relaxation) Settled() units.AbsolutePressure { return units.AbsolutePressure(h.isothermal) }
