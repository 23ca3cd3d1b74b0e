package spring

import (
	"fmt"

	"example.com/wheelrate/units"
)

// Law is a force–travel law from full extension (0) to full compression
// (Travel). A [LinearSpring], a coil spring with a preload, an air spring, a set
// of springs and a spring seen through a linkage all are Laws.
//
// A Law's methods can't fail: arguments outside [0, Travel], and NaN, are
// clamped, and no result is NaN or infinite. Travel is more than 0, and force
// does not fall over it. At a kink Rate is the right-hand value, except at full
// travel, where it is the left-hand one. Package springtest has a test of all
// that, for Laws written elsewhere.
//
// A Law whose force is a chain of straight segments may say so by implementing
// [Polyline].
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

// Polyline is implemented by a [Law] that may be a chain of straight segments,
// as everything made of springs of constant rate is. Sets join such laws into one
// chain, whose answers are closed forms.
type Polyline interface {
	Law
	// Segments returns the segments in order of travel, and nil where the law is
	// no such chain. Segments that do not agree with the law's force are ignored.
	Segments() []Segment
}

// Segment is a straight part of a [Polyline]. Where its Start is more than the
// End of the segment before it, the force jumps.
type Segment struct {
	Length     units.Length    // more than 0
	Rate       units.Stiffness // 0 or more
	Start, End units.Force     // at the segment's two ends
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

// Describe returns the rates at both ends of a law, its travel, and its force at
// full extension if that is not 0, such as "80 N/mm over 60 mm, 160 N at full
// extension". It is what the laws of this package print.
func Describe(law Law) string {
	travel := law.Travel()
	from, to := law.Rate(0), law.Rate(travel)
	text := fmt.Sprintf("%.6g", from)
	if from != to {
		text += fmt.Sprintf(" to %.6g", to)
	}
	text += fmt.Sprintf(" over %.6g", travel)
	if force := law.Force(0); force != 0 {
		text += fmt.Sprintf(", %.6g at full extension", force)
	}
	return text
}
