package gas

import (
	"math"

	"example.com/wheelrate/units"
)

// Vibration is a gas under small sinusoidal strokes about a mean volume. Strokes are slow or
// fast against the time constant τ of its heat exchange with the walls.
type Vibration struct {
	Area      units.Area             `json:"area"`       // of the piston, from 10⁻¹² to 10 m²
	Volume    units.Volume           `json:"volume"`     // mean
	Fill      units.GaugePressure    `json:"fill"`       // at the mean volume and the walls' temperature
	Ambient   units.AbsolutePressure `json:"ambient"`    // around the spring
	HeatRatio float64                `json:"heat_ratio"` // γ = cp/cv, from 1 to 2; 1.4 for air at low pressure
	OmegaTau  float64                `json:"omega_tau"`  // 2π·frequency·τ, from 0 to 10¹²
}

// Response is the complex stiffness of a vibrating gas. The storage rate is in phase with
// the stroke; the loss rate is a quarter of a period ahead of it and dissipates work.
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
// It rises from k_iso when slow to γ·k_iso when fast. The loss rate is greatest at w = 1,
// where it is k_iso·(γ − 1)/2; the loss factor at w = 1/√γ, where it is (γ − 1)/(2√γ), 0.169
// for air. The equation is that of [Hold] and [Follow], linearised: a spring parallel to a
// spring and a dashpot in series. Published work on vehicle air springs (Löcken and Welsch,
// 2015, abstract seen) reduces them to the same three elements.
//
// No published τ of a fork or a shock was found, so there is no default: measure it. The
// error names every bad field of [Vibration].
func Vibrate(v Vibration) (Response, error) {
	c := units.Checker{Package: "gas"}
	units.Between(&c, "area", v.Area, 1e-12, 10)
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

// EnergyPerCycle returns the work in J that a cycle of amplitude X dissipates, π·X²·LossRate.
// It holds for strokes that are small against V/A; [Oscillate] has no such limit. The result
// is 0 where it would not be finite.
func (r Response) EnergyPerCycle(amplitude units.Length) units.Energy {
	e := math.Pi * float64(amplitude) * float64(amplitude) * float64(r.LossRate)
	if e-e == 0 {
		return units.Energy(e)
	}
	return 0
}

// VolumeStep is a gas that is compressed, or expands, at once and is then held.
type VolumeStep struct {
	Volume       units.Volume           `json:"volume"`        // before, at the walls' temperature
	ToVolume     units.Volume           `json:"to_volume"`     // after
	Fill         units.GaugePressure    `json:"fill"`          // before
	Ambient      units.AbsolutePressure `json:"ambient"`       // around the spring
	HeatRatio    float64                `json:"heat_ratio"`    // γ = cp/cv, from 1 to 2
	TimeConstant units.Time             `json:"time_constant"` // τ, from 10⁻⁶ to 10⁶ s
}

// Relaxation is the pressure of a gas after a [VolumeStep]: Adiabatic at first, Isothermal
// in the end. [Hold] makes one.
type Relaxation struct {
	Adiabatic, Isothermal units.AbsolutePressure
	TimeConstant          units.Time
}

// Hold returns the pressure of a gas that was compressed at once and is then held,
// exchanging heat with the walls:
//
//	p = p_iso + (p_ad − p_iso)·e^(−t/τ),  p_ad = p₁·(V₁/V₂)^γ,  p_iso = p₁·V₁/V₂
//
// This is the exact solution of dT/dt = −(γ − 1)·(T/V)·dV/dt − (T − T_w)/τ. The error names
// every bad field of [VolumeStep].
func Hold(s VolumeStep) (Relaxation, error) {
	c := units.Checker{Package: "gas"}
	units.Between(&c, "volume", s.Volume, MinVolume, MaxVolume)
	units.Between(&c, "to_volume", s.ToVolume, MinVolume, MaxVolume)
	checkWarm(&c, s.Fill, s.Ambient, s.HeatRatio)
	units.Between(&c, "time_constant", s.TimeConstant, 1e-6, 1e6)
	if err := c.Err(); err != nil {
		return Relaxation{}, err
	}
	p, ratio := s.Fill.Absolute(s.Ambient), float64(s.Volume/s.ToVolume)
	return Relaxation{
		Adiabatic:  p * units.AbsolutePressure(math.Pow(ratio, s.HeatRatio)),
		Isothermal: p * units.AbsolutePressure(ratio), TimeConstant: s.TimeConstant,
	}, nil
}

// Pressure returns the absolute pressure at a time after the step. A time before it, and
// NaN, count as 0.
func (h Relaxation) Pressure(after units.Time) units.AbsolutePressure {
	if !(after > 0) {
		return h.Adiabatic
	}
	decay := math.Exp(-float64(after / h.TimeConstant))
	return h.Isothermal + (h.Adiabatic-h.Isothermal)*units.AbsolutePressure(decay)
}
