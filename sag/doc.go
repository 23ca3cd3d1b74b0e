// Package sag computes the loads on the wheels of a bike, where each end comes to rest under them,
// and which spring or fill gives a wanted sag.
//
//	rider and bike, shared between the wheels
//	      │
//	      │ less the unsprung mass
//	      ▼
//	 sprung load  ──→  wheel  ──→  lever-ratio curve  ──→  spring, coil or air
//	                  travel w            LR                    stroke s
//
// [Masses.Loads] returns the loads on the two wheels. An [End] is a spring behind a lever-ratio
// curve. [End.Under] returns its [State] under a load: where it rests, its rates and frequency
// there, and what is left for the ride. [End.Settle], [End.Reserve] and [End.Land] answer one
// question each, and [End.LoadAt] returns the load of a measured stroke. [RequiredRate],
// [RequiredPreload] and [RequiredFill] return what meets a [Target]. [BandsOf] does that for many
// riders, and [Bike.Stance] lets both ends settle together. [Target.Working] and [End.WorkingAt]
// return the steps of an answer, with sources, for display.
//
// Package fit chooses among the springs at hand, setup works out a whole job, certainty computes how
// sure the answers are, and visit explains what was measured on the bike.
//
// # One equation for every spring
//
// A coil, an air spring and a law of the user's own all are a [spring.Law]. [linkage.AtWheel] gives
// the wheel force F_w(w) of each, for a fork and for a linkage. The end rests where it equals the
// sprung load.
//
// # Conventions
//
//   - Travel is counted from full extension, compression positive: shock stroke s, vertical wheel
//     travel w with the frame held fixed.
//   - The lever ratio is LR = dw/ds. Its inverse is not used.
//   - Sag is w over the full wheel travel. Shock sag, s over the full stroke, differs on a curved
//     linkage; answers have both.
//   - A fork at head angle φ from the horizontal has w = s·sin φ, and its axial load is the
//     vertical load times sin φ.
//   - A sprung load is the wheel's load on the ground less the weight of the unsprung mass.
//   - Standing still, a gas has the temperature around it (exponent 1). Over a fast stroke it has
//     the exponent that the user states.
//
// # What the user states
//
// No published values for these bikes could be traced to a source, so this package has none for how
// much sag is right, how a rider's weight is shared between the wheels, how much friction a part
// has, or how much damping suits it.
//
// Not modelled: damping other than a linear damper's in [End.Land], tyres, seat and rider
// compliance, the change of head angle with pitch, friction that depends on speed or load.
package sag
