package coil

import (
	"math"

	"example.com/wheelrate/units"
)

// Buckling is how a slender spring behaves between two seats.
type Buckling struct {
	Slenderness       float64      // free length over mean diameter
	StableSlenderness float64      // below this it never buckles
	Buckles           bool         // whether it can
	Travel            units.Length // at which it does; 0 where it can't
}

// Buckling returns when the spring bows out sideways. Fixity says how its ends are held: 0.5 both
// seated flat, 0.707 (EN: 0.7) one flat and one pivoted, 1 both pivoted, 2 one clamped and one free.
// With λ = fixity·L₀/D,
//
//	travel = L₀·C₁·(1 − √(1 − C₂/λ²)),  C₁ = E/(2(E − G)),  C₂ = 2π²(E − G)/(2G + E)
//
// and it never buckles where λ² < C₂ (Shigley, section 10-5, after Haringx, as on an open formula
// page; EN 13906-1, as transcribed in an open-source program, is algebraically the same). The travel
// may be beyond solid. It is false without a free length or a modulus of elasticity, and for a fixity
// that is not between 0.01 and 100.
//
// Not modelled: a guide. A long fork spring bows until its tube or rod holds it, and rubs there; such
// springs wear a sleeve at mid-length (common practice).
func (s *Spring) Buckling(fixity float64) (Buckling, bool) {
	stable, ok := s.StableSlenderness(fixity)
	if !ok || !(s.free > 0) {
		return Buckling{}, false
	}
	b := Buckling{Slenderness: s.free / s.mean, StableSlenderness: stable}
	part := stable / b.Slenderness // √C₂/λ
	if b.Buckles = part <= 1; b.Buckles {
		b.Travel = units.Length(s.free * (s.e / (2 * (s.e - s.g))) * (1 - math.Sqrt(1-part*part)))
	}
	return b, true
}

// StableSlenderness returns the free length over the mean diameter below which a spring never bows
// out, √C₂/fixity with C₂ and the fixity as in [Spring.Buckling]. Steel between flat seats is stable
// to 5.2 mean diameters. It is false without a modulus of elasticity, and for a fixity that is not
// between 0.01 and 100.
func (s *Spring) StableSlenderness(fixity float64) (float64, bool) {
	c2 := 2 * math.Pi * math.Pi * (s.e - s.g) / (2*s.g + s.e)
	return known(math.Sqrt(c2)/fixity, s.e > 0 && fixity >= 0.01 && fixity <= 100)
}
