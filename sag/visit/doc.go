// Package visit takes what was read on the stand: what it says about the load and
// the spring, what to change, and what to keep for the next visit.
//
// [Series.Report] takes what a ring says about one end as it is set: which load it
// implies, whether that agrees with the prediction, what would explain it if not,
// and what to change. [Change.Effect] takes the bike to another rider or another
// place, and a [Record] keeps what was fitted and measured until the next visit.
//
// Not modelled: a rider who does not stand still, a tilted floor, springs that
// soften as they warm.
package visit
