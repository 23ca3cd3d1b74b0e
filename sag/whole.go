package sag

import (
	"math"

	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// Bike is a whole bike with a rider on it.
type Bike struct {
	Masses      // with the share of the level bike, Wheelbase and MassCentreHeight
	Front, Rear End
}

// Stance is how the whole bike comes to rest on level ground.
type Stance struct {
	FrontSag    float64      `json:"front_sag"`
	RearSag     float64      `json:"rear_sag"`
	FrontTravel units.Length `json:"front_travel"`
	RearTravel  units.Length `json:"rear_travel"`
	FrontLoad   units.Force  `json:"front_load"` // sprung
	RearLoad    units.Force  `json:"rear_load"`  // sprung
	Pitch       units.Angle  `json:"pitch"`      // positive when the rear sags more
	RearShare   float64      `json:"rear_share"` // with the bike pitched so
}

// Stance returns how the bike rests when both ends are let settle together.
// Sag at the two ends pitches the frame by θ = atan((w_r − w_f)/wheelbase),
// and the mass centre at height H moves back by H·sin θ, so the rear share
// becomes q₀ + H·sin θ/wheelbase, with q₀ that of the level bike; solved to
// 1e-12. An end that the load tops or bottoms out rests at that end of its
// travel.
//
// Masses.Wheelbase and Masses.MassCentreHeight are needed, each more than 0.
// Bad fields are named. Scales under the wheels are refused (front_scale):
// they weigh a bike that sags, so their readings have its pitch in them
// already. A bike so tall on springs so soft that it has no stable stance is
// refused with mass_centre_height.
//
// Not modelled: the change of head angle and lever ratio with pitch, and the
// wheels' fore-and-aft movement.
func (b Bike) Stance() (Stance, error) {
	c := units.Checker{Package: "sag"}
	b.CheckStance(&c)
	front, rear := c.Child("front"), c.Child("rear")
	b.Front.Check(&front)
	b.Rear.Check(&rear)
	if err := c.Err(); err != nil {
		return Stance{}, err
	}
	s, ok := b.settle(b.rearShare(&c))
	if !ok {
		c.Fail("mass_centre_height", b.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand", units.ErrConflict)
		return Stance{}, c.Err()
	}
	return s, nil
}

// CheckStance is [Masses.Check] with what [Bike.Stance] wants besides.
func (m Masses) CheckStance(c *units.Checker) {
	m.Check(c)
	if m.Wheelbase == 0 && !c.Bad("wheelbase") {
		units.Positive(c, "wheelbase", m.Wheelbase)
	}
	if m.MassCentreHeight == 0 {
		units.Positive(c, "mass_centre_height", m.MassCentreHeight)
	}
	if m.Scaled() && !c.Bad("front_scale") {
		c.Fail("front_scale", m.FrontScale, "the share of the level bike instead: scales have the pitch in them already", units.ErrConflict)
	}
}

// settle finds the stance of a checked bike whose level share is q0.
func (b *Bike) settle(q0 float64) (Stance, bool) {
	// An end that the load tops or bottoms out stays at that end of its travel.
	travel := func(e *End, load units.Force) units.Length {
		s, _ := e.carries(load, 0, 0, e.stroke())
		return e.Curve.TravelAt(s)
	}
	base, height := float64(b.Wheelbase), float64(b.MassCentreHeight)
	total := float64(b.Total()) * units.StandardGravity
	var s Stance
	share := func(q float64) float64 {
		s.FrontLoad = units.Force((1-q)*total) - b.UnsprungFront.Weight()
		s.RearLoad = units.Force(q*total) - b.UnsprungRear.Weight()
		s.FrontTravel = travel(&b.Front, s.FrontLoad)
		s.RearTravel = travel(&b.Rear, s.RearLoad)
		s.Pitch = units.Angle(math.Atan(float64(s.RearTravel-s.FrontTravel) / base))
		return q0 + height*math.Sin(float64(s.Pitch))/base
	}
	q, err := root.Find(func(q float64) float64 { return q - share(q) }, 0, 1, 1e-13)
	if err != nil {
		return Stance{}, false
	}
	// Where more on the rear moves the mass centre back by more than that, the
	// balance is that of a pencil on its point.
	const h = 1e-6
	if !(share(q+h)-share(q-h) < 2*h) {
		return Stance{}, false
	}
	share(q)
	s.RearShare = q
	s.FrontSag = float64(s.FrontTravel / b.Front.Curve.Travel())
	s.RearSag = float64(s.RearTravel / b.Rear.Curve.Travel())
	return s, true
}
