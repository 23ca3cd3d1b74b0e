package airspring

import (
	"math"

	"example.com/wheelrate/units"
)

// second returns the absolute pressure behind the free piston on its stop.
func (s *Spec) second() float64 { return float64(s.SecondFill) + float64(s.Ambient) }

// join adds the second chamber: its volume behind the piston on its stop, and the
// absolute pressure there.
func (s *Spring) join(volume, pressure float64) {
	first, n := &s.positive, s.spec.Exponent
	if pressure <= first.pressure {
		whole := first.volume + volume
		mean := (first.volume*math.Pow(first.pressure, 1/n) + volume*math.Pow(pressure, 1/n)) / whole
		s.opening, s.joins = 0, 0
		s.joint = newChamber(first.area, math.Pow(mean, n), whole)
		return
	}
	u := math.Log(pressure/first.pressure) / n
	s.opening = -math.Expm1(-u) / first.share
	if s.opening < float64(s.spec.Travel) {
		s.joins = s.opening
		s.joint = newChamber(first.area, pressure, first.volume*math.Exp(-u)+volume)
	}
}

// settled returns the pressure of the positive chamber at x where the gas is as warm
// as its surroundings.
func (s *Spring) settled(x float64) float64 {
	first := &s.positive
	alone := first.pressure / first.left(x)
	if p := s.spec.second(); s.spec.SecondVolume > 0 && alone >= p { // the piston is off its stop
		v := float64(s.spec.SecondVolume)
		return (first.volume*first.pressure + v*p) / (first.volume*first.left(x) + v)
	}
	return alone
}

// OpeningTravel returns the travel at which the second chamber joins in:
//
//	x* = V_p0/A_p·(1 − (p_f/p₂)^(1/n))
//
// where p₂ = second_fill + ambient. Up to there its piston rests on its stop and the spring is that
// of the first chamber. From there on the two have one pressure, with V₂ = second_volume,
//
//	p = [(V_p0·p_f^(1/n) + V₂·p₂^(1/n))/(V_p0 + V₂ − A_p·x)]ⁿ
//	k = n·A_p²·p/(V_p0 + V₂ − A_p·x)
//
// so the force goes on where it was and the rate drops, by the factor V_p(x*)/(V_p(x*) + V₂). A
// result beyond the travel means that the piston never moves. Without a second chamber it is
// V_p0/A_p, the limit for a p₂ without bounds.
//
// A second fill no higher than the fill gives 0: the piston is off its stop from the start, and the
// equation above holds throughout. Fill then is what was put into the first chamber while the
// piston was held; the pressure at full extension lies between the two.
//
// The piston has no mass and no friction and equal areas on both sides. The equations follow from
// that and p·Vⁿ; the check values are an independent computation in 40 digits.
func (s *Spring) OpeningTravel() units.Length { return units.Length(s.opening) }

// SecondVolume returns the volume of the second chamber at travel x, which is clamped to [0,
// Travel]: V₂, and V₂·(p₂/p)^(1/n) once its piston has moved; 0 where there is no such chamber.
func (s *Spring) SecondVolume(x units.Length) units.Volume {
	v := s.spec.SecondVolume
	if at := s.clamp(x); v > 0 && at >= s.joins {
		return v * units.Volume(math.Pow(s.spec.second()/s.push(at), 1/s.spec.Exponent))
	}
	return v
}
