// Package unitstest compares quantities in tests, and makes hostile texts for tests of readers:
// [Hostile], [Spoiled] and [Wild], with [Refusal] to judge the error and [Allocated] to count the
// memory.
//
// Tolerances are relative or a quantity:
//
//	unitstest.Near(t, "rate", coil.Rate(), 78.8*units.NewtonPerMillimetre, unitstest.Abs(0.05*units.NewtonPerMillimetre))
//	unitstest.Near(t, "rate", coil.Rate(), want, unitstest.Rel(1e-12))
//	unitstest.NearAll(t, "force", got, want, unitstest.Rel(1e-12), unitstest.Abs(1e-9*units.Newton))
//	cmp.Diff(want, got, unitstest.Approx(1e-12))
//
// Where several tolerances are given, meeting one of them is enough. A tolerance of another
// quantity than the values compared is a failure, not a bare number. NaN equals nothing, not even
// NaN; an infinity equals only itself.
//
// The functions take any named float64. Plain numbers, such as lever ratios, are compared the same
// way.
//
// Not modelled: distances in units in the last place, float32, complex numbers.
package unitstest
