package sag

import (
	"cmp"
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// Geometry is how the frame and the wheels of a bike lie at a pair of strokes, on the line below both
// wheels. The steering is straight and the tyres do not deflect.
type Geometry struct {
	FrontSag    float64      `json:"front_sag"` // frame-fixed vertical wheel travel over full travel
	RearSag     float64      `json:"rear_sag"`
	FrontTravel units.Length `json:"front_travel"`
	RearTravel  units.Length `json:"rear_travel"`
	FrontStroke units.Length `json:"front_stroke"` // along the stanchion or of the shock
	RearStroke  units.Length `json:"rear_stroke"`
	Pitch       units.Angle  `json:"pitch"`     // of the frame from the ground, positive when the rear sags more
	Wheelbase   units.Length `json:"wheelbase"` // along the ground
	// HeadAngle is that of a fork, from the ground: its own less the pitch. It is 0 where the front is
	// not a fork.
	HeadAngle units.Angle `json:"head_angle,omitempty"`
	// Trail is the distance along the ground from where the steering axis meets it back to below the
	// front axle. It is 0 without Masses.ForkOffset, where the front is not a fork, and for a head angle
	// of less than 1°.
	Trail units.Length `json:"trail,omitempty"`
	// BottomBracketHeight is that of its centre above the ground. It is 0 without
	// Masses.BottomBracketHeight or Masses.ChainstayLength.
	BottomBracketHeight units.Length `json:"bottom_bracket_height,omitempty"`
}

// GeometryAt returns the geometry at a pair of strokes in m, each from 0 to the stroke of its curve;
// [linkage.Curve.StrokeAt] gives the stroke of a wheel travel. It is that of [Bike.Stance], wherever the
// bike comes to rest. With the ground's direction t and normal n in the frame's coordinates, see there,
// and the axles a_r and a_f,
//
//	wheelbase             = t·(a_f − a_r)
//	head angle            ψ = φ − pitch
//	trail                 = (R_f·cos ψ − offset)/sin ψ
//	bottom-bracket height = R_r + n·(b − a_r),  b = (√(ℓ² − (H_b − R_r)²), H_b)
//
// with φ the angle of the fork, ℓ the ChainstayLength and H_b the BottomBracketHeight at full extension
// (plane geometry). Of the bike, only the curves and of the masses Wheelbase, the wheels' radii,
// ForkOffset, BottomBracketHeight and ChainstayLength are used. The error names every bad field: those,
// front.curve, rear.curve, front_stroke and rear_stroke, and wheelbase where the wheels can't both stand
// on the ground.
func (b Bike) GeometryAt(front, rear units.Length) (Geometry, error) {
	c := units.Checker{Package: "sag"}
	b.Masses.checkStands(&c)
	b.Masses.checkGeometry(&c)
	reach := func(end string, curve *linkage.Curve, stroke units.Length) {
		own := c.Child(end)
		if CheckCurve(&own, curve); own.OK() {
			units.Between(&c, end+"_stroke", stroke, 0, curve.Stroke())
		}
	}
	reach("front", b.Front.Curve, front)
	reach("rear", b.Rear.Curve, rear)
	if !c.OK() {
		return Geometry{}, c.Err()
	}
	s := [2]units.Length{front, rear}
	f := b.footing(b.axles(s))
	if !f.ok {
		c.Fail("wheelbase", b.Wheelbase, "long enough for both wheels to stand on the ground", units.ErrConflict)
		return Geometry{}, c.Err()
	}
	return b.geometry(s, &f), nil
}

// checkStands records what is missing for both wheels to stand on the ground.
func (m Masses) checkStands(c *units.Checker) {
	const longest = 1e9 * units.Metre // far beyond any bike, so that nothing overflows
	if !c.Bad("wheelbase") && units.Positive(c, "wheelbase", m.Wheelbase) && m.Wheelbase > longest {
		c.Fail("wheelbase", m.Wheelbase, "a wheelbase that some bike has", nil)
	}
	if (m.Radius(Front) == 0 || m.Radius(Rear) == 0) && !c.Bad("wheel_radius") {
		c.Fail("wheel_radius", nil, "the rolling radius of the wheels, or front_wheel_radius and rear_wheel_radius", units.ErrMissing)
	}
}

// checkGeometry records what is wrong with what is stated of the geometry.
func (m Masses) checkGeometry(c *units.Checker) {
	const least, most = 1 * units.Millimetre, 10 * units.Metre // far beyond any bike
	if !c.Bad("wheelbase") && m.Wheelbase != 0 {
		units.Positive(c, "wheelbase", m.Wheelbase)
	}
	good := true
	for _, one := range []struct {
		field  string
		length units.Length
	}{
		{"wheel_radius", m.WheelRadius}, {"front_wheel_radius", m.FrontWheelRadius}, {"rear_wheel_radius", m.RearWheelRadius},
		{"bottom_bracket_height", m.BottomBracketHeight}, {"chainstay_length", m.ChainstayLength},
	} {
		if one.length != 0 {
			good = units.Between(c, one.field, one.length, least, most) && good
		}
	}
	if m.ForkOffset != nil {
		units.Between(c, "fork_offset", *m.ForkOffset, -1*units.Metre, 1*units.Metre)
	}
	rise := m.BottomBracketHeight - m.Radius(Rear)
	if rise = max(rise, -rise); good && m.Radius(Rear) != 0 && m.BottomBracketHeight != 0 && m.ChainstayLength != 0 && !(rise < m.ChainstayLength) {
		c.Fail("chainstay_length", m.ChainstayLength, units.MoreThan(rise).With("which the bottom bracket is above or below the rear axle"), units.ErrConflict)
	}
}

// Radius returns the rolling radius of a wheel, 0 where it is not stated.
func (m Masses) Radius(at Axle) units.Length {
	return cmp.Or(AtAxle(at, m.FrontWheelRadius, m.RearWheelRadius), m.WheelRadius)
}

// plane is a point or a direction in the side view.
type plane struct{ x, y float64 }

func (a plane) minus(b plane) plane { return plane{a.x - b.x, a.y - b.y} }
func (a plane) dot(b plane) float64 { return a.x*b.x + a.y*b.y }

// footing is the ground below a bike, in the frame's coordinates.
type footing struct {
	rear     plane   // the rear axle
	t, n     plane   // the direction of the ground, and its normal
	step     float64 // by which the front axle is farther from the ground
	distance float64 // between the axles along the ground
	ok       bool    // both wheels can stand on it
}

// footing returns the ground below the axles.
func (m *Masses) footing(axles [2]linkage.Axle) (f footing) {
	front, rear := m.Radius(Front), m.Radius(Rear)
	f.rear = plane{float64(axles[1].Forward), float64(rear + axles[1].Up)}
	f.step = float64(front - rear)
	apart := plane{float64(m.Wheelbase + axles[0].Forward), float64(front + axles[0].Up)}.minus(f.rear)
	size := apart.dot(apart)
	f.distance = math.Sqrt(size - f.step*f.step)
	// The normal is the direction turned by a right angle: apart = distance·t + step·n.
	f.t = plane{(f.distance*apart.x + f.step*apart.y) / size, (f.distance*apart.y - f.step*apart.x) / size}
	f.n = plane{-f.t.y, f.t.x}
	f.ok = f.distance > 0 && size <= math.MaxFloat64 && apart.x > 0
	return f
}

// axles returns where the axles are at a pair of strokes.
func (b *Bike) axles(s [2]units.Length) [2]linkage.Axle {
	return [2]linkage.Axle{b.Front.Curve.AxleAt(s[0]), b.Rear.Curve.AxleAt(s[1])}
}

// geometry returns the geometry at a pair of strokes on the ground below the axles there.
func (b *Bike) geometry(s [2]units.Length, f *footing) Geometry {
	g := Geometry{
		FrontStroke: s[0], RearStroke: s[1], FrontTravel: b.Front.Curve.TravelAt(s[0]), RearTravel: b.Rear.Curve.TravelAt(s[1]),
		Pitch: units.Angle(-math.Atan2(f.t.y, f.t.x)), Wheelbase: units.Length(f.distance),
	}
	g.FrontSag, g.RearSag = float64(g.FrontTravel/b.Front.Curve.Travel()), float64(g.RearTravel/b.Rear.Curve.Travel())
	if angle, ok := b.Front.Curve.HeadAngle(); ok {
		g.HeadAngle = angle - g.Pitch
		if b.ForkOffset != nil && g.HeadAngle >= 1*units.Degree {
			sin, cos := math.Sincos(float64(g.HeadAngle))
			g.Trail = (b.Radius(Front)*units.Length(cos) - *b.ForkOffset) / units.Length(sin)
		}
	}
	if b.BottomBracketHeight != 0 && b.ChainstayLength != 0 {
		up, stay := float64(b.BottomBracketHeight-b.Radius(Rear)), float64(b.ChainstayLength)
		at := plane{math.Sqrt((stay - up) * (stay + up)), float64(b.BottomBracketHeight)}
		g.BottomBracketHeight = b.Radius(Rear) + units.Length(f.n.dot(at.minus(f.rear)))
	}
	return g
}
