package coil

import (
	"math"

	"example.com/wheelrate/units"
)

// WireLength returns π·D·N, the wire of close coils.
func (s *Spring) WireLength() units.Length { return units.Length(math.Pi * s.mean * s.total) }

// Mass returns the mass of the wire, ρ·π·d²/4 times its length. It is false
// where no density was given.
func (s *Spring) Mass() (units.Mass, bool) {
	return units.Mass(s.rho * math.Pi * s.d * s.d / 4 * float64(s.WireLength())), s.rho > 0
}

// SurgeFrequency returns the lowest natural frequency of the spring between
// two fixed seats, ½·√(k/m) with m the mass of the active wire: the same as
// d/(2√2·π·n·D²)·√(G/ρ) in EN 13906-1, as transcribed in an open-source
// program (the standard's own text was not opened). It is false where no
// density was given.
func (s *Spring) SurgeFrequency() (units.Frequency, bool) {
	if !(s.rho > 0) {
		return 0, false
	}
	return units.Frequency(s.d / (2 * math.Sqrt2 * math.Pi * s.n * s.mean * s.mean) * math.Sqrt(s.g/s.rho)), true
}
