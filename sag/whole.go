package sag

import (
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Fitted is one end of the bike as it stands: a curve and the spring in it.
type Fitted struct {
	Curve *linkage.Curve
	Law   spring.Law
}

// Bike is a whole bike with a rider on it.
type Bike struct {
	Masses
	MassCentreHeight units.Length // of rider and bike above the ground, more than 0
	Front, Rear      Fitted
}

// Stance is how the whole bike comes to rest on level ground.
type Stance struct {
	FrontSag    float64      `json:"front_sag"`
	RearSag     float64      `json:"rear_sag"`
	FrontTravel units.Length `json:"front_travel"`
	RearTravel  units.Length `json:"rear_travel"`
	Pitch       units.Angle  `json:"pitch"`      // positive when the rear sags more
	RearShare   float64      `json:"rear_share"` // with the bike pitched so
}

// NewStance returns how a bike rests when both ends are let settle together.
// Sag at the two ends pitches the frame by θ = atan((w_r − w_f)/wheelbase),
// and the mass centre at height H moves back by H·sin θ, so the rear share
// becomes q₀ + H·sin θ/wheelbase; solved to 1e-12. Masses.Wheelbase is
// needed besides the share. An end that the load tops or bottoms out rests at
// that end of its travel. Bad fields are named; a bike so tall on springs so
// soft that it has no stable stance is refused with mass_centre_height.
//
// Not modelled: the change of head angle and lever ratio with pitch, and the
// wheels' fore-and-aft movement.
func NewStance(b Bike) (Stance, error) {
	c := units.Checker{Package: "sag"}
	_, err := NewLoads(b.Masses)
	c.Add("", err)
	if !c.Bad("wheelbase") {
		units.Positive(&c, "wheelbase", b.Wheelbase)
	}
	units.Positive(&c, "mass_centre_height", b.MassCentreHeight)
	var cf, cr units.Checker
	front := atWheel(&cf, b.Front.Curve, b.Front.Law)
	rear := atWheel(&cr, b.Rear.Curve, b.Rear.Law)
	c.Add("front", cf.Err())
	c.Add("rear", cr.Err())
	if err := c.Err(); err != nil {
		return Stance{}, err
	}

	q0 := b.rearShare(&c)
	base, height := float64(b.Wheelbase), float64(b.MassCentreHeight)
	total := float64(b.RiderMass+b.BikeMass) * units.StandardGravity
	var s Stance
	settle := func(q float64) float64 {
		s.FrontTravel = settleClamped(front, units.Force((1-q)*total)-b.UnsprungFront.Weight())
		s.RearTravel = settleClamped(rear, units.Force(q*total)-b.UnsprungRear.Weight())
		s.Pitch = units.Angle(math.Atan(float64(s.RearTravel-s.FrontTravel) / base))
		return q0 + height*math.Sin(float64(s.Pitch))/base
	}
	q, err := solve(func(q float64) float64 { return q - settle(q) }, 1)
	if err != nil {
		c.Fail("mass_centre_height", b.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand", units.ErrConflict)
		return Stance{}, c.Err()
	}
	settle(q)
	s.RearShare = q
	s.FrontSag = float64(s.FrontTravel / b.Front.Curve.Travel())
	s.RearSag = float64(s.RearTravel / b.Rear.Curve.Travel())
	return s, nil
}
