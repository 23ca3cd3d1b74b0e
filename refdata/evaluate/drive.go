package evaluate

import (
	"slices"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// driven is a suspension with chain and brake, and where it is asked.
type driven struct {
	Mechanism mechanism.Spec `json:"mechanism"`
	drivetrain.Spec
	At []units.Length `json:"at"` // stroke
}

// build makes the drive and its mechanism, or records what is wrong with them and returns nil.
func (in driven) build(c *units.Checker) (*drivetrain.Drive, *mechanism.Mechanism) {
	m := solved(c, in.Mechanism)
	if m == nil {
		return nil, nil
	}
	d, err := drivetrain.New(m, in.Spec)
	c.Add("", err)
	return d, m
}

func driveAt(c *units.Checker, in driven) along[*drivetrain.Drive] {
	d, _ := in.build(c)
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
	d, m := in.build(c)
	if d == nil {
		return r
	}
	atMost(c, in.At, 100)
	if _, ok := in.Mechanism.Points[in.Point]; !ok {
		c.Fail("point", in.Point, "one of the mechanism's points", units.ErrUnknown)
	}
	if !c.OK() {
		return r
	}
	return redrawn{length: m.ShockLength(), at: over(in.At, func(stroke units.Length) pointGradient {
		by := func(g mechanism.Gradient) [2]float64 { return m.PointGradient(g, in.Point) }
		g, h := m.PoseGradient(stroke), d.PoseGradient(stroke)
		return pointGradient{by(g.Travel), by(g.LeverRatio), by(h.AntiSquat), by(h.AntiRise), by(h.ChainGrowth), by(h.KickbackWheelRolling)}
	})}
}

// driveForces returns those in a pivot and a link while chain or brake work.
func driveForces(c *units.Checker, in struct {
	driven
	Up      units.Force `json:"up"`
	Forward units.Force `json:"forward"`
	Joint   string      `json:"joint"`
	Link    string      `json:"link"`
}) []joint {
	atMost(c, in.At, 300)
	const most = 1e6 // with which no load is beyond its limits
	units.Between(c, "up", in.Up, 1e-9, most)
	units.Between(c, "forward", in.Forward, -most, most)
	d, m := in.build(c)
	if d == nil {
		return nil
	}
	at := func(stroke units.Length) (e mechanism.Equilibrium, link int) {
		e, _ = m.Equilibrium(stroke, d.Loads(stroke, in.Up, in.Forward)...) // within their limits
		return e, slices.IndexFunc(e.Links, func(l mechanism.LinkForce) bool { return l.Body == in.Link })
	}
	if c.OK() {
		if _, link := at(0); link < 0 {
			c.Fail("link", in.Link, "a body that only two joints load", units.ErrUnknown)
		}
	}
	_, hole := bearing(c, m, in.Joint)
	if !c.OK() {
		return nil
	}
	return over(in.At, func(stroke units.Length) joint {
		e, link := at(stroke)
		return joint{shock: e.ShockForce, force: e.Holes[hole], tension: e.Links[link].Tension}
	})
}
