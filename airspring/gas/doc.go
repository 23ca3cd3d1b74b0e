// Package gas is what the gas in an air spring does: how far air and nitrogen are
// from ideal, how pressure follows volume along p·Vⁿ, and how a gas that exchanges
// heat with its chamber's walls behaves between slow and fast.
//
// [StateAt] and [Compress] evaluate equations of state, [Polytropic] the change of
// an ideal gas with an exponent. [Vibrate], [Hold], [Follow] and [Oscillate] are
// an ideal gas with one time constant of heat exchange, for small strokes, for a
// sudden one, for any history of the volume, and for large periodic strokes.
//
// # Not modelled
//
// Moisture, mixtures, real gas together with heat exchange, the kinetic energy of
// the gas, and the heat that the walls take up. Newton's law of cooling with one
// time constant is itself an approximation, see [Follow].
package gas
