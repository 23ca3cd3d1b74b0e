package refdata

import (
	"math"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// MaterialData is a spring wire under its standard designation. Each of its values has its source;
// a value without a known source is nil.
type MaterialData struct {
	Name     string       `json:"name"`               // such as "EN 10270-1 SH"
	Aliases  []string     `json:"aliases"`            // other names it is found by
	Kind     string       `json:"kind"`               // in words
	Moduli   *Moduli      `json:"moduli,omitempty"`   // at 20 °C
	Density  *DensityData `json:"density,omitempty"`  //
	Strength *Strength    `json:"strength,omitempty"` // least tensile strength
	Note     string       `json:"note,omitempty"`
}

// StressValue is a stress or a modulus with its uncertainty: half a unit in the last printed digit
// of the source, or more if the note says why. The scatter of real wire is larger.
type StressValue struct {
	Value       units.Stress `json:"value"`
	Uncertainty units.Stress `json:"uncertainty"`
}

// Moduli are the shear modulus and the modulus of elasticity by wire diameter.
type Moduli struct {
	Source   Source     `json:"source"`
	Standing Standing   `json:"standing"`
	Rows     []ModuliAt `json:"rows"` // by rising wire diameter
	Note     string     `json:"note,omitempty"`
}

// ModuliAt are the moduli of wire that is thicker than WireFrom and at most WireTo. A bound of 0
// means that there is none.
type ModuliAt struct {
	WireFrom       units.Length `json:"wire_from,omitempty"`
	WireTo         units.Length `json:"wire_to,omitempty"`
	ShearModulus   StressValue  `json:"shear_modulus"`
	ElasticModulus StressValue  `json:"elastic_modulus"`
}

// DensityData is a density with its uncertainty and source.
type DensityData struct {
	Value       units.Density `json:"value"`
	Uncertainty units.Density `json:"uncertainty"`
	Source      Source        `json:"source"`
	Standing    Standing      `json:"standing"`
	Note        string        `json:"note,omitempty"`
}

// Strength is the least tensile strength by wire diameter d, in one of two forms. Form "power" is
// A/(d/mm)^m, form "logarithm" is A − B·log₁₀(d/mm) but at most Cap.
type Strength struct {
	Source   Source       `json:"source"`
	Standing Standing     `json:"standing"`
	Form     string       `json:"form"`
	Rows     []StrengthAt `json:"rows"` // by rising wire diameter
	Note     string       `json:"note,omitempty"`
}

// StrengthAt is the strength of wire from WireFrom to WireTo, both included. A bound of 0 means
// that the source gives none.
type StrengthAt struct {
	WireFrom  units.Length `json:"wire_from,omitempty"`
	WireTo    units.Length `json:"wire_to,omitempty"`
	AtOne     StressValue  `json:"at_1_mm"`              // A, the strength of wire of 1 mm
	Exponent  float64      `json:"exponent,omitempty"`   // m of the power form
	PerDecade *StressValue `json:"per_decade,omitempty"` // B of the logarithm
	Cap       *StressValue `json:"cap,omitempty"`        // of the logarithm
}

// Materials returns every material of the dataset, in its order. The result is a copy.
func Materials() []MaterialData { return clone(materials()) }

// MaterialNamed returns the material of that name or alias, or an error in the field "material".
// Case, spaces and punctuation are ignored: "EN10270-1 SH" and "en 10270-1-sh" are the same name.
func MaterialNamed(name string) (MaterialData, error) {
	return named(materials(), func(m MaterialData) []string { return append([]string{m.Name}, m.Aliases...) }, "material", name)
}

// ModuliOf returns the moduli of wire of a diameter. A diameter between two rows has those of the
// thicker one. The error is in the field "material" if the material has no moduli, and in
// "wire_diameter" if the diameter is NaN, infinite, 0, negative, or outside the range of the
// source.
func (m MaterialData) ModuliOf(wire units.Length) (ModuliAt, error) {
	if m.Moduli == nil || len(m.Moduli.Rows) == 0 {
		return ModuliAt{}, m.lacks("a shear modulus")
	}
	for _, row := range m.Moduli.Rows {
		if wire > row.WireFrom && (wire <= row.WireTo || row.WireTo == 0) && !math.IsInf(float64(wire), 0) {
			return row, nil
		}
	}
	rows := m.Moduli.Rows
	return ModuliAt{}, m.outside(wire, rows[0].WireFrom, rows[len(rows)-1].WireTo)
}

// At returns the material of wire of a diameter, as package coil takes it. Density and tensile
// strength are 0 if the dataset has none for that diameter. The error is that of
// [MaterialData.ModuliOf].
func (m MaterialData) At(wire units.Length) (coil.Material, error) {
	moduli, err := m.ModuliOf(wire)
	if err != nil {
		return coil.Material{}, err
	}
	at := coil.Material{Name: m.Name, ShearModulus: moduli.ShearModulus.Value, ElasticModulus: moduli.ElasticModulus.Value}
	if m.Density != nil {
		at.Density = m.Density.Value
	}
	if s, err := m.TensileStrength(wire); err == nil {
		at.TensileStrength = s
	}
	return at, nil
}

// TensileStrength returns the least tensile strength of wire of a diameter. The error is in the
// field "material" if the material has no strength, and in "wire_diameter" if the diameter is NaN,
// infinite, 0, negative, or outside the range of the source: the formulas are fits and do not
// extrapolate.
func (m MaterialData) TensileStrength(wire units.Length) (units.Stress, error) {
	if m.Strength == nil || len(m.Strength.Rows) == 0 {
		return 0, m.lacks("a tensile strength")
	}
	for _, row := range m.Strength.Rows {
		if wire > 0 && wire >= row.WireFrom && (wire <= row.WireTo || row.WireTo == 0) && !math.IsInf(float64(wire), 0) {
			if s := row.of(wire); s > 0 {
				return s, nil
			}
		}
	}
	rows := m.Strength.Rows
	return 0, m.outside(wire, rows[0].WireFrom, rows[len(rows)-1].WireTo)
}

// of is the formula of the row's form; 0 where it gives no strength.
func (s StrengthAt) of(wire units.Length) units.Stress {
	fit := coil.StrengthFit{Form: coil.PowerStrength, AtUnit: s.AtOne.Value, Exponent: s.Exponent}
	if s.PerDecade != nil && s.Cap != nil {
		fit = coil.StrengthFit{Form: coil.LogarithmicStrength, AtUnit: s.AtOne.Value, PerDecade: s.PerDecade.Value, Cap: s.Cap.Value}
	}
	strength, err := coil.TensileStrength(fit, wire)
	if err != nil {
		return 0
	}
	return strength
}

func (m MaterialData) lacks(what string) error {
	return &units.FieldError{Package: "refdata", Field: "material", Value: m.Name, Want: units.Want{Text: "a material with " + what}, Class: units.ErrConflict}
}

func (m MaterialData) outside(wire, from, to units.Length) error {
	want := units.MoreThan(from)
	switch {
	case from > 0 && to > 0:
		want = units.From(from, to)
	case to > 0:
		want = units.MoreThan(0).And(units.AtMost(to))
	}
	return &units.FieldError{Package: "refdata", Field: "wire_diameter", Value: wire,
		Want: want.With("which is what the source for " + m.Name + " covers"), Class: units.ErrRange}
}

var materials = field[[]MaterialData]("materials.json", "materials")
