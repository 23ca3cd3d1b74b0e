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
	computes("linkage.axle", curveAt, tellAlong((*linkage.Curve).AxleAt, "forward", "up", "forward_rate", "up_rate", "forward_slope", "up_slope")...),
	computes("linkage.progression", justCurve, lift((*linkage.Curve).Progression, tell[linkage.Progression]("value", "start", "end", "min", "max", "min_at", "max_at"))...),
	computes("linkage.fit", by(fitted),
		each("lever_ratio", func(f *linkage.Fit, s units.Length) float64 { return f.Curve.LeverRatio(s) }),
		each("lever_ratio_error", (*linkage.Fit).LeverRatioError),
		whole("residual_rms", func(f *linkage.Fit) units.Length { return f.ResidualRMS }),
		whole("reading_error", func(f *linkage.Fit) units.Length { return f.ReadingError }),
	),
	computes("linkage.mechanism", mechanismMotion, append(
		tellAlong(bars.Pose, "travel", "lever_ratio", "lever_ratio_slope", "axle_growth"),
		pose("axle_x", func(p mechanism.Pose) units.Length { return p.Axle[0] }),
		pose("axle_y", func(p mechanism.Pose) units.Length { return p.Axle[1] }),
		each("path_length", bars.PathLength),
		pose("instant_centre_x", func(p mechanism.Pose) units.Length { return p.InstantCentre[0] }),
		pose("instant_centre_y", func(p mechanism.Pose) units.Length { return p.InstantCentre[1] }),
		whole("progression", func(m bars) float64 { return m.curve.Progression().Value }))...),
	computes("linkage.carrier", mechanismAt, tellAlong((*mechanism.Mechanism).Pose, "carrier_turn", "carrier_turning")...),
	computes("linkage.drivetrain", driveAt, tellAlong((*drivetrain.Drive).At,
		"anti_squat", "anti_rise", "chain_growth", "kickback_wheel_fixed", "kickback_wheel_rolling")...),
	computes("linkage.sensitivity", sensitivity,
		at("lever_ratio_per_x", func(h holeGradient) units.RatioSlope { return units.RatioSlope(h.ratio[0]) }),
		at("lever_ratio_per_y", func(h holeGradient) units.RatioSlope { return units.RatioSlope(h.ratio[1]) }),
		at("travel_per_x", func(h holeGradient) float64 { return h.travel[0] }),
		at("travel_per_y", func(h holeGradient) float64 { return h.travel[1] }),
	),
	computes("linkage.drawing", drawing, append(lift(func(d redrawn) []pointGradient { return d.at }, slices.Concat(
		byPoint[units.RatioSlope]("lever_ratio", func(g pointGradient) [2]float64 { return g.ratio }),
		byPoint[float64]("travel", func(g pointGradient) [2]float64 { return g.travel }),
		byPoint[units.RatioSlope]("anti_squat", func(g pointGradient) [2]float64 { return g.squat }),
		byPoint[units.RatioSlope]("anti_rise", func(g pointGradient) [2]float64 { return g.rise }),
		byPoint[float64]("chain_growth", func(g pointGradient) [2]float64 { return g.growth }),
		byPoint[units.RatioSlope]("kickback_wheel_rolling", func(g pointGradient) [2]float64 { return g.kickback }),
	)), give("shock_length", func(d redrawn) units.Length { return d.length }))...),
	computes("linkage.tolerance", tolerance,
		at("travel_worst", func(s poseSpread) units.Length { return units.Length(s.travel.WorstCase) }),
		at("travel_root_sum_square", func(s poseSpread) units.Length { return units.Length(s.travel.RootSumSquare) }),
		at("lever_ratio_worst", func(s poseSpread) float64 { return s.ratio.WorstCase }),
		at("lever_ratio_root_sum_square", func(s poseSpread) float64 { return s.ratio.RootSumSquare }),
		at("worst_effect", func(s poseSpread) float64 { return s.ratio.Holes[0].Effect }),
		at("worst_towards", func(s poseSpread) units.Angle { return s.ratio.Holes[0].Towards }),
	),
	computes("linkage.joints", joints,
		at("shock_force", func(j joint) units.Force { return j.shock }),
		at("joint_force", func(j joint) units.Force { return j.force.Size() }),
		at("joint_angle", func(j joint) units.Angle { return j.force.Angle() }),
		at("joint_turn", func(j joint) units.Angle { return j.turn }),
	),
	computes("linkage.forces", driveForces,
		at("shock_force", func(j joint) units.Force { return j.shock }),
		at("joint_force", func(j joint) units.Force { return j.force.Size() }),
		at("joint_angle", func(j joint) units.Angle { return j.force.Angle() }),
		at("link_tension", func(j joint) units.Force { return j.tension }),
	),
	computes("linkage.wheel", wheelLaw, ofLaw[spring.Law]()...),
}

func tableCurve(in struct {
	linkage.Table
	At []units.Length `json:"at"` // stroke
}) (along[*linkage.Curve], error) {
	curve, err := linkage.NewTable(in.Table)
	return along[*linkage.Curve]{curve, in.At}, err
}

func curveAt(c *units.Checker, in struct {
	Curve linkage.Spec   `json:"curve"`
	At    []units.Length `json:"at"` // stroke
}) along[*linkage.Curve] {
	return along[*linkage.Curve]{buildCurve(c, in.Curve), in.At}
}

func justCurve(c *units.Checker, in struct {
	Curve linkage.Spec `json:"curve"`
}) *linkage.Curve {
	return buildCurve(c, in.Curve)
}

func mechanismAt(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	At        []units.Length `json:"at"` // stroke
}) along[*mechanism.Mechanism] {
	return along[*mechanism.Mechanism]{solved(c, in.Mechanism), in.At}
}

// fitted is the polynomial through readings of travel over stroke, with its errors.
func fitted(in struct {
	Stroke []units.Length `json:"stroke"`
	Travel []units.Length `json:"travel"`
	At     []units.Length `json:"at"` // stroke
}) (along[*linkage.Fit], error) {
	f, err := linkage.FitReadings(linkage.Table{Stroke: in.Stroke, Travel: in.Travel, Method: linkage.Measured})
	return along[*linkage.Fit]{f, in.At}, err
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
	return along[bars]{bars{m, run(c, func() (*linkage.Curve, error) { return linkage.Compile(m) })}, in.At}
}

// holeGradient is what one hole's place, in x and y, changes of a pose.
type holeGradient struct{ travel, ratio [2]float64 }

func sensitivity(c *units.Checker, in struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	mechanism.Hole
	At []units.Length `json:"at"` // stroke
}) []holeGradient {
	m := solved(c, in.Mechanism)
	if m == nil {
		return nil
	}
	if points, ok := in.Mechanism.Bodies[in.Body]; !ok {
		c.Fail("body", in.Body, "one of the mechanism's bodies", units.ErrUnknown)
	} else if !slices.Contains(points, in.Point) {
		c.Fail("point", in.Point, "a point of the body "+in.Body, units.ErrUnknown)
	}
	if !c.OK() {
		return nil
	}
	n := slices.Index(m.Holes(), in.Hole)
	start := m.PointMotionGradient(0, m.Axle()).Place[1].Holes[n]
	return over(in.At, func(stroke units.Length) holeGradient {
		g := m.PointMotionGradient(stroke, m.Axle())
		rise := g.Place[1].Holes[n]
		return holeGradient{[2]float64{rise[0] - start[0], rise[1] - start[1]}, g.Velocity[1].Holes[n]}
	})
}

// poseSpread is what the tolerances of holes make of a pose.
type poseSpread struct{ travel, ratio mechanism.Spread }

// at is a list of a value at each place of an answer.
func at[A, V any](name string, get func(A) V) output[[]A] {
	return give(name, func(list []A) []V { return over(list, get) })
}

// atMost checks how many strokes are asked for, where each takes long.
func atMost(c *units.Checker, at []units.Length, most int) {
	if n := len(at); n > most {
		c.Fail("at", n, units.AtMost(most).Count("strokes"), nil)
	}
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
	atMost(c, in.At, 300)
	t := run(c, func() (*mechanism.Tolerance, error) { return mechanism.NewTolerance(m, in.Tolerances) })
	if !c.OK() {
		return nil
	}
	return over(in.At, func(stroke units.Length) poseSpread {
		g := m.PoseGradient(stroke)
		s := poseSpread{t.Spread(g.Travel), t.Spread(g.LeverRatio)}
		s.travel.Holes, s.ratio.Holes = nil, s.ratio.Holes[:1:1]
		return s
	})
}

// joint is a pivot of two bodies at a stroke, under loads.
type joint struct {
	shock   units.Force
	force   mechanism.HoleForce // on the first body by name
	turn    units.Angle
	tension units.Force // of a link
}

// bearing returns the numbers of a pivot of two bodies and of its hole in the first, or records that there
// is no such pivot.
func bearing(c *units.Checker, m *mechanism.Mechanism, joint string) (number, hole int) {
	is := func(b mechanism.Bearing) bool { return b.Point == joint && b.Second != "" }
	bearings := m.Bearings()
	number = slices.IndexFunc(bearings, is)
	if number < 0 || slices.ContainsFunc(bearings[number+1:], is) {
		c.Fail("joint", joint, "a point that two bodies share", units.ErrUnknown)
		return 0, 0
	}
	return number, slices.Index(m.Holes(), mechanism.Hole{Body: bearings[number].First, Point: joint})
}

func joints(c *units.Checker, in struct {
	Mechanism  mechanism.Spec `json:"mechanism"`
	WheelForce units.Force    `json:"wheel_force"` // up, at the axle
	Joint      string         `json:"joint"`       // a point that two bodies share
	At         []units.Length `json:"at"`          // stroke
}) []joint {
	m := solved(c, in.Mechanism)
	if m == nil {
		return nil
	}
	load := mechanism.Load{At: m.Axle(), Force: [2]units.Force{0, in.WheelForce}}
	units.Between(c, "wheel_force", in.WheelForce, 1e-9, 1e9)
	number, hole := bearing(c, m, in.Joint)
	if !c.OK() {
		return nil
	}
	return over(in.At, func(stroke units.Length) joint {
		e, _ := m.Equilibrium(stroke, load) // the load is within its limits
		return joint{shock: e.ShockForce, force: e.Holes[hole], turn: m.Turns(stroke)[number]}
	})
}

func wheelLaw(c *units.Checker, in struct {
	endSpec
	At []units.Length `json:"at"` // wheel travel
}) along[spring.Law] {
	end := in.build(c)
	return along[spring.Law]{run(c, func() (spring.Law, error) { return linkage.AtWheel(end.Curve, end.Law) }), in.At}
}

// buildCurve makes the curve of a case, or records what is wrong with it.
func buildCurve(c *units.Checker, spec linkage.Spec) *linkage.Curve {
	curve, err := linkage.New(spec)
	c.Add("curve", err)
	return curve
}
