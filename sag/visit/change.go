package visit

import (
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Situation is who rides, with which kit, and where.
type Situation struct {
	Masses sag.Masses `json:"masses"`
	// Conditions are the temperature of the gas and the altitude. A [Change] has them in both
	// situations or in neither. Without them the gas and the air around it stay as they are.
	Conditions *airspring.Conditions `json:"conditions,omitempty"`
}

// Check records what is wrong with a situation of a bike that has these ends, such as
// masses.rider_mass, and returns the loads in it.
func (s Situation) Check(c *units.Checker, ends ...sag.Axle) sag.Loads {
	return s.check(c, false, slices.Contains(ends, sag.Front), slices.Contains(ends, sag.Rear))
}

// check records what is wrong with a situation, and that its conditions are missing if they are
// wanted. It returns the loads in it.
func (s Situation) check(c *units.Checker, conditions, front, rear bool) sag.Loads {
	masses := c.Child("masses")
	loads := s.Masses.Check(&masses)
	if front {
		s.Masses.CheckStated(&masses, sag.Front)
	}
	if rear {
		s.Masses.CheckStated(&masses, sag.Rear)
	}
	if s.Conditions != nil {
		own := c.Child("conditions")
		units.Between(&own, "temperature", s.Conditions.Temperature, 200*units.Kelvin, 400*units.Kelvin)
		_, err := airspring.Atmosphere(s.Conditions.Altitude)
		own.Add("", err)
	} else if conditions {
		c.Fail("conditions", nil, "temperature and altitude here too", units.ErrMissing)
	}
	return loads
}

// Change is a bike that was set in one situation and is ridden in another. At least one end is
// given. Fills are what a gauge shows in the first situation. An air spring without an Ambient gets
// the standard atmosphere's at the altitude of the first situation.
type Change struct {
	From  Situation `json:"from"`
	To    Situation `json:"to"`
	Front *Setting  `json:"front,omitempty"`
	Rear  *Setting  `json:"rear,omitempty"`
}

// Effect is what a [Change] does to a bike, and what to set instead.
type Effect struct {
	From     sag.Loads     `json:"from"` // in the first situation
	To       sag.Loads     `json:"to"`   // in the second situation
	Front    *EndEffect    `json:"front,omitempty"`
	Rear     *EndEffect    `json:"rear,omitempty"`
	Cautions []fit.Caution `json:"cautions"`
}

// EndEffect is one end of the bike before and after a [Change].
type EndEffect struct {
	Now   Outcome    `json:"now"`   // as set, in the first situation
	Leave Outcome    `json:"leave"` // as set, in the second situation
	Set   Correction `json:"set"`   // for the target in the second situation; its changes are from what is set in Leave
}

// Outcome is where an end rests under a load.
type Outcome struct {
	Load units.Force `json:"load"` // sprung load at the wheel
	// Fill is the gauge pressure at full extension before a pump is connected, whose hose lowers it
	// ([airspring.HoseReading]). It is 0 for a coil.
	Fill     units.GaugePressure    `json:"fill,omitempty"`
	Ambient  units.AbsolutePressure `json:"ambient,omitempty"` // the pressure around; 0 for a coil
	Rest     sag.Rest               `json:"rest"`
	Miss     float64                `json:"miss"` // Rest.Sag less the target, as a fraction of full travel
	Findings []sag.Finding          `json:"findings"`
}

// OverMarking is the finding of a fill that is above the marking on the part because of heat or
// altitude. Let air out until it is not.
const OverMarking sag.Finding = "over_marking"

// Effect returns where a bike rests before a change of rider, kit, temperature or altitude, where it
// rests after it if nothing is set anew, and what to set: preload or rate for a coil, and for air
// the fill that a gauge is to show in the second situation, never above the marking.
//
// The pressure of a gas that is left alone changes as [airspring.SpecAt] says. The ambient changes
// in proportion to the standard atmosphere at the two altitudes ([airspring.Atmosphere]), so that an
// ambient measured in the first situation is taken on to the second. Temperatures are from 200 to
// 400 K, altitudes from −500 to 11 000 m. The error names every bad field, such as
// to.masses.rider_mass, rear.air.bore or to.conditions.temperature.
//
// Not modelled: springs that soften as they warm, oil that thins and expands, a rider whose stance
// changes with the kit.
func (ch Change) Effect() (*Effect, error) {
	c := units.Checker{Package: "sag"}
	from, to, own := c.Child("from"), c.Child("to"), [2]units.Checker{c.Child("front"), c.Child("rear")}
	front, rear := ch.Front != nil, ch.Rear != nil
	a := &Effect{From: ch.From.check(&from, ch.To.Conditions != nil, front, rear), To: ch.To.check(&to, ch.From.Conditions != nil, front, rear)}
	if ch.Front == nil && ch.Rear == nil {
		c.Fail("front", nil, "an end of the bike, or rear", units.ErrMissing)
	}
	var ends [2]*end
	var air, coil bool
	for i, s := range [2]*Setting{ch.Front, ch.Rear} {
		if s != nil {
			ends[i] = s.at(ch.From.Conditions).end(&own[i])
			air, coil = air || s.Air != nil, coil || s.Coil != nil
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	a.Front = ends[0].effect(&own[0], ch, a.From.Front, a.To.Front)
	a.Rear = ends[1].effect(&own[1], ch, a.From.Rear, a.To.Rear)
	if err := c.Err(); err != nil {
		return nil, err
	}
	a.Cautions = fit.Cautions(air, coil)
	return a, nil
}

// effect returns the effect on an end that passed all checks; nil for a nil end.
func (e *end) effect(c *units.Checker, ch Change, from, to units.Force) *EndEffect {
	if e == nil {
		return nil
	}
	a := &EndEffect{}
	var err error
	if a.Now, err = e.outcome(from); err == nil {
		err = e.carry(ch)
	}
	if err == nil {
		a.Leave, err = e.outcome(to)
	}
	if err == nil {
		a.Set, err = e.correction(to)
	}
	c.Add("", err)
	return a
}

// carry changes the gas of an air spring to the conditions of the second situation.
func (e *end) carry(ch Change) error {
	from, to := ch.From.Conditions, ch.To.Conditions
	if e.set.Air == nil || to == nil {
		return nil
	}
	low, _ := airspring.Atmosphere(from.Altitude) // good, as the situations are
	high, _ := airspring.Atmosphere(to.Altitude)
	around := e.gas.Ambient * units.AbsolutePressure(float64(high.Pressure/low.Pressure))
	moved, err := airspring.SpecAt(e.gas, from.Temperature, to.Temperature, around)
	if err != nil {
		return &units.FieldError{Package: "sag", Field: "air.fill", Value: e.gas.Fill, Class: units.ErrConflict,
			Want: "a fill that is still above the ambient at the other temperature and altitude"}
	}
	e.gas = moved
	e.Law, err = airspring.New(moved)
	return err
}

// outcome returns where an end that passed all checks rests under a load.
func (e *end) outcome(load units.Force) (Outcome, error) {
	rest, miss, err := fit.MissOf(e.End, sag.Target{Load: load, Sag: e.set.Sag}, 0)
	if err != nil {
		return Outcome{}, err
	}
	o := Outcome{Load: load, Rest: rest, Miss: miss.Sag, Findings: miss.Findings}
	if air := e.set.Air; air != nil {
		o.Fill, o.Ambient = e.gas.Fill, e.gas.Ambient
		if o.Fill > air.MaxFill {
			o.Findings = append(o.Findings, OverMarking)
		}
	}
	return o, nil
}
