package rows

import (
	"fmt"
	"math"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// rows adds what concerns one end.
func (e end) rows(l *list) {
	l.at(Fit, e.axle)
	e.fitRows(l)
	l.at(Expect, e.axle)
	e.expect(l)
	l.at(Full, e.axle)
	e.full(l)
	l.at(Measure, e.axle)
	for _, m := range e.Measure {
		label, from := "ring "+e.Along(), "from full extension"
		if m.What == "wheel" {
			label, from = "axle height, vertical", "extended less loaded"
		}
		l.add(m.What, label, m.Expected, from)
		if m.Low != m.High {
			l.band(m.What+"_band", "  friction allows", m.Low, m.High, "")
		}
	}
}

// fitRows adds what to fit, and what else could be.
func (e end) fitRows(l *list) {
	if best := e.Spring(); best != nil {
		l.add("rate", "spring", best.Rate, "")
		l.add("ideal_rate", "  exactly on target", e.Coil.IdealRate, "at the collar's least preload")
		turned := ""
		if best.Turns > 0 {
			turned = turns(best.Turns) + " of the collar from loose"
		}
		l.add("preload", "preload", best.Preload, turned)
		if best.SolidKnown {
			l.add("solid_reserve", "left before solid", best.SolidReserve, "at full stroke")
		}
		l.section = Others
		l.say("softer", "", beside(e.Coil.Between.Softer, "softer"))
		l.say("harder", "", beside(e.Coil.Between.Harder, "harder"))
	}
	if best := e.Fill(); best != nil {
		change := ""
		if e.Air.ChangeKnown {
			change = "change by " + e.Air.Change.Both().Signed().String()
		}
		l.add("fill", "fill at full extension", best.Fill, change)
		l.add("ambient", "  above the air around", e.Air.Ambient, "")
		spacers := "as fitted"
		if n := e.Air.SpacerChange; n > 0 {
			spacers = fmt.Sprintf("add %d", n)
		} else if n < 0 {
			spacers = fmt.Sprintf("take out %d", -n)
		}
		l.row("spacers", "spacers", metric(fmt.Sprint(best.Spacers)), spacers, best.Spacers)
		if per := e.Air.FillPerSpacer; per != 0 {
			verb := map[bool]string{true: "raises", false: "lowers"}[per > 0]
			l.section = Others
			l.say("fill_per_spacer", "", fmt.Sprintf("Each spacer more %s the fill for the same sag by %s.", verb, max(per, -per).Both()))
		}
	}
}

// expect adds what the end does at the sag.
func (e end) expect(l *list) {
	r := &e.Rest
	l.add("sag", "sag at the wheel", r.Travel, units.Percent(r.Sag)+" of "+e.Travel.Both().Metric)
	l.add("shock_sag", "sag "+e.Along(), r.Stroke, units.Percent(r.ShockSag)+" of "+e.Stroke.Both().Metric)
	if e.Friction > 0 {
		l.band("band", "  friction may hold it at", r.TravelLow, r.TravelHigh, "for the "+e.Friction.Both().String()+" stated")
	} else {
		l.row("friction", "  friction", metric("not stated"), "so no band is given")
	}
	from := "all the way"
	if p := e.LeverRatio; p.Max-p.Min > 1e-6*p.Max {
		from = fmt.Sprintf("from %.3f to %.3f", p.Start, p.End)
	}
	l.row("lever_ratio", "lever ratio", metric(fmt.Sprintf("%.3f", r.LeverRatio)), from, r.LeverRatio)
	slow := ""
	if e.Air != nil {
		slow = "slow: gas at the temperature around"
	}
	l.add("spring_rate", "spring rate at sag", r.SpringRate, slow)
	l.add("wheel_rate", "wheel rate at sag", r.WheelRate, slow)
	if e.Air != nil {
		l.add("fast_wheel_rate", "  over a fast stroke", e.FastWheelRate, fmt.Sprintf("fast: exponent %g", e.Air.Exponent))
	}
	bounce := e.FastFrequency.Both()
	bounce.Customary = fmt.Sprintf("%.0f per min", 60*e.FastFrequency.Hertz())
	l.row("frequency", "bounce frequency", bounce, "undamped", e.FastFrequency)
}

// full adds what is left from the sag to full travel, and the landing.
func (e end) full(l *list) {
	l.add("full_force", "force at the wheel", e.Reserve.FullForce, fmt.Sprintf("%.1f × the load on the spring", e.FullRatio))
	l.add("travel_left", "travel left from sag", e.TravelLeft, "")
	l.add("energy_left", "energy left from sag", e.EnergyLeft, "undamped")
	if h := e.Reserve.DropHeight; h > 0 {
		l.row("drop", "drop that uses it all", height(h), "undamped: not a promise", h)
	}
	with := "undamped"
	if d := e.Damping; d != nil {
		with = "damped as above"
		l.add("damping", "damping at the wheel", d.Wheel, fmt.Sprintf("%.2f of critical at sag, as stated", d.Ratio))
		l.add("shock_damping", "  "+e.Along(), d.Shock, "")
	}
	if d := e.Landing; d != nil {
		l.add("landing", "a drop of "+height(d.Height).Metric+" uses", d.Travel, units.Percent(d.Used)+" of "+e.Travel.Both().Metric+", "+with)
		l.add("landing_force", "  force when deepest", d.Force, "")
		l.add("landing_peak", "  force at most", d.PeakForce, "with the damper: not a promise")
	}
}

func metric(text string) units.Dual { return units.Dual{Metric: text} }

// height returns the height of a drop, in units coarser than a travel's.
func height(l units.Length) units.Dual {
	return units.Dual{Metric: fmt.Sprintf("%.2f m", l.Metres()), Customary: fmt.Sprintf("%.1f ft", l.Feet())}
}

func points(x float64) string { return fmt.Sprintf("%+.1f points", 100*x) }

func turns(n float64) string { return counted(math.Round(n*100)/100, "turn") }

// counted returns a number of things, "1 spacer".
func counted(n float64, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprint(n, " ", what)
}

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
		stand(sag.Front, key, label, st.Front.Rest.Sag, st.Front.Rest.Travel, share+note+stops[st.Front.Finding])
		stand(sag.Rear, key, label, st.Rear.Rest.Sag, st.Rear.Rest.Travel, stops[st.Rear.Finding])
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

// stops are the words for a load that leaves an end topped or bottomed out.
var stops = map[sag.Finding]string{sag.HeldAtTop: ", held at full extension", sag.Collapses: ", goes to full travel"}
