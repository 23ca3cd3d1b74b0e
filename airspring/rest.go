package airspring

import (
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// RestTravel returns the travel at which the spring comes to rest with no load
// on it: 0 where it pushes outwards at full extension, against its top-out
// stop, and else where the negative chamber has pulled it in to, between 0 and
// the port. Over a fast stroke one whose second chamber was filled less than
// the first may come to rest past the port, or pull as far as full travel. The
// spring's own exponent counts; a bike at rest has 1, and the answer then is
// the root of
//
//	q_a·x² + q_b·x + q_c = 0
//
// with a = A_p·p_p0·V_p0, b = A_n·p_n0·V_n0, c = A_s·p_a, q_a = c·A_p·A_n,
// q_b = a·A_n + b·A_p − c·(V_p0·A_n − A_p·V_n0), q_c = a·V_n0 − b·V_p0 −
// c·V_p0·V_n0, which is F = 0 multiplied out. For other exponents it is found by
// [spring.Settle], to 1e-13 of the travel.
func (s *Spring) RestTravel() units.Length {
	if !(s.Force(0) < 0) {
		return 0
	}
	if s.spec.Exponent == 1 && s.joins >= float64(s.spec.PortTravel) {
		return units.Length(s.slowRest())
	}
	x, err := spring.Settle(s, 0)
	if err != nil { // it pulls at full travel too
		return s.Travel()
	}
	return x
}

// slowRest is RestTravel for an exponent of 1 and the first chamber alone. The
// equation is divided by V_p0·V_n0, so that q_c is F(0).
func (s *Spring) slowRest() float64 {
	p, n := &s.positive, &s.negative
	hp, hn := p.share, -n.share // A/V
	a, b := p.area*p.pressure, n.area*n.pressure
	qa := s.outside * hp * hn
	qb := a*hn + b*hp - s.outside*(hn-hp)
	qc := float64(s.Force(0))
	root := math.Sqrt(qb*qb - 4*qa*qc)
	// q_c < 0 < q_b, for A_p·p_f > A_s·p_a: this form loses no digits.
	x := -2 * qc / (qb + root)
	return float64(spring.Clamp(units.Length(x), s.Travel()))
}
