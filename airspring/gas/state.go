package gas

import (
	"math"

	"example.com/wheelrate/units"
)

// Species is the name of a gas whose equation of state is known here.
type Species string

// The species.
const (
	DryAir   Species = "air"
	Nitrogen Species = "nitrogen"
)

// The limits of a real gas: 40 bar above vacuum before a stroke, and a V₁/V₂ of 5 or of 1/5.
const (
	MaxPressure units.AbsolutePressure = 40e5
	MaxRatio    float64                = 5
)

// Check records in c, under gas, a species that is neither [DryAir] nor [Nitrogen], and, under
// temperature, a temperature that is not from 250 to 350 K.
func (g Species) Check(c *units.Checker, temperature units.Temperature) {
	if equations[g] == nil {
		c.Fail("gas", string(g), `"air" or "nitrogen"`, units.ErrUnknown)
	}
	units.Between(c, "temperature", temperature, 250, 350)
}

// RealState is the deviation of a real gas from an ideal one in one state.
type RealState struct {
	Compressibility   float64 `json:"compressibility"`    // Z = p/(ρ·R·T), 1 for an ideal gas
	HeatRatio         float64 `json:"heat_ratio"`         // cp/cv
	EffectiveExponent float64 `json:"effective_exponent"` // −(∂ln p/∂ln v)_s: the n of p·Vⁿ at the start of a fast stroke
}

// Compression is a real gas compressed from rest.
type Compression struct {
	Slow        units.AbsolutePressure `json:"slow_pressure"`    // at constant temperature
	Fast        units.AbsolutePressure `json:"fast_pressure"`    // at constant entropy
	Temperature units.Temperature      `json:"fast_temperature"` // after the fast stroke
	Exponent    float64                `json:"exponent"`         // n of p·Vⁿ over the whole fast stroke, ln(p₂/p₁)/ln(V₁/V₂)
}

// StateAt returns the deviation of a gas from an ideal one at an absolute pressure from 0.001 Pa to
// 40 bar and a temperature from 250 to 350 K. At 20 °C and 20 bar above ambient air has a Z of 0.993
// and an exponent of 1.43 rather than 1.40 at the start of a fast stroke. Over the stroke the exponent
// rises: see [Compress]. The error names every bad argument.
//
// Air: Lemmon, Jacobsen, Penoncello and Friend, J. Phys. Chem. Ref. Data 29 (2000) 331, from a
// public transcription. Nitrogen: Span, Lemmon, Jacobsen, Wagner and Yokozeki, J. Phys. Chem.
// Ref. Data 29 (2000) 1361, from memory. Neither paper was opened. Both equations give every digit
// of the papers' states that were seen quoted, and states computed by another program to 1e-12.
// Moisture and mixtures of the two are not modelled.
func StateAt(species Species, pressure units.AbsolutePressure, temperature units.Temperature) (RealState, error) {
	c := units.Checker{Package: "gas"}
	checkState(&c, species, pressure, temperature)
	if err := c.Err(); err != nil {
		return RealState{}, err
	}
	return equations[species].state(float64(pressure), float64(temperature)), nil
}

func checkState(c *units.Checker, species Species, pressure units.AbsolutePressure, temperature units.Temperature) {
	species.Check(c, temperature)
	units.Between(c, "pressure", pressure, 1e-3, MaxPressure)
}

func (q *equation) state(p, t float64) RealState {
	tau := q.Temperature / t
	h := q.residual(q.densityAt(p, t), tau)
	cv, slow, cross := q.heat(h, tau), h.slow(), h.cross()
	return RealState{
		Compressibility:   h.z(),
		HeatRatio:         1 + cross*cross/(slow*cv),
		EffectiveExponent: (slow + cross*cross/cv) / h.z(),
	}
}

// Compress returns the pressures of a gas whose volume changes by a ratio V₁/V₂: slowly, at constant
// temperature, and fast, at constant entropy. The pressure and the temperature before are as for
// [StateAt]. The ratio is from 0.2 to 5, below 1 for expansion; at 1 the exponent is that of StateAt.
// The equations of state are those of StateAt too, and hold far beyond the pressures and temperatures
// reached here. The error names every bad argument.
//
// After a fast stroke of air to a third of its volume the pressure of an ideal gas with n = 1.4 is too
// low, by 1.5 % from 5 bar above ambient and by 6.7 % from 20 bar; for nitrogen by 1.8 and 7.4 %.
func Compress(species Species, pressure units.AbsolutePressure, temperature units.Temperature, ratio float64) (Compression, error) {
	c := units.Checker{Package: "gas"}
	checkState(&c, species, pressure, temperature)
	units.Between(&c, "ratio", ratio, 1/MaxRatio, MaxRatio)
	if err := c.Err(); err != nil {
		return Compression{}, err
	}
	q, p, t := equations[species], float64(pressure), float64(temperature)
	from := q.densityAt(p, t)
	to := from * ratio
	warm := q.isentrope(from, t, to)
	fast := q.pressure(to, warm)
	exponent := math.Log(fast/p) / math.Log(ratio)
	if math.Abs(math.Log(ratio)) <= 1e-6 {
		exponent = q.state(p, t).EffectiveExponent
	}
	return Compression{
		Slow: units.AbsolutePressure(q.pressure(to, t)), Fast: units.AbsolutePressure(fast),
		Temperature: units.Temperature(warm), Exponent: exponent,
	}, nil
}
