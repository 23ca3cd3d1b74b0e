package coil

import (
	"example.com/wheelrate/units"
)

// WarmShearModulus returns the shear modulus at a temperature,
// G(T) = G₂₀·(1 − r·(T − 20 °C)), from that at 20 °C and a coefficient r per
// kelvin: 0.25e-3 for wire of EN 10270-1 and -2, 0.40e-3 for EN 10270-3
// (EN 13906-1, as transcribed in an open-source program; the standard's own
// text was not opened). The modulus is from 1 Pa to 1 PPa, the coefficient from 0
// to 1, the temperature from 1 mK to 10 000 K, and cold enough that the modulus
// stays more than 0; the error names every field that isn't.
func WarmShearModulus(at20 units.Stress, coefficient float64, temperature units.Temperature) (units.Stress, error) {
	c := units.Checker{Package: "coil"}
	units.Between(&c, "shear_modulus", at20, minModulus, maxModulus)
	units.Between(&c, "coefficient", coefficient, 0, 1)
	units.Between(&c, "temperature", temperature, 1e-3*units.Kelvin, 1e4*units.Kelvin)
	if !c.OK() {
		return 0, c.Err()
	}
	part := 1 - coefficient*float64(temperature-units.Celsius(20))
	if !(part > 0) {
		c.Fail("temperature", temperature, "a temperature at which the modulus is more than 0", units.ErrConflict)
		return 0, c.Err()
	}
	return units.Stress(part) * at20, nil
}
