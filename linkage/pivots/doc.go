// Package pivots finds where the pivots of a mechanism must be for a wanted lever ratio.
//
// [Find] moves points within bounds; the length of the shock and an anti-squat can be
// asked for beside the lever ratio.
//
// Not modelled: whether there is room in the frame for the pivots found, and
// what they weigh; answers in other valleys than those the search starts in.
package pivots
