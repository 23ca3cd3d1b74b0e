// Package strictjson decodes JSON into structs and says everything that is wrong with it at once,
// field by field, as [*units.FieldError]s.
//
// What it refuses, each with the path of the field at fault, such as "front.air.bore",
// "points.A[0]" or "shelf[2].rate":
//
//	a field that the struct does not have        units.ErrUnknown, listing those it has
//	a field given twice                          units.ErrConflict
//	a value of the wrong JSON type               units.ErrSyntax
//	null, except for a pointer, which gets nil   units.ErrSyntax
//	a list that isn't as long as its Go array    units.ErrSyntax
//	a number that does not fit                   units.ErrRange
//	a text that its type does not take           the class its UnmarshalText gives
//	text that is no JSON, text after the value   units.ErrSyntax, with line and column
//	input or a list over its limit               units.ErrRange
//	nesting over 100                             units.ErrRange
//
// The Value of a fault is what was given in place of the value wanted: a string, a bool, or a
// number as a [encoding/json.Number]; nil for anything else.
//
// Names are case-sensitive. After 100 faults the rest is not listed, and one entry says so. Texts
// quoted in an error are cut at 64 bytes.
//
// Whether a field that was left out is needed, the constructor of the struct decides. [Salvage]
// lets it run on what could be read, so that a value that can't be read does not hide another that
// is out of its range.
//
// # Into what
//
// Structs with json tags as encoding/json reads them (names, "-", embedded structs flattened),
// pointers, slices, arrays, maps with string keys, strings, bools, integers, floats,
// [encoding/json.RawMessage] and every type with UnmarshalText, which includes all quantities of
// package units, or with UnmarshalJSON. RawMessage and UnmarshalJSON get their part of the text as
// it stands, null included. Any other Go type, such as an interface, is a mistake in the program:
// an error that is no FieldError names it, whatever the input.
//
// Time and memory are linear in the length of the input, unless an UnmarshalJSON decodes its part
// once more.
//
// Not modelled: encoding, comments, default values, the string option of a tag, case-insensitive
// names, streams of several values.
package strictjson
