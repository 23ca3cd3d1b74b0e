package evaluate

import (
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// drivePose is a list of what the poses of a drive say.
func drivePose[V any](name string, get func(drivetrain.Pose) V) output[along[*drivetrain.Drive]] {
	return each(name, func(d *drivetrain.Drive, stroke units.Length) V { return get(d.At(stroke)) })
}

// driven is a suspension with chain and brake, and where it is asked.
type driven struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	drivetrain.Spec
	At []units.Length `json:"at"` // stroke
}

func drive(c *units.Checker, in driven) along[*drivetrain.Drive] {
	m := solved(c, in.Mechanism)
	if m == nil {
		return along[*drivetrain.Drive]{}
	}
	d, err := drivetrain.New(m, in.Spec)
	c.Add("", err)
	return along[*drivetrain.Drive]{d, in.At}
}

// pointGradient is what the place of one point of the drawing, in x and y, changes of a pose.
type pointGradient struct{ travel, ratio, squat, rise, growth, kickback [2]float64 }

// redrawn is what moving a point of a drawing changes, and the length of its shock.
type redrawn struct {
	at     []pointGradient
	length units.Length
}

// byPoint are the lists of the two components of a gradient.
func byPoint[V ~float64](name string, get func(pointGradient) [2]float64) []output[[]pointGradient] {
	return []output[[]pointGradient]{
		at(name+"_per_x", func(g pointGradient) V { return V(get(g)[0]) }),
		at(name+"_per_y", func(g pointGradient) V { return V(get(g)[1]) }),
	}
}

func drawing(c *units.Checker, in struct {
	driven
	Point string `json:"point"`
}) (r redrawn) {
	d := drive(c, in.driven).of
	if d == nil {
		return r
	}
	if n := len(in.At); n > 100 {
		c.Fail("at", n, "at most 100 strokes", nil)
	}
	if _, ok := in.Mechanism.Points[in.Point]; !ok {
		c.Fail("point", in.Point, "one of the mechanism's points", units.ErrUnknown)
	}
	if !c.OK() {
		return r
	}
	m := solved(c, in.Mechanism)
	return redrawn{length: m.ShockLength(), at: over(in.At, func(stroke units.Length) pointGradient {
		by := func(g mechanism.Gradient) [2]float64 { return m.PointGradient(g, in.Point) }
		g, h := m.PoseGradient(stroke), d.PoseGradient(stroke)
		return pointGradient{by(g.Travel), by(g.LeverRatio), by(h.AntiSquat), by(h.AntiRise), by(h.ChainGrowth), by(h.KickbackWheelRolling)}
	})}
}
