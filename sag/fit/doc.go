// Package fit finds which of the springs at hand, or which fill of an air spring, brings one end of
// the bike to its sag.
//
// A [Spec] is a curve, a target, and a [Shelf] of coil springs with their [Collar], or a [Chamber]
// with its spacers. [New] checks it, and [Options.Choose] ranks under a load: every spring with the
// preload that suits it best, every number of spacers with its fill, each with its findings.
// [Choice.End] is the end as recommended, and [Choice.State] what it then does.
//
// Not modelled: shelves of springs without a single rate, damping, the other end of the bike.
package fit
