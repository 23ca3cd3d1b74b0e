// Package linkage computes how far the wheel moves when the shock or the fork
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
// is the wheel's travel per stroke, such as 2.5 mm per mm. A [Curve] holds w(s),
// LR and its slope dLR/ds. Most specification sheets give the mean ratio, full
// travel over full stroke. The ratio itself changes over the stroke;
// [Curve.Progression] returns by how much and between which extremes.
//
// Some texts use the inverse, ds/dw, as motion ratio or leverage rate, and some
// use one name for both. In this package a lever ratio is always wheel travel
// over shock stroke. A rear shock's ratio below 1 is probably the inverse: 0.4
// stands for 1/0.4 = 2.5.
//
// # A spring at the wheel
//
// Let the wheel move up by dw while the shock is compressed by ds = dw/LR.
// Without friction, the work done at the wheel is the work done on the spring:
//
//	F_wheel·dw = F_spring·ds, so F_wheel = F_spring/LR
//
// A greater ratio makes the same spring softer at the wheel. The derivative with
// respect to w, in which the ratio changes as well, is the wheel rate:
//
//	k_wheel = dF_wheel/dw = k_spring/LR² − F_spring·LR′/LR³,  LR′ = dLR/ds
//
// The first term alone, which is often quoted, is wrong where the ratio changes:
// a falling ratio (LR′ < 0) adds to the wheel rate in proportion to the spring's
// force, preload included. [AtWheel] returns the law of the spring at the wheel,
// which is a [spring.Law] like the spring itself.
//
// # Where a curve comes from
//
// [Kinds] lists the ways to describe a curve in a [Spec], from which [New] makes
// it: a constant ratio, a fork's head angle, a table of two of stroke, travel and lever ratio, the
// places of the pivots. Package units/strictjson reads a Spec and refuses fields with unknown names,
// which encoding/json ignores. As with any embedded pointer, the fields of its ConstantRatio can't be
// read where that is nil. [FitReadings] takes readings made on a bike, [NewFunction] a
// smooth function, [Compile] a mechanism solved by package mechanism.
//
// The difference of two neighbouring readings divided by the step is a poor lever
// ratio. Errors of 0.1 mm (one standard deviation) at both ends of a 5 mm step make an
// error of 0.03 in the ratio, of a 2.5 mm step 0.06, which is as large as the changes
// looked for. A curve through every point, monotone or smooth, passes the errors on in
// the same way and is for tables whose errors are much smaller. For readings see
// [FitReadings].
//
// Not modelled: the front triangle's own pitching, which package sag adds; flex of the frame,
// friction and play in the pivots, the weight of the moving parts, and the tyres' compliance.
package linkage
