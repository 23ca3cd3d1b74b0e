package gas

import (
	"math"

	"example.com/wheelrate/units"
)

// PolytropicChange is a change of the volume of an ideal gas along p·Vⁿ = constant.
type PolytropicChange struct {
	Pressure units.AbsolutePressure `json:"pressure"`  // before, more than 0, up to 10⁹ Pa
	Volume   units.Volume           `json:"volume"`    // before, from 10⁻¹² to 10⁶ m³
	ToVolume units.Volume           `json:"to_volume"` // after, the same
	Exponent float64                `json:"exponent"`  // from 1 to 2
}

// PolytropicEnd is the gas after a [PolytropicChange].
type PolytropicEnd struct {
	Pressure units.AbsolutePressure `json:"pressure"`
	Work     units.Energy           `json:"work"`    // done on the gas; the ambient's share is not subtracted
	Warming  float64                `json:"warming"` // T₂/T₁, of absolute temperatures
}

// Polytropic returns the gas after a change of volume, and the work done on it, which is negative
// for expansion:
//
//	p₂ = p₁·(V₁/V₂)ⁿ,  T₂/T₁ = (V₁/V₂)ⁿ⁻¹
//	W = p₁·V₁/(n − 1)·[(V₁/V₂)ⁿ⁻¹ − 1],  at n = 1 p₁·V₁·ln(V₁/V₂)
//
// Many books have the work done by the gas, with the other sign. The work is accurate near n = 1 and
// for small changes too. The equations are in any textbook of engineering thermodynamics. The error
// names every bad field of [PolytropicChange].
func Polytropic(g PolytropicChange) (PolytropicEnd, error) {
	c := units.Checker{Package: "gas"}
	if !(g.Pressure > 0 && g.Pressure <= 1e9) {
		c.Fail("pressure", g.Pressure, units.MoreThan(0).And(units.AtMost(units.AbsolutePressure(1e9))), nil)
	}
	units.Between(&c, "volume", g.Volume, 1e-12, 1e6)
	units.Between(&c, "to_volume", g.ToVolume, 1e-12, 1e6)
	units.Between(&c, "exponent", g.Exponent, 1, 2)
	p, v, to := float64(g.Pressure), float64(g.Volume), float64(g.ToVolume)
	u, m := math.Log1p((v-to)/to), g.Exponent-1
	work := p * v * u
	if m > 0 {
		work = p * v * math.Expm1(m*u) / m
	}
	return units.Checked(&c, PolytropicEnd{
		Pressure: g.Pressure * units.AbsolutePressure(math.Exp(g.Exponent*u)),
		Work:     units.Energy(work),
		Warming:  math.Exp(m * u),
	})
}
