// Package linkagetest has what the tests of the linkage packages share: invented
// mechanisms by name, lengths in millimetres, and checks of errors and numbers.
// The mechanisms are no real bike's.
//
// Not modelled: anything; the library itself doesn't import this package.
package linkagetest
