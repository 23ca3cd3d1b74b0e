package evaluate

import (
	"cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/motion"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

var ofSag = []computation{
	computes("sag.loads", by(sag.Masses.Loads), tell[sag.Loads]("front_load", "rear_load", "rear_share", "front_wheel_load", "rear_wheel_load")...),
	computes("sag.sprung", sprung, tell[sprungLoads]("rider", "front_load", "rear_load", "front_load_shared", "rear_load_shared")...),
	computes("sag.settle", settle, tell[sag.Rest]("travel", "stroke", "sag", "shock_sag", "travel_low", "travel_high", "wheel_rate", "frequency")...),
	computes("sag.rate", requiredRate, tell[sag.CoilRate]("rate", "stroke", "spring_force")...),
	computes("sag.fill", requiredFill, give("fill", itself[units.GaugePressure])),
	computes("sag.calibrate", calibratedSag, give("fill", itself[units.GaugePressure])),
	computes("sag.correct", correct,
		give("load", func(a correction) units.Force { return a.load }),
		offer("rate", func(a correction) (units.Stiffness, bool) { return a.rate, !a.air }),
		offer("fill", func(a correction) (units.GaugePressure, bool) { return a.fill, a.air }),
	),
	computes("sag.bands", bands, tell[sag.Bands]("ideal_mass", "edge_mass")...),
	computes("sag.reserve", reserve, tell[sag.Reserve]("energy", "drop_height", "full_force")...),
	computes("sag.landing", landing, tell[sag.Landing]("travel", "used", "force", "peak_force", "damper_work", "time", "energy_left")...),
	computes("sag.damping", dampingFor, give("damping", itself[units.Damping])),
	computes("sag.implied", implied,
		give("load", func(l [3]units.Force) units.Force { return l[1] }),
		give("load_low", func(l [3]units.Force) units.Force { return l[0] }),
		give("load_high", func(l [3]units.Force) units.Force { return l[2] }),
	),
	computes("sag.whole", wholeBike, append(lift(func(s sag.Stance) sag.Geometry { return s.Geometry }, geometryOutputs),
		tell[sag.Stance]("rear_share", "front_wheel_load", "rear_wheel_load")...)...),
	computes("sag.stance", wholeBike, tell[sag.Stance]("front_load", "rear_load")...),
	computes("sag.geometry", geometry, geometryOutputs...),
	computes("sag.preload", preload, give("preload", itself[units.Length])),
	computes("sag.state", state, append(lift(func(s sag.State) sag.Rest { return s.Rest }, tell[sag.Rest]("travel", "shock_sag", "lever_ratio", "spring_rate")),
		tell[sag.State]("fast_spring_rate", "fast_wheel_rate", "fast_frequency", "min_wheel_rate", "min_rate_travel", "travel_left", "energy_left", "full_ratio")...)...),
	computes("sag.ground", ground, give("acceleration", itself[float64])),
	computes("sag.damper", damper, tell[damping]("damping_ratio", "damping_at_shock")...),
	computes("sag.corner", wheelForces, tellEach[motion.Forces]("spring", "damper", "ground")...),
	computes("sag.drop", drop,
		afterDrop("front_travel", func(_ []float64, front, _ motion.Forces) units.Length { return front.Travel }),
		afterDrop("rear_travel", func(_ []float64, _, rear motion.Forces) units.Length { return rear.Travel }),
		afterDrop("pitch", func(y []float64, _, _ motion.Forces) units.Angle { return units.Angle(y[motion.Pitch]) }),
		afterDrop("front_force", func(_ []float64, front, _ motion.Forces) units.Force { return front.Ground }),
		afterDrop("rear_force", func(_ []float64, _, rear motion.Forces) units.Force { return rear.Ground }),
		afterDrop("damper_work", func(y []float64, _, _ motion.Forces) units.Energy {
			return units.Energy(y[motion.FrontWork] + y[motion.RearWork])
		}),
		give("rest_front_travel", func(d dropped) units.Length { front, _ := d.resting(); return front.Travel }),
		give("rest_rear_travel", func(d dropped) units.Length { _, rear := d.resting(); return rear.Travel }),
		give("rest_pitch", func(d dropped) units.Angle { return units.Angle(d.rest[motion.Pitch]) }),
	),
}

// sprungLoads are the sprung loads of a mass that is shared between the wheels as stated, and those of
// rider and bike shared otherwise.
type sprungLoads struct {
	Rider       units.Mass  `json:"rider"`
	Front       units.Force `json:"front_load"`
	Rear        units.Force `json:"rear_load"`
	FrontShared units.Force `json:"front_load_shared"`
	RearShared  units.Force `json:"rear_load_shared"`
}

func sprung(c *units.Checker, in struct {
	sag.Masses
	Mass  units.Mass `json:"mass"`
	Share float64    `json:"share"`
}) (l sprungLoads) {
	in.Masses.Check(c)
	units.Positive(c, "mass", in.Mass)
	units.Inside(c, "share", in.Share, 0, 1)
	if !c.OK() {
		return l
	}
	other := in.WithRearShare(in.Share)
	return sprungLoads{
		Rider: in.Rider(), Front: in.SprungLoad(sag.Front, in.Mass), Rear: in.SprungLoad(sag.Rear, in.Mass),
		FrontShared: other.SprungLoad(sag.Front, other.Total()), RearShared: other.SprungLoad(sag.Rear, other.Total()),
	}
}

// endSpec is one end of a bike as a case gives it.
type endSpec struct {
	Curve linkage.Spec `json:"curve"`
	Law   lawSpec      `json:"law"`
}

// build makes the end, or records what is wrong with curve and law.
func (e endSpec) build(c *units.Checker) sag.End {
	law := c.Child("law")
	return sag.End{Curve: buildCurve(c, e.Curve), Law: e.Law.Build(&law)}
}

func settle(c *units.Checker, in struct {
	endSpec
	Load     units.Force `json:"load"`
	Friction units.Force `json:"friction"`
}) sag.Rest {
	end := in.build(c)
	end.Friction = in.Friction
	units.Positive(c, "load", in.Load)
	sag.CheckFriction(c, in.Friction)
	return run(c, func() (sag.Rest, error) { return end.Settle(in.Load) })
}

func requiredRate(c *units.Checker, in struct {
	Curve linkage.Spec `json:"curve"`
	sag.Target
	Preload units.Length `json:"preload"`
}) sag.CoilRate {
	curve := buildCurve(c, in.Curve)
	checkTarget(c, in.Target)
	units.NonNegative(c, "preload", in.Preload)
	return run(c, func() (sag.CoilRate, error) { return sag.RequiredRate(curve, in.Target, in.Preload) })
}

// checkTarget checks a target without its curve.
func checkTarget(c *units.Checker, t sag.Target) {
	units.Positive(c, "load", t.Load)
	sag.CheckSag(c, t.Sag)
}

func requiredFill(c *units.Checker, in struct {
	Curve linkage.Spec `json:"curve"`
	sag.Target
	Airspring airspring.Spec `json:"airspring"`
}) units.GaugePressure {
	curve := buildCurve(c, in.Curve)
	checkTarget(c, in.Target)
	in.Airspring.Check(c)
	return run(c, func() (units.GaugePressure, error) { return sag.RequiredFill(curve, in.Target, in.Airspring) })
}

func calibratedSag(c *units.Checker, in struct {
	Curve linkage.Spec `json:"curve"`
	sag.LoadReadings
	sag.Target
}) units.GaugePressure {
	in.RingError = cmp.Or(in.RingError, someRing)
	curve := buildCurve(c, in.Curve)
	in.CheckEnough(c, curve)
	checkTarget(c, in.Target)
	spring := run(c, func() (*airspring.Calibration, error) { return sag.Calibrate(curve, in.LoadReadings) })
	return run(c, func() (airspring.FillEstimate, error) { return sag.CalibratedFill(curve, in.Target, spring) }).Fill
}

// correction is the load that a measured stroke implies, and what would put it on target.
type correction struct {
	load units.Force
	rate units.Stiffness
	fill units.GaugePressure
	air  bool
}

func correct(c *units.Checker, in struct {
	Curve     linkage.Spec     `json:"curve"`
	Rate      *units.Stiffness `json:"rate"`
	Airspring *airspring.Spec  `json:"airspring"`
	Preload   units.Length     `json:"preload"`
	Measured  units.Length     `json:"measured_stroke"`
	Sag       float64          `json:"sag"`
}) correction {
	a := correction{air: in.Airspring != nil}
	curve := buildCurve(c, in.Curve)
	sag.CheckSag(c, in.Sag)
	stroke := units.Length(1) // any will do to check the rest
	if curve != nil {
		stroke = curve.Stroke()
	}
	var law spring.Law
	switch {
	case (in.Rate != nil) == a.air:
		c.Fail("rate", nil, "either a rate or an airspring", units.ErrConflict)
	case a.air:
		air, err := airspring.New(*in.Airspring)
		if c.Add("airspring", err); err == nil {
			law = air
		}
		if in.Preload != 0 {
			c.Fail("preload", in.Preload, "no preload beside an airspring", units.ErrConflict)
		}
	default:
		linear, err := spring.NewLinear(spring.Linear{Rate: *in.Rate, Travel: stroke, Preload: in.Preload})
		if c.Add("", err); err == nil {
			law = linear
		}
	}
	if law != nil {
		stroke = min(stroke, law.Travel())
	}
	if curve == nil || law == nil {
		units.Positive(c, "measured_stroke", in.Measured)
	} else {
		units.Inside(c, "measured_stroke", in.Measured, 0, stroke)
	}
	if !c.OK() {
		return a
	}
	load, err := sag.End{Curve: curve, Law: law}.LoadAt(in.Measured)
	if err != nil {
		c.Fail("measured_stroke", in.Measured, "a stroke at which this spring carries a load", units.ErrConflict)
		return a
	}
	a.load = load
	target := sag.Target{Load: load, Sag: in.Sag}
	if !a.air {
		k, err := sag.RequiredRate(curve, target, in.Preload)
		a.rate = k.Rate
		c.Add("", err)
		return a
	}
	at, force := target.AtSpring(curve)
	fill, outcome := in.Airspring.SolveFill(force, at)
	switch {
	case at > in.Airspring.Travel:
		c.Fail("sag", in.Sag, "a sag within the travel of the air spring", units.ErrConflict)
	case outcome == airspring.FillPullsIn:
		c.Fail("sag", in.Sag, "a sag at which more fill carries more", units.ErrConflict)
	case outcome != airspring.FillMet:
		c.Fail("measured_stroke", in.Measured, "a stroke whose load a fill carries on target", units.ErrConflict)
	}
	a.fill = fill
	return a
}

func bands(c *units.Checker, in struct {
	Curve linkage.Spec `json:"curve"`
	sag.Range
}) sag.Bands {
	curve := buildCurve(c, in.Curve)
	in.Range.Check(c)
	return run(c, func() (sag.Bands, error) { return sag.BandsOf(curve, in.Range) })
}

func reserve(c *units.Checker, in struct {
	endSpec
	Load units.Force `json:"load"`
}) sag.Reserve {
	end := in.build(c)
	units.Positive(c, "load", in.Load)
	return run(c, func() (sag.Reserve, error) { return end.Reserve(in.Load) })
}
