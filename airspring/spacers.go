package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// SpacerCount is a whole number of spacers, and how far it misses a wanted force.
type SpacerCount struct {
	Spacers   int
	FullForce units.Force // that it has at full travel
	FullMiss  units.Force // the same less the wanted one
}

// SpacersFor returns the whole number of volume spacers with which a spring of a
// given fill and exponent comes nearest to a wanted force at full travel, and by
// how much it misses it. Numbers from 0 to most are tried, as far as they leave a
// chamber; of two that are equally near it is the lower. [VolumeFor] gives the
// volume that meets the force exactly, [Choose] weighs fill and spacers together.
//
// The spec is as for [New], with its Spacers left out of account and a
// SpacerVolume of more than 0; the force is finite and more than 0, most from 1 to
// 1000. The error names every bad field.
func SpacersFor(spec Spec, force units.Force, most int) (SpacerCount, error) {
	c := units.Checker{Package: "airspring"}
	spec.Spacers = 0
	spec.check(&c)
	gas.CheckFill(&c, "fill", spec.Fill)
	if spec.SpacerVolume == 0 {
		c.Fail("spacer_volume", nil, "the volume of one spacer, more than 0", units.ErrMissing)
	}
	units.Positive(&c, "force", force)
	if !(most >= 1 && most <= mostSpacers) {
		c.Fail("most", most, "from 1 to 1000", nil)
	}
	if err := c.Err(); err != nil {
		return SpacerCount{}, err
	}
	var best SpacerCount
	absolute := float64(spec.Fill) + float64(spec.Ambient)
	for n := 0; n <= most && outlasts(spec.positiveVolume(n), spec.sweep(spec.Travel)); n++ {
		spec.Spacers = n
		s := newSpring(&spec, absolute)
		full := s.Force(spec.Travel)
		if miss := full - force; n == 0 || math.Abs(float64(miss)) < math.Abs(float64(best.FullMiss)) {
			best = SpacerCount{n, full, miss}
		}
	}
	return best, nil
}
