// Package spring defines the law that every spring of this library obeys, and makes springs of
// constant rate and sets of springs.
//
// Picture a spring on a press that shows a force at each travel. A [Law] is that force over the travel,
// from full extension to full compression, with its rate and its energy. [Settle] inverts it: it returns
// the travel at which a load rests. [NewLinear] makes the simplest law. Package coil makes those of coil
// springs, package airspring those of air springs, package linkage that of a spring behind a linkage;
// package springtest tests a Law of your own.
//
// Springs in series share the force, springs in parallel the travel: [NewSeries], [NewParallel]. Coil
// groups that close one by one harden a spring ([NewGroups]); a soft spring in series that stops
// early gives two rates ([NewDualRate]). [NewPreloaded] is a law from a preload on, and
// [FitReadings] the rate of a spring from forces read at known
// travels.
//
// A compressed spring stores enough energy to injure. Take the preload off before it is touched,
// and use a compressor made for it. The marking on the part and the maker's manual win over
// anything computed here.
//
// Not modelled: friction, damping, inertia, set and creep.
package spring
