// Package pivots finds where the pivots of a mechanism must be for what is wanted of it.
//
// Picture the side view of a mechanism with a box around each point that may still move: how far it may go
// along x and y. Everything else stays as drawn.
//
// [Find] moves points within bounds until lever ratio, progression, travel, axle path, anti-squat,
// anti-rise, chain growth and kickback are as near to the wanted ones as they can be. It keeps a shock of
// one of the sizes given, points out of regions, links from being too short, and the shock clear.
//
// Not modelled: the strength and the weight of the frame and of the links. The search is local: there
// may be better answers that none of its starts leads to.
package pivots
