package sag

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// State is what an end of the bike does under a load.
type State struct {
	Load units.Force `json:"load"` // sprung load at the wheel
	Rest Rest        `json:"rest"` // standing still
	// Finding is held_at_top if the spring carries the load without any sag, collapses if the load
	// takes it to full travel, and empty otherwise.
	Finding Finding `json:"finding,omitempty"`
	// FastSpringRate, FastWheelRate and FastFrequency hold for a stroke about the rest too fast for
	// the gas to exchange heat. For a coil they equal Rest's.
	FastSpringRate units.Stiffness `json:"fast_spring_rate"`
	FastWheelRate  units.Stiffness `json:"fast_wheel_rate"`
	FastFrequency  units.Frequency `json:"fast_frequency"`
	// MinWheelRate is the least wheel rate over the travel, standing still, and MinRateTravel where
	// it is; see [linkage.WheelLaw.MinRate].
	MinWheelRate  units.Stiffness `json:"min_wheel_rate"`
	MinRateTravel units.Length    `json:"min_rate_travel"`
	TravelLeft    units.Length    `json:"travel_left"` // of the wheel, from the rest to full travel
	EnergyLeft    units.Energy    `json:"energy_left"` // that the spring stores over TravelLeft, in a fast stroke
	Reserve       Reserve         `json:"reserve"`     // over the full travel
	FullRatio     float64         `json:"full_ratio"`  // Reserve.FullForce over Load
}

// Under returns what an end does under a load: the sprung load at the wheel in N, finite and at
// least 1e-150. A load that tops or bottoms the end out is a finding, and the rest is then that end
// of the travel.
//
// Over a fast stroke about its rest a gas is n times as stiff as standing still: dF/dx = n·p·A²/V
// summed over its chambers, with the same force at the rest. FastSpringRate is exact for a spring
// whose whole rate is that of its gas.
//
// Not modelled: see [End.Settle].
func (e End) Under(load units.Force) (State, error) {
	if err := e.checkUnder(load); err != nil {
		return State{}, err
	}
	rest, _, err := e.settleWithin(load)
	if err != nil {
		return State{}, err
	}
	return e.StateAt(rest, load), nil
}

// checkUnder returns what is wrong with an end or a load on it.
func (e *End) checkUnder(load units.Force) error {
	c := units.Checker{Package: "sag"}
	CheckLoad(&c, load)
	e.Check(&c)
	return c.Err()
}

// StateAt is [End.Under] for an end whose rest under the load is known from [End.SettleWithin] or
// [End.RestAt]. The end must pass [End.Check] and the load [CheckLoad].
func (e End) StateAt(rest Rest, load units.Force) State {
	still := e.still()
	fast := still
	if e.Fast != nil {
		fast = e.fast()
	}
	s := State{Load: load, Rest: rest}
	switch excess := e.excess(load, rest.Stroke); {
	case rest.Stroke == 0 && excess > 0:
		s.Finding = HeldAtTop
	case rest.Stroke == e.stroke() && excess < 0:
		s.Finding = Collapses
	}
	s.FastSpringRate = units.Stiffness(max(e.Exponent, 1)) * rest.SpringRate
	s.FastWheelRate = WheelRate(s.FastSpringRate, e.Law.Force(rest.Stroke), rest.LeverRatio, e.Curve.LeverRatioSlope(rest.Stroke))
	s.FastFrequency = Frequency(s.FastWheelRate, load)
	s.MinWheelRate, s.MinRateTravel = still.MinRate()
	s.Reserve = reserve(fast, load)
	s.FullRatio = float64(s.Reserve.FullForce / load)
	s.TravelLeft = fast.Travel() - rest.Travel
	s.EnergyLeft = s.Reserve.Energy - fast.Energy(rest.Travel)
	return s
}

// Reserve is what an end of the bike can take over its full travel, in a fast stroke.
type Reserve struct {
	Energy     units.Energy `json:"energy"`      // that the spring stores
	DropHeight units.Length `json:"drop_height"` // of a drop that just uses the full travel
	FullForce  units.Force  `json:"full_force"`  // at the wheel, at full travel
}

// Reserve returns the energy that an end stores over the full wheel travel W, E = ∫F_w dw, over a
// fast stroke, and the height h of the drop that uses it up: load·(h + W) = E. The load is the
// sprung load at the wheel in N, finite and at least 1e-150. The height is negative where the load,
// let down at full extension, bottoms out without a drop.
//
// The height serves to compare springs; it is no promise of safety.
//
// Not modelled: damping, bump stops, the tyre, the rider's arms and legs.
func (e End) Reserve(load units.Force) (Reserve, error) {
	if err := e.checkUnder(load); err != nil {
		return Reserve{}, err
	}
	return reserve(e.fast(), load), nil
}

// reserve is [End.Reserve] for a law and a load that have been checked.
func reserve(wheel *linkage.WheelLaw, load units.Force) Reserve {
	w := wheel.Travel()
	e := wheel.Energy(w)
	return Reserve{Energy: e, DropHeight: units.Length(float64(e)/float64(load)) - w, FullForce: wheel.Force(w)}
}
