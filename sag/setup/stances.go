package setup

import (
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// EndRest is one end at rest with the recommended spring, under another load than the sheet's.
type EndRest struct {
	WheelLoad units.Force `json:"wheel_load"` // of the wheel on the ground
	Load      units.Force `json:"load"`       // sprung
	Rest      sag.Rest    `json:"rest"`
	Finding   sag.Finding `json:"finding,omitempty"` // [sag.HeldAtTop], [sag.Collapses], or empty
}

// Standings are both ends at rest under other loads than the sheet's, each by itself.
type Standings struct {
	Loads sag.Loads `json:"loads"`
	Front *EndRest  `json:"front,omitempty"` // nil for an end that the job does not have or that has no State, as is Rear
	Rear  *EndRest  `json:"rear,omitempty"`
}

// StanceSheet is the recommended set-up in one of the job's stances. The Standings are those on level
// ground, with the wheels rolling freely.
type StanceSheet struct {
	Name string `json:"name"`
	sag.Ground
	Standings
	Coupled *sag.Stance `json:"coupled,omitempty"` // both ends settled together; nil if [Sheet.Coupled] is
}

// Coupled is the recommended set-up with both ends settled together, see [sag.Bike.Stance], and the
// change from each end settled by itself on level ground. Sags are fractions of the wheel's full
// travel.
type Coupled struct {
	sag.Stance
	FrontSagChange  float64 `json:"front_sag_change"`
	RearSagChange   float64 `json:"rear_sag_change"`
	RearShareChange float64 `json:"rear_share_change"`
}

// FreeSag is the recommended set-up with nobody on the bike.
type FreeSag struct {
	Standings
	ShareAssumed bool `json:"share_assumed"` // the job has no bike_rear_share, and that with the rider on is taken
}

// stand settles both ends under other loads, each by itself.
func (s *Sheet) stand(c *units.Checker, l sag.Loads) Standings {
	st := Standings{Loads: l}
	for _, e := range s.Ends() {
		if e.known() {
			rest, finding, err := e.End().SettleWithin(l.Load(e.Axle))
			c.Add(string(e.Axle), err)
			*sag.AtAxle(e.Axle, &st.Front, &st.Rear) = &EndRest{sag.AtAxle(e.Axle, l.FrontWheel, l.RearWheel), l.Load(e.Axle), rest, finding}
		}
	}
	return st
}

// bike returns the bike with the recommended set-up.
func (s *Sheet) bike(m sag.Masses, g sag.Ground) sag.Bike {
	return sag.Bike{Masses: m, Front: s.Front.End(), Rear: s.Rear.End(), Ground: g}
}

// couple settles both ends together on level ground.
func (s *Sheet) couple(m sag.Masses) (Coupled, error) {
	both, err := s.bike(m, sag.Ground{}).Stance()
	return Coupled{both, both.FrontSag - s.Front.Rest.Sag, both.RearSag - s.Rear.Rest.Sag, both.RearShare - s.Loads.RearShare}, err
}

// addCoupled fills in Coupled, or notes why it is left out.
func (s *Sheet) addCoupled(c *units.Checker) {
	var field, why string
	switch m := &s.masses; {
	case s.Rear == nil:
		field, why = "rear", "the job has one end."
	case s.Front == nil:
		field, why = "front", "the job has one end."
	case !s.Front.known() || !s.Rear.known():
		why = "a spring is known by the readings of its gauge alone."
	case m.Scaled():
		field, why = "masses.front_scale", "the scales weighed the bike as it sagged, so the loads have that in them already."
	case m.Wheelbase == 0:
		field, why = "masses.wheelbase", "give wheelbase and mass_centre_height in masses."
	case m.MassCentreHeight == 0:
		field, why = "masses.mass_centre_height", "give mass_centre_height in masses."
	case m.Radius(sag.Front) == 0 || m.Radius(sag.Rear) == 0:
		field, why = "masses.wheel_radius", "give wheel_radius in masses, or front_wheel_radius and rear_wheel_radius."
	default:
		both, err := s.couple(s.masses)
		c.Add("masses", err)
		s.Coupled = &both
		return
	}
	s.omit("coupled", field, "Both ends settling together: "+why)
}

// GeometrySheet is the geometry with the recommended set-up, at full extension, at rest and at full travel of both ends.
type GeometrySheet struct {
	Extended sag.Geometry `json:"extended"`
	Rest     sag.Geometry `json:"rest"` // settled together, or each end by itself where [Sheet.Coupled] is left out
	Full     sag.Geometry `json:"full"`
}

// addGeometry fills in Geometry, and notes what is left out of it.
func (s *Sheet) addGeometry(c *units.Checker) {
	m := &s.masses
	switch {
	case s.Front == nil || s.Rear == nil:
		return // as Coupled, and for the same reason
	case !s.Front.known() || !s.Rear.known():
		return
	case m.Wheelbase == 0 || m.Radius(sag.Front) == 0 || m.Radius(sag.Rear) == 0:
		s.omit("geometry", "masses.wheelbase", "Wheelbase and head angle at rest: give wheelbase and wheel_radius in masses, or front_wheel_radius and rear_wheel_radius.")
		return
	}
	bike, rest := s.bike(*m, sag.Ground{}), [2]units.Length{s.Front.Rest.Stroke, s.Rear.Rest.Stroke}
	if s.Coupled != nil {
		rest = [2]units.Length{s.Coupled.FrontStroke, s.Coupled.RearStroke}
	}
	at := func(front, rear units.Length) sag.Geometry {
		g, err := bike.GeometryAt(front, rear)
		c.Add("masses", err)
		return g
	}
	s.Geometry = &GeometrySheet{at(0, 0), at(rest[0], rest[1]), at(s.Front.Stroke, s.Rear.Stroke)}
	if g := &s.Geometry.Extended; g.HeadAngle == 0 {
		s.omit("head_angle", "front.curve", "Head angle and trail: the front is not described as a fork.")
	} else if m.ForkOffset == nil {
		s.omit("trail", "masses.fork_offset", "The trail: give fork_offset in masses.")
	}
	if s.Geometry.Extended.BottomBracketHeight == 0 {
		s.omit("bottom_bracket", "masses.bottom_bracket_height", "Height of the bottom bracket at rest: give bottom_bracket_height and chainstay_length in masses.")
	}
}

// addFree fills in Free, or notes why it is left out.
func (s *Sheet) addFree(c *units.Checker) {
	loads, err := s.masses.BikeLoads()
	switch {
	case !s.Front.known() && !s.Rear.known():
		s.omit("free_sag", "", "Free sag: the spring is known by the readings of its gauge alone.")
	case err == nil:
		s.Free = &FreeSag{s.stand(c, loads), s.masses.BikeRearShare == 0}
	case s.masses.BikeRearShare != 0:
		c.Add("masses", err)
	default:
		s.omit("free_sag", "masses.bike_rear_share", "Free sag: with the rider's share of the weight nothing of the bike alone would stand on one of its springs. Give bike_rear_share in masses.")
	}
}

// addStances fills in the job's stances.
func (s *Sheet) addStances(c *units.Checker, list []NamedStance) {
	level := true
	for i, one := range list {
		masses := s.masses.WithRearShare(one.RearShare)
		loads, err := masses.Loads()
		if err != nil {
			own := c.Element("stances", i)
			own.Fail("rear_share", one.RearShare, "a share that leaves both springs a load to carry", units.ErrConflict)
			continue
		}
		st := StanceSheet{Name: one.Name, Ground: one.Ground, Standings: s.stand(c, loads)}
		if s.Coupled != nil && c.OK() {
			both, err := s.bike(masses, one.Ground).Stance()
			if slices.ContainsFunc(units.Fields(err), func(f *units.FieldError) bool { return f.Field == "mass_centre_height" }) { // the masses are good, so it falls over
				c.Fail("masses.mass_centre_height", masses.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand "+one.Name, units.ErrConflict)
				continue
			}
			own := c.Element("stances", i)
			own.Add("", err)
			st.Coupled = &both
		}
		level = level && one.Ground == sag.Ground{}
		s.Stances = append(s.Stances, st)
	}
	if s.Coupled == nil && !level {
		s.omit("stances", "stances", "Slope, braking and driving of the stances: they want both ends settled together, so each stance is on level ground.")
	}
}

// standingWarnings are those of the stances, and of scales that contradict the masses.
func (s *Sheet) standingWarnings() (list []units.Warning) {
	for i := range s.Stances {
		st := &s.Stances[i]
		for _, e := range s.Ends() {
			if rest := sag.AtAxle(e.Axle, st.Front, st.Rear); rest != nil && rest.Finding == sag.Collapses {
				list = append(list, units.Warning{Code: "stance_collapses", Field: string(e.Axle), Value: st.Name, Text: "In the stance " + st.Name + " the load takes this end to full travel."})
			}
		}
	}
	m := s.masses
	if stated := m.RiderMass + m.BikeMass; m.Scaled() && m.RiderMass != 0 && !(math.Abs(float64(m.Total()-stated)) <= scalesAgree*float64(stated)) {
		list = append(list, units.Warning{Code: "scales_disagree", Field: "masses", Value: m.Total().String(), Limit: stated.String(),
			Text: fmt.Sprintf("The scales show %s together, rider and bike are said to be %s. This sheet goes by the scales.", m.Total().Both(), stated.Both())})
	}
	return list
}
