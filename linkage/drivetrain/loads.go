package drivetrain

import (
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Loads returns what the ground does to the mechanism through the rear wheel at a stroke, clamped to
// the mechanism's, for [mechanism.Mechanism.Equilibrium]. Up is the force on the tyre square to the
// ground. Forward is that along it: more than 0 it is the chain's, less than 0 the rear brake's.
//
// The wheel is in equilibrium, without mass: R·forward is the torque of the chain on the sprocket, or of
// the caliper. The chain's tension loads axle, idler and chainring along its runs, and what carries the
// chainring takes its torque; the caliper's body takes that of the brake. By virtual work the shock's
// force is up·(U·n) + forward·(U·t) with U as in [Drive.At].
func (d *Drive) Loads(stroke units.Length, up, forward units.Force) []mechanism.Load {
	if d.m == nil {
		return nil
	}
	var m mechanism.Motion
	d.m.ReadMotion(stroke, &m)
	axle := place(&m, d.axle)
	r := d.road(axle)
	at := func(p mechanism.Mark, force complex128, moment float64) mechanism.Load {
		return mechanism.Load{At: p, Force: [2]units.Force{units.Force(real(force)), units.Force(imag(force))}, Moment: units.Torque(moment)}
	}
	ground, torque := scale(float64(up), r.up)+scale(float64(forward), r.along), float64(forward)*d.wheel
	if !(forward > 0) {
		return []mechanism.Load{at(d.axle, ground, 0), at(d.brake, 0, torque)}
	}
	c, tension := d.runs(axle, &m), torque/d.sprocket
	return []mechanism.Load{
		at(d.axle, ground+scale(tension, c.first), 0), at(d.idlerAt, scale(tension, c.second-c.first), 0),
		at(d.chainringAt, -scale(tension, c.second), tension*d.chainring),
	}
}
