// Package gas models the gas in the chamber of an air spring: real air and nitrogen, an ideal
// gas along p·Vⁿ = constant, and an ideal gas that exchanges heat with its chamber's walls.
//
// [StateAt] and [Compress] evaluate equations of state; [Polytropic] is the change of an ideal
// gas with an exponent. [Vibrate], [Hold], [Follow] and [Oscillate] have one time constant of
// heat exchange: for small strokes, for a sudden one, for any history of the volume, and for
// large periodic strokes.
//
// # Not modelled
//
// Moisture, mixtures, real gas together with heat exchange, the kinetic energy of the gas, and
// the heat that the walls take up. Newton's law of cooling with one time constant is itself an
// approximation, see [Follow].
package gas
