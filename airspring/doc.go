// Package airspring turns the chambers of an air spring into a force over
// travel, and says how to fill it.
//
// # The model
//
// A piston of area A, the bore, is pushed into a chamber that holds the
// volume V₀ at full extension. At travel x the volume is V = V₀ − A·x, and the
// gas answers with
//
//	p·Vⁿ = constant
//
// where p is the absolute pressure and n the polytropic exponent: 1 where the
// gas has time to stay as warm as its surroundings (a bike standing still,
// with its rider on it: sag), about 1.4 where it has none (a hit). The exponent
// is the caller's; static answers want 1. From outside, the air pushes back
// with the ambient pressure p_a, so the spring's force is
//
//	F = A·(p − p_a)
//
// [Spec] holds what is known of a spring and [New] makes a [Spring] of it,
// which is a [spring.Law]: force, rate and energy in closed form. A spring may
// have a negative chamber, filled through a port from the positive one, volume
// spacers and oil that take up volume, and a second chamber behind a free
// piston; the documentation of Spec has a picture of each in words, and New
// their equations.
//
// # Gauge and absolute
//
// A fill is what the pump shows, a [units.GaugePressure]: pressure above
// ambient, read on the positive chamber at full extension. The laws of gases
// want absolute pressures, so every spec has an ambient, and there is no
// default: [SeaLevel] is a value one passes, [Atmosphere] gives that of an
// altitude. A fill is always more than 0 gauge: a spring without pressure
// rests on its top-out stop with no force to speak of, and is more often a
// slip of the pen than a spring.
//
// # Filling, weather, heat
//
// [FillFor] finds the fill for a force, [PlanTopUp] the steps to reach a fill
// where a negative chamber takes its part, [HoseReading] what the pump's hose
// takes. [Choose] weighs fill and spacers against what a spring should do at sag
// and at the end, [VolumeFor] sizes a chamber, and [Fit] goes back from measured
// forces to fill, volume and exponent. [FillAt] and [SpecAt] bring a sealed
// spring to another temperature and altitude. Package gas has how a gas that warms
// and cools behaves between slow and fast, and how real air and nitrogen do.
//
// # Pressure can hurt
//
// An air spring holds enough pressure and energy to injure. Let the air out
// completely, from every chamber, before opening anything. Never fill above
// the pressure marked on the part. Use a pump made for suspension: a tyre pump
// or a compressor lets in too much at once and can't be read finely enough.
// The marking on the part and its maker's manual win over any number computed
// here.
//
// # Not modelled
//
// Friction of seals and bushings, top-out and bottom-out bumpers, stretching
// of chambers, oil that foams or is compressed, leaks, moisture, and the flow
// through the port while it is open: a stroke past the port is taken with both
// chambers sealed. The gas of a Spring is ideal; [CheckIdeal] says what that
// leaves out with air or nitrogen in it. One thermally settled state, full
// extension, is where every stroke starts; how the gas then warms and cools in
// time is not in the law of a Spring, but [example.com/wheelrate/airspring/gas.Follow] has it for a chamber.
package airspring
