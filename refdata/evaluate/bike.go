package evaluate

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

func wholeBike(c *units.Checker, in struct {
	sag.Masses
	sag.Ground
	Front endSpec `json:"front"`
	Rear  endSpec `json:"rear"`
}) sag.Stance {
	front, rear := c.Child("front"), c.Child("rear")
	bike := sag.Bike{Masses: in.Masses, Ground: in.Ground, Front: in.Front.build(&front), Rear: in.Rear.build(&rear)}
	in.Masses.CheckStance(c)
	in.Ground.Check(c)
	return run(c, bike.Stance)
}

// geometryOutputs are the outputs of sag.geometry.
var geometryOutputs = append(tell[sag.Geometry]("front_travel", "rear_travel", "front_sag", "rear_sag", "pitch", "wheelbase"),
	offer("head_angle", func(g sag.Geometry) (units.Angle, bool) { return g.HeadAngle, g.HeadAngle != 0 }),
	offer("trail", func(g sag.Geometry) (units.Length, bool) { return g.Trail, g.Trail != 0 }),
	offer("bottom_bracket_height", func(g sag.Geometry) (units.Length, bool) { return g.BottomBracketHeight, g.BottomBracketHeight != 0 }),
)

func geometry(c *units.Checker, in struct {
	Front               linkage.Spec  `json:"front"`
	Rear                linkage.Spec  `json:"rear"`
	Wheelbase           units.Length  `json:"wheelbase"`
	WheelRadius         units.Length  `json:"wheel_radius"`
	FrontWheelRadius    units.Length  `json:"front_wheel_radius"`
	RearWheelRadius     units.Length  `json:"rear_wheel_radius"`
	ForkOffset          *units.Length `json:"fork_offset"`
	BottomBracketHeight units.Length  `json:"bottom_bracket_height"`
	ChainstayLength     units.Length  `json:"chainstay_length"`
	FrontStroke         units.Length  `json:"front_stroke"`
	RearStroke          units.Length  `json:"rear_stroke"`
}) sag.Geometry {
	end := func(field string, spec linkage.Spec) sag.End {
		curve, err := linkage.New(spec)
		c.Add(field, err)
		return sag.End{Curve: curve}
	}
	bike := sag.Bike{Front: end("front", in.Front), Rear: end("rear", in.Rear), Masses: sag.Masses{
		Wheelbase: in.Wheelbase, WheelRadius: in.WheelRadius, FrontWheelRadius: in.FrontWheelRadius, RearWheelRadius: in.RearWheelRadius,
		ForkOffset: in.ForkOffset, BottomBracketHeight: in.BottomBracketHeight, ChainstayLength: in.ChainstayLength,
	}}
	return run(c, func() (sag.Geometry, error) { return bike.GeometryAt(in.FrontStroke, in.RearStroke) })
}

func preload(c *units.Checker, in struct {
	Curve linkage.Spec `json:"curve"`
	sag.Target
	Rate units.Stiffness `json:"rate"`
}) units.Length {
	curve := buildCurve(c, in.Curve)
	checkTarget(c, in.Target)
	units.Positive(c, "rate", in.Rate)
	return run(c, func() (units.Length, error) { return sag.RequiredPreload(curve, in.Target, in.Rate) })
}

func ground(c *units.Checker, in sag.Ground) float64 {
	in.Check(c)
	return in.Acceleration()
}
