// Package schema holds the JSON Schemas (draft 2020-12) of what this library reads and writes, for programs
// that validate it, show it as a form, or generate types from it. It links neither the dataset nor the
// rest of the library.
//
// [Documents] are what an app stores and sends:
//
//	job-1.schema.json        a set-up job, as setup.ReadJob reads it
//	sheet-1.schema.json      its answer, as package encoding/json writes a setup.Sheet
//	record-1.schema.json     what was set and read, as visit.ReadRecord reads it
//	mechanism-1.schema.json  the pivots of a suspension, a mechanism.Spec
//	faults-1.schema.json     what is wrong with an input: units.Faults, in an object
//
// The number is the version of the format. A job, a sheet and a record state it in their field schema,
// such as "wheelrate/job/1".
//
// [Dataset] has the files of package refdata and its computations.
//
// Not modelled: which fields are needed together, and ranges that depend on other fields. The library
// refuses these with an error that names the fields.
package schema
