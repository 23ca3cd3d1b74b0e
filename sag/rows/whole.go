package rows

import (
	"fmt"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// loads adds the masses and the loads on the wheels.
func loads(l *list, s *setup.Sheet) {
	masses := s.Setup().Masses
	l.at(Loads, "")
	l.add("rider", "rider, dressed to ride", s.RiderMass, "")
	if masses.BikeMass > 0 {
		l.add("bike", "bike", masses.BikeMass, "")
	}
	note := ""
	if masses.Scaled() {
		note = "by the scales"
	}
	l.row("share", "share on the rear wheel", metric(units.Percent(s.Loads.RearShare)), note, s.Loads.RearShare)
	l.end = sag.Front
	l.add("wheel", "front wheel on the ground", s.Loads.FrontWheel, "")
	l.add("spring", "  of it on the spring", s.Loads.Front, "")
	l.end = sag.Rear
	l.add("wheel", "rear wheel on the ground", s.Loads.RearWheel, "")
	l.add("spring", "  of it on the spring", s.Loads.Rear, "")
}

// both adds the bike as a whole, settled together, with nobody on it and in the job's stances.
func both(l *list, s *setup.Sheet) {
	l.at(Both, "")
	l.row("frequency_ratio", "front/rear frequency", metric(fmt.Sprintf("%.2f", s.FrequencyRatio)), "bounce, fast stroke", s.FrequencyRatio)
	stand := func(axle sag.Axle, key, label string, sagged float64, travel units.Length, note string) {
		l.end = axle
		l.row(key, label, travel.Both(), units.Percent(sagged)+" sag"+note, travel, sagged)
	}
	if c := s.Coupled; c != nil {
		stand(sag.Front, "coupled", "settled together", c.FrontSag, c.FrontTravel, ", "+points(c.FrontSagChange)+" by the pitch")
		stand(sag.Rear, "coupled", "settled together", c.RearSag, c.RearTravel, ", "+points(c.RearSagChange))
		l.end = ""
		l.row("pitch", "  the frame pitches", c.Pitch.Both(), fmt.Sprintf("%s on the rear, %s", units.Percent(c.RearShare), points(c.RearShareChange)), c.Pitch)
	}
	each := func(key, label, note string, st *setup.Standings) {
		share := ", " + units.Percent(st.Loads.RearShare) + " on the rear"
		stand(sag.Front, key, label, st.Front.Rest.Sag, st.Front.Rest.Travel, share+note+stop(&st.Front))
		stand(sag.Rear, key, label, st.Rear.Rest.Sag, st.Rear.Rest.Travel, stop(&st.Rear))
	}
	if f := s.Free; f != nil {
		note := ""
		if f.ShareAssumed {
			note = ", as with the rider on: not stated"
		}
		each("free", "with nobody on", note, &f.Standings)
	}
	for i := range s.Stances {
		st := &s.Stances[i]
		each(fmt.Sprintf("stances[%d]", i), st.Name, "", &st.Standings)
	}
}

// stop says where a load leaves an end topped or bottomed out.
func stop(s *setup.Standing) string {
	switch s.Finding {
	case sag.HeldAtTop:
		return ", held at full extension"
	case sag.Collapses:
		return ", goes to full travel"
	}
	return ""
}
