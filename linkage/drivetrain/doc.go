// Package drivetrain computes what the chain and the rear brake do to a
// suspension: anti-squat, anti-rise, chain growth and pedal kickback.
//
// Seen from the drive side, with the front wheel to the right, the upper run of the chain is tight: it
// leaves the top of the sprocket, may pass over an idler, and arrives at the top of the chainring. As the
// wheel rises, the run grows or shrinks and swings. It pulls on the axle as the rider pedals, and turns the
// cranks back as the wheel moves. The caliper of the brake holds the wheel against the body that carries it.
//
// [New] combines a [mechanism.Mechanism] with a chain, with or without an idler, and
// a rear brake. [Ground] states how the ground lies as the rear wheel moves.
// [Drive.At] returns the results at one stroke as a [Pose], [Drive.PoseGradient] how they follow the
// places of the pivots, and [Drive.Loads] what drive and brake do to the mechanism.
//
// Not modelled: the front triangle's own pitching, the inertia of the wheels, air drag,
// unsprung mass, the tyres' compliance, and the polygon that a chain forms on a pulley.
package drivetrain
