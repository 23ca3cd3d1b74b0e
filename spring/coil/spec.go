package coil

import (
	"cmp"
	"math"

	"example.com/wheelrate/units"
)

// Spec describes a helical compression spring of round wire. Exactly one of the three diameters and
// exactly one of the two coil counts is given. A value of 0 counts as not given.
type Spec struct {
	WireDiameter   units.Length  `json:"wire_diameter"`            // d, less than the mean diameter
	MeanDiameter   units.Length  `json:"mean_diameter,omitempty"`  // D, between the wire's centres
	OuterDiameter  units.Length  `json:"outer_diameter,omitempty"` // D + d
	InnerDiameter  units.Length  `json:"inner_diameter,omitempty"` // D − d
	ActiveCoils    float64       `json:"active_coils,omitempty"`   // coils that take part
	TotalCoils     float64       `json:"total_coils,omitempty"`    // active and dead ones
	Ends           Ends          `json:"ends,omitempty"`
	FreeLength     units.Length  `json:"free_length,omitempty"`     // more than the solid length
	ShearModulus   units.Stress  `json:"shear_modulus"`             // G
	ElasticModulus units.Stress  `json:"elastic_modulus,omitempty"` // E, more than G; for the rates with the climb of the wire and for buckling
	Density        units.Density `json:"density,omitempty"`         // for mass and surge
}

// Ends says how a spring's last coils are finished. Empty counts as [SquaredGround], as shock and
// fork springs are (common practice).
type Ends string

// The four ways of Machinery's Handbook, 31st ed., table 3 on p. 318, and Shigley, table 10-1
// (partly seen through its published solutions).
const (
	Plain         Ends = "plain"          // cut off: no dead coil
	PlainGround   Ends = "plain_ground"   // cut off and ground flat: one dead coil
	Squared       Ends = "squared"        // closed: two dead coils
	SquaredGround Ends = "squared_ground" // closed and ground flat: two dead coils
)

// ending is what ends make of n active coils of wire d: N = n + dead coils in all, the solid length
// (N + over)·d, and the free length (n + ground)·p + wires·d for a pitch p.
type ending struct{ dead, over, ground, wires float64 }

var endings = map[Ends]ending{
	Plain:         {over: 1, wires: 1},
	PlainGround:   {dead: 1, ground: 1},
	Squared:       {dead: 2, over: 1, wires: 3},
	SquaredGround: {dead: 2, wires: 2},
	"":            {dead: 2, wires: 2},
}

func (e Ends) check(c *units.Checker) ending {
	found, ok := endings[e]
	if !ok {
		c.Fail("ends", string(e), units.OneOf("plain", "plain_ground", "squared", "squared_ground"), units.ErrUnknown)
	}
	return found
}

// Material is what the formulas of a coil spring need of its wire, at the wire's own diameter; a
// value of 0 is not known. Package refdata has a table of materials with their sources.
type Material struct {
	Name            string        `json:"name,omitempty"` // a standard's designation, such as "ASTM A228"
	ShearModulus    units.Stress  `json:"shear_modulus"`
	ElasticModulus  units.Stress  `json:"elastic_modulus,omitempty"`
	Density         units.Density `json:"density,omitempty"`
	TensileStrength units.Stress  `json:"tensile_strength,omitempty"` // the least that the standard guarantees
}

// Of returns the spec with the material's moduli and density where the spec gives none.
func (spec Spec) Of(m Material) Spec {
	spec.ShearModulus = cmp.Or(spec.ShearModulus, m.ShearModulus)
	spec.ElasticModulus = cmp.Or(spec.ElasticModulus, m.ElasticModulus)
	spec.Density = cmp.Or(spec.Density, m.Density)
	return spec
}

// The limits of a spec are far beyond any real spring, and near enough that nothing computed from
// it overflows.
const (
	minWire, maxLength     = 1e-6 * units.Metre, 1e3 * units.Metre
	minCoils, maxCoils     = 1e-3, 1e6
	minModulus, maxModulus = 1 * units.Pascal, 1e15 * units.Pascal
	minDensity, maxDensity = 1e-3 * units.KilogramPerCubicMetre, 1e6 * units.KilogramPerCubicMetre
	maxLoad                = 1e15 * units.Newton
)

// New returns the spring of a spec, or an error that names every bad field: see [Spec.Check].
func New(spec Spec) (*Spring, error) {
	c := units.Checker{Package: "coil"}
	return units.Checked(&c, spec.spring(&c))
}

// Check records every bad field: what is not finite, not more than 0 or outside the limits (lengths
// from 1 µm to 1 km, 0.001 to 1e6 coils, moduli from 1 Pa to 1 PPa, densities from 1e-3 to
// 1e6 kg/m³), a second diameter or coil count, a wire not thinner than the mean diameter
// (wire_diameter), total coils that leave none active, a free length not more than the solid one, a
// modulus of elasticity not more than the shear modulus.
func (spec Spec) Check(c *units.Checker) { spec.spring(c) }

// spring returns the spring of a spec, which is of use if c finds nothing bad.
func (spec Spec) spring(c *units.Checker) *Spring {
	s := &Spring{
		d: float64(spec.WireDiameter), free: float64(spec.FreeLength), ends: spec.Ends.check(c),
		g: float64(spec.ShearModulus), e: float64(spec.ElasticModulus), rho: float64(spec.Density),
	}
	wire := units.Between(c, "wire_diameter", spec.WireDiameter, minWire, maxLength)
	s.mean = spec.checkDiameter(c, wire)
	s.n, s.total = spec.checkCoils(c, s.ends.dead)
	shear := units.Between(c, "shear_modulus", spec.ShearModulus, minModulus, maxModulus)
	if spec.ElasticModulus != 0 && units.Between(c, "elastic_modulus", spec.ElasticModulus, minModulus, maxModulus) &&
		shear && !(spec.ElasticModulus > spec.ShearModulus) {
		c.Fail("elastic_modulus", spec.ElasticModulus, units.MoreThan(spec.ShearModulus).Of("shear_modulus"), units.ErrConflict)
	}
	if spec.Density != 0 {
		units.Between(c, "density", spec.Density, minDensity, maxDensity)
	}
	if spec.FreeLength != 0 && units.Between(c, "free_length", spec.FreeLength, minWire, maxLength) && c.OK() {
		if solid := s.SolidLength(); !(spec.FreeLength > solid) {
			c.Fail("free_length", spec.FreeLength, units.MoreThan(solid).Of("solid_length"), units.ErrConflict)
		}
	}
	return s
}

// checkDiameter returns the mean diameter from whichever one is given.
func (spec Spec) checkDiameter(c *units.Checker, wire bool) float64 {
	var mean units.Length
	seen := ""
	for _, given := range []struct {
		field      string
		value, add units.Length
	}{
		{"mean_diameter", spec.MeanDiameter, 0},
		{"outer_diameter", spec.OuterDiameter, -spec.WireDiameter},
		{"inner_diameter", spec.InnerDiameter, spec.WireDiameter},
	} {
		switch {
		case given.value == 0:
		case seen != "":
			c.Fail(given.field, given.value, units.Without(seen), units.ErrConflict)
		default:
			seen = given.field
			wire = units.Between(c, given.field, given.value, minWire, maxLength) && wire
			mean = given.value + given.add
		}
	}
	switch {
	case seen == "":
		c.Fail("mean_diameter", nil, units.Needs("mean_diameter", "outer_diameter", "inner_diameter"), units.ErrMissing)
	case wire && !(mean > spec.WireDiameter):
		c.Fail("wire_diameter", spec.WireDiameter, units.LessThan(mean).Of("mean_diameter"), units.ErrConflict)
	}
	return float64(mean)
}

// checkCoils returns active and total coils from whichever is given.
func (spec Spec) checkCoils(c *units.Checker, dead float64) (active, total float64) {
	switch {
	case spec.ActiveCoils != 0 && spec.TotalCoils != 0:
		c.Fail("total_coils", spec.TotalCoils, units.Without("active_coils"), units.ErrConflict)
	case spec.TotalCoils != 0:
		if units.Between(c, "total_coils", spec.TotalCoils, minCoils, maxCoils) && !(spec.TotalCoils-dead >= minCoils) {
			c.Fail("total_coils", spec.TotalCoils, "more than the dead coils of these ends", units.ErrConflict)
		}
		return spec.TotalCoils - dead, spec.TotalCoils
	case spec.ActiveCoils == 0:
		c.Fail("active_coils", nil, units.Needs("active_coils", "total_coils").With("more than 0"), units.ErrMissing)
	default:
		units.Between(c, "active_coils", spec.ActiveCoils, minCoils, maxCoils)
	}
	return spec.ActiveCoils, spec.ActiveCoils + dead
}

// turnRate returns the rate of one active coil, G·d⁴/(8·D³); n coils in series have an n-th of it.
func turnRate(shear units.Stress, wire, mean units.Length) units.Stiffness {
	ratio := float64(wire / mean)
	return units.Stiffness(float64(shear) * float64(wire) * ratio * ratio * ratio / 8)
}

// ForRate returns the coil of a wanted rate: the spec with what it leaves out, its coils or its
// diameter, by the formula of [Spring.Rate],
//
//	n = G·d⁴/(8·D³·k), or D = d·∛(G·d/(8·k·n))
//
// The rate is more than 0. The spec is as for [New], but gives either no coils, and no free length,
// which depends on them, or no diameter beside the wire's. The coils are exact: round them to what can
// be wound, and ask New for the rate. The error names every bad field, active_coils where nothing is
// left out, and rate where no coil of sensible size has it.
func ForRate(spec Spec, rate units.Stiffness) (Spec, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", rate)
	coils := spec.ActiveCoils == 0 && spec.TotalCoils == 0
	switch {
	case coils && spec.FreeLength != 0:
		c.Fail("free_length", spec.FreeLength, "nothing: it depends on the coils", units.ErrConflict)
		fallthrough
	case coils:
		spec.ActiveCoils, spec.FreeLength = 1, 0
	case spec.MeanDiameter != 0 || spec.OuterDiameter != 0 || spec.InnerDiameter != 0:
		c.Fail("active_coils", nil, "no coils, or no diameter beside the wire's: one of them is looked for", units.ErrConflict)
	default:
		spec.MeanDiameter = maxLength
	}
	trial := spec.spring(&c)
	if coils {
		spec.ActiveCoils = float64(trial.Rate() / rate)
	} else {
		spec.MeanDiameter = spec.WireDiameter * units.Length(math.Cbrt(trial.g*trial.d/(8*trial.n)/float64(rate)))
	}
	if c.OK() {
		if _, err := New(spec); err != nil {
			c.Fail("rate", rate, "a rate that a coil of sensible size has", units.ErrConflict)
		}
	}
	return units.Checked(&c, spec)
}
