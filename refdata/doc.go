// Package refdata holds the reference dataset of this library: materials, gases, constants and
// check cases. Each value has an uncertainty, a range and a source. A check case has the inputs of
// a computation and its expected outputs. The dataset is plain JSON ([Data]) with JSON Schemas
// ([Schema]), so that a program in any language can check itself against it.
//
// A program in another language is written from the description in data/description, which has the
// inputs, outputs, formulas, conventions and refusals of every computation, the units of quantities, and
// how any program's answers are judged. data/DESCRIPTION.md is the same to read, [Describe] a part of it
// in Go. The tests of package evaluate hold it against the evaluator.
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
//	error      the fields that the error for an invalid input must name
//	tolerance  by output, "*" for the others
//	second     how the value was confirmed a second way, or "not confirmed"
//	note       for people
//
// A quantity is a string of a number and a unit ("450 lbf/in"); a value without a unit is a number.
// The kind of quantity follows from the computation, so "14.5 psi" can be compared with "1 bar".
// Lists are compared element by element and must have the same length. An unknown field is an error
// at every level.
//
// A number as a tolerance is relative to the expected value. A quantity as a tolerance is absolute,
// and so is a string such as "0.005" for an output without a unit. The default is 1e-9, relative. A
// relative tolerance of an expected 0 is relative to the largest magnitude in the same list; a 0
// that is no element of a list must be met exactly unless an absolute tolerance is given.
// Temperatures are compared in kelvin: the tolerance "0.5 °C" is half a kelvin. An absolute "*"
// holds for the outputs of its kind, and the default for the others.
//
// An error names a field by the last element of its path ("bore" for "front.air.bore", "at" for
// "at[3]") or by the whole path. "points" and "bodies" stand for the names that a user chose for
// points and bodies. What concerns no single field has a name of its own: "locks", "topped_out",
// "bottomed_out". All bad fields are named at once: a value that can't be read does not hide
// another that is out of range.
//
// # Standing
//
// The standing of a value is one of
//
//	published        the source was seen; it has a title and a place in it
//	computed         an independent computation; its source names program and precision
//	common practice  a fact of the trade, without a source
//	from memory      a published source that was remembered, not seen
//	definition       a rule of this format, such as that an input is refused
//
// What this library prints is never an expected value.
//
// A published value is held to half a unit in its last printed digit, or its note says why not.
// "second" names what confirmed the value besides its source, or says "not confirmed". The tests of
// this package check both for every embedded case.
//
// # Independent authorities
//
// Scripts in testdata/generate compute the values of standing "computed". They use nothing of this
// library: they compute with mpmath at 50 digits, or in exact fractions. The source of each group
// names the version. Every check of the project runs them again and compares every byte.
//
// Programs of others are run on the cases as well. [Authorities] names each with its version, its
// Debian package and the computations it confirms. Its script in testdata/authorities runs it on
// every case of these. The script fails if a result disagrees, if a case is left out, and if the
// program is missing or has another version.
//
// # Versions
//
// [Version] is the version of the dataset; data/CHANGELOG.md and data/version.json list the changes of
// each. A value, a tolerance or a source that changes gets a new version and an entry with its id,
// however small the change. The id of a case that is taken back is among the retired ones there and is not
// used again. The tests compare the dataset with a list of hashes of its last version. "second" and
// "note" of a case may change at any time.
//
// # Not modelled
//
// Uncertainty of expected values beyond their tolerance, and correlation between outputs.
package refdata

//go:generate go test -count=1 -run ^TestSchemasAreCurrent$ . -args -write
//go:generate go test -count=1 -run ^TestDescriptionPage$|^TestComputationSchemas$ . -args -write
//go:generate go test -count=1 -run ^TestFilesAreCanonical$|^TestChangelog$|^TestLock$ . -args -write
