// Package fit finds which of the springs at hand, or which fill of an air spring, brings one end of
// the bike to its sag.
//
//	springs and collar, chamber or readings ─┐
//	curve, target sag, friction ─────────────┤
//	                                        New ──→ Options ──→ Choose(load) ──→ Choice, the best first
//
// A [Spec] is a curve, a target, and a [Shelf] of coil springs, a [Chamber], or a [Gauge]. [New] checks
// it, and [Options.Choose] ranks every spring at the preload that suits it best, or every number of
// spacers with its fill. Of a spring that only readings of its gauge are known of, it returns the fill,
// or the next one to try. What speaks for or against each is a list of findings. [Choice.End] is the end as
// recommended, and [Choice.State] what it then does.
//
// Springs of varying rate stand on the shelf as laws, and preload may be a collar, a stack of spacers
// or both.
//
// Not modelled: damping, the other end of the bike.
package fit
