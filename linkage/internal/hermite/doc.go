// Package hermite interpolates a function from its value and its first two derivatives at two
// places: Hermite's quintic, and the cubic where only the first derivative is known.
//
// Not modelled: more than two places. Callers join polynomials piece by piece.
package hermite
