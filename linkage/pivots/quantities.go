package pivots

import (
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// quantity is a number that a target can be of.
type quantity struct {
	name     string
	drive    bool    // of chain and brake
	overall  bool    // of the whole stroke
	within   float64 // where the target says none
	target   func(*Targets) (at, values []float64, within float64, given bool)
	value    func(*candidate, units.Length) float64
	gradient func(*candidate, units.Length) mechanism.Gradient
}

// quantities are all of them, by the JSON names of the fields of [Targets].
var quantities = []quantity{
	{
		name: "lever_ratio", within: 0.01, target: of(func(t *Targets) *Target[float64] { return t.LeverRatio }),
		value: func(c *candidate, s units.Length) float64 { return c.m.Pose(s).LeverRatio },
		gradient: func(c *candidate, s units.Length) mechanism.Gradient {
			return c.m.PointMotionGradient(s, c.m.Axle()).Velocity[1]
		},
	},
	{
		name: "progression", within: 0.01, overall: true, target: of(func(t *Targets) *Target[float64] { return t.Progression }),
		value: func(c *candidate, _ units.Length) float64 {
			return 1 - c.m.Pose(c.m.Stroke()).LeverRatio/c.m.Pose(0).LeverRatio
		},
		gradient: func(c *candidate, _ units.Length) mechanism.Gradient { return c.m.ProgressionGradient() },
	},
	{
		name: "travel", within: 1e-3, target: of(func(t *Targets) *Target[units.Length] { return t.Travel }),
		value:    func(c *candidate, s units.Length) float64 { return float64(c.m.Pose(s).Travel) },
		gradient: func(c *candidate, s units.Length) mechanism.Gradient { return c.m.PoseGradient(s).Travel },
	},
	{
		name: "wheelbase_growth", within: 1e-3, target: of(func(t *Targets) *Target[units.Length] { return t.WheelbaseGrowth }),
		value:    func(c *candidate, s units.Length) float64 { return float64(c.m.Pose(s).WheelbaseGrowth) },
		gradient: func(c *candidate, s units.Length) mechanism.Gradient { return c.m.PoseGradient(s).WheelbaseGrowth },
	},
	driven("anti_squat", 0.05, func(t *Targets) *Target[float64] { return t.AntiSquat },
		func(p drivetrain.Pose) float64 { return p.AntiSquat }, func(g *drivetrain.PoseGradient) mechanism.Gradient { return g.AntiSquat }),
	driven("anti_rise", 0.05, func(t *Targets) *Target[float64] { return t.AntiRise },
		func(p drivetrain.Pose) float64 { return p.AntiRise }, func(g *drivetrain.PoseGradient) mechanism.Gradient { return g.AntiRise }),
	driven("chain_growth", 1e-3, func(t *Targets) *Target[units.Length] { return t.ChainGrowth },
		func(p drivetrain.Pose) float64 { return float64(p.ChainGrowth) }, func(g *drivetrain.PoseGradient) mechanism.Gradient { return g.ChainGrowth }),
	driven("kickback_wheel_fixed", float64(units.Degree), func(t *Targets) *Target[units.Angle] { return t.KickbackWheelFixed },
		func(p drivetrain.Pose) float64 { return float64(p.KickbackWheelFixed) }, func(g *drivetrain.PoseGradient) mechanism.Gradient { return g.KickbackWheelFixed }),
	driven("kickback_wheel_rolling", float64(units.Degree), func(t *Targets) *Target[units.Angle] { return t.KickbackWheelRolling },
		func(p drivetrain.Pose) float64 { return float64(p.KickbackWheelRolling) }, func(g *drivetrain.PoseGradient) mechanism.Gradient { return g.KickbackWheelRolling }),
}

// driven returns a quantity of chain and brake.
func driven[V ~float64](name string, within float64, target func(*Targets) *Target[V], value func(drivetrain.Pose) float64, gradient func(*drivetrain.PoseGradient) mechanism.Gradient) quantity {
	return quantity{
		name: name, drive: true, within: within, target: of(target),
		value:    func(c *candidate, s units.Length) float64 { return value(c.d.At(s)) },
		gradient: func(c *candidate, s units.Length) mechanism.Gradient { return gradient(c.driveGradient(s)) },
	}
}

// of returns how to read a target of one type as plain numbers.
func of[V ~float64](target func(*Targets) *Target[V]) func(*Targets) (at, values []float64, within float64, given bool) {
	return func(t *Targets) (at, values []float64, within float64, given bool) {
		it := target(t)
		if it == nil {
			return nil, nil, 0, false
		}
		for _, v := range it.Value {
			values = append(values, float64(v))
		}
		return it.At, values, float64(it.Within), true
	}
}
