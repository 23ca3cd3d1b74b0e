package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Spring is an air spring filled and sealed: a [spring.Law]. Make one with
// [New]. The zero value is a spring of no travel and no force.
type Spring struct {
	spec     Spec
	travel   float64
	n        float64
	positive chamber
	negative chamber // of no area where there is none
	joint    chamber // both chambers of the positive side, from where the second joins in
	opening  float64 // the travel at which it would
	joins    float64 // the travel at which it does; infinite where it never does
	outside  float64 // force of the ambient on the piston
}

// chamber is one whose volume falls with the travel: V = volume·(1 − share·x).
type chamber struct {
	area     float64 // of the piston, m²
	pressure float64 // absolute, at x = 0
	volume   float64 // at x = 0
	share    float64 // area/volume; negative where the chamber grows
}

func newChamber(area, pressure, volume float64) chamber {
	return chamber{area: area, pressure: pressure, volume: volume, share: area / volume}
}

// left is the volume at x as a fraction of the one at 0. The conversion keeps
// the product from being fused with the difference: what is more than 0 at full
// travel then is so everywhere.
func (g *chamber) left(x float64) float64 { return 1 - float64(g.share*x) }

// at returns the pressure where a fraction of the volume is left.
func (g *chamber) at(left, n float64) float64 {
	if n == 1 {
		return g.pressure / left
	}
	return g.pressure * math.Exp(-n*math.Log(left))
}

// work done on the gas up to x, p·V·(e^(m·u) − 1)/m with u = ln(V/V(x)) and
// m = n − 1. No digits are lost near n = 1 or for small x.
func (g *chamber) work(x, n float64) float64 {
	u, m := -math.Log1p(-float64(g.share*x)), n-1
	if m == 0 {
		return g.pressure * g.volume * u
	}
	return g.pressure * g.volume * math.Expm1(m*u) / m
}

// New returns the law of an air spring, or an error that names every bad field.
//
// With A_p the area of the bore, A_s that of the shaft, A_n = A_p − A_s, and
// p_f = fill + ambient:
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
// and the energy lost by the negative chamber is taken off. Force rises
// strictly with travel. It may be negative at full extension, where the
// unloaded spring then doesn't stay: see [Spring.RestTravel].
//
// With a second chamber, see [Spring.OpeningTravel].
//
// The equations follow from p·Vⁿ and the balance of forces on a piston without
// friction. No published worked example of a spring with a negative chamber
// was found; the check values are independent computations in 40 and 50 digits.
func New(spec Spec) (*Spring, error) {
	c := units.Checker{Package: "airspring"}
	spec.check(&c)
	gas.CheckFill(&c, "fill", spec.Fill)
	if err := c.Err(); err != nil {
		return nil, err
	}
	s := newSpring(&spec, float64(spec.Fill)+float64(spec.Ambient))
	return &s, nil
}

// newSpring fills a checked spec to an absolute pressure.
func newSpring(spec *Spec, fill float64) Spring {
	ap := area(spec.Bore)
	s := Spring{
		spec: *spec, travel: float64(spec.Travel), n: spec.Exponent,
		positive: newChamber(ap, fill, spec.positiveVolume(spec.Spacers)),
		outside:  ap * float64(spec.Ambient),
	}
	s.opening, s.joins = s.positive.volume/ap, math.Inf(1)
	if spec.SecondVolume > 0 {
		s.join(float64(spec.SecondVolume), float64(spec.SecondFill)+float64(spec.Ambient))
	}
	if spec.NegativeVolume > 0 {
		// (D − d)(D + d) keeps the digits of a thick shaft.
		an := math.Pi / 4 * float64(spec.Bore-spec.Shaft) * float64(spec.Bore+spec.Shaft)
		port := float64(spec.PortTravel)
		s.negative = chamber{area: an, volume: float64(spec.NegativeVolume), share: -an / float64(spec.NegativeVolume)}
		// Filled slowly, whatever the exponent of the stroke.
		s.negative.pressure = s.slow(port) * s.negative.left(port)
		s.outside = area(spec.Shaft) * float64(spec.Ambient)
	}
	return s
}

func (s *Spring) clamp(x units.Length) float64 {
	return float64(spring.Clamp(x, units.Length(s.travel)))
}

// Force returns the force in N that resists compression at travel x, which is
// clamped to [0, Travel]; see [New] for the equations. It is negative near full
// extension where the negative chamber pulls harder.
func (s *Spring) Force(x units.Length) units.Force {
	at := s.clamp(x)
	f := s.positive.area*s.push(at) - s.outside
	if s.negative.area > 0 {
		f -= s.negative.area * s.negative.at(s.negative.left(at), s.n)
	}
	return units.Force(f)
}

// push is the pressure of the positive chamber.
func (s *Spring) push(x float64) float64 {
	if x >= s.joins {
		return s.joint.at(s.joint.left(x-s.joins), s.n)
	}
	return s.positive.at(s.positive.left(x), s.n)
}

// Rate returns dForce/dx in N/m at travel x, which is clamped to [0, Travel].
// Where a second chamber joins in it drops; there it is the right-hand value.
func (s *Spring) Rate(x units.Length) units.Stiffness {
	at := s.clamp(x)
	g, from := &s.positive, at
	if at >= s.joins {
		g, from = &s.joint, at-s.joins
	}
	left := g.left(from)
	k := g.area * g.share * g.at(left, s.n) / left
	if s.negative.area > 0 {
		left := s.negative.left(at)
		k -= s.negative.area * s.negative.share * s.negative.at(left, s.n) / left
	}
	return units.Stiffness(s.n * k)
}

// Energy returns the work in J done on the spring from full extension to
// travel x, which is clamped to [0, Travel].
func (s *Spring) Energy(x units.Length) units.Energy {
	at := s.clamp(x)
	e := s.store(at) - s.outside*at
	if s.negative.area > 0 {
		e += s.negative.work(at, s.n)
	}
	return units.Energy(e)
}

// store is the work done on the gas of the positive side.
func (s *Spring) store(x float64) float64 {
	if x > s.joins {
		return s.positive.work(s.joins, s.n) + s.joint.work(x-s.joins, s.n)
	}
	return s.positive.work(x, s.n)
}

// Travel returns the full travel.
func (s *Spring) Travel() units.Length { return units.Length(s.travel) }

// Spec returns what the spring was made of.
func (s *Spring) Spec() Spec { return s.spec }

// PositivePressure returns the absolute pressure of the positive chamber at
// travel x, which is clamped to [0, Travel].
func (s *Spring) PositivePressure(x units.Length) units.AbsolutePressure {
	return units.AbsolutePressure(s.push(s.clamp(x)))
}

// NegativePressure returns the absolute pressure on the other side of the
// piston at travel x, which is clamped to [0, Travel]: of the negative chamber,
// or the ambient where there is none.
func (s *Spring) NegativePressure(x units.Length) units.AbsolutePressure {
	if !(s.negative.area > 0) {
		return s.spec.Ambient
	}
	return units.AbsolutePressure(s.negative.at(s.negative.left(s.clamp(x)), s.n))
}

// CompressionRatio returns V_p0/(V_p0 − A_p·travel), by how much the volume of
// the positive chamber shrinks over the travel, spacers and oil counted. With a
// second chamber it still is that of the first alone.
func (s *Spring) CompressionRatio() float64 { return 1 / s.positive.left(s.travel) }

// PositiveVolume returns the volume of the positive chamber at travel x, which
// is clamped to [0, Travel], spacers and oil counted; with a second chamber, of
// the first alone.
func (s *Spring) PositiveVolume(x units.Length) units.Volume {
	return units.Volume(s.positive.volume * s.positive.left(s.clamp(x)))
}
