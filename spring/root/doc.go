// Package root finds a root of a function of one variable: an x at which f(x) is 0. It is the only root
// finder of this module.
//
// Not modelled: several unknowns, roots without a change of sign, all the roots of a function.
package root
