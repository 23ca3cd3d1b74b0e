// Package sag works out what stands on the wheels of a bike, where each end comes to rest under it,
// and which spring or fill brings it to the sag that is wanted.
//
// # What it knows
//
// [Masses.Loads] are the loads on the two wheels. An [End] is a spring behind a lever-ratio curve;
// [End.Under] returns its [State] under a load: where it rests, its rates and frequency there, and
// what is left for the ride. [End.Settle], [End.Reserve] and [End.Land] answer one question each,
// and [End.LoadAt] goes backwards, from a reading to the load. [RequiredRate], [RequiredPreload]
// and [RequiredFill] return what meets a [Target]. [BandsOf] and [PressureChart] do that for many
// riders, [Compare] puts springs side by side, and [Bike.Stance] lets both ends settle together.
// The Working functions return the steps of an answer, with sources, for showing.
//
// Package fit chooses among the springs at hand, setup works out a whole job, certainty how sure it
// is, and visit what a reading on the bike means.
//
// # One path for every spring
//
// A coil, an air spring, a law of the user's own and a spring seen through a linkage all are a
// [spring.Law]. At the wheel virtual work gives, with the lever ratio LR = dw/ds of shock stroke s
// and vertical wheel travel w,
//
//	F_w = F_s/LR
//	k_w = k_s/LR² − F_s·LR′/LR³
//
// so fork and shock, coil and air are the same equation: F_w(w) = sprung load.
//
// # Conventions
//
//   - Travel is counted from full extension, compression positive: shock
//     stroke s, vertical wheel travel w with the frame held fixed.
//   - Lever ratio LR = dw/ds. Its inverse is not used.
//   - Sag is w over the full wheel travel. Shock sag, s over the full stroke,
//     differs on a curved linkage; answers carry both.
//   - A fork at head angle φ from the horizontal has w = s·sin φ, and its
//     axial load is the vertical load times sin φ.
//   - A sprung load is the wheel's load on the ground less the weight of the
//     unsprung mass.
//   - Standing still, a gas has the temperature around it (exponent 1); over
//     a fast stroke it follows the exponent that the user states.
//   - Gravity is standard gravity, 9.80665 m/s² exactly.
//   - SI inside; every printed quantity carries its unit.
//
// # Targets
//
// This package has no opinion on how much sag is right, how a rider's weight is shared between the
// wheels, how much friction a part has, or how much damping suits it: no published values for these
// bikes could be traced to a source, so each is the user's to state.
//
// Not modelled: damping other than a linear damper's in [End.Land], tyres, seat and rider
// compliance, the change of head angle with pitch, friction that depends on speed or load.
package sag
