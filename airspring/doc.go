// Package airspring models an air spring: its chambers as a force over travel, and how to fill
// them.
//
// # The model
//
// A piston of area A is pushed into a chamber that holds the volume V₀ at full extension. At travel
// x the volume is V = V₀ − A·x, and gas and force follow
//
//	p·Vⁿ = constant,  F = A·(p − p_a)
//
// where p is the absolute pressure, p_a that of the air around, and n the polytropic exponent, which
// the caller gives. It is 1 for a slow stroke, during which the gas stays as warm as its surroundings
// (sag, with the rider on the bike), and about 1.4 for a fast one, during which the gas exchanges no
// heat (a hit).
//
// A [Spec] holds what is known of a spring and describes its other chambers, spacers and oil. [New]
// makes a [Spring] of it, a [spring.Law] with force, rate and energy in closed form.
//
// # Gauge and absolute
//
// A fill is what the pump shows, a [units.GaugePressure]: pressure above ambient, read on the
// positive chamber at full extension, and always more than 0. Gas laws need absolute pressures, so
// every spec has an ambient, which has no default: [SeaLevel] is a value to pass, and [Atmosphere]
// returns that of an altitude.
//
// # Filling, weather, heat
//
// [FillFor] returns the fill for a force. [FillSearch] compares numbers of spacers, at sag and at full
// travel. [PlanTopUp] returns the steps to a fill that a negative chamber shares, and [HoseReading] the
// reading of a pump whose hose takes a part of the air. [FillAt] and [SpecAt] bring a sealed spring to
// another temperature and altitude. Package gas models real air and nitrogen, and a gas that exchanges
// heat with the walls of its chamber.
//
// # Without the chambers
//
// [GaugeReadings] hold what can be read of a spring whose chambers nobody knows: gauge, ring and force.
// [Calibrate] makes a spring of two readings or more, four with a negative chamber, and
// [Calibration.FillFor] returns the fill for a force at a stroke with its error. From fewer,
// [GaugeReadings.Next] returns the least and greatest fill, and the one to try next.
//
// # Pressure can hurt
//
// An air spring holds enough pressure and energy to injure. Let the air out completely, from every
// chamber, before opening anything. Never fill above the pressure marked on the part. Use a pump
// made for suspension: a tyre pump or a compressor lets in too much at once and can't be read finely
// enough. The marking on the part and its maker's manual win over any number computed here.
//
// # Not modelled
//
// Friction of seals and bushings, top-out and bottom-out bumpers, stretching of chambers, oil that foams
// or is compressed, leaks, moisture, and the flow through the port while it is open: over a stroke past
// the port both chambers are sealed. The gas of a Spring is ideal: after a slow stroke of 3 to 1 it is
// within 1 % of air up to 35 bar, for fast ones see [gas.Compress]. Every stroke starts from full
// extension with the gas as warm as its surroundings.
package airspring
