// Package sag works out the set-up of a whole bike: what stands on each wheel,
// where the suspension comes to rest under it, which spring or which fill
// brings it to the sag that is wanted, and what is left for the ride.
//
// # The job
//
// [NewSheet] takes a [Job] — rider, bike, and at each end a lever-ratio curve
// with a shelf of coil springs or an air spring — and returns a [Sheet]: loads,
// the recommended spring with its preload or fill with its spacers, predicted
// sag at wheel and shock with the band that friction allows, rates and
// frequency, what is left at full travel, what to measure, warnings and
// cautions. Told more, the sheet also settles both ends together, shows other
// stances, takes a drop, and says how sure it is; what it leaves out it names.
// [ReadJob] reads a job from JSON.
//
// Every step can also be called by itself: [NewLoads], [NewBikeLoads],
// [Settle], [RequiredRate], [RequiredPreload], [RequiredFill],
// [MeasuredLoad], [NewStance], [Compare], [NewBands], [NewPressureChart],
// [NewReserve], [NewLanding], [DampingFor]. [Template] works out many riders of
// one bike.
//
// # How sure, and what then
//
// A job may say how well its inputs are known; [Propagate] then says how well
// every answer is, which input matters most and which other spring of the shelf
// may be the right one, and [Simulate] draws the same by lot. On the stand,
// [NewMeasured] takes what the ring says: which load it implies, whether that
// agrees, what would explain it if not, and what to change. [NewChanged] takes
// the bike to another rider or another place, and a [Record] keeps what was
// fitted and measured until the next visit. [Sheet.Working] shows, step by step
// and with sources, where the headline numbers come from.
//
// # One path for every spring
//
// A coil, an air spring and a spring seen through a linkage all are a
// [spring.Law]. At the wheel virtual work gives, with the lever ratio
// LR = dw/ds of shock stroke s and vertical wheel travel w,
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
// This package has no opinion on how much sag is right, how a rider's weight
// is shared between the wheels, how much friction a part has, or how much
// damping suits it: no published values for these bikes could be traced to a
// source, so each is the user's to state.
//
// Not modelled: damping other than a linear damper's in [NewLanding], tyres,
// seat and rider compliance, the change of head angle with pitch, friction that
// depends on speed or load.
package sag
