// Package motion computes how the masses of a bike move on their springs and dampers.
//
// A [Solver] follows the solution of any ordinary differential equation, with steps as long as a
// tolerance permits, states between the steps, and the times at which something happens.
//
// Not modelled: see [Solver].
package motion
