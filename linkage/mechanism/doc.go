// Package mechanism solves planar suspensions: points and bodies in, motion out.
//
// A [Spec] describes a mechanism in the side view from the drive side, origin at the bottom
// bracket's axis, x forward, y up, angles counter-clockwise. [New] solves any
// planar linkage of pivots and slots that can move in exactly one way, and returns a [Mechanism]:
// every [Pose] with the lever ratio, its slope, axle path and instant centre, exact to rounding.
// One that locks inside its stroke is refused with the place.
//
// A point at r in a body is at o(s) + u(s)·r at the stroke s, with u = exp(iθ) the body's turn.
// Every pivot makes two such places one, the shock keeps its eyes L₀ − s apart. Differentiating
// these equations by s gives linear ones for the first and then for the second derivatives, with
// the same matrix: no finite differences are taken. Where two bodies share a pivot and each has
// another on a body solved before, a dyad, the shared pivot is where two circles meet; with the
// shock as one of the two, four-bars are solved in closed form.
//
// Not modelled: play, flex and friction in the pivots, the weight of the moving
// parts, and bodies that are held more often than they need be.
package mechanism
