package gas

import (
	"math"

	"example.com/wheelrate/units"
)

// Vibration is a gas under small sinusoidal strokes about a mean volume, which exchanges heat with
// the walls with a time constant τ.
type Vibration struct {
	Area      units.Area             `json:"area"`       // of the piston, from 10⁻¹² to 10 m²
	Volume    units.Volume           `json:"volume"`     // mean, from [MinVolume] to [MaxVolume]
	Fill      units.GaugePressure    `json:"fill"`       // at the mean volume and the walls' temperature
	Ambient   units.AbsolutePressure `json:"ambient"`    // around the spring
	HeatRatio float64                `json:"heat_ratio"` // γ = cp/cv, from 1 to 2; 1.4 for air at low pressure
	OmegaTau  float64                `json:"omega_tau"`  // 2π·frequency·τ, from 0 to 10¹²
}

// Response is the complex stiffness of a vibrating gas. The storage rate is in phase with
// the stroke; the loss rate is a quarter of a period ahead of it and dissipates work.
type Response struct {
	IsothermalRate units.Stiffness `json:"isothermal_rate"` // A²·p/V, of an infinitely slow stroke
	StorageRate    units.Stiffness `json:"storage_rate"`    // in phase
	LossRate       units.Stiffness `json:"loss_rate"`       // out of phase
	LossFactor     float64         `json:"loss_factor"`     // LossRate/StorageRate
}

// Vibrate returns the stiffness of a gas for small sinusoidal strokes:
//
//	K = k_iso·(1 + iγw)/(1 + iw),  k_iso = A²·p/V,  w = ωτ
//	storage = k_iso·(1 + γw²)/(1 + w²),  loss = k_iso·(γ − 1)·w/(1 + w²)
//
// The storage rate rises from k_iso for slow strokes to γ·k_iso for fast ones. The loss rate has
// its maximum, k_iso·(γ − 1)/2, at w = 1. The loss factor has its own, (γ − 1)/(2√γ), at w = 1/√γ:
// 0.169 for air. The equation is that of [Hold] and [Follow], linearised. It is that of a spring
// parallel to a spring and a dashpot in series, the three elements to which published work on
// vehicle air springs reduces them (Löcken and Welsch, 2015, abstract seen).
//
// No published τ of a fork or a shock was found, so there is no default: measure it. The
// error names every bad field of [Vibration].
func Vibrate(v Vibration) (Response, error) {
	c := units.Checker{Package: "gas"}
	units.Between(&c, "area", v.Area, 1e-12, 10)
	units.Between(&c, "volume", v.Volume, MinVolume, MaxVolume)
	checkWarm(&c, v.Fill, v.Ambient, v.HeatRatio)
	units.Between(&c, "omega_tau", v.OmegaTau, 0, 1e12)
	w, g := v.OmegaTau, v.HeatRatio
	k := float64(v.Area) * float64(v.Area) * (float64(v.Fill) + float64(v.Ambient)) / float64(v.Volume)
	return units.Checked(&c, Response{
		IsothermalRate: units.Stiffness(k),
		StorageRate:    units.Stiffness(k * (1 + g*w*w) / (1 + w*w)),
		LossRate:       units.Stiffness(k * (g - 1) * w / (1 + w*w)),
		LossFactor:     (g - 1) * w / (1 + g*w*w),
	})
}

// EnergyPerCycle returns the work in J that a cycle dissipates, π·X²·LossRate, for an amplitude X
// that is small against V/A. [Oscillate] has no such limit. A result that is not finite becomes 0.
func (r Response) EnergyPerCycle(amplitude units.Length) units.Energy {
	e := math.Pi * float64(amplitude) * float64(amplitude) * float64(r.LossRate)
	if e-e == 0 {
		return units.Energy(e)
	}
	return 0
}

// VolumeStep is a gas whose volume changes at once and then stays.
type VolumeStep struct {
	Volume       units.Volume           `json:"volume"`        // before, at the walls' temperature; from [MinVolume] to [MaxVolume]
	ToVolume     units.Volume           `json:"to_volume"`     // after, the same
	Fill         units.GaugePressure    `json:"fill"`          // before
	Ambient      units.AbsolutePressure `json:"ambient"`       // around the spring
	HeatRatio    float64                `json:"heat_ratio"`    // γ = cp/cv, from 1 to 2
	TimeConstant units.Time             `json:"time_constant"` // τ, from 10⁻⁶ to 10⁶ s
}

// Relaxation is the pressure of a gas after a [VolumeStep]. It goes from Adiabatic, right after the
// step, to Isothermal. [Hold] makes one.
type Relaxation struct {
	Adiabatic    units.AbsolutePressure `json:"adiabatic_pressure"`
	Isothermal   units.AbsolutePressure `json:"isothermal_pressure"`
	TimeConstant units.Time             `json:"time_constant"`
}

// Hold returns the pressure of a gas after its volume changes at once, while it exchanges heat with
// the walls:
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
	p, ratio := s.Fill.Absolute(s.Ambient), float64(s.Volume/s.ToVolume)
	return units.Checked(&c, Relaxation{
		Adiabatic:  p * units.AbsolutePressure(math.Pow(ratio, s.HeatRatio)),
		Isothermal: p * units.AbsolutePressure(ratio), TimeConstant: s.TimeConstant,
	})
}

// Pressure returns the absolute pressure at a time in s after the step. A negative time and NaN are
// taken as 0.
func (h Relaxation) Pressure(after units.Time) units.AbsolutePressure {
	if !(after > 0) {
		return h.Adiabatic
	}
	decay := math.Exp(-float64(after / h.TimeConstant))
	return h.Isothermal + (h.Adiabatic-h.Isothermal)*units.AbsolutePressure(decay)
}
