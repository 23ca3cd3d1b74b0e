// Package unitstest compares quantities in tests, and generates invalid and extreme JSON for tests
// of readers: [Hostile], [Spoiled] and [Wild]. [Refusal] checks the error of a reader, [Allocated]
// measures its memory. [FiniteOrRefused] checks that a computation has no infinite answer to any of
// its inputs, however small or large.
//
// A tolerance is relative or a quantity:
//
//	unitstest.Near(t, "rate", coil.Rate(), 78.8*units.NewtonPerMillimetre, unitstest.Abs(0.05*units.NewtonPerMillimetre))
//	unitstest.Near(t, "rate", coil.Rate(), want, unitstest.Rel(1e-12))
//	cmp.Diff(want, got, unitstest.Approx(1e-12))
//
// Of several tolerances, one must be met. A tolerance of a type other than that of the values is an
// error of the test. NaN is not near anything, not even NaN. An infinity is near only itself.
//
// The functions take any type whose underlying type is float64, plain numbers included.
//
// Not modelled: distances in units in the last place, float32, complex numbers.
package unitstest
