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
// is how much the wheel moves for a small stroke, such as 2.5. A [Curve] holds
// w(s), LR and its slope dLR/ds. The mean ratio, full travel over full stroke,
// is on most specification sheets; the ratio itself changes over the stroke, by
// how much and between which extremes [Curve.Progression] returns.
//
// Some texts use ds/dw, calling it motion ratio or leverage rate, and some call both by one name.
// Here there is only wheel over shock. A ratio given as 0.4 is the other one: 1/0.4 = 2.5.
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
// [Kinds] lists the ways to describe a curve in a [Spec], from which [New] makes
// it: the two figures from paper, a fork's head angle, a table of strokes and
// travels, the pivots on a drawing. [FitReadings] takes readings made on a bike,
// [NewFunction] any smooth function, [Compile] a mechanism solved by package
// mechanism; [ReadCSV] and [WriteCSV] exchange tables with other programs.
//
// Never take the lever ratio as the difference of neighbouring readings divided by the
// step: 0.1 mm of error at both ends of a 5 mm step is an error of 0.03 in the ratio, of
// a 2.5 mm step 0.06, as large as what one wants to see. A curve through every point,
// monotone or smooth, hands the errors on in the same way. It is for tables without
// errors to speak of; readings want a fit, see [FitReadings].
//
// Not modelled: the front triangle's own pitching, which package sag adds; flex of the frame,
// friction and play in the pivots, the weight of the moving parts, and tyres that give.
package linkage
