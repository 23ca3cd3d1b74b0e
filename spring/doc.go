// Package spring holds the law that every spring of this library obeys, the
// springs of constant rate, and sets of springs.
//
// # Laws
//
// A [Law] is force over travel, from full extension to full compression, with
// its rate and its energy. [NewLinear] makes the simplest, with a preload. The
// law of a coil spring is in package coil, that of an air spring in package
// airspring, and that of a spring behind a linkage in package linkage. [Settle]
// inverts a law: it returns the travel at which the law carries a load.
//
// # From one spring to a set
//
// Springs one behind the other share the force, those side by side the travel:
// [NewSeries], [NewParallel]. Coil groups that close one by one harden a spring
// ([NewGroups]); a soft spring in series that stops early gives two rates
// ([NewDualRate]). [NewPreloaded] is any law from a preload on, and
// [CollarPreload] is the preload that turns of a collar give.
//
// # At the bench
//
// [FitReadings] finds the rate of a spring from forces read at known travels.
//
// # Cautions
//
// A compressed spring stores enough energy to injure. Take the preload off
// before it is touched, and use a compressor made for it. The marking on the
// part and the maker's manual win over anything computed here.
//
// Not modelled: friction, damping, inertia, set and creep.
package spring
