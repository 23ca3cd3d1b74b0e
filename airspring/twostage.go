package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// join prepares the second chamber: its volume behind the piston on its stop,
// and the absolute pressure there.
func (s *Spring) join(volume, pressure float64) {
	first := &s.positive
	if pressure <= first.pressure {
		m := 1 / s.n
		whole := first.volume + volume
		mean := (first.volume*math.Pow(first.pressure, m) + volume*math.Pow(pressure, m)) / whole
		s.opening, s.joins = 0, 0
		s.joint = newChamber(first.area, math.Pow(mean, s.n), whole)
		return
	}
	u := math.Log(pressure/first.pressure) / s.n
	s.opening = -math.Expm1(-u) / first.share
	if s.opening < s.travel {
		s.joins = s.opening
		s.joint = newChamber(first.area, pressure, first.volume*math.Exp(-u)+volume)
	}
}

// slow is the pressure of the positive chamber at x where the gas stays at the
// temperature around it.
func (s *Spring) slow(x float64) float64 {
	first := &s.positive
	alone := first.pressure / first.left(x)
	if s.spec.SecondVolume > 0 {
		v, p := float64(s.spec.SecondVolume), float64(s.spec.SecondFill)+float64(s.spec.Ambient)
		if alone >= p { // the piston is off its stop
			return (first.volume*first.pressure + v*p) / (first.volume*first.left(x) + v)
		}
	}
	return alone
}

// OpeningTravel returns the travel at which the second chamber joins in:
//
//	x* = V_p0/A_p·(1 − (p_f/p₂)^(1/n))
//
// where p₂ = second_fill + ambient. Up to there its piston rests on its stop
// and the spring is that of the first chamber. From there on the two have one
// pressure, with V₂ = second_volume,
//
//	p = [(V_p0·p_f^(1/n) + V₂·p₂^(1/n))/(V_p0 + V₂ − A_p·x)]ⁿ
//	k = n·A_p²·p/(V_p0 + V₂ − A_p·x)
//
// so the force goes on where it was and the rate drops, by the factor
// V_p(x*)/(V_p(x*) + V₂). A result beyond the travel means that the piston never
// moves. Without a second chamber it is V_p0/A_p, the limit for a p₂ without
// bounds.
//
// A second fill no higher than the fill gives 0: the piston is off its stop
// from the start, and the equation above holds throughout. Fill then is what
// was put into the first chamber while the piston was held; the pressure at
// full extension lies between the two.
//
// The piston has no mass and no friction and equal areas on both sides. The
// equations follow from that and p·Vⁿ; the check values are an independent
// computation in 40 digits.
func (s *Spring) OpeningTravel() units.Length { return units.Length(s.opening) }

// SecondVolume returns what is left of the second chamber's volume at travel x,
// which is clamped to [0, Travel]: V₂·(p₂/p)^(1/n) once its piston has moved,
// 0 where there is no such chamber.
func (s *Spring) SecondVolume(x units.Length) units.Volume {
	v := s.spec.SecondVolume
	if at := s.clamp(x); v > 0 && at >= s.joins {
		p := float64(s.spec.SecondFill) + float64(s.spec.Ambient)
		return v * units.Volume(math.Pow(p/s.push(at), 1/s.n))
	}
	return v
}

// filling is the force at one travel over the fill, so that it can be turned
// round where a law is: its travel is a gauge pressure.
type filling struct {
	spec *Spec
	at   units.Length
}

func (f filling) Force(fill units.Length) units.Force {
	s := newSpring(f.spec, float64(fill)+float64(f.spec.Ambient))
	return s.Force(f.at)
}

// Rate is a difference quotient: it only corrects the last digits.
func (f filling) Rate(fill units.Length) units.Stiffness {
	step := fill*1e-6 + 1
	return units.Stiffness(float64(f.Force(fill+step)-f.Force(fill)) / float64(step))
}

func (filling) Energy(units.Length) units.Energy { return 0 }

func (filling) Travel() units.Length { return units.Length(gas.MaxFill) }

// stagedFillFor is fillFor with a second chamber.
func stagedFillFor(spec *Spec, force float64, at units.Length) (float64, finding) {
	own := *spec // the interface below takes its own to the heap
	f := filling{&own, at}
	if !(f.Force(f.Travel()) > f.Force(0)) {
		return 0, unfit
	}
	fill, err := spring.Settle(f, units.Force(force))
	switch {
	case err == spring.ErrToppedOut:
		return 0, tooLittle
	case err != nil:
		return 0, tooMuch
	}
	rate := float64(f.Rate(fill))
	if !(rate > 0) {
		return 0, unfit
	}
	return within(float64(fill) - (float64(f.Force(fill))-force)/rate)
}
