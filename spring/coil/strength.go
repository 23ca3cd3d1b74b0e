package coil

import (
	"math"

	"example.com/wheelrate/units"
)

// StrengthForm is the formula by which tensile strength falls with the
// thickness of the wire.
type StrengthForm string

// The two forms in use.
const (
	PowerStrength       StrengthForm = "power"     // A/(d/unit)ᵐ, as American handbooks print it
	LogarithmicStrength StrengthForm = "logarithm" // A − B·log₁₀(d/unit), but at most a cap
)

// StrengthFit is a fit of the least tensile strength that a wire standard
// guarantees. Drawing makes thin wire stronger, so strength goes by diameter.
// The two bounds say which wires it was fitted to; 0 is no bound.
type StrengthFit struct {
	Form      StrengthForm `json:"form"`
	WireUnit  units.Length `json:"wire_unit,omitempty"`  // the diameter that counts as 1: 0 is 1 mm; 1 in for constants in kpsi·inᵐ
	AtUnit    units.Stress `json:"at_unit"`              // A, the strength of wire of that diameter
	Exponent  float64      `json:"exponent,omitempty"`   // m of the power form, 0 to 1
	PerDecade units.Stress `json:"per_decade,omitempty"` // B of the logarithm: what wire ten times as thick loses
	Cap       units.Stress `json:"cap,omitempty"`        // of the logarithm; 0 is none
	WireFrom  units.Length `json:"wire_from,omitempty"`
	WireTo    units.Length `json:"wire_to,omitempty"`
}

// TensileStrength returns the least tensile strength of wire of a diameter d,
//
//	A/(d/unit)ᵐ, or min(A − B·log₁₀(d/unit), cap)
//
// The power form is that of Shigley, eq. 10-14 (number from memory; used in
// the published solutions 10-2 to 10-6); the logarithm fits the tables of
// EN 10270-1 and -2, as transcribed in an open-source program (the standards'
// own texts were not opened). Constants in MPa·mmᵐ and in kpsi·inᵐ are rounded
// each on their own and don't convert into each other: give them as printed,
// with the unit they belong to.
//
// The fit does not extrapolate: a wire outside its bounds is refused, as is one
// so thick that nothing of its strength is left. The error names every bad
// field, wire_diameter for the wire.
//
// What a standard guarantees is tensile strength; how much of it a coil may
// bear in shear is in [CheckPlace].
func TensileStrength(fit StrengthFit, wire units.Length) (units.Stress, error) {
	c := units.Checker{Package: "coil"}
	unit := fit.check(&c)
	if units.Between(&c, "wire_diameter", wire, minWire, maxLength) && !c.Bad("wire_from") && !c.Bad("wire_to") &&
		!(wire >= fit.WireFrom && (wire <= fit.WireTo || fit.WireTo == 0)) {
		want := "at least " + fit.WireFrom.String()
		if fit.WireTo > 0 {
			want = "from " + fit.WireFrom.String() + " to " + fit.WireTo.String()
		}
		c.Fail("wire_diameter", wire, want+", which is what the fit covers", units.ErrRange)
	}
	if !c.OK() {
		return 0, c.Err()
	}
	d := float64(wire / unit)
	if fit.Form == PowerStrength {
		return fit.AtUnit / units.Stress(math.Pow(d, fit.Exponent)), nil
	}
	strength := fit.AtUnit - fit.PerDecade*units.Stress(math.Log10(d))
	if fit.Cap > 0 {
		strength = min(strength, fit.Cap)
	}
	if !(strength > 0) {
		c.Fail("wire_diameter", wire, "thin enough that some strength is left", units.ErrConflict)
		return 0, c.Err()
	}
	return strength, nil
}

// check names every bad field of the fit and returns the unit of the wire.
func (fit StrengthFit) check(c *units.Checker) units.Length {
	unit := fit.WireUnit
	if unit == 0 {
		unit = units.Millimetre
	}
	units.Between(c, "wire_unit", unit, minWire, maxLength)
	units.Between(c, "at_unit", fit.AtUnit, minModulus, maxModulus)
	units.Between(c, "wire_from", fit.WireFrom, 0, maxLength)
	if units.Between(c, "wire_to", fit.WireTo, 0, maxLength) && fit.WireTo != 0 && !c.Bad("wire_from") && !(fit.WireTo >= fit.WireFrom) {
		c.Fail("wire_to", fit.WireTo, "not less than wire_from, "+fit.WireFrom.String(), units.ErrConflict)
	}
	switch fit.Form {
	case PowerStrength:
		units.Between(c, "exponent", fit.Exponent, 0, 1)
		leftOut(c, "per_decade", fit.PerDecade, "nothing with the power form")
		leftOut(c, "cap", fit.Cap, "nothing with the power form")
	case LogarithmicStrength:
		units.Between(c, "per_decade", fit.PerDecade, 0, maxModulus)
		units.Between(c, "cap", fit.Cap, 0, maxModulus)
		leftOut(c, "exponent", fit.Exponent, "nothing with the logarithm")
	default:
		c.Fail("form", string(fit.Form), "one of power, logarithm", units.ErrUnknown)
	}
	return unit
}
