package evaluate

import (
	"slices"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

var ofSprings = []computation{
	computes("spring.coil", coilAsked,
		give("mean_diameter", askedCoil.MeanDiameter),
		give("index", askedCoil.Index),
		give("rate", askedCoil.Rate),
		give("wahl", askedCoil.Wahl),
		give("bergstrasser", askedCoil.Bergstrasser),
		give("active_coils", askedCoil.ActiveCoils),
		give("total_coils", askedCoil.TotalCoils),
		give("solid_length", askedCoil.SolidLength),
		give("wire_length", askedCoil.WireLength),
		offer("pitch", askedCoil.Pitch),
		offer("helix_angle", askedCoil.HelixAngle),
		offer("rate_ends_free", askedCoil.RateEndsFree),
		offer("rate_ends_held", askedCoil.RateEndsHeld),
		offer("solid_travel", askedCoil.SolidTravel),
		offer("solid_force", askedCoil.SolidForce),
		offer("solid_stress", askedCoil.SolidStress),
		offer("mass", askedCoil.Mass),
		offer("surge_frequency", askedCoil.SurgeFrequency),
		offer("outer_diameter_solid", askedCoil.OuterDiameterSolid),
		underLoad("travel", func(s *coil.Spring, f units.Force) units.Length { return units.Length(float64(f) / float64(s.Rate())) }),
		underLoad("stress", (*coil.Spring).Stress),
		underLoad("stress_wahl", (*coil.Spring).StressWahl),
		underLoad("stress_uncorrected", (*coil.Spring).StressUncorrected),
		loadTolerance("load_tolerance_1", coil.Grade1),
		loadTolerance("load_tolerance_2", coil.Grade2),
		loadTolerance("load_tolerance_3", coil.Grade3),
		lengthTolerance("free_length_tolerance_1", coil.Grade1),
		lengthTolerance("free_length_tolerance_2", coil.Grade2),
		lengthTolerance("free_length_tolerance_3", coil.Grade3),
		offer("stable_slenderness", func(a askedCoil) (float64, bool) { return a.StableSlenderness(*a.fixity) }).where(askedCoil.fixed),
		offer("buckling_travel", func(a askedCoil) (units.Length, bool) {
			b, known := a.Buckling(*a.fixity)
			return b.Travel, known && b.Buckles
		}).where(askedCoil.fixed),
	),
	computes("spring.strength", by(strength), give("tensile_strength", itself[units.Stress])),
	computes("spring.warm", by(warm), give("shear_modulus", itself[units.Stress])),
	computes("spring.caliper", by(coil.Caliper.Rate), tell[coil.CaliperRate]("mean_diameter", "rate", "rate_uncertainty", "relative_uncertainty", "dominant")...),
	computes("spring.budget", by(coil.Caliper.Rate), lift(func(r coil.CaliperRate) []coil.Contribution { return r.Budget[:] },
		tellEach[coil.Contribution]("input", "sensitivity", "relative", "variance", "share"))...),
	computes("spring.identify", by(identify), tellEach[coil.Candidate]("index", "probability", "distance", "surprise")...),
	computes("spring.design", by(design),
		give("active_coils", (*coil.Spring).ActiveCoils),
		give("mean_diameter", (*coil.Spring).MeanDiameter),
		give("outer_diameter", (*coil.Spring).OuterDiameter),
		give("inner_diameter", (*coil.Spring).InnerDiameter),
		give("total_coils", (*coil.Spring).TotalCoils),
		give("solid_length", (*coil.Spring).SolidLength),
	),
	computes("spring.readings", by(spring.FitReadings),
		tell[spring.Regression]("rate", "force_at_zero", "rate_standard_error", "force_at_zero_standard_error", "residual_deviation", "residual_rms")...),
	computes("spring.place", place, slices.Concat(
		[]output[placed]{give("criteria", placed.codes), give("verdicts", placed.verdicts)},
		limit[units.Length]("gap_left", "least_gap", coil.LittleReserveEN),
		limit[units.Length]("solid_travel", "least_solid_travel", coil.LittleReserve),
		limit[units.Length]("full_travel", "", coil.GoesSolid),
		limit[units.Length]("outer_diameter_solid", "", coil.RubsOutside),
		limit[units.Stress]("stress", "stress_unset_limit", coil.StressUnset),
		limit[units.Stress]("", "stress_preset_limit", coil.StressPreset),
		limit[units.Stress]("stress_solid", "stress_solid_limit", coil.StressWhenSolidEN),
	)...),
	computes("spring.preloaded", preloaded, append(ofLaw[spring.Law](), whole("travel", spring.Law.Travel))...),
	computes("spring.law", lawAsked, append(
		over(lift(func(a askedLaw) along[spring.Law] { return a.along }, ofLaw[spring.Law]()), func(o output[askedLaw]) output[askedLaw] {
			return o.where(func(a askedLaw) bool { return len(a.at) > 0 })
		}),
		offer("travel", func(a askedLaw) ([]units.Length, bool) { return a.travel, len(a.travel) > 0 }))...),
}

func identify(in struct {
	Rate        units.Stiffness `json:"rate"`
	Uncertainty units.Stiffness `json:"uncertainty"`
	Shelf       []coil.Nominal  `json:"shelf"`
}) ([]coil.Candidate, error) {
	return coil.Identify(in.Rate, in.Uncertainty, in.Shelf)
}

// design is the coil of a wanted rate.
func design(in struct {
	WireDiameter  units.Length    `json:"wire_diameter"`
	MeanDiameter  units.Length    `json:"mean_diameter"`
	OuterDiameter units.Length    `json:"outer_diameter"`
	InnerDiameter units.Length    `json:"inner_diameter"`
	ActiveCoils   float64         `json:"active_coils"`
	TotalCoils    float64         `json:"total_coils"`
	Ends          coil.Ends       `json:"ends"`
	ShearModulus  units.Stress    `json:"shear_modulus"`
	Rate          units.Stiffness `json:"rate"`
}) (*coil.Spring, error) {
	spec, err := coil.ForRate(coil.Spec{
		WireDiameter: in.WireDiameter, MeanDiameter: in.MeanDiameter, OuterDiameter: in.OuterDiameter, InnerDiameter: in.InnerDiameter,
		ActiveCoils: in.ActiveCoils, TotalCoils: in.TotalCoils, Ends: in.Ends, ShearModulus: in.ShearModulus,
	}, in.Rate)
	if err != nil {
		return nil, err
	}
	return coil.New(spec)
}

// itself is the output of an answer that is one value.
func itself[V any](v V) V { return v }

// coilGiven is a coil spring as a case gives it: with its moduli or with the name of a material,
// and with what is asked of it.
type coilGiven struct {
	coil.Spec
	Material  string       `json:"material"`
	Load      *units.Force `json:"load"`
	EndFixity *float64     `json:"end_fixity"`
}

// build makes the spring, its material looked up. What it returns counts only where nothing is
// wrong.
func (in coilGiven) build(c *units.Checker) *coil.Spring {
	if in.Load != nil {
		units.Positive(c, "load", *in.Load)
	}
	if in.EndFixity != nil {
		units.Between(c, "end_fixity", *in.EndFixity, 0.01, 100)
	}
	known := true
	switch {
	case in.Material == "":
	case in.ShearModulus != 0:
		c.Fail("material", in.Material, units.Without("shear_modulus"), units.ErrConflict)
		known = false
	default:
		known = in.lookUp(c)
	}
	if !known && in.ShearModulus == 0 {
		in.ShearModulus = units.Pascal // any will do to check the rest
	}
	made, err := coil.New(in.Spec)
	c.Add("", err)
	return made
}

// lookUp fills in what the material says and the case doesn't. It reports whether the material has
// moduli for the wire.
func (in *coilGiven) lookUp(c *units.Checker) bool {
	m, err := refdata.MaterialNamed(in.Material)
	if err != nil {
		c.Add("", err)
		return false
	}
	at, err := m.At(in.WireDiameter)
	if err != nil {
		if in.WireDiameter > 0 { // the coil refuses any other
			c.Add("", err)
		}
		return false
	}
	in.Spec = in.Spec.Of(at)
	return true
}

// askedCoil is a coil with what is asked of it.
type askedCoil struct {
	*coil.Spring
	load   *units.Force
	fixity *float64
}

func coilAsked(c *units.Checker, in coilGiven) askedCoil {
	return askedCoil{in.build(c), in.Load, in.EndFixity}
}

func (a askedCoil) loaded() bool { return a.load != nil }

func (a askedCoil) fixed() bool { return a.fixity != nil }

// underLoad is an output that takes a load.
func underLoad[V any](name string, get func(*coil.Spring, units.Force) V) output[askedCoil] {
	return give(name, func(a askedCoil) V { return get(a.Spring, *a.load) }).where(askedCoil.loaded)
}

func loadTolerance(name string, grade coil.Grade) output[askedCoil] {
	return offer(name, func(a askedCoil) (units.Force, bool) { return a.LoadTolerance(*a.load, grade) }).where(askedCoil.loaded)
}

func lengthTolerance(name string, grade coil.Grade) output[askedCoil] {
	return offer(name, func(a askedCoil) (units.Length, bool) { return a.FreeLengthTolerance(grade) })
}

func strength(in struct {
	Material     string       `json:"material"`
	WireDiameter units.Length `json:"wire_diameter"`
}) (units.Stress, error) {
	m, err := refdata.MaterialNamed(in.Material)
	if err != nil {
		return 0, err
	}
	return m.TensileStrength(in.WireDiameter)
}

func warm(in struct {
	ShearModulus units.Stress      `json:"shear_modulus"`
	Coefficient  float64           `json:"coefficient"`
	Temperature  units.Temperature `json:"temperature"`
}) (units.Stress, error) {
	return coil.WarmShearModulus(in.ShearModulus, in.Coefficient, in.Temperature)
}

// askedLaw is a law at travels, and the travels at which it carries loads.
type askedLaw struct {
	along[spring.Law]
	travel []units.Length
}

func lawAsked(c *units.Checker, in struct {
	Law  lawSpec        `json:"law"`
	At   []units.Length `json:"at"`
	Load []units.Force  `json:"load"`
}) askedLaw {
	child := c.Child("law")
	a := askedLaw{along: along[spring.Law]{in.Law.Build(&child), in.At}}
	if len(in.At) == 0 && len(in.Load) == 0 {
		c.Fail("at", nil, "travels, or loads in load", units.ErrMissing)
	}
	if !c.OK() {
		return a
	}
	for i, load := range in.Load {
		travel, err := spring.Settle(a.of, load)
		if err != nil {
			one, f := c.Element("load", i), units.Fields(err)[0]
			one.Fail("", load, f.Want, f.Class)
		}
		a.travel = append(a.travel, travel)
	}
	return a
}
