// Package units holds the quantities of suspension set-up as named float64 values in SI units:
// [Length] in metres, [Force] in newtons, [Stiffness] in newtons per metre and so on.
//
// # Making and reading a quantity
//
// Units are typed constants, read back with a getter named by the unit:
//
//	k := 450 * units.PoundForcePerInch
//	k.NewtonsPerMillimetre() // 78.8…
//
// A unit with a zero of its own, or with a reference, is a function instead of a constant:
// [Celsius], [Fahrenheit], [PSIGauge], [BarGauge].
//
// A getter divides by the very constant that multiplied. The whole numbers from 1 to 1000 come back
// whole in millimetres, litres, grams, N/mm, kPa, bar, MPa and milliseconds, as in the SI units
// themselves. Elsewhere the last bits may differ: 450 lbf/in reads back as 450.00000000000006. In
// every unit they come back when rounded to 15 digits. Print getters with at most 12 digits and
// don't compare them with ==.
//
// # Text
//
// Every printed form has the unit, in every verb of package fmt: %v and %.1f print "78.8 N/mm",
// never a bare number. %v, %s, %d and %q print up to 15 significant digits, and of temperatures up
// to 12 decimals. A precision, flags and a width count as for a float64, the width including the
// unit. %#v is Go syntax in SI: units.Length(0.046). ([fmt] itself answers %T, %p and a misused
// %w.)
//
// [ParseLength] and its sisters read "46 mm". They refuse, with a [*ParseError] that lists the
// units they accept, a number without a unit, an unknown unit, NaN and infinities, and numbers as
// 1,5 or 0x1F or 1_000. They are case-sensitive, take ASCII and typographic forms alike (cm3 and
// cm³, lbf in and lbf·in, deg and °), and any white space or none before the unit. A parsed "450
// lbf/in" has the same bits as 450 * PoundForcePerInch.
//
// Quantities implement encoding.TextMarshaler and TextUnmarshaler, so JSON holds "46 mm" in
// strings. The text reads back to the very same bits.
//
// # Gauge and absolute pressure
//
// [GaugePressure] is pressure above ambient, as a pump shows it; [AbsolutePressure] is above
// vacuum. Converting needs the ambient: [GaugePressure.Absolute], [AbsolutePressure.Gauge]. "psi",
// "bar" and "kPa" parse as gauge only; absolute pressure demands "psia", "bar(a)", "kPa(a)". In the
// same spirit "lb" is a mass and "lbf" a force.
//
// # Bad input
//
// [FieldError] is the one error type for a bad field, in this package and in all above it. [Fields]
// lists them; the sentinels ([ErrRange], [ErrUnit], …) are their classes.
//
// # What a named float64 does not catch
//
// An untyped constant is taken as SI: WireDiameter: 9.5 is nine and a half metres. A product of two
// lengths is still typed Length. Constructors refuse values that can't be meant, and everything
// printed shows its unit.
//
// Not modelled: units as run-time values, unit algebra, affine differences of temperature.
package units
