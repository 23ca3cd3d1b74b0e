package coil

import (
	"fmt"
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Spring is a coil spring. Make one with [New]; the methods of the zero value return 0 or false.
type Spring struct {
	units.Opaque[Spring]
	d, mean, n, total float64
	free, g, e, rho   float64
	ends              ending
}

// known returns a value that is known, and else 0 and false.
func known[Q ~float64](value Q, ok bool) (Q, bool) {
	if !ok {
		return 0, false
	}
	return value, true
}

// made returns a value of a spring that was made with [New], and 0 of the zero value.
func made[Q ~float64](s *Spring, value Q) Q {
	value, _ = known(value, s.n > 0)
	return value
}

// WireDiameter returns d.
func (s *Spring) WireDiameter() units.Length { return units.Length(s.d) }

// MeanDiameter returns D, between the wire's centres.
func (s *Spring) MeanDiameter() units.Length { return units.Length(s.mean) }

// OuterDiameter returns D + d, in the free state.
func (s *Spring) OuterDiameter() units.Length { return units.Length(s.mean + s.d) }

// InnerDiameter returns D − d, in the free state.
func (s *Spring) InnerDiameter() units.Length { return units.Length(s.mean - s.d) }

// Index returns C = D/d. Shigley recommends 4 to 12 (eq. 10-18, seen in the published solution 10-4).
func (s *Spring) Index() float64 { return made(s, s.mean/s.d) }

// ActiveCoils returns n.
func (s *Spring) ActiveCoils() float64 { return s.n }

// TotalCoils returns N = n and the dead coils of the [Ends].
func (s *Spring) TotalCoils() float64 { return s.total }

// Rate returns k = G·d⁴/(8·D³·n) in N/m, from the torsion of the wire alone (Shigley, eq. 10-9,
// number from memory; every source agrees). It is good to about 1 % before the tolerances of wire:
// see the package documentation.
func (s *Spring) Rate() units.Stiffness {
	return made(s, turnRate(units.Stress(s.g), s.WireDiameter(), s.MeanDiameter())/units.Stiffness(s.n))
}

// SolidLength returns the length with all coils touching: N·d with ground ends, (N + 1)·d without.
func (s *Spring) SolidLength() units.Length { return units.Length((s.total + s.ends.over) * s.d) }

// SolidTravel returns the travel from free to solid. It reports false without a free length.
func (s *Spring) SolidTravel() (units.Length, bool) {
	return known(units.Length(s.free)-s.SolidLength(), s.free > 0)
}

// SolidForce returns the force at which the coils touch, k times the travel to solid. It reports false
// without a free length.
func (s *Spring) SolidForce() (units.Force, bool) {
	x, ok := s.SolidTravel()
	return s.Rate().Times(x), ok
}

// WithPreload returns the law of the spring installed with a preload, up to where it is solid. The
// preload is 0 or more and less than the travel to solid; a free length must have been given. The
// error names preload or free_length.
func (s *Spring) WithPreload(preload units.Length) (spring.LinearSpring, error) {
	c := units.Checker{Package: "coil"}
	travel, ok := s.checkFree(&c)
	if units.NonNegative(&c, "preload", preload) && ok && !(preload < travel) {
		c.Fail("preload", preload, units.LessThan(travel).With("the travel to solid"), units.ErrConflict)
	}
	if !c.OK() {
		return spring.LinearSpring{}, c.Err()
	}
	return spring.NewLinear(spring.Linear{Rate: s.Rate(), Travel: travel - preload, Preload: preload})
}

// checkFree returns the travel to solid, for which a free length must be known.
func (s *Spring) checkFree(c *units.Checker) (units.Length, bool) {
	travel, ok := s.SolidTravel()
	if !ok {
		c.Fail("free_length", nil, "a free length, without which the travel to solid is unknown", units.ErrMissing)
	}
	return travel, ok
}

// WireLength returns π·D·N, the length of the wire if the coils are close.
func (s *Spring) WireLength() units.Length { return units.Length(math.Pi * s.mean * s.total) }

// Mass returns the mass of the wire, ρ·π·d²/4 times its length. It reports false without a density.
func (s *Spring) Mass() (units.Mass, bool) {
	return units.Mass(s.rho * math.Pi * s.d * s.d / 4 * float64(s.WireLength())), s.rho > 0
}

// String returns the dimensions and the rate, such as "5 coils of 10 mm wire on 46 mm: 204.19 N/mm".
func (s *Spring) String() string {
	return fmt.Sprintf("%.6g coils of %.6g wire on %.6g: %.6g", s.n, s.WireDiameter(), s.MeanDiameter(), s.Rate())
}

// Pitch returns the free distance p between neighbouring active coils: (L₀ − d)/n for plain ends,
// L₀/(n + 1) plain ground, (L₀ − 3d)/n squared, (L₀ − 2d)/n squared and ground (Machinery's
// Handbook, 31st ed., table 3 on p. 318). It reports false without a free length.
func (s *Spring) Pitch() (units.Length, bool) {
	return known(units.Length((s.free-s.ends.wires*s.d)/(s.n+s.ends.ground)), s.free > 0)
}

// HelixAngle returns how steeply the wire climbs in the free state, atan(p/(π·D)). It reports false
// without a free length.
func (s *Spring) HelixAngle() (units.Angle, bool) {
	p, ok := s.Pitch()
	return known(units.Angle(math.Atan(float64(p)/(math.Pi*s.mean))), ok)
}

// compliances are those of a thin rod along the helix: δ = c11·F + c12·M, ψ = c12·F + c22·M, with F
// along the axis and M about it.
func (s *Spring) compliances() (c11, c12, c22 float64, ok bool) {
	a, ok := s.HelixAngle()
	sin, cos := math.Sincos(float64(a))
	length, r := math.Pi*s.mean*s.n/cos, s.mean/2
	d4 := s.d * s.d * s.d * s.d
	gj, ei := s.g*math.Pi*d4/32, s.e*math.Pi*d4/64
	c11 = length * r * r * (cos*cos/gj + sin*sin/ei)
	c12 = length * r * sin * cos * (1/gj - 1/ei)
	c22 = length * (sin*sin/gj + cos*cos/ei)
	return c11, c12, c22, ok && s.e > 0
}

// RateEndsFree returns the rate with the climb α of the wire, ends free to turn about the axis:
// 1/k = L·R²·(cos²α/(G·J) + sin²α/(E·I)), L = π·D·n/cos α, small travel, constant D (B. K. Sarkar,
// Strength of Materials, problem 8.16, as worked in a published textbook companion). It reports false
// without a free length or a modulus of elasticity.
func (s *Spring) RateEndsFree() (units.Stiffness, bool) {
	c11, _, _, ok := s.compliances()
	return known(units.Stiffness(1/c11), ok)
}

// RateEndsHeld returns the rate with the climb of the wire, ends kept from turning, as friction on
// the seats does: 1/k = c11 − c12²/c22, where the couple that holds the ends is eliminated from the
// two equations of the thin rod (derived; a printed version, Sarkar's problem 8.18, has a sign slip
// that breaks reciprocity). It reports false without a free length or a modulus of elasticity.
func (s *Spring) RateEndsHeld() (units.Stiffness, bool) {
	c11, c12, c22, ok := s.compliances()
	return known(units.Stiffness(1/(c11-c12*c12/c22)), ok)
}

// OuterDiameterSolid returns the outer diameter when solid, ends kept from turning:
// √(D² + (p² − d²)/π²) + d, the length of a turn staying what it was (seen on an open formula page,
// elsewhere credited to the Bell Helicopter Structural Design Manual of 1977, which was not opened).
// Ends free to turn let it grow about twice as much. It reports false without a free length.
func (s *Spring) OuterDiameterSolid() (units.Length, bool) {
	p, ok := s.Pitch()
	return known(units.Length(math.Sqrt(s.mean*s.mean+(float64(p*p)-s.d*s.d)/(math.Pi*math.Pi))+s.d), ok)
}

// SurgeFrequency returns the lowest natural frequency of the spring between two fixed seats, ½·√(k/m)
// with m the mass of the active wire: the same as d/(2√2·π·n·D²)·√(G/ρ) in EN 13906-1, as transcribed
// in an open-source program (the standard's own text was not opened). It reports false without a density.
func (s *Spring) SurgeFrequency() (units.Frequency, bool) {
	return known(units.Frequency(s.d/(2*math.Sqrt2*math.Pi*s.n*s.mean*s.mean)*math.Sqrt(s.g/s.rho)), s.rho > 0)
}
