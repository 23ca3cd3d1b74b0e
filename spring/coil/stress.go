package coil

import (
	"cmp"
	"math"

	"example.com/wheelrate/units"
)

// Wahl returns Wahl's stress factor (4C − 1)/(4C − 4) + 0.615/C (Shigley, eq. 10-4, seen in the
// published solutions). Against the exact ring sector it is 0.8 to 1.6 % high for C from 12 down to 3.
func (s *Spring) Wahl() float64 {
	c := s.Index()
	return made(s, (4*c-1)/(4*c-4)+0.615/c)
}

// Bergstrasser returns Bergsträsser's stress factor (4C + 2)/(4C − 3) (Shigley, eq. 10-5, seen in
// the published solutions), which EN 13906-1, as transcribed in an open-source program, writes
// (C + 0.5)/(C − 0.75). Against the exact ring sector it is within 0.14 % for C from 3 to 12.
func (s *Spring) Bergstrasser() float64 {
	c := s.Index()
	return made(s, (4*c+2)/(4*c-3))
}

// size returns the magnitude of v, at most a greatest one; NaN counts as 0.
func size[Q ~float64](v, most Q) float64 {
	if v != v {
		return 0
	}
	return min(math.Abs(float64(v)), float64(most))
}

// StressUncorrected returns the torsion stress 8·F·D/(π·d³) of a straight bar under a load, which
// counts by its size up to 1e15 N; NaN counts as 0.
func (s *Spring) StressUncorrected(load units.Force) units.Stress {
	return made(s, units.Stress(8*size(load, maxLoad)*s.mean/(math.Pi*s.d*s.d*s.d)))
}

// Stress returns the greatest shear stress in the wire under a load, by Bergsträsser's factor:
// Bergstrasser · StressUncorrected.
func (s *Spring) Stress(load units.Force) units.Stress {
	return units.Stress(s.Bergstrasser()) * s.StressUncorrected(load)
}

// StressWahl returns the greatest shear stress by Wahl's factor.
func (s *Spring) StressWahl(load units.Force) units.Stress {
	return units.Stress(s.Wahl()) * s.StressUncorrected(load)
}

// SolidStress returns Stress at the force that makes the spring solid. It reports false without a free
// length.
func (s *Spring) SolidStress() (units.Stress, bool) {
	f, ok := s.SolidForce()
	return s.Stress(f), ok
}

// LoadForStress returns the load at which [Spring.Stress] is a given one, which counts by its size up
// to 1 PPa; NaN counts as 0.
func (s *Spring) LoadForStress(stress units.Stress) units.Force {
	return made(s, units.Force(size(stress, maxModulus)*math.Pi*s.d*s.d*s.d/(8*s.mean*s.Bergstrasser())))
}

// StrengthForm is the formula by which tensile strength falls with the thickness of the wire.
type StrengthForm string

// The two forms in use.
const (
	PowerStrength       StrengthForm = "power"     // A/(d/unit)ᵐ, as American handbooks print it
	LogarithmicStrength StrengthForm = "logarithm" // A − B·log₁₀(d/unit), but at most a cap
)

// StrengthFit is a fit of the least tensile strength that a wire standard guarantees. Drawing makes
// thin wire stronger, so strength goes by diameter.
type StrengthFit struct {
	Form      StrengthForm `json:"form"`
	WireUnit  units.Length `json:"wire_unit,omitempty"`  // the diameter that counts as 1: 0 is 1 mm; 1 in for constants in kpsi·inᵐ
	AtUnit    units.Stress `json:"at_unit"`              // A, the strength of wire of that diameter
	Exponent  float64      `json:"exponent,omitempty"`   // m of the power form, 0 to 1
	PerDecade units.Stress `json:"per_decade,omitempty"` // B of the logarithm: what wire ten times as thick loses
	Cap       units.Stress `json:"cap,omitempty"`        // of the logarithm; 0 for no cap
	WireFrom  units.Length `json:"wire_from,omitempty"`  // thinnest and thickest wire of the fit; 0 for no bound
	WireTo    units.Length `json:"wire_to,omitempty"`
}

// TensileStrength returns the least tensile strength of wire of a diameter d,
//
//	A/(d/unit)ᵐ, or min(A − B·log₁₀(d/unit), cap)
//
// The power form is that of Shigley, eq. 10-14 (number from memory; used in the published solutions
// 10-2 to 10-6); the logarithm fits the tables of EN 10270-1 and -2, as transcribed in an open-source
// program (the standards' own texts were not opened). Constants in MPa·mmᵐ and in kpsi·inᵐ are each
// rounded on their own: give them as printed, with the unit they belong to.
//
// A wire outside the bounds of the fit is refused, as is one so thick that nothing of its strength is
// left. The error names every bad field, wire_diameter for the wire.
func TensileStrength(fit StrengthFit, wire units.Length) (units.Stress, error) {
	c, unit := units.Checker{Package: "coil"}, cmp.Or(fit.WireUnit, units.Millimetre)
	units.Between(&c, "wire_unit", unit, minWire, maxLength)
	units.Between(&c, "at_unit", fit.AtUnit, minModulus, maxModulus)
	from := units.Between(&c, "wire_from", fit.WireFrom, 0, maxLength)
	to := units.Between(&c, "wire_to", fit.WireTo, 0, maxLength)
	if from && to && fit.WireTo != 0 && !(fit.WireTo >= fit.WireFrom) {
		c.Fail("wire_to", fit.WireTo, units.AtLeast(fit.WireFrom).Of("wire_from"), units.ErrConflict)
		to = false
	}
	switch fit.Form {
	case PowerStrength:
		units.Between(&c, "exponent", fit.Exponent, 0, 1)
		leftOut(&c, "per_decade", fit.PerDecade, "nothing with the power form")
		leftOut(&c, "cap", fit.Cap, "nothing with the power form")
	case LogarithmicStrength:
		units.Between(&c, "per_decade", fit.PerDecade, 0, maxModulus)
		units.Between(&c, "cap", fit.Cap, 0, maxModulus)
		leftOut(&c, "exponent", fit.Exponent, "nothing with the logarithm")
	default:
		c.Fail("form", string(fit.Form), units.OneOf("power", "logarithm"), units.ErrUnknown)
	}
	if units.Between(&c, "wire_diameter", wire, minWire, maxLength) && from && to &&
		!(wire >= fit.WireFrom && (wire <= fit.WireTo || fit.WireTo == 0)) {
		want := units.AtLeast(fit.WireFrom)
		if fit.WireTo > 0 {
			want = units.From(fit.WireFrom, fit.WireTo)
		}
		c.Fail("wire_diameter", wire, want.With("which is what the fit covers"), units.ErrRange)
	}
	if !c.OK() {
		return 0, c.Err()
	}
	d := float64(wire / unit)
	if fit.Form == PowerStrength {
		return fit.AtUnit / units.Stress(math.Pow(d, fit.Exponent)), nil
	}
	strength := min(fit.AtUnit-fit.PerDecade*units.Stress(math.Log10(d)), cmp.Or(fit.Cap, units.Stress(math.Inf(1))))
	if !(strength > 0) {
		c.Fail("wire_diameter", wire, "thin enough that some strength is left", units.ErrConflict)
	}
	return units.Checked(&c, strength)
}

// WarmShearModulus returns the shear modulus at a temperature, G(T) = G₂₀·(1 − r·(T − 20 °C)), from
// that at 20 °C and a coefficient r per kelvin: 0.25e-3 for wire of EN 10270-1 and -2, 0.40e-3 for
// EN 10270-3 (EN 13906-1, as transcribed in an open-source program; the standard's own text was not
// opened). The modulus is from 1 Pa to 1 PPa, the coefficient from 0 to 1, the temperature from 1 mK
// to 10 000 K, and cold enough that the modulus stays more than 0; the error names every bad field.
func WarmShearModulus(at20 units.Stress, coefficient float64, temperature units.Temperature) (units.Stress, error) {
	c := units.Checker{Package: "coil"}
	units.Between(&c, "shear_modulus", at20, minModulus, maxModulus)
	units.Between(&c, "coefficient", coefficient, 0, 1)
	units.Between(&c, "temperature", temperature, 1e-3*units.Kelvin, 1e4*units.Kelvin)
	part := 1 - coefficient*float64(temperature-units.Celsius(20))
	if c.OK() && !(part > 0) {
		c.Fail("temperature", temperature, "a temperature at which the modulus is more than 0", units.ErrConflict)
	}
	return units.Checked(&c, units.Stress(part)*at20)
}

// leftOut checks that a field is not given.
func leftOut[Q ~float64](c *units.Checker, field string, value Q, want string) {
	if value != 0 {
		c.Fail(field, value, want, units.ErrConflict)
	}
}
