package coil

import (
	"math"

	"example.com/wheelrate/units"
)

// Wahl returns Wahl's stress factor (4C − 1)/(4C − 4) + 0.615/C (Shigley,
// eq. 10-4, seen in the published solutions). Against the exact ring sector it
// is 0.8 to 1.6 % high for C from 12 down to 3.
func (s *Spring) Wahl() float64 {
	c := s.Index()
	if !(c > 1) {
		return 0
	}
	return (4*c-1)/(4*c-4) + 0.615/c
}

// Bergstrasser returns Bergsträsser's stress factor (4C + 2)/(4C − 3)
// (Shigley, eq. 10-5, seen in the published solutions), which EN 13906-1, as
// transcribed in an open-source program, writes (C + 0.5)/(C − 0.75). Against
// the exact ring sector it is within 0.14 % for C from 3 to 12.
func (s *Spring) Bergstrasser() float64 { return bergstrasser(s.Index()) }

func bergstrasser(index float64) float64 {
	if !(index > 1) {
		return 0
	}
	return (4*index + 2) / (4*index - 3)
}

// StressUncorrected returns the torsion stress 8·F·D/(π·d³) of a straight bar
// under a load, which counts by its size up to 1e15 N; NaN counts as 0.
func (s *Spring) StressUncorrected(load units.Force) units.Stress {
	f := min(math.Abs(float64(load)), float64(maxLoad))
	if !(s.d > 0) || f != f {
		return 0
	}
	return units.Stress(8 * f * s.mean / (math.Pi * s.d * s.d * s.d))
}

// Stress returns the greatest shear stress in the wire under a load, by
// Bergsträsser's factor: Bergstrasser · StressUncorrected.
func (s *Spring) Stress(load units.Force) units.Stress {
	return units.Stress(s.Bergstrasser()) * s.StressUncorrected(load)
}

// StressWahl returns the greatest shear stress by Wahl's factor.
func (s *Spring) StressWahl(load units.Force) units.Stress {
	return units.Stress(s.Wahl()) * s.StressUncorrected(load)
}

// SolidStress returns Stress at the force that makes the spring solid. It is
// false where no free length was given.
func (s *Spring) SolidStress() (units.Stress, bool) {
	f, ok := s.SolidForce()
	return s.Stress(f), ok
}

// LoadForStress returns the load at which the greatest shear stress in the
// wire, by Bergsträsser's factor, is a given one: [Spring.Stress] turned
// round, F = τ·π·d³/(8·D) over the factor. The stress counts by its size, up to
// 1 PPa; NaN counts as 0.
func (s *Spring) LoadForStress(stress units.Stress) units.Force {
	factor := s.Bergstrasser()
	tau := math.Min(math.Abs(float64(stress)), float64(maxModulus))
	if !(s.d > 0) || math.IsNaN(tau) {
		return 0
	}
	return units.Force(tau * math.Pi * s.d * s.d * s.d / (8 * s.mean * factor))
}

// FreeLengthForStress returns the greatest free length at which the spring may
// be pressed solid without more than a given stress in its wire: the solid
// length and the travel at [Spring.LoadForStress]. A spring that is wound
// longer takes a set the first time it is pressed together, unless it was
// preset for it (Shigley, problem 10-3). The stress counts as there.
func (s *Spring) FreeLengthForStress(stress units.Stress) units.Length {
	if !(s.n > 0) {
		return 0
	}
	return s.SolidLength() + units.Length(float64(s.LoadForStress(stress))/float64(s.Rate()))
}
