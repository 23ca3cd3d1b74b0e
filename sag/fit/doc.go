// Package fit finds which of the springs at hand, or which fill of an air spring, brings one end of
// the bike to its sag.
//
//	springs and collar, chamber or readings ─┐
//	curve, target sag, friction ─────────────┤
//	                                        New ──→ Options ──→ Choose(load) ──→ Choice, the best first
//
// A [Spec] is a curve, a target, and a [Shelf] of coil springs, a [Chamber], or a [Gauge]. [New] checks
// it, and [Options.Choose] ranks every spring at the preload that suits it best, or every number of
// spacers with its fill. For a spring known only by readings of its gauge it returns the fill, or the
// next one to try. Each has a list of findings, which says what speaks for or against it. [Choice.End]
// is the end as recommended, and [Choice.State] what it then does.
//
// Springs of varying rate stand on the shelf as laws, and preload may be a collar, a stack of spacers
// or both.
//
// Not modelled: damping, the other end of the bike.
package fit
