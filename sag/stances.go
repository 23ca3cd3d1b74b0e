package sag

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// NamedStance is a way of standing on the bike, such as seated, standing or
// descending, told by the share of the weight that it puts on the rear wheel.
// The name is the user's own, and so is the share: none is built in.
type NamedStance struct {
	Name      string  `json:"name"`
	RearShare float64 `json:"rear_share"` // of the level bike, between 0 and 1
}

// Standing is where an end comes to rest, with the spring that the sheet
// recommends for it, under another load than the sheet's.
type Standing struct {
	WheelLoad units.Force `json:"wheel_load"` // of the wheel on the ground
	Load      units.Force `json:"load"`       // sprung
	Rest      Rest        `json:"rest"`
	// Finding is held_at_top where the spring carries the load without any
	// sag, collapses where the load takes it to full travel; or empty.
	Finding Finding `json:"finding,omitempty"`
}

// StanceSheet is the bike as recommended in one of the job's stances.
type StanceSheet struct {
	Name  string   `json:"name"`
	Loads Loads    `json:"loads"`
	Front Standing `json:"front"`
	Rear  Standing `json:"rear"`
	// Coupled is the bike in this stance with both ends settled together;
	// left out where the sheet's own is.
	Coupled *Stance `json:"coupled,omitempty"`
}

// Coupled is the bike as recommended with both ends let settle together; see
// [NewStance]. Its changes are against each end settled by itself on level
// ground, which is what the rest of the sheet tells.
type Coupled struct {
	Stance
	FrontSagChange  float64 `json:"front_sag_change"` // of the wheel's full travel
	RearSagChange   float64 `json:"rear_sag_change"`  // of the wheel's full travel
	RearShareChange float64 `json:"rear_share_change"`
}

// FreeSag is the bike as recommended standing by itself, with nobody on it.
type FreeSag struct {
	Loads Loads `json:"loads"`
	// ShareAssumed tells that nobody stated the bike's own rear share, so
	// that it was taken to be the one with the rider on.
	ShareAssumed bool     `json:"share_assumed"`
	Front        Standing `json:"front"`
	Rear         Standing `json:"rear"`
}

// Omission is something that a sheet can tell but does not, and what it wants
// for it.
type Omission struct {
	Code string `json:"code"` // stable, such as "coupled"
	Text string `json:"text"`
}

// stand lets both ends as recommended settle, each by itself.
func (s *Sheet) stand(l Loads) (front, rear Standing, err error) {
	if front, err = s.Front.stand(l.FrontWheel, l.Front); err != nil {
		return front, rear, units.At("front", err)
	}
	rear, err = s.Rear.stand(l.RearWheel, l.Rear)
	return front, rear, units.At("rear", err)
}

func (e *EndSheet) stand(wheelLoad, load units.Force) (Standing, error) {
	rest, finding, err := settleAnywhere(e.curve, e.slow, load, e.Friction)
	return Standing{WheelLoad: wheelLoad, Load: load, Rest: rest, Finding: finding}, err
}

// couple lets both ends as recommended settle together; m is checked and has a
// wheelbase, a height and no scales.
func (s *Sheet) couple(m Masses, share float64) (Stance, bool) {
	b := Bike{Masses: m, Front: Fitted{s.Front.curve, s.Front.slow}, Rear: Fitted{s.Rear.curve, s.Rear.slow}}
	return b.settle(share)
}

// couples tells whether the masses say enough for both ends to settle
// together, and if not, why.
func (m Masses) couples() (bool, Omission) {
	text := ""
	switch {
	case m.scaled():
		text = "Both ends settling together: the scales weighed the bike as it sagged, so the loads have that in them already."
	case m.Wheelbase == 0:
		text = "Both ends settling together: give wheelbase and mass_centre_height in masses."
	case m.MassCentreHeight == 0:
		text = "Both ends settling together: give mass_centre_height in masses."
	}
	return text == "", Omission{"coupled", text}
}

// addCoupled fills in Coupled, or says why it is left out.
func (s *Sheet) addCoupled(c *units.Checker, m Masses) {
	ok, why := m.couples()
	if !ok {
		s.LeftOut = append(s.LeftOut, why)
		return
	}
	both, ok := s.couple(m, s.Loads.RearShare)
	if !ok {
		c.Fail("masses.mass_centre_height", m.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand", units.ErrConflict)
		return
	}
	s.Coupled = &Coupled{
		Stance:          both,
		FrontSagChange:  both.FrontSag - s.Front.Rest.Sag,
		RearSagChange:   both.RearSag - s.Rear.Rest.Sag,
		RearShareChange: both.RearShare - s.Loads.RearShare,
	}
}

// addFree fills in Free, or says why it is left out.
func (s *Sheet) addFree(c *units.Checker, m Masses) {
	loads, err := NewBikeLoads(m)
	if err != nil {
		if m.BikeRearShare != 0 {
			c.Add("masses", err)
			return
		}
		s.LeftOut = append(s.LeftOut, Omission{"free_sag", "Free sag: with the rider's share of the weight nothing of the bike alone would stand on one of its springs. Give bike_rear_share in masses."})
		return
	}
	f := &FreeSag{Loads: loads, ShareAssumed: m.BikeRearShare == 0}
	f.Front, f.Rear, err = s.stand(loads)
	c.Add("", err)
	s.Free = f
}

// mostStances is far more than a job has, and few enough that each can be worked
// out in no noticeable time.
const mostStances = 100

// checkStances checks a job's stances, each with a name of its own.
func checkStances(c *units.Checker, list []NamedStance) {
	if len(list) > mostStances {
		c.Fail("stances", len(list), fmt.Sprintf("at most %d stances", mostStances), nil)
		return
	}
	seen := make(map[string]bool, len(list))
	for i, one := range list {
		at := func(name string) string { return fmt.Sprintf("stances[%d].%s", i, name) }
		switch {
		case one.Name == "":
			c.Fail(at("name"), nil, "a name", units.ErrMissing)
		case seen[one.Name]:
			c.Fail(at("name"), one.Name, "a name of its own", units.ErrConflict)
		}
		seen[one.Name] = true
		units.Inside(c, at("rear_share"), one.RearShare, 0, 1)
	}
}

// addStances fills in the job's stances.
func (s *Sheet) addStances(c *units.Checker, m Masses, list []NamedStance) {
	for i, one := range list {
		field := fmt.Sprintf("stances[%d].rear_share", i)
		var own units.Checker
		loads, err := m.share(&own, m.total(), one.RearShare)
		if err != nil {
			c.Fail(field, one.RearShare, "a share that leaves both springs something to carry", units.ErrConflict)
			continue
		}
		st := StanceSheet{Name: one.Name, Loads: loads}
		st.Front, st.Rear, err = s.stand(loads)
		c.Add("", err)
		if s.Coupled != nil {
			both, ok := s.couple(m, one.RearShare)
			if !ok {
				c.Fail("masses.mass_centre_height", m.MassCentreHeight, "low enough, or springs hard enough, for the bike to stand "+one.Name, units.ErrConflict)
				continue
			}
			st.Coupled = &both
		}
		s.Stances = append(s.Stances, st)
	}
}

// standingWarnings are of the stances, and of scales that contradict the rider.
func (s *Sheet) standingWarnings(m Masses) []units.Warning {
	var list []units.Warning
	for i := range s.Stances {
		st := &s.Stances[i]
		for _, end := range [2]struct {
			name     End
			standing *Standing
		}{{FrontEnd, &st.Front}, {RearEnd, &st.Rear}} {
			if end.standing.Finding == Collapses {
				list = append(list, units.Warning{Code: "stance_collapses", Field: string(end.name), Value: st.Name, Text: "In the stance " + st.Name + " the load takes this end to full travel."})
			}
		}
	}
	if stated := m.RiderMass + m.BikeMass; m.scaled() && m.RiderMass != 0 && !(math.Abs(float64(m.total()-stated)) <= scalesAgree*float64(stated)) {
		list = append(list, units.Warning{Code: "scales_disagree", Field: "masses", Value: m.total().String(), Limit: stated.String(),
			Text: fmt.Sprintf("The scales show %s together, rider and bike are said to be %s. This sheet goes by the scales.", bothMasses(m.total()), bothMasses(stated))})
	}
	return list
}

// scalesAgree is by how much scales may differ from the masses stated before
// the sheet says so, as a fraction; a choice of this package.
const scalesAgree = 0.01

func bothMasses(m units.Mass) string {
	return fmt.Sprintf("%.1f kg (%.1f lb)", m.Kilograms(), m.Pounds())
}

// fit remembers what is recommended for an end, so that it can be put under
// other loads.
type fit struct {
	curve      *linkage.Curve
	slow, fast spring.Law
}
