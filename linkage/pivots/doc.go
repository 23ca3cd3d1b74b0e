// Package pivots finds where the pivots of a mechanism must be for a wanted lever ratio.
//
// [Find] moves the points that may move, within bounds, until the lever ratio
// comes as near as it can to the wanted one in the sense of least squares; the
// length of the shock and an anti-squat can be asked for beside it.
//
// Not modelled: whether there is room in the frame for the pivots found, and
// what they weigh; answers in other valleys than those the search starts in.
package pivots
