// Package refdata is the reference dataset of this library: materials, gases and constants with
// value, uncertainty, range and source, and check cases with what is given and what must come out.
// The dataset is plain JSON ([Data]) with JSON Schemas ([Schema]), so that a program in any
// language can check itself against it. The standard atmosphere is among the constants, by its
// layer's numbers, and among the cases.
//
// [Each] reads case files, those of this package and of others. Package
// [example.com/wheelrate/refdata/evaluate] runs a [Case] against this library.
//
// # The format of a case file
//
// A file has "schema" ("wheelrate/cases/1"), "subject", and "groups" of a "source" (title, edition,
// year, where, url), a "standing" and "cases". A case has
//
//	id         unique in all files, never reused
//	computes   the name of a computation, see [Computations]
//	given      its inputs, by name
//	expect     any subset of its outputs, by name; or
//	error      the fields that the refusal of a bad input must name
//	tolerance  by output, "*" for the others
//	second     how the value was confirmed a second way, or "not confirmed"
//	note
//
// A quantity is a string with number and unit ("450 lbf/in"), a value without unit a number. The
// kind of quantity comes from the computation, so that "14.5 psi" and "1 bar" compare. Lists
// compare element by element and must be of one length. An unknown field is refused at every level.
//
// A tolerance that is a number is relative to the expected value; a quantity is absolute; for an
// output without unit a string such as "0.005" is absolute. Where nothing is said it is 1e-9.
// Relative to an expected 0 means relative to the largest magnitude in the same list; a 0 that
// stands alone must be met exactly unless an absolute tolerance is given. Temperatures compare in
// kelvin, and "0.5 °C" as a tolerance is half a kelvin. An absolute "*" holds for the outputs of
// its kind, the default for the others.
//
// An error names a field by the last element of its path ("bore" for "front.air.bore", "at" for
// "at[3]") or by the whole path; the names that a user chose, of points and bodies, stand for
// "points" and "bodies" too. What concerns no single field has a name of its own: "locks",
// "topped_out", "bottomed_out". Every bad field is named at once: a value that can't be read hides
// no other that is out of its range.
//
// # Standing
//
// "published" is a source that was seen, with title and the place in it; "computed" an independent
// computation, with program and precision; "common practice" a fact of the trade without a source;
// "from memory" a published source remembered and not seen. What this library prints is never an
// expected value.
//
// A published value is held to half a unit in its last printed digit, or its note says why not.
// "second" names what confirmed the value besides its source, or says "not confirmed"; the tests of
// this package hold every embedded case to both.
//
// # Independent authorities
//
// Scripts in testdata/generate compute the values of standing "computed". They know nothing of this
// library: mpmath at 50 digits, or exact fractions, as the source of the group says with the
// version. Every check of the project runs them again and compares every byte.
//
// Programs of others are run on the cases as well: [Authorities] names each with its version, its
// Debian package and the computations it confirms. Its script in testdata/authorities runs it on
// every case of these and fails where one disagrees or is left out, and where the program is
// missing or of another version.
//
// # Versions
//
// [Version] is the version of the dataset, data/CHANGELOG.md what changed in each ([Revisions]). A
// value, a tolerance or a source that changes gets a new version and a line with its id, however
// small the change; the id of a case that is taken back is among those [Retired], and no other case
// is given it. The tests compare the dataset with a list of hashes of its last version. How well a
// value is confirmed, and its note, may change at any time.
//
// # Not modelled
//
// Uncertainty of expected values beyond their tolerance, and correlation between outputs.
package refdata

//go:generate go test -count=1 -run ^TestSchemasAreCurrent$ . -args -write
//go:generate go test -count=1 -run ^TestFilesAreCanonical$|^TestChangelog$|^TestLock$ . -args -write
