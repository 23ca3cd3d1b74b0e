package sag

import (
	"math"

	"example.com/wheelrate/units"
)

// Masses says what stands on the two wheels and how it is shared between
// them. Give either RearShare, or Wheelbase and MassCentreBehindFrontAxle.
type Masses struct {
	// RiderMass is the rider's mass dressed and packed to ride, more than 0.
	RiderMass units.Mass `json:"rider_mass"`
	// BikeMass is the whole bike's mass, more than 0.
	BikeMass units.Mass `json:"bike_mass"`
	// UnsprungFront and UnsprungRear are the parts of BikeMass that the
	// springs do not carry: wheel, brake, lower legs; wheel, brake, drive and
	// a share of the linkage. 0 or more; 0 puts the whole load on the spring.
	UnsprungFront units.Mass `json:"unsprung_front,omitempty"`
	UnsprungRear  units.Mass `json:"unsprung_rear,omitempty"`
	// RearShare is the part of the total weight on the rear wheel, more than
	// 0 and less than 1, in the stance the answer is wanted for.
	RearShare float64 `json:"rear_share,omitempty"`
	// Wheelbase and MassCentreBehindFrontAxle give the share from a mass
	// centre instead: distance behind the front axle over wheelbase.
	Wheelbase                 units.Length `json:"wheelbase,omitempty"`
	MassCentreBehindFrontAxle units.Length `json:"mass_centre_behind_front_axle,omitempty"`
}

// Loads are the vertical forces at the two wheels of a bike standing level.
type Loads struct {
	FrontWheel units.Force `json:"front_wheel_load"` // of the front wheel on the ground
	RearWheel  units.Force `json:"rear_wheel_load"`  // of the rear wheel on the ground
	Front      units.Force `json:"front_load"`       // sprung part of FrontWheel, what the fork carries
	Rear       units.Force `json:"rear_load"`        // sprung part of RearWheel, what the rear spring carries through its linkage
	RearShare  float64     `json:"rear_share"`       // RearWheel over the total weight
}

// NewLoads returns the wheel loads of a rider and a bike on level ground:
//
//	rear wheel  = q · (rider + bike) · g₀
//	front wheel = (1 − q) · (rider + bike) · g₀
//	sprung load = wheel load − unsprung mass · g₀
//
// with q the rear share, or a/L for a mass centre at a behind the front axle
// of a wheelbase L (statics of a beam on two supports), and g₀ standard
// gravity, 9.80665 m/s² exactly. Every mass must be finite and more than 0
// (unsprung masses 0 or more), q strictly between 0 and 1, and each sprung load
// more than 0; the error names every field that is not so.
//
// Not modelled: air resistance, slopes, braking and driving forces.
func NewLoads(m Masses) (Loads, error) {
	c := units.Checker{Package: "sag"}
	units.Positive(&c, "rider_mass", m.RiderMass)
	units.Positive(&c, "bike_mass", m.BikeMass)
	units.NonNegative(&c, "unsprung_front", m.UnsprungFront)
	units.NonNegative(&c, "unsprung_rear", m.UnsprungRear)
	q := m.rearShare(&c)
	if !c.OK() {
		return Loads{}, c.Err()
	}
	total := float64(m.RiderMass+m.BikeMass) * units.StandardGravity
	l := Loads{
		FrontWheel: units.Force((1 - q) * total),
		RearWheel:  units.Force(q * total),
		RearShare:  q,
	}
	l.Front = l.FrontWheel - m.UnsprungFront.Weight()
	l.Rear = l.RearWheel - m.UnsprungRear.Weight()
	if !(l.Front > 0) || math.IsInf(float64(l.Front), 0) {
		c.Fail("unsprung_front", m.UnsprungFront, "less than what stands on the front wheel, "+l.FrontWheel.Mass().String(), units.ErrConflict)
	}
	if !(l.Rear > 0) || math.IsInf(float64(l.Rear), 0) {
		c.Fail("unsprung_rear", m.UnsprungRear, "less than what stands on the rear wheel, "+l.RearWheel.Mass().String(), units.ErrConflict)
	}
	if !c.OK() {
		return Loads{}, c.Err()
	}
	return l, nil
}

// rearShare checks and returns q from whichever of the two ways is given.
func (m Masses) rearShare(c *units.Checker) float64 {
	fromCentre := m.MassCentreBehindFrontAxle != 0
	switch {
	case fromCentre && m.RearShare != 0:
		c.Fail("rear_share", m.RearShare, "nothing beside mass_centre_behind_front_axle, or the share alone", units.ErrConflict)
	case fromCentre:
		if units.Positive(c, "wheelbase", m.Wheelbase) {
			units.Inside(c, "mass_centre_behind_front_axle", m.MassCentreBehindFrontAxle, 0, m.Wheelbase)
		}
		return float64(m.MassCentreBehindFrontAxle) / float64(m.Wheelbase)
	case m.RearShare == 0 && m.Wheelbase == 0:
		c.Fail("rear_share", nil, "a share between 0 and 1, or wheelbase and mass_centre_behind_front_axle", units.ErrMissing)
	case m.RearShare == 0:
		c.Fail("mass_centre_behind_front_axle", nil, "a length inside the wheelbase, or rear_share instead", units.ErrMissing)
	default:
		units.Inside(c, "rear_share", m.RearShare, 0, 1)
	}
	return m.RearShare
}
