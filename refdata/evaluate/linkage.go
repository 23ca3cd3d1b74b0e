package evaluate

import (
	"slices"

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
		whole("stroke_full", (*linkage.Curve).Stroke),
		whole("progression", func(c *linkage.Curve) float64 { return c.Progression().Value }),
	),
	computes("linkage.mechanism", mechanismMotion,
		pose("axle_x", func(p mechanism.Pose) units.Length { return p.Axle[0] }),
		pose("axle_y", func(p mechanism.Pose) units.Length { return p.Axle[1] }),
		pose("travel", func(p mechanism.Pose) units.Length { return p.Travel }),
		pose("lever_ratio", func(p mechanism.Pose) float64 { return p.LeverRatio }),
		pose("lever_ratio_slope", func(p mechanism.Pose) units.RatioSlope { return p.LeverRatioSlope }),
		each("path_length", bars.PathLength),
		pose("axle_growth", func(p mechanism.Pose) units.Length { return p.AxleGrowth }),
		pose("instant_centre_x", func(p mechanism.Pose) units.Length { return p.InstantCentre[0] }),
		pose("instant_centre_y", func(p mechanism.Pose) units.Length { return p.InstantCentre[1] }),
		whole("progression", func(m bars) float64 { return m.curve.Progression().Value }),
	),
	computes("linkage.drivetrain", drive,
		drivePose("anti_squat", func(p drivetrain.Pose) float64 { return p.AntiSquat }),
		drivePose("anti_rise", func(p drivetrain.Pose) float64 { return p.AntiRise }),
		drivePose("chain_growth", func(p drivetrain.Pose) units.Length { return p.ChainGrowth }),
		drivePose("kickback_wheel_fixed", func(p drivetrain.Pose) units.Angle { return p.KickbackWheelFixed }),
		drivePose("kickback_wheel_rolling", func(p drivetrain.Pose) units.Angle { return p.KickbackWheelRolling }),
	),
	computes("linkage.sensitivity", sensitivity,
		each("lever_ratio_per_x", func(h hole, s units.Length) units.RatioSlope {
			return units.RatioSlope(h.at(s).LeverRatio.Holes[h.number][0])
		}),
		each("lever_ratio_per_y", func(h hole, s units.Length) units.RatioSlope {
			return units.RatioSlope(h.at(s).LeverRatio.Holes[h.number][1])
		}),
		each("travel_per_x", func(h hole, s units.Length) float64 { return h.at(s).Travel.Holes[h.number][0] }),
		each("travel_per_y", func(h hole, s units.Length) float64 { return h.at(s).Travel.Holes[h.number][1] }),
	),
	computes("linkage.tolerance", tolerance,
		spread("travel_worst", func(s poseSpread) units.Length { return units.Length(s.travel.WorstCase) }),
		spread("travel_root_sum_square", func(s poseSpread) units.Length { return units.Length(s.travel.RootSumSquare) }),
		spread("lever_ratio_worst", func(s poseSpread) float64 { return s.ratio.WorstCase }),
		spread("lever_ratio_root_sum_square", func(s poseSpread) float64 { return s.ratio.RootSumSquare }),
		spread("worst_effect", func(s poseSpread) float64 { return s.ratio.Holes[0].Effect }),
		spread("worst_towards", func(s poseSpread) units.Angle { return s.ratio.Holes[0].Towards }),
	),
	computes("linkage.joints", joints,
		each("shock_force", func(j joint, s units.Length) units.Force { return j.at(s).ShockForce }),
		each("joint_force", func(j joint, s units.Length) units.Force { return j.at(s).Holes[j.number].Size() }),
		each("joint_angle", func(j joint, s units.Length) units.Angle { return j.at(s).Holes[j.number].Angle() }),
		each("joint_turn", func(j joint, s units.Length) units.Angle { return j.of.Turns(s)[j.bearing] }),
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

// bars are a solved mechanism with the curve that it gives.
type bars struct {
	*mechanism.Mechanism
	curve *linkage.Curve
}

// pose is a list of what the poses of a mechanism say.
func pose[V any](name string, get func(mechanism.Pose) V) output[along[bars]] {
	return each(name, func(m bars, stroke units.Length) V { return get(m.Pose(stroke)) })
}

// drivePose is a list of what the poses of a drive say.
func drivePose[V any](name string, get func(drivetrain.Pose) V) output[along[*drivetrain.Drive]] {
	return each(name, func(d *drivetrain.Drive, stroke units.Length) V { return get(d.At(stroke)) })
}

// solved makes the mechanism of a case, or records what is wrong with it and returns nil.
func solved(c *units.Checker, spec mechanism.Spec) *mechanism.Mechanism {
	m, err := mechanism.New(spec)
	c.Add("mechanism", err)
	return m
}

func mechanismMotion(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	At        []units.Length `json:"at"` // stroke
}) along[bars] {
	m := solved(c, in.Mechanism)
	if m == nil {
		return along[bars]{}
	}
	curve, err := linkage.Compile(m)
	c.Add("", err)
	return along[bars]{bars{m, curve}, in.At}
}

func drive(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	drivetrain.Spec
	At []units.Length `json:"at"` // stroke
}) along[*drivetrain.Drive] {
	m := solved(c, in.Mechanism)
	if m == nil {
		return along[*drivetrain.Drive]{}
	}
	d, err := drivetrain.New(m, in.Spec)
	c.Add("", err)
	return along[*drivetrain.Drive]{d, in.At}
}

// hole is a hole of a mechanism, by its number.
type hole struct {
	of     *mechanism.Mechanism
	number int
}

func (h hole) at(stroke units.Length) mechanism.PoseGradient { return h.of.PoseGradient(stroke) }

func sensitivity(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	mechanism.Hole
	At []units.Length `json:"at"` // stroke
}) along[hole] {
	m := solved(c, in.Mechanism)
	if m == nil {
		return along[hole]{}
	}
	h := hole{m, slices.Index(m.Holes(), in.Hole)}
	if points, ok := in.Mechanism.Bodies[in.Body]; !ok {
		c.Fail("body", in.Body, "one of the mechanism's bodies", units.ErrUnknown)
	} else if !slices.Contains(points, in.Point) {
		c.Fail("point", in.Point, "a point of the body "+in.Body, units.ErrUnknown)
	}
	return along[hole]{h, in.At}
}

// poseSpread is what the tolerances of holes make of a pose.
type poseSpread struct{ travel, ratio mechanism.Spread }

// spread is a list of what tolerances make of the poses.
func spread[V any](name string, get func(poseSpread) V) output[[]poseSpread] {
	return give(name, func(list []poseSpread) []V { return over(list, get) })
}

func tolerance(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	mechanism.Tolerances
	At []units.Length `json:"at"` // stroke
}) []poseSpread {
	m := solved(c, in.Mechanism)
	if m == nil {
		return nil
	}
	if n := len(in.At); n > 300 {
		c.Fail("at", n, "at most 300 strokes", nil)
	}
	t, err := mechanism.NewTolerance(m, in.Tolerances)
	if c.Add("", err); !c.OK() {
		return nil
	}
	return over(in.At, func(stroke units.Length) poseSpread {
		g := m.PoseGradient(stroke)
		s := poseSpread{t.Spread(g.Travel), t.Spread(g.LeverRatio)}
		s.travel.Holes, s.ratio.Holes = nil, s.ratio.Holes[:1:1]
		return s
	})
}

// joint is a pivot of two bodies under a force up at the axle.
type joint struct {
	hole    // of the first by name
	bearing int
	load    mechanism.Load
}

func (j joint) at(stroke units.Length) mechanism.Equilibrium {
	e, _ := j.of.Equilibrium(stroke, j.load) // the load is within its limits
	return e
}

func joints(c *units.Checker, in struct {
	Mechanism  mechanism.Spec `json:"mechanism"`
	WheelForce units.Force    `json:"wheel_force"` // up, at the axle
	Joint      string         `json:"joint"`       // a point that two bodies share
	At         []units.Length `json:"at"`          // stroke
}) along[joint] {
	m := solved(c, in.Mechanism)
	if m == nil {
		return along[joint]{}
	}
	load := mechanism.Load{At: m.Axle(), Force: [2]units.Force{0, in.WheelForce}}
	units.Between(c, "wheel_force", in.WheelForce, 1e-9, 1e9)
	isJoint := func(b mechanism.Bearing) bool { return b.Point == in.Joint && b.Second != "" }
	bearings := m.Bearings()
	at := slices.IndexFunc(bearings, isJoint)
	if at < 0 || slices.ContainsFunc(bearings[at+1:], isJoint) {
		c.Fail("joint", in.Joint, "a point that two bodies share", units.ErrUnknown)
		return along[joint]{}
	}
	first := slices.Index(m.Holes(), mechanism.Hole{Body: bearings[at].First, Point: in.Joint})
	return along[joint]{joint{hole{m, first}, at, load}, in.At}
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

// buildCurve makes the curve of a case, or records what is wrong with it.
func buildCurve(c *units.Checker, spec linkage.Spec) *linkage.Curve {
	curve, err := linkage.New(spec)
	c.Add("curve", err)
	return curve
}
