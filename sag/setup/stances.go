package setup

import (
	"fmt"
	"math"

	"example.com/wheelrate/sag"
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
	Rest      sag.Rest    `json:"rest"`
	// Finding is held_at_top where the spring carries the load without any
	// sag, collapses where the load takes it to full travel; or empty.
	Finding sag.Finding `json:"finding,omitempty"`
}

// StanceSheet is the bike as recommended in one of the job's stances.
type StanceSheet struct {
	Name  string    `json:"name"`
	Loads sag.Loads `json:"loads"`
	Front Standing  `json:"front"`
	Rear  Standing  `json:"rear"`
	// Coupled is the bike in this stance with both ends settled together;
	// left out where the sheet's own is.
	Coupled *sag.Stance `json:"coupled,omitempty"`
}

// Coupled is the bike as recommended with both ends let settle together; see
// [sag.Bike.Stance]. Its changes are against each end settled by itself on level
// ground, which is what the rest of the sheet tells.
type Coupled struct {
	sag.Stance
	FrontSagChange  float64 `json:"front_sag_change"` // of the wheel's full travel
	RearSagChange   float64 `json:"rear_sag_change"`  // of the wheel's full travel
	RearShareChange float64 `json:"rear_share_change"`
}

// FreeSag is the bike as recommended standing by itself, with nobody on it.
type FreeSag struct {
	Loads sag.Loads `json:"loads"`
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
func (s *Sheet) stand(c *units.Checker, l sag.Loads) (front, rear Standing) {
	var err error
	front, err = s.Front.stand(l.FrontWheel, l.Front)
	c.Add("front", err)
	rear, err = s.Rear.stand(l.RearWheel, l.Rear)
	c.Add("rear", err)
	return front, rear
}

func (e *EndSheet) stand(wheelLoad, load units.Force) (Standing, error) {
	rest, finding, err := e.End().SettleWithin(load)
	return Standing{WheelLoad: wheelLoad, Load: load, Rest: rest, Finding: finding}, err
}

// couple lets both ends as recommended settle together.
func (s *Sheet) couple(m sag.Masses) (sag.Stance, error) {
	return sag.Bike{Masses: m, Front: s.Front.End(), Rear: s.Rear.End()}.Stance()
}

// couples reports whether the masses say enough for both ends to settle
// together, and if not, why.
func couples(m sag.Masses) (bool, Omission) {
	text := ""
	switch {
	case m.Scaled():
		text = "Both ends settling together: the scales weighed the bike as it sagged, so the loads have that in them already."
	case m.Wheelbase == 0:
		text = "Both ends settling together: give wheelbase and mass_centre_height in masses."
	case m.MassCentreHeight == 0:
		text = "Both ends settling together: give mass_centre_height in masses."
	}
	return text == "", Omission{"coupled", text}
}

// addCoupled fills in Coupled, or says why it is left out.
func (s *Sheet) addCoupled(c *units.Checker) {
	ok, why := couples(s.masses)
	if !ok {
		s.LeftOut = append(s.LeftOut, why)
		return
	}
	both, err := s.couple(s.masses)
	if err != nil {
		c.Add("masses", err)
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
func (s *Sheet) addFree(c *units.Checker) {
	loads, err := s.masses.BikeLoads()
	if err != nil {
		if s.masses.BikeRearShare != 0 {
			c.Add("masses", err)
			return
		}
		s.LeftOut = append(s.LeftOut, Omission{"free_sag", "Free sag: with the rider's share of the weight nothing of the bike alone would stand on one of its springs. Give bike_rear_share in masses."})
		return
	}
	f := &FreeSag{Loads: loads, ShareAssumed: s.masses.BikeRearShare == 0}
	f.Front, f.Rear = s.stand(c, loads)
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
		own := c.Element("stances", i)
		switch {
		case one.Name == "":
			own.Fail("name", nil, "a name", units.ErrMissing)
		case seen[one.Name]:
			own.Fail("name", one.Name, "a name of its own", units.ErrConflict)
		}
		seen[one.Name] = true
		units.Inside(&own, "rear_share", one.RearShare, 0, 1)
	}
}

// addStances fills in the job's stances.
func (s *Sheet) addStances(c *units.Checker, list []NamedStance) {
	for i, one := range list {
		masses := s.masses.WithRearShare(one.RearShare)
		loads, err := masses.Loads()
		if err != nil {
			own := c.Element("stances", i)
			own.Fail("rear_share", one.RearShare, "a share that leaves both springs something to carry", units.ErrConflict)
			continue
		}
		st := StanceSheet{Name: one.Name, Loads: loads}
		st.Front, st.Rear = s.stand(c, loads)
		if s.Coupled != nil {
			both, err := s.couple(masses)
			if err != nil {
				c.Add("masses", err)
				continue
			}
			st.Coupled = &both
		}
		s.Stances = append(s.Stances, st)
	}
}

// standingWarnings are of the stances, and of scales that contradict the rider.
func (s *Sheet) standingWarnings() []units.Warning {
	m := s.masses
	var list []units.Warning
	for i := range s.Stances {
		st := &s.Stances[i]
		for _, end := range [2]struct {
			name     sag.Axle
			standing *Standing
		}{{sag.Front, &st.Front}, {sag.Rear, &st.Rear}} {
			if end.standing.Finding == sag.Collapses {
				list = append(list, units.Warning{Code: "stance_collapses", Field: string(end.name), Value: st.Name, Text: "In the stance " + st.Name + " the load takes this end to full travel."})
			}
		}
	}
	if stated := m.RiderMass + m.BikeMass; m.Scaled() && m.RiderMass != 0 && !(math.Abs(float64(m.Total()-stated)) <= scalesAgree*float64(stated)) {
		list = append(list, units.Warning{Code: "scales_disagree", Field: "masses", Value: m.Total().String(), Limit: stated.String(),
			Text: fmt.Sprintf("The scales show %s together, rider and bike are said to be %s. This sheet goes by the scales.", bothMasses(m.Total()), bothMasses(stated))})
	}
	return list
}

// scalesAgree is by how much scales may differ from the masses stated before
// the sheet says so, as a fraction; a choice of this package.
const scalesAgree = 0.01

func bothMasses(m units.Mass) string {
	return fmt.Sprintf("%.1f kg (%.1f lb)", m.Kilograms(), m.Pounds())
}
