// Package springtest tests implementations of [spring.Law], as testing/fstest does file systems.
//
// Not modelled: whether a law describes a real spring.
package springtest
