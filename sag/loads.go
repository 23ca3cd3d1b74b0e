package sag

import (
	"cmp"
	"math"

	"example.com/wheelrate/units"
)

// Masses are the rider's and the bike's, and how their weight is shared between the wheels. Give
// exactly one of RearShare, MassCentreBehindFrontAxle with Wheelbase, and FrontScale with RearScale.
type Masses struct {
	// RiderMass is the rider's mass dressed and packed to ride, more than 0. It may be left out if
	// scales show what rider and bike weigh together.
	RiderMass units.Mass `json:"rider_mass,omitempty"`
	BikeMass  units.Mass `json:"bike_mass"` // of the whole bike, more than 0
	// UnsprungFront and UnsprungRear are the parts of BikeMass that the springs do not carry: wheel,
	// brake, lower legs; wheel, brake, drive and a share of the linkage. 0 or more. Nil is not
	// stated, and the whole load is then on the spring; see [Masses.CheckStated].
	UnsprungFront *units.Mass `json:"unsprung_front,omitempty"`
	UnsprungRear  *units.Mass `json:"unsprung_rear,omitempty"`
	// RearShare is the part of the total weight on the rear wheel, more than 0 and less than 1, in
	// the stance the answer is wanted for.
	RearShare float64 `json:"rear_share,omitempty"`
	// Wheelbase and MassCentreBehindFrontAxle give the share from a mass centre instead: its
	// distance behind the front axle over the wheelbase.
	Wheelbase                 units.Length `json:"wheelbase,omitempty"`
	MassCentreBehindFrontAxle units.Length `json:"mass_centre_behind_front_axle,omitempty"`
	// FrontScale and RearScale are what two scales show, one under each wheel, with the rider on in
	// the stance the answer is wanted for. They are the loads then, whatever RiderMass and BikeMass
	// add up to.
	FrontScale units.Mass `json:"front_scale,omitempty"`
	RearScale  units.Mass `json:"rear_scale,omitempty"`
	// MassCentreHeight is the height of the mass centre of what the springs carry above the ground, at full extension, 0 if
	// unknown. With Wheelbase it lets the two ends settle together; see [Bike.Stance].
	MassCentreHeight units.Length `json:"mass_centre_height,omitempty"`
	// WheelRadius is the rolling radius of both wheels under load, or FrontWheelRadius and
	// RearWheelRadius are; 0 if unknown. With MassCentreHeight they let the two ends settle together.
	WheelRadius      units.Length `json:"wheel_radius,omitempty"`
	FrontWheelRadius units.Length `json:"front_wheel_radius,omitempty"`
	RearWheelRadius  units.Length `json:"rear_wheel_radius,omitempty"`
	// ForkOffset is the distance of the front axle from the steering axis, at right angles to it and
	// positive ahead of it, −1 m to 1 m. Nil is unknown. With it the trail of a fork is known.
	ForkOffset *units.Length `json:"fork_offset,omitempty"`
	// BottomBracketHeight is the height of the bottom bracket's centre above the ground, and
	// ChainstayLength its distance from the rear axle, both at full extension; 0 if unknown. With both of
	// them its height is known wherever the bike rests.
	BottomBracketHeight units.Length `json:"bottom_bracket_height,omitempty"`
	ChainstayLength     units.Length `json:"chainstay_length,omitempty"`
	// BikeRearShare is the part of the bike's own weight on the rear wheel with nobody on it, 0 if
	// unknown; see [Masses.BikeLoads].
	BikeRearShare float64 `json:"bike_rear_share,omitempty"`
}

// Loads are the vertical forces at the two wheels of a bike standing level.
type Loads struct {
	FrontWheel units.Force `json:"front_wheel_load"` // of the front wheel on the ground
	RearWheel  units.Force `json:"rear_wheel_load"`  // of the rear wheel on the ground
	Front      units.Force `json:"front_load"`       // sprung part of FrontWheel, what the fork carries
	Rear       units.Force `json:"rear_load"`        // sprung part of RearWheel, what the rear spring carries through its linkage
	RearShare  float64     `json:"rear_share"`       // RearWheel over the total weight
}

// Loads returns the wheel loads of a rider and a bike on level ground:
//
//	rear wheel  = q · (rider + bike) · g₀
//	front wheel = (1 − q) · (rider + bike) · g₀
//	sprung load = wheel load − unsprung mass · g₀
//
// with q the rear share, or a/L for a mass centre at a behind the front axle of a wheelbase L
// (statics of a beam on two supports), and g₀ standard gravity, 9.80665 m/s² exactly. With scales
// under the wheels the wheel loads are their readings times g₀.
//
// Every mass must be finite and more than 0, unsprung masses 0 or more. The share q lies strictly
// between 0 and 1, the readings add up to more than the bike's mass, and each sprung load is more
// than 0. The error names every bad field.
//
// Not modelled: air resistance, slopes, braking and driving forces.
func (m Masses) Loads() (Loads, error) {
	c := units.Checker{Package: "sag"}
	l := m.Check(&c)
	return l, c.Err()
}

// Check records what is wrong with the masses, and returns the loads if nothing is.
func (m Masses) Check(c *units.Checker) Loads {
	if !m.Scaled() || m.RiderMass != 0 {
		units.Positive(c, "rider_mass", m.RiderMass)
	}
	q := m.checkBike(c, true)
	if c.OK() && m.Scaled() && !(m.Total() > m.BikeMass) {
		c.Fail("bike_mass", m.BikeMass, units.LessThan(m.Total()).With("which the scales show together"), units.ErrConflict)
	}
	return m.share(c, m.Total(), q)
}

// BikeLoads returns the wheel loads of the bike with nobody on it, under which it has its free sag.
// The equations and the checks are those of [Masses.Loads] without the rider; RiderMass is ignored.
// The share is BikeRearShare. If that is 0, it is the share with the rider on, which puts too much
// on the rear wheel of most bikes.
func (m Masses) BikeLoads() (Loads, error) {
	c := units.Checker{Package: "sag"}
	shared := m.BikeRearShare == 0 || m.RearShare != 0 || m.MassCentreBehindFrontAxle != 0 || m.Scaled()
	q := m.checkBike(&c, shared)
	l := m.share(&c, m.BikeMass, cmp.Or(m.BikeRearShare, q))
	return l, c.Err()
}

// Unsprung returns the unsprung mass at an axle, 0 where it is not stated.
func (m Masses) Unsprung(at Axle) units.Mass {
	if stated := AtAxle(at, m.UnsprungFront, m.UnsprungRear); stated != nil {
		return *stated
	}
	return 0
}

// CheckStated records the unsprung mass at an axle if it is not stated. A job needs it: left out, the
// spring comes out too hard by it.
func (m Masses) CheckStated(c *units.Checker, at Axle) {
	if AtAxle(at, m.UnsprungFront, m.UnsprungRear) == nil {
		c.Fail("unsprung_"+string(at), nil, "what the spring does not carry, such as wheel and brake, or 0 kg to leave it out", units.ErrMissing)
	}
}

// Rider returns the rider's mass: as stated, or what the scales show beyond the bike's mass.
func (m Masses) Rider() units.Mass {
	if m.RiderMass != 0 || !m.Scaled() {
		return m.RiderMass
	}
	return m.Total() - m.BikeMass
}

// WithRearShare returns the masses with another share of the same weight on the rear wheel, in
// place of the one stated, the mass centre or the scales.
func (m Masses) WithRearShare(q float64) Masses {
	if m.Scaled() {
		m.RiderMass = m.Total() - m.BikeMass
		m.FrontScale, m.RearScale = 0, 0
	}
	m.RearShare, m.MassCentreBehindFrontAxle = q, 0
	return m
}

// LoadsWith returns the loads with a rider of another mass in kg, who shares the weight between the
// wheels as stated; 0 is nobody, for which see [Masses.BikeLoads].
func (m Masses) LoadsWith(rider units.Mass) (Loads, error) {
	if rider == 0 {
		return m.BikeLoads()
	}
	if m.Scaled() {
		m = m.WithRearShare(float64(m.RearScale / m.Total()))
	}
	m.RiderMass = rider
	return m.Loads()
}

// SprungLoad returns the sprung load at an axle of a mass in kg that is shared between the wheels as
// stated. It is less than 0 where the wheel carries less than its unsprung mass. The masses must pass
// [Masses.Check].
func (m Masses) SprungLoad(at Axle, mass units.Mass) units.Force {
	q := m.RearShare
	switch {
	case m.Scaled():
		q = float64(m.RearScale / m.Total())
	case m.MassCentreBehindFrontAxle != 0:
		q = float64(m.MassCentreBehindFrontAxle / m.Wheelbase)
	}
	return m.put(mass, q).Load(at)
}

// Load returns the sprung load at an axle.
func (l Loads) Load(at Axle) units.Force { return AtAxle(at, l.Front, l.Rear) }

// Scaled reports whether scales show what stands on the wheels.
func (m Masses) Scaled() bool { return m.FrontScale != 0 || m.RearScale != 0 }

// Total returns the mass of rider and bike together.
func (m Masses) Total() units.Mass {
	if m.Scaled() {
		return m.FrontScale + m.RearScale
	}
	return m.RiderMass + m.BikeMass
}

// CheckBike records what is wrong with the masses of a bike for which there is no rider yet.
// RiderMass is ignored. Scales are refused, since they weigh one rider (front_scale).
func (m Masses) CheckBike(c *units.Checker) {
	if m.Scaled() {
		c.Fail("front_scale", m.FrontScale, "a share or a mass centre instead: scales weigh one rider", units.ErrConflict)
	} else {
		m.rearShare(c)
	}
	m.checkBike(c, false)
}

// checkBike records what is wrong with all but the rider's mass, and returns q of [Masses.Loads] if
// the share with the rider on is wanted.
func (m Masses) checkBike(c *units.Checker, shared bool) (q float64) {
	units.Positive(c, "bike_mass", m.BikeMass)
	units.NonNegative(c, "unsprung_front", m.Unsprung(Front))
	units.NonNegative(c, "unsprung_rear", m.Unsprung(Rear))
	if shared {
		q = m.rearShare(c)
	}
	m.checkGeometry(c)
	if m.MassCentreHeight != 0 && units.Positive(c, "mass_centre_height", m.MassCentreHeight) && m.Wheelbase == 0 && !c.Bad("wheelbase") {
		c.Fail("wheelbase", nil, "the distance between the axles, with mass_centre_height", units.ErrMissing)
	}
	if m.BikeRearShare != 0 {
		units.Inside(c, "bike_rear_share", m.BikeRearShare, 0, 1)
	}
	return q
}

// rearShare returns q from whichever of the three ways is given, and records what is wrong with it.
func (m Masses) rearShare(c *units.Checker) float64 {
	centre := m.MassCentreBehindFrontAxle
	switch {
	case m.Scaled():
		return m.scaledShare(c)
	case centre != 0 && m.RearShare != 0:
		c.Fail("rear_share", m.RearShare, units.Without("mass_centre_behind_front_axle").With("or the share alone"), units.ErrConflict)
	case centre != 0:
		if units.Positive(c, "wheelbase", m.Wheelbase) {
			units.Inside(c, "mass_centre_behind_front_axle", centre, 0, m.Wheelbase)
		}
		return float64(centre / m.Wheelbase)
	case m.RearShare != 0:
		units.Inside(c, "rear_share", m.RearShare, 0, 1)
	case m.Wheelbase == 0:
		c.Fail("rear_share", nil, "a share between 0 and 1, or wheelbase and mass_centre_behind_front_axle, or front_scale and rear_scale", units.ErrMissing)
	default:
		c.Fail("mass_centre_behind_front_axle", nil, "a length inside the wheelbase, or rear_share instead", units.ErrMissing)
	}
	return m.RearShare
}

// scaledShare is rearShare for scales under the wheels.
func (m Masses) scaledShare(c *units.Checker) float64 {
	front, rear := units.Positive(c, "front_scale", m.FrontScale), units.Positive(c, "rear_scale", m.RearScale)
	if m.RearShare != 0 {
		c.Fail("rear_share", m.RearShare, units.Without("front_scale", "rear_scale").With("or the share alone"), units.ErrConflict)
	}
	if m.MassCentreBehindFrontAxle != 0 {
		c.Fail("mass_centre_behind_front_axle", m.MassCentreBehindFrontAxle, units.Without("front_scale", "rear_scale"), units.ErrConflict)
	}
	q := float64(m.RearScale / m.Total())
	if front && rear && !(q > 0 && q < 1) {
		c.Fail("rear_scale", m.RearScale, "a reading of a scale beside that of front_scale", units.ErrConflict)
	}
	return q
}

// share returns the loads of a mass with a share q of it on the rear wheel, and records an end that
// carries nothing. It returns no loads where anything is wrong.
func (m Masses) share(c *units.Checker, mass units.Mass, q float64) Loads {
	if !c.OK() {
		return Loads{}
	}
	l := m.put(mass, q)
	check := func(field string, unsprung units.Mass, sprung, wheel units.Force) {
		if !(sprung > 0) || math.IsInf(float64(sprung), 0) {
			c.Fail(field, unsprung, units.LessThan(wheel.Mass()).With("which stands on the wheel"), units.ErrConflict)
		}
	}
	check("unsprung_front", m.Unsprung(Front), l.Front, l.FrontWheel)
	check("unsprung_rear", m.Unsprung(Rear), l.Rear, l.RearWheel)
	if !c.OK() {
		return Loads{}
	}
	return l
}

// put returns the loads of a mass with a share q of it on the rear wheel.
func (m Masses) put(mass units.Mass, q float64) Loads {
	weight := mass.Weight()
	l := Loads{FrontWheel: units.Force(1-q) * weight, RearWheel: units.Force(q) * weight, RearShare: q}
	l.Front = l.FrontWheel - m.Unsprung(Front).Weight()
	l.Rear = l.RearWheel - m.Unsprung(Rear).Weight()
	return l
}
