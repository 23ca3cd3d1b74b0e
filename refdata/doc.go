// Package refdata holds the reference dataset of this library: materials, gases, constants and
// check cases. Each value has an uncertainty, a range and a source. A check case has the inputs of
// a computation and its expected outputs. The dataset is plain JSON ([Data]) with JSON Schemas
// ([example.com/wheelrate/refdata/schema]), so that a program in any language can check itself against it.
//
// A program in another language is written from the description in data/description, which has the
// inputs, outputs, formulas, conventions and refusals of every computation, the units of quantities, and
// how any program's answers are judged. data/DESCRIPTION.md is the same to read, [Describe] a part of it
// in Go. The tests of package evaluate hold it against the evaluator.
//
// [Cases] reads case files, those of this package and of others. Package
// [example.com/wheelrate/refdata/evaluate] runs a [Case] against this library.
//
// # Cases
//
// A case file has a subject and groups of cases, each group with a source and a [Standing]. A [Case]
// names a computation, its inputs, and either the outputs expected, with tolerances, or the fields that
// the refusal must name. The sections of DESCRIPTION.md on case files, values and refusals are the
// format.
//
// What this library prints is never an expected value. A published value is held to half a unit in its
// last printed digit, or its note says why not. "second" names what confirmed the value besides its
// source. The tests of this package check both for every embedded case.
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
