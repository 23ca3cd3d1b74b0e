// Package fit finds which of the springs at hand, or which fill of an air spring, brings one end of
// the bike to its sag.
//
// A [Spec] is what is there: a curve, a target, and a [Shelf] of coil springs with their [Collar],
// or a [Chamber] with its spacers. [New] checks it, and [Options.Choose] tries everything under a
// load and ranks it: every spring with the preload that suits it best, every number of spacers with
// its fill. What speaks for or against each is a list of findings, as data. [Choice.End] is the end
// as recommended, and [Choice.State] what it then does.
//
// Not modelled: shelves of springs without a single rate, damping, the other end of the bike.
package fit
