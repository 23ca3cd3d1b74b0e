package coil

import (
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Spec describes a helical compression spring of round wire. Exactly one of
// the three diameters and exactly one of the two coil counts is given.
type Spec struct {
	WireDiameter  units.Length `json:"wire_diameter"`            // less than the mean diameter
	MeanDiameter  units.Length `json:"mean_diameter,omitempty"`  // D, between the wire's centres
	OuterDiameter units.Length `json:"outer_diameter,omitempty"` // D + d
	InnerDiameter units.Length `json:"inner_diameter,omitempty"` // D − d
	ActiveCoils   float64      `json:"active_coils,omitempty"`   // coils that take part
	TotalCoils    float64      `json:"total_coils,omitempty"`    // active and dead ones
	Ends          Ends         `json:"ends,omitempty"`           // empty is squared_ground
	FreeLength    units.Length `json:"free_length,omitempty"`    // 0 where unknown; else more than the solid length
	ShearModulus  units.Stress `json:"shear_modulus"`            // G
	// ElasticModulus, E, is needed for the rates with the climb of the wire
	// and for buckling; 0 where unknown, else more than G.
	ElasticModulus units.Stress  `json:"elastic_modulus,omitempty"`
	Density        units.Density `json:"density,omitempty"` // 0 where unknown; needed for mass and surge
}

// Spring is a coil spring whose spec was found good. Make one with
// [New]; the zero value answers 0 or false to everything.
type Spring struct {
	d, mean, n, total float64
	free, g, e, rho   float64
	ends              Ends
}

// What a coil spring may be: far beyond any real one, and near enough that
// nothing computed from it overflows.
const (
	minWire, maxCoilLength   = 1e-6 * units.Metre, 1e3 * units.Metre
	minCoils, maxCoils       = 1e-3, 1e6
	minModulus, maxModulus   = 1 * units.Pascal, 1e15 * units.Pascal
	minDensity, maxDensity   = 1e-3 * units.KilogramPerCubicMetre, 1e6 * units.KilogramPerCubicMetre
	maxCoilLoad, maxSolidity = 1e15 * units.Newton, 1e3 * units.Metre
)

// New checks a spec and returns the spring. The error names every bad
// field: what is not finite, not more than 0 or beyond all sense (a wire under
// a micrometre, a kilometre of spring), a second diameter or coil count, a wire not thinner than
// the mean diameter (wire_diameter), total coils that leave none active, a
// free length not more than the solid one, a modulus of elasticity not more
// than the shear modulus.
func New(spec Spec) (*Spring, error) {
	c := units.Checker{Package: "coil"}
	s := &Spring{ends: spec.Ends}
	if s.ends == "" {
		s.ends = SquaredGround
	}
	if !s.ends.known() {
		c.Fail("ends", string(spec.Ends), "one of plain, plain_ground, squared, squared_ground", units.ErrUnknown)
	}
	s.d = float64(spec.WireDiameter)
	wire := units.Between(&c, "wire_diameter", spec.WireDiameter, minWire, maxCoilLength)
	s.mean = spec.checkDiameter(&c, wire)
	s.n, s.total = spec.checkCoils(&c, s.ends)
	units.Between(&c, "shear_modulus", spec.ShearModulus, minModulus, maxModulus)
	s.g, s.e, s.rho = float64(spec.ShearModulus), float64(spec.ElasticModulus), float64(spec.Density)
	if spec.ElasticModulus != 0 && units.Between(&c, "elastic_modulus", spec.ElasticModulus, minModulus, maxModulus) &&
		!c.Bad("shear_modulus") && !(spec.ElasticModulus > spec.ShearModulus) {
		c.Fail("elastic_modulus", spec.ElasticModulus, "more than shear_modulus, "+spec.ShearModulus.String(), units.ErrConflict)
	}
	if spec.Density != 0 {
		units.Between(&c, "density", spec.Density, minDensity, maxDensity)
	}
	s.free = float64(spec.FreeLength)
	if spec.FreeLength != 0 && units.Between(&c, "free_length", spec.FreeLength, minWire, maxSolidity) && c.OK() {
		if solid := s.SolidLength(); !(spec.FreeLength > solid) {
			c.Fail("free_length", spec.FreeLength, "more than the solid length, "+solid.String(), units.ErrConflict)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return s, nil
}

// checkDiameter returns the mean diameter from whichever one is given.
func (spec Spec) checkDiameter(c *units.Checker, wire bool) float64 {
	given := []struct {
		field string
		value units.Length
		add   units.Length
	}{
		{"mean_diameter", spec.MeanDiameter, 0},
		{"outer_diameter", spec.OuterDiameter, -spec.WireDiameter},
		{"inner_diameter", spec.InnerDiameter, spec.WireDiameter},
	}
	var mean units.Length
	seen := ""
	for _, g := range given {
		switch {
		case g.value == 0:
		case seen != "":
			c.Fail(g.field, g.value, "nothing beside "+seen, units.ErrConflict)
		default:
			seen = g.field
			if !units.Between(c, g.field, g.value, minWire, maxCoilLength) {
				wire = false
			}
			mean = g.value + g.add
		}
	}
	switch {
	case seen == "":
		c.Fail("mean_diameter", nil, "one of mean_diameter, outer_diameter, inner_diameter", units.ErrMissing)
	case wire && !(mean > spec.WireDiameter):
		c.Fail("wire_diameter", spec.WireDiameter, "less than the mean diameter, "+mean.String(), units.ErrConflict)
	}
	return float64(mean)
}

// checkCoils returns active and total coils from whichever is given.
func (spec Spec) checkCoils(c *units.Checker, ends Ends) (active, total float64) {
	switch {
	case spec.ActiveCoils != 0 && spec.TotalCoils != 0:
		c.Fail("total_coils", spec.TotalCoils, "nothing beside active_coils", units.ErrConflict)
	case spec.TotalCoils != 0:
		if units.Between(c, "total_coils", spec.TotalCoils, minCoils, maxCoils) && !(spec.TotalCoils-ends.dead() >= minCoils) {
			c.Fail("total_coils", spec.TotalCoils, "more than the dead coils of these ends", units.ErrConflict)
		}
		return spec.TotalCoils - ends.dead(), spec.TotalCoils
	case spec.ActiveCoils == 0:
		c.Fail("active_coils", nil, "one of active_coils, total_coils, more than 0", units.ErrMissing)
	default:
		units.Between(c, "active_coils", spec.ActiveCoils, minCoils, maxCoils)
	}
	return spec.ActiveCoils, spec.ActiveCoils + ends.dead()
}

// MeanDiameter returns D, between the wire's centres.
func (s *Spring) MeanDiameter() units.Length { return units.Length(s.mean) }

// WireDiameter returns d.
func (s *Spring) WireDiameter() units.Length { return units.Length(s.d) }

// OuterDiameter returns D + d, in the free state.
func (s *Spring) OuterDiameter() units.Length { return units.Length(s.mean + s.d) }

// InnerDiameter returns D − d, in the free state.
func (s *Spring) InnerDiameter() units.Length { return units.Length(s.mean - s.d) }

// Index returns C = D/d. Shigley recommends 4 to 12 (eq. 10-18, seen in the
// published solution 10-4).
func (s *Spring) Index() float64 {
	if !(s.d > 0) {
		return 0
	}
	return s.mean / s.d
}

// ActiveCoils returns n.
func (s *Spring) ActiveCoils() float64 { return s.n }

// TotalCoils returns N = n and the dead coils: none for plain ends, one for
// plain ground ones, two for squared ones.
func (s *Spring) TotalCoils() float64 { return s.total }

// Rate returns k = G·d⁴/(8·D³·n) in N/m, from the torsion of the wire alone
// (Shigley, eq. 10-9, number from memory; every source agrees). It is good to
// about 1 % before the tolerances of wire: see the package documentation.
func (s *Spring) Rate() units.Stiffness {
	if !(s.n > 0) {
		return 0
	}
	r := s.d / s.mean
	return units.Stiffness(s.g * s.d * r * r * r / (8 * s.n))
}

// SolidLength returns the length with all coils touching: N·d with ground
// ends, (N + 1)·d without.
func (s *Spring) SolidLength() units.Length {
	return units.Length(s.ends.solidTurns(s.total) * s.d)
}

// SolidTravel returns the travel from free to solid. It is false where no free
// length was given.
func (s *Spring) SolidTravel() (units.Length, bool) {
	if !(s.free > 0) {
		return 0, false
	}
	return units.Length(s.free) - s.SolidLength(), true
}

// SolidForce returns the force at which the coils touch, k times the travel to
// solid. It is false where no free length was given.
func (s *Spring) SolidForce() (units.Force, bool) {
	x, ok := s.SolidTravel()
	return s.Rate().Times(x), ok
}

// WithPreload returns the law of the spring put in with a preload, up to
// where it is solid. The preload is 0 or more and less than the travel to
// solid; a free length must have been given. The error names preload or
// free_length.
func (s *Spring) WithPreload(preload units.Length) (spring.LinearSpring, error) {
	c := units.Checker{Package: "coil"}
	travel, ok := s.SolidTravel()
	if !ok {
		c.Fail("free_length", nil, "a free length: without it nobody knows where the spring is solid", units.ErrMissing)
	}
	if units.NonNegative(&c, "preload", preload) && ok && !(preload < travel) {
		c.Fail("preload", preload, "less than the travel to solid, "+travel.String(), units.ErrConflict)
	}
	if err := c.Err(); err != nil {
		return spring.LinearSpring{}, err
	}
	return spring.NewLinear(spring.Linear{Rate: s.Rate(), Travel: travel - preload, Preload: preload})
}
