package coil

import "example.com/wheelrate/units"

// Material is what the formulas of a coil spring need of its wire, at the
// wire's own diameter; a value of 0 is not known. The table of materials, with
// a source for each value and the diameters it holds for, is data in package
// refdata.
type Material struct {
	Name            string        `json:"name,omitempty"` // a standard's designation, such as "ASTM A228"
	ShearModulus    units.Stress  `json:"shear_modulus"`
	ElasticModulus  units.Stress  `json:"elastic_modulus,omitempty"`
	Density         units.Density `json:"density,omitempty"`
	TensileStrength units.Stress  `json:"tensile_strength,omitempty"` // the least that the standard guarantees
}

// Of returns the spec with the material's moduli and density filled in where
// the spec gives none.
func (spec Spec) Of(m Material) Spec {
	if spec.ShearModulus == 0 {
		spec.ShearModulus = m.ShearModulus
	}
	if spec.ElasticModulus == 0 {
		spec.ElasticModulus = m.ElasticModulus
	}
	if spec.Density == 0 {
		spec.Density = m.Density
	}
	return spec
}
