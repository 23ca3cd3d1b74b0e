package coil

import (
	"math"
	"slices"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// LinearPitch describes a progressive spring whose pitch widens evenly from one end to the other, so
// that its coils close one after another without a kink.
type LinearPitch struct {
	WireDiameter units.Length `json:"wire_diameter"` // more than 0, less than the mean diameter
	MeanDiameter units.Length `json:"mean_diameter"`
	ActiveCoils  float64      `json:"active_coils"`  // more than 0
	ShearModulus units.Stress `json:"shear_modulus"` // more than 0
	FirstGap     units.Length `json:"first_gap"`     // between the wires of neighbouring coils at one end, 0 or more
	LastGap      units.Length `json:"last_gap"`      // at the other end, 0 or more; one of the two must be more than 0
}

// LinearPitchSpring is the [spring.Law] of [LinearPitch]. Make one with [NewLinearPitch]; the zero
// value is a spring of no travel and no force.
type LinearPitchSpring struct {
	units.Opaque[LinearPitchSpring]
	perTurn float64 // N/m, rate of one coil
	coils   float64
	small   float64 // m, the smaller end gap
	spread  float64 // m, how much more the larger one is
}

// openCoils is the smallest share of the coils that Rate takes to be open: with none left the rate
// would be infinite.
const openCoils = 1e-3

// NewLinearPitch returns the law of a spring whose gap grows evenly from g₀ to g₁ along its n active
// coils. With k₁ = G·d⁴/(8·D³), the rate of one coil, and u = F/k₁, the closing of each coil that is
// still open:
//
//	x = n·u                              up to u = g₀, where the first coil closes
//	x = n·(u − (u − g₀)²/(2·(g₁ − g₀)))  up to u = g₁, where the spring is solid
//
// so the travel is n·(g₀ + g₁)/2 and the rate is k₁/n divided by the share of the coils still open.
// Which end has the smaller gap makes no difference. The error names every bad field.
//
// The law is worked out from equal force in every coil; the check values are an independent
// computation in 50 digits. Not modelled: coils that touch on part of a turn, and a diameter
// that changes along the spring.
func NewLinearPitch(spec LinearPitch) (LinearPitchSpring, error) {
	c := units.Checker{Package: "coil"}
	wide := units.Positive(&c, "mean_diameter", spec.MeanDiameter)
	if units.Positive(&c, "wire_diameter", spec.WireDiameter) && wide && !(spec.WireDiameter < spec.MeanDiameter) {
		c.Fail("wire_diameter", spec.WireDiameter, units.MoreThan(0).And(units.LessThan(spec.MeanDiameter).Of("mean_diameter")), units.ErrConflict)
	}
	units.Positive(&c, "active_coils", spec.ActiveCoils)
	units.Positive(&c, "shear_modulus", spec.ShearModulus)
	units.NonNegative(&c, "first_gap", spec.FirstGap)
	units.NonNegative(&c, "last_gap", spec.LastGap)
	if spec.FirstGap == 0 && spec.LastGap == 0 {
		c.Fail("last_gap", spec.LastGap, "more than 0 where first_gap is 0", units.ErrConflict)
	}
	s := LinearPitchSpring{
		perTurn: float64(turnRate(spec.ShearModulus, spec.WireDiameter, spec.MeanDiameter)),
		coils:   spec.ActiveCoils,
		small:   float64(min(spec.FirstGap, spec.LastGap)),
		spread:  math.Abs(float64(spec.LastGap - spec.FirstGap)),
	}
	if c.OK() && !s.sound() {
		c.Fail("active_coils", spec.ActiveCoils, "with the other fields a rate, travel and energy that float64 can hold", nil)
	}
	return units.Checked(&c, s)
}

// sound reports whether all answers are finite, and none loses digits to underflow.
func (s LinearPitchSpring) sound() bool {
	const minNormal = 0x1p-1022
	stiffest, travel := s.perTurn/s.coils/openCoils, s.Travel()
	energy := float64(s.Energy(travel))
	return stiffest >= minNormal && energy >= minNormal && finite(stiffest, energy, float64(travel), float64(s.Force(travel)))
}

// closing returns how far the open coils have closed at x, split into what came before the first
// coil was shut and after: u = before + after.
func (s LinearPitchSpring) closing(x units.Length) (before, after float64) {
	if !(s.coils > 0) {
		return 0, 0
	}
	each := float64(spring.Clamp(x, s.Travel())) / s.coils
	w := each - s.small
	if !(w > 0 && s.spread > 0) {
		return min(each, s.small), 0
	}
	// The smaller root of after² − 2·spread·after + 2·spread·w = 0, without a difference.
	return s.small, 2 * w / (1 + math.Sqrt(max(1-2*w/s.spread, 0)))
}

// Force returns k₁·u in N.
func (s LinearPitchSpring) Force(x units.Length) units.Force {
	before, after := s.closing(x)
	return units.Force(s.perTurn * (before + after))
}

// Rate returns the rate in N/m. As the last coils close it grows to 1000 times the initial one, and
// stays there once a thousandth of the coils is open, a millionth of the closing travel before solid.
func (s LinearPitchSpring) Rate(x units.Length) units.Stiffness {
	if !(s.coils > 0) {
		return 0
	}
	rate := s.perTurn / s.coils
	if _, after := s.closing(x); after > 0 {
		rate /= max(1-after/s.spread, openCoils)
	}
	return units.Stiffness(rate)
}

// Energy returns the work in J from 0 to x.
func (s LinearPitchSpring) Energy(x units.Length) units.Energy {
	before, after := s.closing(x)
	e := before * before / 2
	if after > 0 { // ∫(g₀ + v)·(1 − v/spread) dv
		shut := after / s.spread
		e += s.small*after*(1-shut/2) + after*after*(0.5-shut/3)
	}
	return units.Energy(s.perTurn * s.coils * e)
}

// Travel returns n·(g₀ + g₁)/2, the travel at which the spring is solid.
func (s LinearPitchSpring) Travel() units.Length {
	return units.Length(s.coils * (s.small + s.spread/2))
}

// String returns what [spring.Describe] does.
func (s LinearPitchSpring) String() string { return spring.Describe(s) }

// finite reports whether none of the values is NaN or infinite.
func finite(values ...float64) bool {
	return !slices.ContainsFunc(values, func(v float64) bool { return v-v != 0 })
}
