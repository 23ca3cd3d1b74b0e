// Package sagtest has the checks and the invented bikes that the tests of package sag and of the
// packages below it share.
//
// Not modelled: any bike that exists.
package sagtest
