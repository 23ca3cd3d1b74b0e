package coil

import (
	"math"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// EndMass describes a spring with one end held and a rigid mass on the other, both moving along the
// spring.
type EndMass struct {
	Rate       units.Stiffness `json:"rate"`        // more than 0
	SpringMass units.Mass      `json:"spring_mass"` // of the part that moves: the active wire; 0 or more
	Mass       units.Mass      `json:"mass"`        // on the end, 0 or more; one of the two masses must be more than 0
}

// EndMassFrequency returns the lowest natural frequency of a mass on a spring that has a mass of its
// own, undamped:
//
//	f = β·√(k/m)/2π,  β·tan β = m/M,  0 < β ≤ π/2
//
// with m the spring's and M the end's mass. It is the exact answer for an even rod of the spring's
// rate and mass (wave equation, standard result of vibration theory, from memory). For m small
// against M it goes to √(k/M)/2π, and adding a third of m to M (Rayleigh) is then a good
// approximation; without an end mass it is a quarter of √(k/m), half the surge frequency of a spring
// held at both ends. The error names every bad field.
//
// Not modelled: damping, gravity's effect on an uneven spring, and the wheel's and the rider's own
// masses beyond the one given.
func EndMassFrequency(spec EndMass) (units.Frequency, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", spec.Rate)
	units.NonNegative(&c, "spring_mass", spec.SpringMass)
	units.NonNegative(&c, "mass", spec.Mass)
	if spec.SpringMass == 0 && spec.Mass == 0 {
		c.Fail("mass", spec.Mass, "more than 0 where spring_mass is 0", units.ErrConflict)
	}
	if !c.OK() {
		return 0, c.Err()
	}
	k, m, end := float64(spec.Rate), float64(spec.SpringMass), float64(spec.Mass)
	var omega float64
	switch ratio := m / end; {
	case !(ratio > 1e-30): // the spring's mass makes no difference
		omega = math.Sqrt(k / end)
	case ratio > 1e30: // nor does the end's
		omega = math.Pi / 2 * math.Sqrt(k/m)
	default:
		// β·tan β = m/M without its pole; it rises from -m/M at 0 to π/2, whose cosine is not 0 in
		// float64. It is continuous: a failure would give 0, which is refused.
		beta, _ := root.Refine(func(beta float64) float64 { return beta*math.Sin(beta) - ratio*math.Cos(beta) },
			0, math.Pi/2, -ratio, math.Pi/2, 0)
		omega = beta * math.Sqrt(k/m)
	}
	if !(omega > 0 && finite(omega)) {
		c.Fail("rate", spec.Rate, "with the masses a frequency that float64 can hold", nil)
	}
	return units.Checked(&c, units.Frequency(omega/(2*math.Pi)))
}

// SurgeFrequency returns the lowest natural frequency of the spring between two fixed seats, ½·√(k/m)
// with m the mass of the active wire: the same as d/(2√2·π·n·D²)·√(G/ρ) in EN 13906-1, as transcribed
// in an open-source program (the standard's own text was not opened). It is false without a density.
func (s *Spring) SurgeFrequency() (units.Frequency, bool) {
	return known(units.Frequency(s.d/(2*math.Sqrt2*math.Pi*s.n*s.mean*s.mean)*math.Sqrt(s.g/s.rho)), s.rho > 0)
}
