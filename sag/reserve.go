package sag

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// Reserve is what an end of the bike can take beyond standing still.
type Reserve struct {
	Energy     units.Energy `json:"energy"`      // that the spring stores over the full travel
	DropHeight units.Length `json:"drop_height"` // of a drop that just uses the full travel
	FullForce  units.Force  `json:"full_force"`  // at the wheel, at full travel
}

// Reserve returns the energy that an end stores over the full wheel travel W,
// E = ∫F_w dw, over a fast stroke, and the height h of the drop that uses it up:
// load·(h + W) = E. The load is the sprung load at the wheel in N, finite
// and at least 1e-150. The height is negative where the spring bottoms under
// twice the standing load or less even without a drop.
//
// Undamped, the wheel stays on the ground, nothing but this end's spring
// takes energy: an upper bound on comfort, not a promise of safety. Not
// modelled: damping, bump stops, tyre, the rider's arms and legs.
func (e End) Reserve(load units.Force) (Reserve, error) {
	c := units.Checker{Package: "sag"}
	checkCarried(&c, load)
	e.Check(&c)
	if err := c.Err(); err != nil {
		return Reserve{}, err
	}
	return reserve(e.fast(), load), nil
}

// leastLoad is far below the load of any wheel, and far enough above 0 that
// nothing a law can answer overflows when it is divided by it.
const leastLoad = 1e-150 * units.Newton

// checkCarried checks a load that is divided by.
func checkCarried(c *units.Checker, load units.Force) {
	if units.Positive(c, "load", load) && load < leastLoad {
		c.Fail("load", load, "a load that some wheel carries", nil)
	}
}

// reserve is [End.Reserve] for what is checked already.
func reserve(wheel *linkage.WheelLaw, load units.Force) Reserve {
	w := wheel.Travel()
	e := wheel.Energy(w)
	return Reserve{
		Energy:     e,
		DropHeight: units.Length(float64(e)/float64(load)) - w,
		FullForce:  wheel.Force(w),
	}
}
