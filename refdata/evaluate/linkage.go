package evaluate

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

var ofLinkages = []computation{
	computes("linkage.table", by(tableCurve),
		each("travel", (*linkage.Curve).TravelAt),
		each("lever_ratio", (*linkage.Curve).LeverRatio),
		each("lever_ratio_slope", (*linkage.Curve).LeverRatioSlope),
		whole("progression", func(c *linkage.Curve) float64 { return c.Progression().Value }),
	),
	computes("linkage.mechanism", mechanismMotion,
		pose("axle_x", func(p mechanism.Pose) units.Length { return p.Axle[0] }),
		pose("axle_y", func(p mechanism.Pose) units.Length { return p.Axle[1] }),
		pose("travel", func(p mechanism.Pose) units.Length { return p.Travel }),
		pose("lever_ratio", func(p mechanism.Pose) float64 { return p.LeverRatio }),
		pose("lever_ratio_slope", func(p mechanism.Pose) units.RatioSlope { return p.LeverRatioSlope }),
		each("path_length", motion.PathLength),
		pose("axle_growth", func(p mechanism.Pose) units.Length { return p.AxleGrowth }),
		pose("instant_centre_x", func(p mechanism.Pose) units.Length { return p.InstantCentre[0] }),
		pose("instant_centre_y", func(p mechanism.Pose) units.Length { return p.InstantCentre[1] }),
		whole("progression", func(m motion) float64 { return m.curve.Progression().Value }),
	),
	computes("linkage.drivetrain", drive,
		drivePose("anti_squat", func(p drivetrain.Pose) float64 { return p.AntiSquat }),
		drivePose("anti_rise", func(p drivetrain.Pose) float64 { return p.AntiRise }),
		drivePose("chain_growth", func(p drivetrain.Pose) units.Length { return p.ChainGrowth }),
		drivePose("kickback_wheel_fixed", func(p drivetrain.Pose) units.Angle { return p.KickbackWheelFixed }),
		drivePose("kickback_wheel_rolling", func(p drivetrain.Pose) units.Angle { return p.KickbackWheelRolling }),
	),
	computes("linkage.wheel", wheelLaw,
		each("force", spring.Law.Force),
		each("rate", spring.Law.Rate),
		each("energy", spring.Law.Energy),
	),
}

func tableCurve(in struct {
	linkage.Table
	At []units.Length `json:"at"` // stroke
}) (along[*linkage.Curve], error) {
	curve, err := linkage.NewTable(in.Table)
	return along[*linkage.Curve]{curve, in.At}, err
}

// motion is a solved mechanism with the curve that it gives.
type motion struct {
	*mechanism.Mechanism
	curve *linkage.Curve
}

// pose is a list of what the poses of a mechanism say.
func pose[V any](name string, get func(mechanism.Pose) V) output[along[motion]] {
	return each(name, func(m motion, stroke units.Length) V { return get(m.Pose(stroke)) })
}

// drivePose is a list of what the poses of a drive say.
func drivePose[V any](name string, get func(drivetrain.Pose) V) output[along[*drivetrain.Drive]] {
	return each(name, func(d *drivetrain.Drive, stroke units.Length) V { return get(d.At(stroke)) })
}

func mechanismMotion(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	At        []units.Length `json:"at"` // stroke
}) along[motion] {
	m, err := mechanism.New(in.Mechanism)
	c.Add("mechanism", err)
	if err != nil {
		return along[motion]{}
	}
	curve, err := linkage.Compile(m)
	c.Add("", err)
	return along[motion]{motion{m, curve}, in.At}
}

func drive(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	drivetrain.Spec
	At []units.Length `json:"at"` // stroke
}) along[*drivetrain.Drive] {
	m, err := mechanism.New(in.Mechanism)
	c.Add("mechanism", err)
	if err != nil {
		return along[*drivetrain.Drive]{}
	}
	d, err := drivetrain.New(m, in.Spec)
	c.Add("", err)
	return along[*drivetrain.Drive]{d, in.At}
}

func wheelLaw(c *units.Checker, in struct {
	endSpec
	At []units.Length `json:"at"` // wheel travel
}) along[spring.Law] {
	end := in.build(c)
	if !c.OK() {
		return along[spring.Law]{}
	}
	wheel, err := linkage.AtWheel(end.Curve, end.Law)
	c.Add("", err)
	return along[spring.Law]{wheel, in.At}
}
