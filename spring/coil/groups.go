package coil

import (
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Groups describes a progressive spring by what can be measured on it: one
// wire, one diameter, and how many coils there are of each pitch.
type Groups struct {
	WireDiameter units.Length `json:"wire_diameter"` // more than 0, less than the mean diameter
	MeanDiameter units.Length `json:"mean_diameter"`
	ShearModulus units.Stress `json:"shear_modulus"` // more than 0
	Groups       []Group      `json:"groups"`        // one or more, in any order
}

// Group is a number of active coils of one pitch.
type Group struct {
	ActiveCoils float64      `json:"active_coils"` // more than 0
	Pitch       units.Length `json:"pitch"`        // from wire centre to wire centre, more than the wire diameter
}

// NewGroups returns the law of a spring of groups of different pitch. Each
// group has the rate k = G·d⁴/(8·D³·n) and the gap n·(p − d), so it closes at
// G·d⁴·(p − d)/(8·D³): the pitch alone decides when. The error names every bad
// field, such as groups[1].pitch.
//
// Not modelled: coils that touch on part of a turn, which rounds the kinks
// off, and a diameter that changes along the spring.
func NewGroups(spec Groups) (*spring.GroupedSpring, error) {
	c := units.Checker{Package: "coil"}
	d, mean := spec.WireDiameter, spec.MeanDiameter
	checkWire(&c, d, mean)
	units.Positive(&c, "shear_modulus", spec.ShearModulus)
	if len(spec.Groups) == 0 {
		c.Fail("groups", nil, "one or more coil groups", units.ErrMissing)
	}
	groups := make([]spring.Group, len(spec.Groups))
	for i, g := range spec.Groups {
		group := c.Element("groups", i)
		units.Positive(&group, "active_coils", g.ActiveCoils)
		if units.Positive(&group, "pitch", g.Pitch) && !(g.Pitch > d) && !c.Bad("wire_diameter") {
			group.Fail("pitch", g.Pitch, "more than wire_diameter "+d.String(), units.ErrConflict)
		}
		groups[i] = spring.Group{
			Rate: turnRate(spec.ShearModulus, d, mean) / units.Stiffness(g.ActiveCoils),
			Gap:  units.Length(g.ActiveCoils) * (g.Pitch - d),
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	return spring.NewGroups(spring.Groups{Groups: groups})
}
