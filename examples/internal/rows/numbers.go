package rows

import (
	"fmt"
	"iter"
	"math"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// rows adds what concerns one end.
func (e end) rows(l *list) {
	e.fit(l)
	e.pump(l)
	e.expect(l)
	e.full(l)
	l.at(Measure, e.Axle)
	for _, m := range e.Measure {
		wheel := m.What == "wheel"
		l.add(m.What, either(wheel, "axle height, vertical", "ring "+e.Along()), m.Expected, either(wheel, "extended less loaded", "from full extension"))
		l.when(m.Low != m.High).band(m.What+"_band", "  friction allows", m.Low, m.High, "")
	}
}

// fit adds what to fit, and what else could be.
func (e end) fit(l *list) {
	l.at(Fit, e.Axle)
	e.fitGauge(l)
	if best := e.Spring(); best != nil {
		l.add("rate", "spring", best.Rate, either(best.Law == "", "", "up to the target; it is "+best.Law+" from its free length"))
		l.add("ideal_rate", "  exactly on target", e.Coil.IdealRate, "at the collar's least preload")
		l.add("preload", "preload", best.Preload, strings.Join(preloadParts(best), " and "))
		l.when(best.SolidKnown).add("solid_reserve", "left before solid", best.SolidReserve, "at full stroke")
		l.section = Others
		l.say("softer", "", beside(e.Coil.Between.Softer, "softer"))
		l.say("harder", "", beside(e.Coil.Between.Harder, "harder"))
		l.when(len(e.Coil.Candidates) > 1).say("full_ratio", "", fmt.Sprintf(fullRatio, ""))
	}
	if best := e.Fill(); best != nil {
		l.add("fill", "fill at full extension", best.Fill, either(e.Air.ChangeKnown, "change by "+e.Air.Change.Both().Signed().String(), ""))
		l.add("ambient", "  above the air around", e.Air.Ambient, "")
		n := e.Air.SpacerChange
		spacers := either(n > 0, fmt.Sprintf("add %d", n), either(n < 0, fmt.Sprintf("take out %d", -n), "as fitted"))
		if e.Air.SpacersKept {
			spacers = "kept as fitted: other numbers are tried only with a full_travel_ratio"
		}
		l.row("spacers", "spacers", metric(fmt.Sprint(best.Spacers)), spacers, best.Spacers)
		l.section = Others
		l.when(len(e.Air.Options) > 1).say("full_ratio", "", fmt.Sprintf(fullRatio, ", over a fast stroke,"))
		if full := e.Air.FullTravel; full != nil {
			l.say("full_travel", "", fmt.Sprintf("%.1f × the load was asked for at full travel; this gives %.1f ×, and spacers can give %s.", full.Wanted, full.Given,
				either(full.Least == full.Most, "no other", fmt.Sprintf("from %.1f × to %.1f ×", full.Least, full.Most))))
		}
		per := e.Air.FillPerSpacer
		l.when(per != 0).say("fill_per_spacer", "", fmt.Sprintf("Each spacer more %s the fill for the same sag by %s.", either(per > 0, "raises", "lowers"), max(per, -per).Both()))
	}
}

// preloadParts returns what gives a spring its preload: spacers, turns of the collar, or neither that is
// known.
func preloadParts(best *fit.CoilCandidate) (parts []string) {
	var each []string
	for _, one := range best.PreloadSpacers {
		each = append(each, fmt.Sprint(math.Round(100*one.Millimetres())/100))
	}
	if each != nil {
		parts = append(parts, "spacers "+strings.Join(each, " + ")+" mm")
	}
	if best.Turns > 0 {
		parts = append(parts, turns(best.Turns)+" of the collar from loose")
	}
	return parts
}

// fullRatio explains a column of the tables of what else could be fitted.
const fullRatio = "Full × is the wheel force at full travel%s as a multiple of the load on the spring: the more, the harder to bottom out."

// pump adds the steps from the fill that an air spring holds to the recommended one.
func (e end) pump(l *list) {
	if e.Pump == nil {
		return
	}
	l.at(Pump, e.Axle)
	cycle, pulled := "", ""
	for i, step := range e.Pump.Steps {
		note := "from " + step.Before.Both().String()
		if step.Stands > 0 {
			note += ", at " + step.Stands.Both().Metric
			pulled = " With no load on it, the spring is then pulled in to the travel beside the reading."
		}
		if l.row(fmt.Sprintf("pump[%d]", i), does[step.Action], step.After.Both(), note, step.Before, step.After); step.Action == airspring.Cycle {
			cycle = step.Text
		}
	}
	l.say("pump", "", "The readings are those of the gauge after and before each step."+pulled+" Cycle: "+cycle+". Never fill above the marking on the part.")
}

// does are the words for what is done at the pump.
var does = map[airspring.TopUpAction]string{airspring.Pump: "pump up to", airspring.Release: "let air out to", airspring.Cycle: "cycle; it then shows"}

const slowGas = "slow: gas at the temperature around"

// expect adds what the end does at the sag, as far as it is known.
func (e end) expect(l *list) {
	l.at(Expect, e.Axle)
	r := e.Settled()
	if r == nil {
		return
	}
	l.add("sag", "sag at the wheel", r.Travel, units.Percent(r.Sag)+" of "+e.Travel.Both().Metric)
	l.add("shock_sag", "sag "+e.Along(), r.Stroke, units.Percent(r.ShockSag)+" of "+e.Stroke.Both().Metric)
	l.when(e.Friction > 0).band("band", "  friction may hold it at", r.TravelLow, r.TravelHigh, "for the "+e.Friction.Both().String()+" stated")
	l.when(!(e.Friction > 0)).row("friction", "  friction", metric("not stated"), "so no band is given")
	p := &e.LeverRatio
	from := either(p.Max-p.Min > 1e-6*p.Max, fmt.Sprintf("from %.3f to %.3f", p.Start, p.End), "all the way")
	l.row("lever_ratio", "lever ratio", metric(fmt.Sprintf("%.3f", r.LeverRatio)), from, r.LeverRatio)
	slow, exponent := "", 0.0 // of a gas
	if e.Air != nil {
		slow, exponent = slowGas, e.Air.Exponent
	} else if e.Gauge != nil {
		slow, exponent = slowGas, e.Gauge.Exponent
	}
	l.add("spring_rate", "spring rate at sag", r.SpringRate, slow)
	l.add("wheel_rate", "wheel rate at sag", r.WheelRate, slow)
	if e.State == nil {
		return
	}
	l.when(exponent != 0).add("fast_wheel_rate", "  over a fast stroke", e.FastWheelRate, fmt.Sprintf("fast: exponent %g", exponent))
	bounce := e.FastFrequency.Both()
	bounce.Customary = fmt.Sprintf("%.0f per min", 60*e.FastFrequency.Hertz())
	l.row("frequency", "bounce frequency", bounce, "undamped", e.FastFrequency)
}

// full adds what is left from the sag to full travel, and the landing.
func (e end) full(l *list) {
	if e.State == nil {
		return
	}
	l.at(Full, e.Axle)
	l.add("full_force", "force at the wheel", e.Reserve.FullForce, fmt.Sprintf("%.1f × the load on the spring", e.FullRatio))
	l.add("travel_left", "travel left from sag", e.TravelLeft, "")
	l.add("energy_left", "energy left from sag", e.EnergyLeft, "undamped")
	drop := e.Reserve.DropHeight
	l.when(drop > 0).row("drop", "drop that uses it all", Height(drop), "undamped: not a promise", drop)
	if d := e.Damping; d != nil {
		l.add("damping", "damping at the wheel", d.Wheel, fmt.Sprintf("%.2f of critical at sag, as stated", d.Ratio))
		l.add("shock_damping", "  "+e.Along(), d.Shock, "")
	}
	if d := e.Landing; d != nil {
		with := either(e.Damping != nil, "damped as above", "undamped")
		l.add("landing", "a drop of "+Height(d.Height).Metric+" uses", d.Travel, units.Percent(d.Used)+" of "+e.Travel.Both().Metric+", "+with)
		l.add("landing_force", "  force when deepest", d.Force, "")
		l.add("landing_peak", "  force at most", d.PeakForce, "with the damper: not a promise")
	}
}

func metric(text string) units.Dual { return units.Dual{Metric: text} }

// Height returns the height of a drop, in units coarser than a travel's.
func Height(l units.Length) units.Dual {
	customary := fmt.Sprintf("%.1f ft", l.Feet())
	if l < 3*units.Foot {
		customary = fmt.Sprintf("%.0f in", l.Inches())
	}
	return units.Dual{Metric: fmt.Sprintf("%.2f m", l.Metres()), Customary: customary}
}

func points(x float64) string { return fmt.Sprintf("%+.1f points", 100*x) }

func turns(n float64) string { return counted(math.Round(n*100)/100, "turn") }

func either(yes bool, this, that string) string {
	if yes {
		return this
	}
	return that
}

// counted returns a number of things, "1 spacer".
func counted(n float64, what string) string {
	return fmt.Sprint(n, " ", what, either(n == 1, "", "s"))
}

// loads adds the masses and the loads on the wheels.
func loads(l *list, s *setup.Sheet) {
	masses := s.Setup().Masses
	l.at(Loads, "")
	l.add("rider", "rider, dressed to ride", s.RiderMass, "")
	l.when(masses.BikeMass > 0).add("bike", "bike", masses.BikeMass, "")
	l.row("share", "share on the rear wheel", metric(units.Percent(s.Loads.RearShare)), either(masses.Scaled(), "by the scales", ""), s.Loads.RearShare)
	wheel := func(axle sag.Axle, end *setup.EndSheet, load units.Force) {
		l.end = axle
		if end == nil {
			l.end = "" // no column of its own
		}
		l.add("wheel", string(axle)+" wheel on the ground", load, "")
		l.when(end != nil).add("spring", "  of it on the spring", s.Loads.Load(axle), "")
	}
	wheel(sag.Front, s.Front, s.Loads.FrontWheel)
	wheel(sag.Rear, s.Rear, s.Loads.RearWheel)
}

// sides yields the front and the rear, without one that is nil.
func sides[T any](front, rear *T) iter.Seq2[sag.Axle, *T] {
	return func(yield func(sag.Axle, *T) bool) {
		if (front == nil || yield(sag.Front, front)) && rear != nil {
			yield(sag.Rear, rear)
		}
	}
}

// both adds the bike as a whole, settled together, with nobody on it and in the job's stances.
func both(l *list, s *setup.Sheet) {
	l.at(Both, "")
	l.when(s.FrequencyRatio > 0).row("frequency_ratio", "front/rear frequency", metric(fmt.Sprintf("%.2f", s.FrequencyRatio)), "bounce, fast stroke", s.FrequencyRatio)
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
	if g := s.Geometry; g != nil {
		geometry(l, g)
	}
	each := func(key, label, note string, st *setup.Standings) {
		share := ", " + units.Percent(st.Loads.RearShare) + " on the rear" + note // with the first of them
		for axle, e := range sides(st.Front, st.Rear) {
			stand(axle, key, label, e.Rest.Sag, e.Rest.Travel, share+stops[e.Finding])
			share = ""
		}
	}
	if f := s.Free; f != nil {
		each("free", "with nobody on", either(f.ShareAssumed, ", as with the rider on: not stated", ""), &f.Standings)
	}
	for i := range s.Stances {
		st, key := &s.Stances[i], fmt.Sprintf("stances[%d]", i)
		c := st.Coupled
		if c == nil || st.Ground == (sag.Ground{}) {
			each(key, st.Name, either(st.Ground == (sag.Ground{}), "", ", on level ground"), &st.Standings)
			continue
		}
		stand(sag.Front, key, st.Name, c.FrontSag, c.FrontTravel, fmt.Sprintf(", %s on the rear, %s", units.Percent(c.RearShare), onGround(st.Ground)))
		stand(sag.Rear, key, st.Name, c.RearSag, c.RearTravel, "")
		for axle, load := range sides(&c.FrontWheelLoad, &c.RearWheelLoad) {
			l.end = axle
			l.add(key+".wheel", "  wheel on the ground", *load, "")
		}
		l.end = ""
		l.add(key+".pitch", "  the frame pitches", c.Pitch, either(c.HeadAngle > 0, "head angle "+c.HeadAngle.Both().Metric, ""))
	}
}

// onGround returns the words for a slope and the speed that is gained on it.
func onGround(g sag.Ground) string {
	slope := "on level ground"
	if g.Slope != 0 {
		slope = either(g.Slope < 0, "down", "up") + " a slope of " + max(g.Slope, -g.Slope).Both().Metric
	}
	gain := g.Acceleration()
	speed := fmt.Sprintf("%s %.2f g₀", either(gain < 0, "losing", "gaining"), math.Abs(gain))
	return slope + " " + either(math.Abs(gain) < 0.005, "at a steady speed", speed)
}

// geometry adds wheelbase, head angle, trail and bottom bracket at rest.
func geometry(l *list, g *setup.GeometrySheet) {
	l.end = ""
	since := " since full extension" // with the first of them
	changed := func(known bool, key, label string, at, was interface{ Both() units.Dual }, change units.Dual) {
		l.when(known).row(key, label, at.Both(), change.Signed().String()+since, at, was)
		since = either(known, "", since)
	}
	at, was := &g.Rest, &g.Extended
	changed(true, "wheelbase", "wheelbase at rest", at.Wheelbase, was.Wheelbase, (at.Wheelbase - was.Wheelbase).Both())
	changed(at.HeadAngle != 0, "head_angle", "head angle at rest", at.HeadAngle, was.HeadAngle, (at.HeadAngle - was.HeadAngle).Both())
	changed(at.Trail != 0, "trail", "trail at rest", at.Trail, was.Trail, (at.Trail - was.Trail).Both())
	changed(at.BottomBracketHeight != 0, "bottom_bracket_height", "bottom bracket at rest", at.BottomBracketHeight, was.BottomBracketHeight, (at.BottomBracketHeight - was.BottomBracketHeight).Both())
}

// riders adds what riders of other masses would set.
func riders(l *list, s *setup.Sheet) {
	for i, one := range s.Riders {
		own := either(one.Own, ", this rider", "") // beside the first end
		key, label := fmt.Sprintf("riders[%d]", i), one.RiderMass.Both().String()
		for axle, e := range sides(one.Front, one.Rear) {
			l.at(Riders, axle)
			switch {
			case e.Spring != nil:
				l.row(key, label, e.Spring.Rate.Both(), e.Spring.Preload.Both().Metric+" of preload, sag "+units.Percent(e.Spring.Rest.Sag)+own, e.Spring.Rate)
			case e.Fill != nil:
				l.row(key, label, e.Fill.Fill.Both(), counted(float64(e.Fill.Spacers), "spacer")+", sag "+units.Percent(e.Fill.Rest.Sag)+own, e.Fill.Fill)
			case e.Gauge != nil:
				l.row(key, label, e.Gauge.Fill.Both(), either(e.Gauge.Answer, "from the readings", either(e.Gauge.AtMarking, "the most that may be set", "a step from the readings"))+own, e.Gauge.Fill)
			}
			own = ""
		}
	}
}

// stops are the words for a load that leaves an end topped or bottomed out.
var stops = map[sag.Finding]string{sag.HeldAtTop: ", held at full extension", sag.Collapses: ", goes to full travel"}
