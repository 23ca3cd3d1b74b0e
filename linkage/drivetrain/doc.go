// Package drivetrain computes what the chain and the rear brake do to a
// suspension: anti-squat, anti-rise, chain growth and pedal kickback.
//
// [New] joins a [mechanism.Mechanism] with a chain, with an idler or without, and a
// rear brake. What the ground does must be stated ([Ground]). [Pose] has pedal kickback
// for a wheel that turns and for one that doesn't.
//
// Not modelled: the front triangle's own pitching, the inertia of the wheels, the air's drag,
// unsprung mass, tyres that give, and the polygon that a chain makes of a pulley.
package drivetrain
