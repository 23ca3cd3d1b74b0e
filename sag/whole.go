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

// Stance returns how the bike rests when both ends settle together. Sag at the two ends pitches the
// frame by θ = atan((w_r − w_f)/wheelbase), and the mass centre at height H moves back by H·sin θ.
// The rear share becomes q₀ + H·sin θ/wheelbase, with q₀ that of the level bike. It is solved for to
// 1e-12. An end that the load tops or bottoms out rests at that end of its travel.
//
// Masses.Wheelbase and Masses.MassCentreHeight are needed, each more than 0 m. The error names every
// bad field: front_scale if scales are given, since the pitch is in their readings already, and
// mass_centre_height for a bike so tall on springs so soft that it has no stable stance.
//
// Not modelled: friction, the change of head angle and lever ratio with pitch, and the wheels'
// fore-and-aft movement.
func (b Bike) Stance() (Stance, error) {
	c := units.Checker{Package: "sag"}
	level := b.CheckStance(&c)
	front, rear := c.Child("front"), c.Child("rear")
	b.Front.Check(&front)
	b.Rear.Check(&rear)
	if err := c.Err(); err != nil {
		return Stance{}, err
	}
	// at returns the stance of the springs under the loads of a rear share.
	at := func(q float64) Stance {
		l := b.Masses.put(b.Total(), q)
		s := Stance{FrontLoad: l.Front, RearLoad: l.Rear, RearShare: q}
		s.FrontTravel, s.RearTravel = b.Front.Curve.TravelAt(b.Front.carries(l.Front)), b.Rear.Curve.TravelAt(b.Rear.carries(l.Rear))
		s.FrontSag, s.RearSag = float64(s.FrontTravel/b.Front.Curve.Travel()), float64(s.RearTravel/b.Rear.Curve.Travel())
		s.Pitch = units.Angle(math.Atan(float64((s.RearTravel - s.FrontTravel) / b.Wheelbase)))
		return s
	}
	// excess returns by how much a share is more than the one that its stance makes.
	excess := func(q float64) float64 {
		return q - level.RearShare - float64(b.MassCentreHeight/b.Wheelbase)*math.Sin(float64(at(q).Pitch))
	}
	q, err := root.Find(excess, 0, 1, 1e-13)
	// The balance is unstable where more on the rear moves the mass centre back by more than that.
	const h = 1e-6
	if err != nil || !(excess(q+h) > excess(q-h)) {
		c.Fail("mass_centre_height", b.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand", units.ErrConflict)
		return Stance{}, c.Err()
	}
	return at(q), nil
}

// CheckStance is [Masses.Check] that also requires Wheelbase and MassCentreHeight and refuses
// scales, as [Bike.Stance] does.
func (m Masses) CheckStance(c *units.Checker) Loads {
	level := m.Check(c)
	if m.Wheelbase == 0 && !c.Bad("wheelbase") {
		units.Positive(c, "wheelbase", m.Wheelbase)
	}
	if m.MassCentreHeight == 0 {
		units.Positive(c, "mass_centre_height", m.MassCentreHeight)
	}
	if m.Scaled() && !c.Bad("front_scale") {
		c.Fail("front_scale", m.FrontScale, "the share of the level bike instead: scales have the pitch in them already", units.ErrConflict)
	}
	return level
}
