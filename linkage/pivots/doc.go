// Package pivots finds where the pivots of a mechanism must be for a wanted lever ratio.
//
// [Find] moves points within bounds until the lever ratio is as near the wanted one as it
// can be. A length of the shock and an anti-squat can be asked for beside it.
//
// Not modelled: whether the frame has room for the pivots found, and what they weigh. The
// search is local: there may be better answers that none of its starts leads to.
package pivots
