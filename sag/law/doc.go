// Package law reads springs of every kind from data: a [Spec] is one spring, or a stack of them, as a
// person can write it down in JSON, and [Kinds.Build] makes the [spring.Law] of it.
//
// Not modelled: friction, damping, and what else packages spring, spring/coil and airspring leave out.
package law
