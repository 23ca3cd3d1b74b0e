// Package certainty says how sure the answers for a bike are: what the
// uncertainty of every input makes of every answer.
//
// [Uncertainty] states how well the inputs are known. [Propagate] gives the
// standard uncertainty of each answer to first order, with the share of every
// input, and the springs of the shelf that may be the right ones instead;
// [Simulate] draws the inputs by lot and counts.
//
// Not modelled: errors that depend on each other, errors of the models
// themselves, the answers for both ends together.
package certainty
