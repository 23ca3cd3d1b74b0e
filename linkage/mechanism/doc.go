// Package mechanism computes how a planar rear suspension moves, from its pivots.
//
// A [Spec] describes a mechanism in the side view from the drive side, origin at the bottom
// bracket's axis, x forward, y up, angles counter-clockwise. [New] solves any planar
// linkage of pivots and slots with one degree of freedom, and returns a [Mechanism]. Its
// [Pose] at a stroke has the lever ratio, the ratio's slope, the axle's path and the
// instant centre, exact to rounding. A linkage that locks inside its stroke is refused
// with the stroke where it does. Package units/strictjson reads a Spec and refuses fields with
// unknown names, which encoding/json ignores.
//
// Picture a sheet of paper for each body, pinned to the next at the pivots, on the sheet of the front
// triangle, which lies still. The shock is a strut from eye to eye that gets shorter; all else follows.
//
// A point at r in a body is at o(s) + u(s)·r at the stroke s, with u = exp(iθ) the body's turn.
// At a pivot the places of both bodies' points are equal, and the shock's eyes are L₀ − s
// apart. Differentiated by s, these equations are linear in the first derivatives and then
// in the second, with the same matrix: no finite differences are taken. Two bodies that
// share a pivot, each joined by another pivot to a body already solved, are a dyad: the
// shared pivot is where two circles meet. With the shock as one of the two bodies,
// four-bars are solved in closed form.
//
// [Mechanism.Equilibrium] returns the forces in the pivots, the links and the shock under any load. By
// virtual work the same forces are the derivatives of the motion by the place of every hole:
// [Mechanism.PoseGradient] returns them, and [Tolerance.Spread] what holes off their places do.
//
// Not modelled: play, flex and friction in the pivots, the weight of the moving
// parts, and over-constrained bodies.
package mechanism
