package coil

import (
	"fmt"
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Spring is a coil spring whose spec was found good. Make one with [New]; the
// zero value answers 0 or false to everything.
type Spring struct {
	d, mean, n, total float64
	free, g, e, rho   float64
	ends              Ends
}

// known returns a value that is known, and else 0 and false.
func known[Q ~float64](value Q, ok bool) (Q, bool) {
	if !ok {
		return 0, false
	}
	return value, true
}

// WireDiameter returns d.
func (s *Spring) WireDiameter() units.Length { return units.Length(s.d) }

// MeanDiameter returns D, between the wire's centres.
func (s *Spring) MeanDiameter() units.Length { return units.Length(s.mean) }

// OuterDiameter returns D + d, in the free state.
func (s *Spring) OuterDiameter() units.Length { return units.Length(s.mean + s.d) }

// InnerDiameter returns D − d, in the free state.
func (s *Spring) InnerDiameter() units.Length { return units.Length(s.mean - s.d) }

// Index returns C = D/d. Shigley recommends 4 to 12 (eq. 10-18, seen in the
// published solution 10-4).
func (s *Spring) Index() float64 {
	if !(s.d > 0) {
		return 0
	}
	return s.mean / s.d
}

// ActiveCoils returns n.
func (s *Spring) ActiveCoils() float64 { return s.n }

// TotalCoils returns N = n and the dead coils: none for plain ends, one for
// plain ground ones, two for squared ones.
func (s *Spring) TotalCoils() float64 { return s.total }

// Rate returns k = G·d⁴/(8·D³·n) in N/m, from the torsion of the wire alone
// (Shigley, eq. 10-9, number from memory; every source agrees). It is good to
// about 1 % before the tolerances of wire: see the package documentation.
func (s *Spring) Rate() units.Stiffness {
	if !(s.n > 0) {
		return 0
	}
	return turnRate(units.Stress(s.g), s.WireDiameter(), s.MeanDiameter()) / units.Stiffness(s.n)
}

// SolidLength returns the length with all coils touching: N·d with ground
// ends, (N + 1)·d without.
func (s *Spring) SolidLength() units.Length {
	return units.Length(s.ends.solidTurns(s.total) * s.d)
}

// SolidTravel returns the travel from free to solid. It is false where no free
// length was given.
func (s *Spring) SolidTravel() (units.Length, bool) {
	return known(units.Length(s.free)-s.SolidLength(), s.free > 0)
}

// SolidForce returns the force at which the coils touch, k times the travel to
// solid. It is false where no free length was given.
func (s *Spring) SolidForce() (units.Force, bool) {
	x, ok := s.SolidTravel()
	return s.Rate().Times(x), ok
}

// WithPreload returns the law of the spring put in with a preload, up to
// where it is solid. The preload is 0 or more and less than the travel to
// solid; a free length must have been given. The error names preload or
// free_length.
func (s *Spring) WithPreload(preload units.Length) (spring.LinearSpring, error) {
	c := units.Checker{Package: "coil"}
	travel, ok := s.checkFree(&c)
	if units.NonNegative(&c, "preload", preload) && ok && !(preload < travel) {
		c.Fail("preload", preload, "less than the travel to solid, "+travel.String(), units.ErrConflict)
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

// WireLength returns π·D·N, the wire of close coils.
func (s *Spring) WireLength() units.Length { return units.Length(math.Pi * s.mean * s.total) }

// Mass returns the mass of the wire, ρ·π·d²/4 times its length. It is false
// where no density was given.
func (s *Spring) Mass() (units.Mass, bool) {
	return units.Mass(s.rho * math.Pi * s.d * s.d / 4 * float64(s.WireLength())), s.rho > 0
}

// String returns the dimensions and the rate, such as "5 coils of 10 mm wire on
// 46 mm: 204.19 N/mm".
func (s *Spring) String() string {
	return fmt.Sprintf("%.6g coils of %.6g wire on %.6g: %.6g", s.n, s.WireDiameter(), s.MeanDiameter(), s.Rate())
}
