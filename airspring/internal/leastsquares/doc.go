// Package leastsquares minimises sums of squares, and returns the errors of what minimises them.
//
// Not modelled: bounds, other than by what the caller's functions return.
package leastsquares
