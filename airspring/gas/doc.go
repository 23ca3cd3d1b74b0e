// Package gas models the gas in the chamber of an air spring: real air and nitrogen, an ideal
// gas along p·Vⁿ = constant, and an ideal gas that exchanges heat with its chamber's walls.
//
// Picture a hand pump with its outlet shut. Pressed slowly, the gas stays as warm as the walls. Pressed at
// once, it warms and pushes back harder; held there, it cools and gives way.
//
// [StateAt] and [Compress] evaluate equations of state of real gases. [Polytropic] returns the change
// of an ideal gas with an exponent. The heat exchange of the others has one time constant: [Vibrate]
// is for small periodic strokes, [Oscillate] for large ones, [Hold] for a sudden stroke, and [Follow]
// for any history of the volume.
//
// # Not modelled
//
// Moisture, mixtures, real gas together with heat exchange, the kinetic energy of the gas, and
// the heat that the walls take up. Newton's law of cooling with one time constant is itself an
// approximation, see [Follow].
package gas
