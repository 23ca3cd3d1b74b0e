package drivetrain

import (
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// PoseGradient holds the gradients of the fields of [Pose] by the places of the mechanism's holes.
type PoseGradient struct {
	AntiSquat, AntiRise                      mechanism.Gradient
	ChainGrowth                              mechanism.Gradient
	KickbackWheelFixed, KickbackWheelRolling mechanism.Gradient
}

// change is how a number changes to first order: its derivatives by the places and the motion that it
// depends on, in m and m per m.
type change struct {
	axle, idler, ring motionChange
	turn, ringTurning float64 // by the angle of the chainring's body and its derivative, rad per m
	brakeTurning      float64 // by that of the brake's body
	start             float64 // by the rear axle's height at full extension
}

// motionChange is the part of a change that depends on one point.
type motionChange struct{ place, velocity complex128 }

// PoseGradient returns the gradients of the pose at a stroke, which is clamped to the mechanism's.
// Wheels and pulleys stay as they are, and pulleys keep their places on their bodies. The
// heights of the front axle and of the mass centre count from the rear axle at full extension, as in
// [Spec], with the hole off its place too. It allocates.
func (d *Drive) PoseGradient(stroke units.Length) PoseGradient {
	if d.m == nil {
		return PoseGradient{}
	}
	now, extended := d.follow(stroke), d.follow(0)
	pose := d.At(stroke)
	g := PoseGradient{
		AntiSquat: now.gradient(d.squat(pose.AntiSquat, &now.Motion), extended),
		AntiRise:  now.gradient(d.rise(pose.AntiRise, &now.Motion), extended),
		// Both are 0 at full extension: a hole changes by how much they have grown since.
		ChainGrowth: now.gradient(d.growth(&now.Motion), extended),
	}
	g.ChainGrowth.AddScaled(-1, extended.gradient(d.growth(&extended.Motion), extended))
	g.KickbackWheelFixed.AddScaled(1/d.chainring, g.ChainGrowth)
	g.KickbackWheelRolling.AddScaled(1, g.KickbackWheelFixed)
	forward := d.sprocket / (d.wheel * d.chainring)
	g.KickbackWheelRolling.AddScaled(-forward, now.axle.Place[0])
	g.KickbackWheelRolling.AddScaled(forward, extended.axle.Place[0])
	return g
}

// growth returns the change of the chain's length. The tight run grows by as much as its unit tension
// pulls the pulleys along: what it wraps cancels the change of its direction.
func (d *Drive) growth(m *mechanism.Motion) change {
	c := d.runs(place(m, d.axle), m)
	return change{
		axle: motionChange{place: -c.first}, idler: motionChange{place: c.first - c.second},
		ring: motionChange{place: c.second}, turn: -d.chainring,
	}
}

// squat returns the change of an anti-squat of the given value. The pull on the chain is
// (v − o)·first + (o − w)·second + r·ω with the velocities of axle, idler and chainring.
func (d *Drive) squat(value float64, m *mechanism.Motion) change {
	c, rotating := d.anti(value, m)
	q := rotating / d.sprocket
	axle, idler, ring := place(m, d.axle), place(m, d.idlerAt), place(m, d.chainringAt)
	v, o, w := velocity(m, d.axle), velocity(m, d.idlerAt), velocity(m, d.chainringAt)
	run := d.runs(axle, m)
	c.axle.velocity += scale(q, run.first)
	c.idler.velocity = scale(q, run.second-run.first)
	c.ring.velocity = -scale(q, run.second)
	c.ringTurning = q * d.chainring
	// A run turns by how far its ends move apart across it, over its length.
	turns := func(v, apart, run complex128) complex128 {
		across := turn(run)
		return scale(q*dot(v, across)/dot(apart, run), across)
	}
	first := turns(v-o, idler-axle, run.first)
	c.axle.place -= first
	c.idler.place = first
	if d.idles {
		second := turns(o-w, ring-idler, run.second)
		c.idler.place -= second
		c.ring.place = second
	}
	return c
}

// rise returns the change of an anti-rise of the given value.
func (d *Drive) rise(value float64, m *mechanism.Motion) change {
	c, rotating := d.anti(value, m)
	c.brakeTurning = rotating
	return c
}

// anti returns the change of −(v·along + R·ω)/(v·up)·b/h with the axle's place and velocity, and its
// derivative by the wheel's rotation ω per stroke. What the axle does to ω is left out.
func (d *Drive) anti(value float64, m *mechanism.Motion) (c change, rotating float64) {
	axle, v := place(m, d.axle), velocity(m, d.axle)
	r := d.road(axle)
	rise, lever := dot(v, r.up), r.base/r.height
	to := scale(value/r.base, r.along) - scale(value/r.height, r.up) // by how the front axle moves against the rear one
	if d.ground == GroundFront {                                     // and by how the ground turns then
		turns := -lever + value*(dot(v, r.along)/rise+dot(d.mass-axle, r.along)/r.height+dot(d.front-axle, r.up)/r.base)
		to += scale(turns/r.base, r.up)
	}
	c.axle = motionChange{place: -to, velocity: -scale(lever/rise, r.along) - scale(value/rise, r.up)}
	c.start = imag(to)
	return c, -lever / rise * d.wheel
}

// followed is the motion at one stroke with the gradients of what moves.
type followed struct {
	mechanism.Motion
	axle, idler, ring               mechanism.PointMotionGradient
	turn, ringTurning, brakeTurning mechanism.Gradient
}

func (d *Drive) follow(stroke units.Length) *followed {
	f := &followed{axle: d.m.PointMotionGradient(stroke, d.axle), ring: d.m.PointMotionGradient(stroke, d.chainringAt)}
	d.m.ReadMotion(stroke, &f.Motion)
	f.idler = f.ring
	if d.idles {
		f.idler = d.m.PointMotionGradient(stroke, d.idlerAt)
	}
	f.turn, f.ringTurning = d.m.TurnGradient(stroke, d.chainringAt)
	_, f.brakeTurning = d.m.TurnGradient(stroke, d.brake)
	return f
}

// gradient returns the gradient of a number that changes by c.
func (f *followed) gradient(c change, extended *followed) mechanism.Gradient {
	var g mechanism.Gradient
	add := func(c motionChange, of *mechanism.PointMotionGradient) {
		g.AddScaled(real(c.place), of.Place[0])
		g.AddScaled(imag(c.place), of.Place[1])
		g.AddScaled(real(c.velocity), of.Velocity[0])
		g.AddScaled(imag(c.velocity), of.Velocity[1])
	}
	add(c.axle, &f.axle)
	add(c.idler, &f.idler)
	add(c.ring, &f.ring)
	g.AddScaled(c.turn, f.turn)
	g.AddScaled(c.ringTurning, f.ringTurning)
	g.AddScaled(c.brakeTurning, f.brakeTurning)
	g.AddScaled(c.start, extended.axle.Place[1])
	return g
}
