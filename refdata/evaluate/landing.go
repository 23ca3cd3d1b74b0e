package evaluate

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

func landing(c *units.Checker, in struct {
	endSpec
	Load    units.Force   `json:"load"`
	Height  *units.Length `json:"drop_height"`
	Damping units.Damping `json:"damping"`
}) sag.Landing {
	end := in.build(c)
	if in.Height == nil {
		c.Fail("drop_height", nil, "the height of the fall, 0 m for none", units.ErrMissing)
	} else {
		units.Between(c, "drop_height", *in.Height, 0, sag.MostDrop)
	}
	units.Positive(c, "load", in.Load)
	units.NonNegative(c, "damping", in.Damping)
	return run(c, func() (sag.Landing, error) {
		return end.Land(in.Load, sag.Drop{Height: *in.Height, Damping: in.Damping})
	})
}

func dampingFor(c *units.Checker, in struct {
	Ratio     float64         `json:"damping_ratio"`
	WheelRate units.Stiffness `json:"wheel_rate"`
	Load      units.Force     `json:"load"`
}) units.Damping {
	units.Positive(c, "damping_ratio", in.Ratio)
	units.Positive(c, "wheel_rate", in.WheelRate)
	units.Positive(c, "load", in.Load)
	d := sag.DampingFor(in.Ratio, in.WheelRate, in.Load)
	if c.OK() && d == 0 {
		c.Fail("damping_ratio", in.Ratio, "with rate and load a damping that float64 can hold", nil)
	}
	return d
}

// implied returns the least load that a ring agrees with, the load of the ring itself, and the greatest.
func implied(c *units.Checker, in struct {
	endSpec
	Stroke   units.Length `json:"stroke"`
	Error    units.Length `json:"error"`
	Friction units.Force  `json:"friction"`
}) (loads [3]units.Force) {
	end := in.build(c)
	sag.CheckFriction(c, in.Friction)
	if end.Curve == nil || end.Law == nil {
		units.Positive(c, "stroke", in.Stroke)
		units.Positive(c, "error", in.Error)
		return loads
	}
	full := min(end.Law.Travel(), end.Curve.Stroke())
	if units.Inside(c, "stroke", in.Stroke, 0, full) {
		units.Inside(c, "error", in.Error, 0, min(in.Stroke, full-in.Stroke))
	} else {
		units.Positive(c, "error", in.Error)
	}
	if !c.OK() {
		return loads
	}
	load := run(c, func() (units.Force, error) { return end.LoadAt(in.Stroke) })
	at := func(s units.Length, f units.Force) units.Force {
		return units.Force(float64(end.Law.Force(s)+f) / end.Curve.LeverRatio(s))
	}
	return [3]units.Force{max(at(in.Stroke-in.Error, -in.Friction), 0), load, at(in.Stroke+in.Error, in.Friction)}
}
