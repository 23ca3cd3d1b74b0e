package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// VolumeFor returns the volume of the empty positive chamber, the PositiveVolume of a
// [Spec], with which a spring of a given fill and exponent has a wanted force in N at
// full travel. The spec's own PositiveVolume is ignored, its oil and spacers are not.
// For one chamber, with A = A_p and L the travel,
//
//	r = ((F/A + p_a)/p_f)^(1/n),  V₀ = A·L·r/(r − 1)
//
// is what is left beside oil and spacers. With a negative or a second chamber it is a
// root found by [root.Find].
//
// The error names every bad field, and force if no chamber of at most 1 m³ has that
// force. [Search] has the whole number of spacers that comes nearest.
func VolumeFor(spec Spec, force units.Force) (units.Volume, error) {
	c := units.Checker{Package: "airspring"}
	spec.PositiveVolume = gas.MaxVolume // stands for the one sought
	spec.checkFilled(&c)
	units.Finite(&c, "force", force)
	if err := c.Err(); err != nil {
		return 0, err
	}
	filled := units.Volume(spec.filled())
	spec.OilVolume, spec.Spacers = 0, 0
	volume := units.Volume(spec.sweep(spec.Travel)/spec.shareFor(float64(force))) + filled
	if !(volume > 0 && volume <= gas.MaxVolume) {
		c.Fail("force", force, "a force at full travel that a chamber of at most 1 m³ gives with this fill", nil)
		return 0, c.Err()
	}
	return volume, nil
}

// shareFor returns the share of the chamber that the travel sweeps, (r − 1)/r for one
// chamber, with which the spring has a force at full travel; NaN if there is none.
func (s *Spec) shareFor(force float64) float64 {
	if s.NegativeVolume == 0 && s.SecondVolume == 0 {
		u := math.Log((force/area(s.Bore)+float64(s.Ambient))/s.absolute()) / s.Exponent
		if share := -math.Expm1(-u); share > 0 && share <= mostSwept {
			return share
		}
		return math.NaN()
	}
	swept, spec := s.sweep(s.Travel), *s
	share, err := root.Find(func(share float64) float64 {
		spec.PositiveVolume = units.Volume(swept / share)
		filled := newSpring(&spec, spec.absolute())
		return float64(filled.Force(spec.Travel)) - force
	}, swept/float64(gas.MaxVolume), mostSwept, 1e-13)
	if err != nil {
		return math.NaN()
	}
	return share
}
