// Package linkage says how far the wheel moves when the shock or the fork
// does, and what a spring feels like at the wheel.
//
// # Stroke, travel, lever ratio
//
// The stroke s is how far the shock is compressed, or the fork along its
// stanchions; the travel w is how far the wheel moves straight up with the
// front triangle held still. Both count from full extension. The lever ratio
//
//	LR = dw/ds
//
// is how much the wheel moves for a small stroke, such as 2.5. A [Curve] holds
// w(s), LR and its slope dLR/ds. The mean ratio, full travel over full stroke,
// is on most specification sheets; the ratio itself changes over the stroke:
// [Curve.Progression] says by how much, and between which extremes.
//
// Some texts use ds/dw, calling it motion ratio or leverage rate, and some call
// both by one name. Here there is only wheel over shock. A ratio given as 0.4
// is the other one: 1/0.4 = 2.5.
//
// # A spring at the wheel
//
// Let the wheel move up by dw while the shock is compressed by ds = dw/LR.
// Without friction, the work done at the wheel is the work done on the spring:
//
//	F_wheel·dw = F_spring·ds, so F_wheel = F_spring/LR
//
// A bigger ratio makes the same spring softer at the wheel. Differentiating by
// w, with the ratio itself changing along the way,
//
//	k_wheel = dF_wheel/dw = k_spring/LR² − F_spring·LR′/LR³,  LR′ = dLR/ds
//
// The first term alone, which is often quoted, is wrong wherever the ratio
// changes: a falling ratio (LR′ < 0) adds to the wheel rate in proportion to
// the force carried, preload included. [AtWheel] returns this law; it is a
// [spring.Law] like the spring itself, so whatever takes a spring takes it.
//
// # Where a curve comes from
//
// [NewConstant] takes the two figures from paper, [NewFork] the head angle,
// [NewTable] a table of strokes and travels, [FitReadings] readings made on a
// bike, [NewMechanism] the pivots on a drawing. [New] takes any of them, as
// found in JSON; [ReadCSV] and [WriteCSV] exchange tables with other programs.
//
// Never take the lever ratio as the difference of neighbouring readings
// divided by the step. The readings' errors stay the same when the step gets
// smaller, so the quotient gets worse with every reading added: 0.1 mm of
// error at both ends of a 5 mm step is an error of 0.03 in the ratio, of a
// 2.5 mm step 0.06, as large as what one wants to see. And k_wheel needs the
// slope of the ratio, a difference of differences. A curve that goes through
// every point, monotone or smooth, hands the errors on in the same way: it is
// for tables without errors to speak of. Readings want a fit: the method
// "measured" is wrong by less than 0.01 rms on the same data and gets better
// with every reading. [FitReadings] has the numbers.
//
// # Mechanisms
//
// A [Mechanism] is points and bodies in the side view from the drive side:
// origin at the bottom bracket's axis, x forward, y up, angles
// counter-clockwise. [NewMechanism] solves any planar linkage of pivots that
// can move in one way, [Kinematics] holds the motion: every [Pose] with the
// lever ratio, its slope, axle path and instant centre, exact to rounding, and
// the compiled [Curve] that springs are put behind. Where it would lock it is
// refused with the place. [FitPivots] goes the other way, from a lever ratio
// that is wanted to where the pivots must be.
//
// A body moves with the stroke s as o(s) + u(s)·r, r a point's place in the
// body and u = exp(iθ) its turn. Every pivot says that two such places are one,
// the shock that its ends are L₀ − s apart. Differentiating these equations by
// s gives linear ones for the first and then for the second derivatives, with
// the same matrix, so nothing is ever found by taking differences. Where two
// bodies share a pivot and each hangs on something known, the pivot is where
// two circles meet; with the shock as one of the two, whole four-bars follow
// that way, from one square root each.
//
// # Chain and brake
//
// [NewDrive] adds a chain, with an idler or without, and a rear brake:
// anti-squat, anti-rise, chain growth, pedal kickback. Two things are left to
// conventions elsewhere and must be said here: what the ground does ([Ground]),
// and whether the wheel turns while the cranks are kicked back ([DrivePose] has
// both).
//
// Not modelled: the front triangle's own pitching, which package sag adds;
// flex of the frame, friction and play in the pivots, the weight of the moving
// parts, tyres that give, and the polygon that a chain makes of a pulley.
package linkage
