// Package leastsquares minimises sums of squares of residuals, and returns the errors of what minimises them.
//
// [Problem.Minimise] searches for the place, [Solve] solves a linear problem, and [Factor] returns the errors.
//
// Not modelled: errors of the residuals that depend on each other, and minima other than the one downhill
// from the start.
package leastsquares
