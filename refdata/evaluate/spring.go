package evaluate

import (
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

var springComputations = map[string]computation{
	"spring.coil":     springCoil,
	"spring.strength": springStrength,
	"spring.warm":     springWarm,
}

// coilGiven is a coil spring as a case gives it: with its moduli or with the
// name of a material, and with what is to be done to it.
type coilGiven struct {
	coil.Spec
	Material  string       `json:"material"`
	Load      *units.Force `json:"load"`
	EndFixity *float64     `json:"end_fixity"`
}

// build makes the spring, its material looked up, or names every bad field.
func (in coilGiven) build() (*coil.Spring, error) {
	c := units.Checker{Package: "evaluate"}
	if in.Material != "" {
		in.lookUp(&c)
	}
	if in.Load != nil {
		units.Positive(&c, "load", *in.Load)
	}
	if in.EndFixity != nil {
		units.Between(&c, "end_fixity", *in.EndFixity, 0.01, 100)
	}
	made, err := coil.New(in.Spec)
	for _, f := range units.Fields(err) {
		if !c.Bad(f.Field) && !(c.Bad("material") && f.Field == "shear_modulus") {
			c.Add("", f)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return made, nil
}

// lookUp fills in what the material says and the case doesn't.
func (in *coilGiven) lookUp(c *units.Checker) {
	if in.ShearModulus != 0 {
		c.Fail("material", in.Material, "nothing beside shear_modulus", units.ErrConflict)
		return
	}
	m, err := refdata.MaterialNamed(in.Material)
	if err != nil {
		c.Add("", err)
		return
	}
	at, err := m.At(in.WireDiameter)
	if err != nil {
		// A wire that is no wire is told by the coil itself.
		if in.WireDiameter > 0 {
			c.Add("", err)
		}
		in.ShearModulus = units.Pascal
		return
	}
	in.Spec = in.Spec.Of(at)
}

func springCoil(given *input) (Result, error) {
	in, err := decode[coilGiven](given)
	if err != nil {
		return nil, err
	}
	s, err := in.build()
	if err != nil {
		return nil, err
	}
	r := Result{
		"mean_diameter": s.MeanDiameter(), "index": s.Index(), "rate": s.Rate(),
		"wahl": s.Wahl(), "bergstrasser": s.Bergstrasser(),
		"active_coils": s.ActiveCoils(), "total_coils": s.TotalCoils(),
		"solid_length": s.SolidLength(), "wire_length": s.WireLength(),
	}
	offer(r, "pitch")(s.Pitch())
	offer(r, "helix_angle")(s.HelixAngle())
	offer(r, "rate_ends_free")(s.RateEndsFree())
	offer(r, "rate_ends_held")(s.RateEndsHeld())
	offer(r, "solid_travel")(s.SolidTravel())
	offer(r, "solid_force")(s.SolidForce())
	offer(r, "solid_stress")(s.SolidStress())
	offer(r, "mass")(s.Mass())
	offer(r, "surge_frequency")(s.SurgeFrequency())
	offer(r, "outer_diameter_solid")(s.OuterDiameterSolid())
	if in.Load != nil {
		f := *in.Load
		r["travel"] = units.Length(float64(f) / float64(s.Rate()))
		r["stress"], r["stress_wahl"], r["stress_uncorrected"] = s.Stress(f), s.StressWahl(f), s.StressUncorrected(f)
		offer(r, "load_tolerance_1")(s.LoadTolerance(f, coil.Grade1))
		offer(r, "load_tolerance_2")(s.LoadTolerance(f, coil.Grade2))
		offer(r, "load_tolerance_3")(s.LoadTolerance(f, coil.Grade3))
	}
	if in.EndFixity != nil {
		offer(r, "stable_slenderness")(s.StableSlenderness(*in.EndFixity))
		b, ok := s.Buckling(*in.EndFixity)
		offer(r, "buckling_travel")(b.Travel, ok && b.Buckles)
	}
	return r, nil
}

// offer puts an output among the results where the spring knows it.
func offer(r Result, name string) func(value any, known bool) {
	return func(value any, known bool) {
		if known {
			r[name] = value
		}
	}
}

func springStrength(given *input) (Result, error) {
	in, err := decode[struct {
		Material     string       `json:"material"`
		WireDiameter units.Length `json:"wire_diameter"`
	}](given)
	if err != nil {
		return nil, err
	}
	m, err := refdata.MaterialNamed(in.Material)
	if err != nil {
		return nil, err
	}
	s, err := m.TensileStrength(in.WireDiameter)
	if err != nil {
		return nil, err
	}
	return Result{"tensile_strength": s}, nil
}

func springWarm(given *input) (Result, error) {
	in, err := decode[struct {
		ShearModulus units.Stress      `json:"shear_modulus"`
		Coefficient  float64           `json:"coefficient"`
		Temperature  units.Temperature `json:"temperature"`
	}](given)
	if err != nil {
		return nil, err
	}
	g, err := coil.WarmShearModulus(in.ShearModulus, in.Coefficient, in.Temperature)
	if err != nil {
		return nil, err
	}
	return Result{"shear_modulus": g}, nil
}
