package airspring

import (
	"fmt"
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Spring is an air spring that is filled and sealed, a [spring.Law]. [New] makes one. Its methods
// clamp a travel to [0, Travel]. The zero value is a spring of no travel and no force.
type Spring struct {
	units.Opaque[Spring]
	spec     Spec
	positive chamber
	negative chamber // its area is 0 where there is none
	joint    chamber // both chambers of the positive side, from the opening on
	opening  float64 // see OpeningTravel
	outside  float64 // force of the ambient on the piston, N
}

// chamber holds a volume that falls with the travel, volume·(1 − share·x).
type chamber struct {
	area     float64 // of the piston, m²
	pressure float64 // absolute, at x = 0
	volume   float64 // at x = 0
	share    float64 // area/volume; negative where the chamber grows
}

func newChamber(area, pressure, volume float64) chamber {
	return chamber{area: area, pressure: pressure, volume: volume, share: area / volume}
}

// left returns the part of the volume that is left at x. The conversion keeps the product from
// being fused with the difference: a part that is more than 0 at full travel is so at every travel.
func (g *chamber) left(x float64) float64 { return 1 - float64(g.share*x) }

// at returns the pressure at x.
func (g *chamber) at(x, n float64) float64 {
	if n == 1 {
		return g.pressure / g.left(x)
	}
	return g.pressure * math.Exp(-n*math.Log(g.left(x)))
}

// rate returns the derivative of area·pressure at x.
func (g *chamber) rate(x, n float64) float64 { return g.area * g.share * g.at(x, n) / g.left(x) * n }

// work returns the work done on the gas up to x, p·V·(e^(m·u) − 1)/m with u = ln(V/V(x)) and
// m = n − 1. It keeps its digits near n = 1 and for small x.
func (g *chamber) work(x, n float64) float64 {
	u, m := -math.Log1p(-float64(g.share*x)), n-1
	if m == 0 {
		return g.pressure * g.volume * u
	}
	return g.pressure * g.volume * math.Expm1(m*u) / m
}

// New returns the law of an air spring, or an error that names every bad field.
//
// With A_p the area of the bore, A_s that of the shaft, A_n = A_p − A_s, and p_f = fill + ambient:
//
//	V_p = V_p0 − A_p·x,  V_p0 = positive_volume − oil_volume − spacers·spacer_volume
//	p_p = p_f·(V_p0/V_p)ⁿ
//
// One chamber alone has
//
//	F = A_p·(p_p − p_a),  k = n·A_p²·p_p/V_p
//	E = p_f·V_p0/(n−1)·[(V_p0/V_p)ⁿ⁻¹ − 1] − p_a·A_p·x,  at n = 1 p_f·V_p0·ln(V_p0/V_p) − p_a·A_p·x
//
// With a negative chamber, V_n = V_n0 + A_n·x, both have the pressure p_t where
// the slow spring passes the port at x_t, and are sealed elsewhere:
//
//	p_t = p_f·V_p0/V_p(x_t),  p_n0 = p_t·V_n(x_t)/V_n0,  p_n = p_n0·(V_n0/V_n)ⁿ
//	F = A_p·p_p − A_n·p_n − A_s·p_a,  k = n·(A_p²·p_p/V_p + A_n²·p_n/V_n)
//
// and the energy that the negative chamber gives off is subtracted. The force rises strictly with
// travel. It may be negative at full extension, see [Spring.RestTravel]. For a second chamber, see
// [Spring.OpeningTravel].
//
// The equations follow from p·Vⁿ and the balance of forces on a piston without friction. No
// published worked example of a spring with a negative chamber was found; the check values are
// independent computations in 40 and 50 digits.
func New(spec Spec) (*Spring, error) {
	c := units.Checker{Package: "airspring"}
	spec.checkFilled(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	s := newSpring(&spec, spec.absolute())
	return &s, nil
}

// newSpring fills a checked spec to an absolute pressure.
func newSpring(spec *Spec, fill float64) Spring {
	ap, n := area(spec.Bore), spec.Exponent
	s := Spring{spec: *spec, positive: newChamber(ap, fill, spec.chamber(spec.Spacers)), outside: ap * float64(spec.Ambient)}
	first, v2, p2 := &s.positive, float64(spec.SecondVolume), spec.second()
	switch {
	case !(v2 > 0):
		s.opening = first.volume / ap // beyond the travel
	case p2 > fill:
		u := math.Log(p2/fill) / n
		s.opening = -math.Expm1(-u) / first.share
		s.joint = newChamber(ap, p2, first.volume*math.Exp(-u)+v2)
	default:
		whole := first.volume + v2
		mean := (first.volume*math.Pow(fill, 1/n) + v2*math.Pow(p2, 1/n)) / whole
		s.joint = newChamber(ap, math.Pow(mean, n), whole)
	}
	if spec.NegativeVolume > 0 {
		an, vn, port := ring(spec.Bore, spec.Shaft), float64(spec.NegativeVolume), float64(spec.PortTravel)
		// It is filled slowly, whatever the exponent of the stroke.
		shared := fill / first.left(port)
		if v2 > 0 && shared >= p2 { // the free piston is off its stop
			shared = (first.volume*fill + v2*p2) / (first.volume*first.left(port) + v2)
		}
		s.negative = chamber{area: an, volume: vn, share: -an / vn}
		s.negative.pressure = shared * s.negative.left(port)
		s.outside = area(spec.Shaft) * float64(spec.Ambient)
	}
	return s
}

func (s *Spring) clamp(x units.Length) float64 { return float64(spring.Clamp(x, s.spec.Travel)) }

// behind returns the positive side at x, one chamber or both, and how far that is compressed.
func (s *Spring) behind(x float64) (*chamber, float64) {
	if x >= s.opening && s.opening < float64(s.spec.Travel) {
		return &s.joint, x - s.opening
	}
	return &s.positive, x
}

// push returns the pressure of the positive chamber.
func (s *Spring) push(x float64) float64 {
	g, x := s.behind(x)
	return g.at(x, s.spec.Exponent)
}

// Force returns the force in N that resists compression at travel x; see [New] for the equations.
// It is negative near full extension where the negative chamber pulls harder.
func (s *Spring) Force(x units.Length) units.Force {
	at := s.clamp(x)
	f := s.positive.area*s.push(at) - s.outside
	if s.negative.area > 0 {
		f -= s.negative.area * s.negative.at(at, s.spec.Exponent)
	}
	return units.Force(f)
}

// Rate returns dForce/dx in N/m at travel x. It drops where a second chamber opens. There it is
// the right-hand value, at full travel the left-hand one.
func (s *Spring) Rate(x units.Length) units.Stiffness {
	at := s.clamp(x)
	g, from := s.behind(at)
	k := g.rate(from, s.spec.Exponent)
	if s.negative.area > 0 {
		k -= s.negative.rate(at, s.spec.Exponent)
	}
	return units.Stiffness(k)
}

// Energy returns the work in J done on the spring from full extension to travel x.
func (s *Spring) Energy(x units.Length) units.Energy {
	at, n := s.clamp(x), s.spec.Exponent
	e := s.positive.work(min(at, s.opening), n) - s.outside*at
	if at > s.opening {
		e += s.joint.work(at-s.opening, n)
	}
	if s.negative.area > 0 {
		e += s.negative.work(at, n)
	}
	return units.Energy(e)
}

// Travel returns the full travel.
func (s *Spring) Travel() units.Length { return s.spec.Travel }

// Spec returns what the spring was made of.
func (s *Spring) Spec() Spec { return s.spec }

// String describes the spring, such as "air spring: bore 36 mm, travel 160 mm, filled to 550 kPa(g)".
func (s *Spring) String() string {
	return fmt.Sprintf("air spring: bore %.6g, travel %.6g, filled to %.6g", s.spec.Bore, s.spec.Travel, s.spec.Fill)
}

// PositivePressure returns the absolute pressure of the positive chamber at travel x.
func (s *Spring) PositivePressure(x units.Length) units.AbsolutePressure {
	return units.AbsolutePressure(s.push(s.clamp(x)))
}

// NegativePressure returns the absolute pressure of the negative chamber at travel x, or the
// ambient for a spring without one.
func (s *Spring) NegativePressure(x units.Length) units.AbsolutePressure {
	if !(s.negative.area > 0) {
		return s.spec.Ambient
	}
	return units.AbsolutePressure(s.negative.at(s.clamp(x), s.spec.Exponent))
}

// CompressionRatio returns V_p0/(V_p0 − A_p·travel), the ratio by which the full travel compresses
// what oil and spacers leave of the positive chamber. A second chamber is not counted.
func (s *Spring) CompressionRatio() float64 { return 1 / s.positive.left(float64(s.spec.Travel)) }

// PositiveVolume returns what oil and spacers leave of the positive chamber at travel x. A second
// chamber is not counted, nor is the way of its piston.
func (s *Spring) PositiveVolume(x units.Length) units.Volume {
	return units.Volume(s.positive.volume * s.positive.left(s.clamp(x)))
}

// RestTravel returns the travel at which the spring rests without a load. It is 0 if the spring
// pushes against its top-out stop at full extension. Otherwise it is the travel between 0 and the
// port at which the force is 0, found by [spring.Settle]. For a bike at rest the exponent should be 1.
//
// Over a fast stroke a spring whose second chamber was filled less than the first may rest past the
// port. If it pulls at full travel too, that is the result.
func (s *Spring) RestTravel() units.Length {
	if !(s.Force(0) < 0) {
		return 0
	}
	x, err := spring.Settle(s, 0)
	if err != nil { // it pulls at full travel too
		return s.Travel()
	}
	return x
}

// OpeningTravel returns the travel at which the second chamber opens, that is, its free piston leaves
// its stop:
//
//	x* = V_p0/A_p·(1 − (p_f/p₂)^(1/n)),  p₂ = second_fill + ambient
//
// Up to there the force is that of the first chamber alone. From there on both have one pressure. With
// V₂ = second_volume,
//
//	p = [(V_p0·p_f^(1/n) + V₂·p₂^(1/n))/(V_p0 + V₂ − A_p·x)]ⁿ
//	k = n·A_p²·p/(V_p0 + V₂ − A_p·x)
//
// The force is continuous there, and the rate drops by the factor V_p(x*)/(V_p(x*) + V₂). A result
// beyond the travel means that the piston never moves. Without a second chamber the result is
// V_p0/A_p, the limit for a p₂ that grows without bound.
//
// If the second fill is at most the fill, the result is 0: the piston is off its stop from the start.
// The fill is then that of the first chamber with the piston held on its stop, and the pressure at
// full extension lies between the two. The piston has no mass, no friction, and equal areas on both
// sides. The equations follow from that and p·Vⁿ; the check values were computed in 40 digits.
func (s *Spring) OpeningTravel() units.Length { return units.Length(s.opening) }

// SecondVolume returns the volume of the second chamber at travel x: V₂ up to [Spring.OpeningTravel],
// and V₂·(p₂/p)^(1/n) beyond it. It is 0 without such a chamber.
func (s *Spring) SecondVolume(x units.Length) units.Volume {
	v := s.spec.SecondVolume
	if at := s.clamp(x); v > 0 && at >= s.opening {
		return v * units.Volume(math.Pow(s.spec.second()/s.push(at), 1/s.spec.Exponent))
	}
	return v
}
