package coil

import (
	"math"

	"example.com/wheelrate/units"
)

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

// WireForLoad returns the wire that bears a load at a stress in a coil of a
// given index: the stress by Bergsträsser's factor K solved for the wire, with
// D = C·d,
//
//	d = √(8·K·F·C/(π·τ))
//
// The load is more than 0, the index more than 1 and at most 1000, the stress
// the greatest that is allowed. The error names every bad field, load where
// the wire would be beyond all sense.
func WireForLoad(load units.Force, index float64, stress units.Stress) (units.Length, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "load", load)
	checkIndex(&c, index)
	units.Between(&c, "stress", stress, minModulus, maxModulus)
	if !c.OK() {
		return 0, c.Err()
	}
	wire := units.Length(math.Sqrt(8 * bergstrasser(index) * index / math.Pi * float64(load) / float64(stress)))
	if !(wire >= minWire && wire*units.Length(index) <= maxLength) {
		c.Fail("load", load, "a load that some wire bears at this stress", units.ErrConflict)
		return 0, c.Err()
	}
	return wire, nil
}
