// Package calibration finds the force of an air spring per fill, as a function of the stroke, from
// readings. It works in plain numbers of SI units.
//
// Not modelled: friction, heat, leaks, and the port while it is open.
package calibration
