package coil

import (
	"math"

	"example.com/wheelrate/units"
)

// Pitch returns the free distance p between neighbouring active coils, which
// follows from the free length by the ends: (L₀ − d)/n plain, L₀/(n + 1) plain
// ground, (L₀ − 3d)/n squared, (L₀ − 2d)/n squared and ground (Machinery's
// Handbook, 31st ed., table 3 on p. 318). It is false where no free length was
// given.
func (s *Spring) Pitch() (units.Length, bool) {
	return known(units.Length(s.ends.pitch(s.free, s.d, s.n)), s.free > 0)
}

// HelixAngle returns how steeply the wire climbs, atan(p/(π·D)), in the free
// state. It is false where no free length was given.
func (s *Spring) HelixAngle() (units.Angle, bool) {
	p, ok := s.Pitch()
	return known(units.Angle(math.Atan(float64(p)/(math.Pi*s.mean))), ok)
}

// compliances are those of a thin rod along the helix: δ = c11·F + c12·M,
// ψ = c12·F + c22·M, with F along the axis and M about it.
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

// RateEndsFree returns the rate with the climb of the wire, ends free to turn
// about the axis: 1/k = L·R²·(cos²α/(G·J) + sin²α/(E·I)), L = π·D·n/cos α,
// small travel, constant D (B. K. Sarkar, Strength of Materials, problem 8.16,
// as worked in a published textbook companion). It is false without a free
// length or a modulus of elasticity.
func (s *Spring) RateEndsFree() (units.Stiffness, bool) {
	c11, _, _, ok := s.compliances()
	return known(units.Stiffness(1/c11), ok)
}

// RateEndsHeld returns the rate with the climb of the wire, ends kept from
// turning, as friction on the seats does: 1/k = c11 − c12²/c22, where the
// couple that holds the ends is eliminated from the two equations of the thin
// rod (derived; a printed version, Sarkar's problem 8.18, has a sign slip that
// breaks reciprocity). It is false without a free length or a modulus of
// elasticity.
func (s *Spring) RateEndsHeld() (units.Stiffness, bool) {
	c11, c12, c22, ok := s.compliances()
	return known(units.Stiffness(1/(c11-c12*c12/c22)), ok)
}

// OuterDiameterSolid returns the outer diameter when solid, ends kept from
// turning: √(D² + (p² − d²)/π²) + d, the length of a turn staying what it was
// (seen on an open formula page, elsewhere credited to the Bell Helicopter
// Structural Design Manual of 1977, which was not opened). Ends free to turn
// let it grow about twice as much. It is false where no free length was given.
func (s *Spring) OuterDiameterSolid() (units.Length, bool) {
	p, ok := s.Pitch()
	return known(units.Length(math.Sqrt(s.mean*s.mean+(float64(p*p)-s.d*s.d)/(math.Pi*math.Pi))+s.d), ok)
}
