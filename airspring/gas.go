package airspring

import (
	"math"

	"example.com/wheelrate/units"
)

// RealGas is how far a gas is from ideal in one state.
type RealGas struct {
	Compressibility   float64 // Z = p/(ρ·R·T), 1 for an ideal gas
	HeatRatio         float64 // cp/cv
	EffectiveExponent float64 // −(∂ln p/∂ln v)_s: the n of p·Vⁿ that a fast stroke starts with
}

// RealStroke is a real gas compressed from a settled state.
type RealStroke struct {
	Slow        units.AbsolutePressure // at the temperature it had
	Fast        units.AbsolutePressure // without giving off heat
	Temperature units.Temperature      // after the fast stroke
	Exponent    float64                // of the fast stroke as a whole: ln(p₂/p₁)/ln(V₁/V₂); the [Spec.Exponent] of its limit
}

// RealAir returns how far dry air is from an ideal gas at an absolute pressure
// and a temperature. At 20 °C and 20 bar above ambient Z is 0.993, so that little
// gas is missing, but a fast stroke has an exponent of 1.43 rather than 1.40,
// and more as it goes on: see [CompressAir].
//
// The pressure must be more than 0 and at most 40 bar(a), the temperature from
// 250 to 350 K; the error names both where both are bad.
//
// Lemmon, Jacobsen, Penoncello and Friend, J. Phys. Chem. Ref. Data 29 (2000)
// 331: the equation of state of air as a pseudo-pure fluid. The paper was not
// opened. Its coefficients are as in the Debian package python3-iapws 1.5.3, and
// with them density, c_v and c_p of the four gas states of its table A2 that were
// seen quoted come out to all their printed digits, and 42 states computed in 40
// digits from other transcriptions to 1e-12.
//
// Not modelled: moisture, and other gases. The coefficients for nitrogen were
// not to be had; computed values put its Z 0.25 % above that of air at 20 °C and
// 20 bar(a), and its exponent 0.002.
func RealAir(pressure units.AbsolutePressure, temperature units.Temperature) (RealGas, error) {
	c := units.Checker{Package: "airspring"}
	checkState(&c, pressure, temperature)
	if err := c.Err(); err != nil {
		return RealGas{}, err
	}
	t := float64(temperature)
	d := residual(airDensity(float64(pressure), t), airReference/t)
	cv := airHeat(d, airReference/t)
	slow := d.slow()
	cross := d.cross()
	return RealGas{
		Compressibility:   d.z(),
		HeatRatio:         1 + cross*cross/(slow*cv),
		EffectiveExponent: (slow + cross*cross/cv) / d.z(),
	}, nil
}

// CompressAir returns what dry air comes to when its volume shrinks by a ratio
// V₁/V₂ from a settled state: slowly, at constant temperature, and fast, at
// constant entropy. An ideal gas with n = 1.4 falls short of the fast one by 1.5 %
// at 3:1 from 5 bar, and by 6.7 % from 20 bar.
//
// The state is as for [RealAir], the ratio from 0.2 to 5, below 1 for expansion;
// a ratio of 1 has the exponent of RealAir. The error names every bad argument.
// The equation of state is that of RealAir, good from 60 to 2000 K and far
// beyond the pressures reached here.
func CompressAir(pressure units.AbsolutePressure, temperature units.Temperature, ratio float64) (RealStroke, error) {
	c := units.Checker{Package: "airspring"}
	checkState(&c, pressure, temperature)
	units.Between(&c, "ratio", ratio, 0.2, 5)
	if err := c.Err(); err != nil {
		return RealStroke{}, err
	}
	p, t := float64(pressure), float64(temperature)
	from := airDensity(p, t)
	to := from * ratio
	out := RealStroke{Slow: units.AbsolutePressure(airPressure(to, t))}
	warm := airIsentrope(from, t, to)
	fast := airPressure(to, warm)
	out.Fast, out.Temperature = units.AbsolutePressure(fast), units.Temperature(warm)
	if u := math.Log(ratio); math.Abs(u) > 1e-6 {
		out.Exponent = math.Log(fast/p) / u
	} else {
		here, _ := RealAir(pressure, temperature) // no error: the state was checked
		out.Exponent = here.EffectiveExponent
	}
	return out, nil
}

func checkState(c *units.Checker, pressure units.AbsolutePressure, temperature units.Temperature) {
	if !(pressure > 0 && pressure <= 40e5) {
		c.Fail("pressure", pressure, "more than 0, up to 40 bar(a)", nil)
	}
	if !(temperature >= 250 && temperature <= 350) {
		c.Fail("temperature", temperature, "from 250 K to 350 K", nil)
	}
}
