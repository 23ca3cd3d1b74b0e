// Package drivetrain computes what the chain and the rear brake do to a
// suspension: anti-squat, anti-rise, chain growth and pedal kickback.
//
// [New] joins a [mechanism.Mechanism] with a chain, with an idler or without, and a rear brake. Two
// things are left to conventions elsewhere and must be said here: what the ground does ([Ground]),
// and whether the wheel turns while the cranks are kicked back ([Pose] has both).
//
// Not modelled: the front triangle's own pitching, the inertia of the wheels,
// unsprung mass, tyres that give, and the polygon that a chain makes of a pulley.
package drivetrain
