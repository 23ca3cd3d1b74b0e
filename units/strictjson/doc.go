// Package strictjson decodes JSON into structs and reports every fault at once, each with the path
// of its field, as [*units.FieldError]s.
//
// These are faults, with a path such as "front.air.bore", "points.A[0]" or "shelf[2].rate" and a
// class:
//
//	a field that the struct does not have        units.ErrUnknown, listing those it has and asking for
//	                                             the nearest that is not given, see units.Nearest
//	                                             (units.ErrNewer by Rules.Written)
//	a field given twice                          units.ErrConflict
//	a value of the wrong JSON type               units.ErrSyntax
//	a number for a quantity                      units.ErrUnit, asking for its unit
//	null, for a pointer too                      units.ErrSyntax
//	a list whose length is not that of the array units.ErrSyntax
//	a number that overflows its Go type          units.ErrRange
//	a string that UnmarshalText refuses          the class of that error
//	invalid JSON, or text after the value        units.ErrSyntax, with line and column
//	input or a list over its limit               units.ErrRange
//	more than 100 nested objects and lists       units.ErrRange
//
// The Value of a fault is the value that was given: a string, a bool, or an [encoding/json.Number];
// nil for other values.
//
// Names are case-sensitive. After 100 faults decoding stops, and a last fault says so. Texts quoted
// in an error are cut at 64 bytes.
//
// A field that is left out is no fault here, and a pointer stays as it was; the constructor of the struct decides whether it is
// needed. [Salvage] decodes so that the constructor can check the other fields where one could not
// be decoded.
//
// A float may also be a string in per cent: "20 %" and "20%" are 0.2, to the last bit.
//
// # Go types
//
// Supported are structs with json tags as in encoding/json (names, "-", flattened embedded
// structs), pointers, slices, arrays, maps with string keys, strings, bools, integers, floats,
// [encoding/json.RawMessage], and every type with UnmarshalText, which includes the quantities of
// package units, or with UnmarshalJSON. RawMessage and UnmarshalJSON get their part of the text
// unchanged, null included. Any other type, such as an interface, is a mistake of the program and
// is reported for every input, by an error that is not a FieldError.
//
// Time and memory are linear in the length of the input, unless an UnmarshalJSON decodes its part
// again.
//
// Not modelled: encoding, comments, default values, the string option of a tag, case-insensitive
// names, streams of several values.
package strictjson
