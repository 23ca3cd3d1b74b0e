// Package units provides the quantities of suspension set-up as named float64 types in SI units:
// [Length] in metres, [Force] in newtons, [Stiffness] in newtons per metre and so on.
//
// # Making and reading a quantity
//
// Units are typed constants. Getters of the common units are named by them; [In] reads all:
//
//	k := 450 * units.PoundForcePerInch
//	k.NewtonsPerMillimetre() // 78.8…
//	units.In(k, units.KilogramForcePerMillimetre) // 8.03…
//
// A unit with a zero of its own, or with a reference, is a function instead of a constant:
// [Celsius], [Fahrenheit], [PSIGauge], [BarGauge].
//
// A getter, as In, divides by the constant of its unit. Whole numbers from 1 to 1000 are unchanged
// in SI units and in millimetres, litres, grams, N/mm, kPa, bar, MPa and milliseconds. In other
// units the last bits may differ: 450 lbf/in is returned as 450.00000000000006. Rounded to 15
// digits they are unchanged in every unit but °C and °F. Print the result of a getter with at most
// 12 digits and don't compare it with ==.
//
// # Text
//
// A quantity is printed with its unit by every verb of package fmt: %v and %.1f print "78.8 N/mm",
// never a bare number. %v, %s, %d and %q print up to 15 significant digits, and at most 12 decimals
// of a temperature. A precision and flags mean what they mean for a float64. A width includes the
// unit. %#v is Go syntax in SI: units.Length(0.046). Package fmt itself handles %T, %p and a
// misused %w.
//
// [Parse] parses text such as "46 mm". It returns a [*ParseError], which lists the accepted units and
// asks what may have been meant, for a number without a unit, an
// unknown unit, NaN, an infinity, and for numbers written as 1,5 or 0x1F or 1_000. ASCII and
// typographic forms are both accepted (cm3 and cm³, lbf in and lbf·in, deg and °), with any white
// space or none before the unit. A parsed "450 lbf/in" has the same bits as 450 * PoundForcePerInch.
//
// Symbols are case-sensitive. Besides them a parser accepts the spellings that people use where they
// can mean nothing else in that quantity: KG, lbs, PSI, Bar, MM, inch, Nm. The rate of a spring in
// lb/in or kg/mm is one in lbf/in or kgf/mm, as the trade writes it. A letter case that could be
// another prefix is refused (Mm, mPa, MPA), and so is g written as G. [Exact] refuses all spellings
// but the symbols; check cases are read that way.
//
// Quantities implement encoding.TextMarshaler and encoding.TextUnmarshaler, so that a quantity in
// JSON is a string such as "46 mm". Parsing that text returns the same bits.
//
// They implement neither sql.Scanner nor driver.Valuer: package database/sql stores a quantity as its
// number in SI, which a database can compare and sum, and reads it back with the same bits. Name the
// unit in the column. A text such as "46 mm" is refused there.
//
// # Gauge and absolute pressure
//
// [GaugePressure] is pressure above ambient, as a pump shows it. [AbsolutePressure] is pressure
// above vacuum. Converting one to the other needs the ambient pressure: [GaugePressure.Absolute],
// [AbsolutePressure.Gauge]. "psi", "bar" and "kPa" are gauge pressures; absolute pressures are
// written "psia", "bar(a)" and "kPa(a)". In the same way "lb" is a mass and "lbf" a force.
//
// # Invalid input
//
// [FieldError] is the one error type for an invalid field, in this package and in all that import
// it. [Fields] lists the FieldErrors of an error. Its [Class] has a code that is never renamed, its
// [Want] holds limits, words and other fields as data, and JSON of it has all of that, so that a
// program can put a fault in another language. [FieldError.Texts] returns value and limits in as few
// digits as tell them apart, for people; Value has them all.
//
// An error that concerns no field of an input is of another kind: that of a reader, and those of package
// root about a function. [Faults] lists these too.
//
// # What a named float64 does not catch
//
// An untyped constant is taken as SI: WireDiameter: 9.5 is nine and a half metres. The product of
// two lengths has type Length, not [Area]. Constructors refuse values that are out of any sensible
// range, and printing always shows the unit.
//
// Not modelled: units as run-time values, unit algebra, differences of temperature.
package units
