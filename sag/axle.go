package sag

import "example.com/wheelrate/units"

// Axle names one end of the bike.
type Axle string

// The two axles.
const (
	Front Axle = "front"
	Rear  Axle = "rear"
)

// AxleShare is what one axle carries of a bike and a rider who is still to come.
type AxleShare struct {
	End       Axle       `json:"end"`
	RearShare float64    `json:"rear_share"`         // of the total weight on the rear wheel, between 0 and 1
	BikeMass  units.Mass `json:"bike_mass"`          // of the whole bike, more than 0
	Unsprung  units.Mass `json:"unsprung,omitempty"` // at this end, the part of BikeMass that its spring does not carry
}

// check records what is wrong with a share.
func (a AxleShare) check(c *units.Checker) {
	units.Inside(c, "rear_share", a.RearShare, 0, 1)
	units.Positive(c, "bike_mass", a.BikeMass)
	units.NonNegative(c, "unsprung", a.Unsprung)
	if a.End != Front && a.End != Rear {
		c.Fail("end", string(a.End), `"front" or "rear"`, units.ErrUnknown)
	}
}

// share returns the part of the total weight on this end.
func (a AxleShare) share() float64 {
	if a.End == Front {
		return 1 - a.RearShare
	}
	return a.RearShare
}

// load returns the sprung load at the wheel with a rider of a mass.
func (a AxleShare) load(rider units.Mass) units.Force {
	return (units.Mass(a.share())*(rider+a.BikeMass) - a.Unsprung).Weight()
}

// rider returns the mass of the rider with whom a sprung load stands on the wheel, the inverse of
// load.
func (a AxleShare) rider(load units.Force) units.Mass {
	return units.Mass(float64(load.Mass()+a.Unsprung)/a.share()) - a.BikeMass
}
