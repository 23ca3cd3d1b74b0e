// Package coil computes helical compression springs of round wire: from the wire to a rate and a
// stress, and from a rate back to a wire.
//
// # From a twisted wire to a rate
//
// A force F along the axis of a helical spring twists every cross-section of the wire, a distance D/2
// from the axis, by the torque T = F·D/2. A round bar of diameter d and shear modulus G twists by
// T/(G·J) per length, J = π·d⁴/32 being its polar moment. The active wire is n turns of π·D; all of
// its twist moves the spring's end through the arm D/2:
//
//	δ = (T/(G·J)) · π·D·n · D/2 = 8·F·D³·n/(G·d⁴)
//	k = F/δ = G·d⁴/(8·D³·n)
//
// The rate goes with the fourth power of d: 2 % more wire is 8 % more rate. This rate, [Spring.Rate],
// leaves out that the wire is curved, which stiffens the spring, and that it climbs, which softens it.
// Held against the exact solution for a ring sector, the curve adds 1.2 % at an index D/d of 4, 0.8 % at
// 5, 0.3 % at 8 and 0.13 % at 12; the climb takes off 0.3 to 0.7 % of ordinary springs. The two nearly
// cancel near 5, and the rate is good to about 1 % either way before any tolerance of wire.
// [Spring.RateEndsFree] and [Spring.RateEndsHeld] have the climb in them, and [Spring.LoadTolerance] says
// how far a made spring may be off.
//
// # Stress
//
// The same torque strains the wire's surface by τ = 8·F·D/(π·d³). Inside the coil it is more, because the
// wire is curved and carries F as direct shear. [Spring.Wahl] and [Spring.Bergstrasser] are factors that
// allow for that; Bergsträsser's is the more exact, so stress here is by it unless its name says
// otherwise. What the wire bears falls with its thickness, [TensileStrength]; how much of that a coil may
// use is in [CheckPlace].
//
// # Laws
//
// A coil spring becomes a [spring.Law] by its preload: [Spring.WithPreload]. [NewLinearPitch] is
// the law of a spring whose coils close one by one.
//
// # Cautions
//
// A compressed spring stores enough energy to injure. Take the preload off before it is touched, and
// use a compressor made for it. The marking on the part and the maker's manual win over anything
// computed here.
//
// # Conflicts between sources
//
// Pitch is (L₀ − 2d)/n for squared and ground ends, as Shigley and Machinery's Handbook have it; some
// texts divide by all coils or all but one. The solid length of unground squared ends is (N + 1)·d
// after Shigley; EN 13906-1, as transcribed in an open-source program, has (N + 1.5)·d. The
// direct-shear factor 1 + 0.5/C, which one text prints as 1 + 0.615/C, is not used.
//
// Not modelled: friction between coils and on seats, set and creep, dynamic stress and fatigue, wire
// that is not round, the bending of ends that do not seat flat, and a spring that rubs along a guide.
package coil
