package spring

import "example.com/wheelrate/units"

// Law is a force–travel law from full extension (0) to full compression
// (Travel). Coil springs, air springs, stacks of springs and a spring seen
// through a linkage all are Laws.
//
// A Law's methods can't fail: arguments outside [0, Travel], and NaN, are
// clamped, and no result is NaN or infinite. Force does not fall over travel.
// At a kink Rate is the right-hand value, except at full travel, where it is
// the left-hand one.
type Law interface {
	// Force returns the force in N that resists compression at travel x. It
	// may be negative near full extension where a negative spring pulls in.
	Force(x units.Length) units.Force
	// Rate returns dForce/dx in N/m at travel x, analytic.
	Rate(x units.Length) units.Stiffness
	// Energy returns the work in J done on the spring from 0 to x.
	Energy(x units.Length) units.Energy
	// Travel returns the full travel in m.
	Travel() units.Length
}

// Clamp returns x limited to [0, travel], and 0 for NaN: what every Law does
// with its argument first.
func Clamp(x, travel units.Length) units.Length {
	switch {
	case !(x > 0):
		return 0
	case x > travel:
		return travel
	}
	return x
}
