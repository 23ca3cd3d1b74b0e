// Package mechanism solves planar suspensions: points and bodies in, motion out.
//
// A mechanism is described by a [Spec]: points and bodies in the side view from
// the drive side, origin at the bottom bracket's axis, x forward, y up, angles
// counter-clockwise. [New] solves any planar linkage of pivots and slots that
// can move in exactly one way, and returns a [Mechanism]: every [Pose] with the
// lever ratio, its slope, axle path and instant centre, exact to rounding. One
// that locks inside its stroke is refused with the place.
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
// Not modelled: play, flex and friction in the pivots, the weight of the moving
// parts, and bodies that are held more often than they need be.
package mechanism
