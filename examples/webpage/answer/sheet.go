package answer

import (
	"fmt"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// loads are the rows about masses and what stands on the wheels.
func loads(s *setup.Sheet, m sag.Masses) []Row {
	rider, riderLb := mass(s.RiderMass)
	bike, bikeLb := mass(m.BikeMass)
	return []Row{
		row("rider", "Rider, dressed to ride", rider, riderLb, ""),
		row("bike", "Bike", bike, bikeLb, ""),
		row("share", "Share on the rear wheel", percent(s.Loads.RearShare), "", ""),
		forceRow("front_wheel", "Front wheel on the ground", s.Loads.FrontWheel, ""),
		forceRow("front_spring", "Carried by the front spring", s.Loads.Front, ""),
		forceRow("rear_wheel", "Rear wheel on the ground", s.Loads.RearWheel, ""),
		forceRow("rear_spring", "Carried by the rear spring", s.Loads.Rear, ""),
	}
}

// both are the rows about both ends together.
func both(s *setup.Sheet) []Row {
	list := []Row{row("frequency_ratio", "Front over rear bounce frequency", fmt.Sprintf("%.2f", s.FrequencyRatio), "", "of a quick stroke, undamped")}
	if c := s.Coupled; c != nil {
		list = append(list, row("coupled_share", "Rear share once both ends have sagged", percent(c.RearShare), "",
			"changed by "+signed("%+.1f", 100*c.RearShareChange)+" percentage points"))
	}
	return list
}

// standing is the sag of both ends in every stance that the sheet knows.
func standing(s *setup.Sheet) *Table {
	t := &Table{Caption: "Sag with what is recommended", Head: []string{"Standing", "Front", "Rear"}}
	add := func(name string, front, rear sag.Rest) {
		t.Rows = append(t.Rows, []string{name, sagged(front.Sag, front.Travel), sagged(rear.Sag, rear.Travel)})
	}
	add("As set up, each end by itself", s.Front.Rest, s.Rear.Rest)
	if c := s.Coupled; c != nil {
		t.Rows = append(t.Rows, []string{"As set up, both ends together", sagged(c.FrontSag, c.FrontTravel), sagged(c.RearSag, c.RearTravel)})
	}
	for _, st := range s.Stances {
		add(st.Name, st.Front.Rest, st.Rear.Rest)
	}
	if f := s.Free; f != nil {
		name := "The bike by itself"
		if f.ShareAssumed {
			name += ", its weight shared as with the rider"
		}
		add(name, f.Front.Rest, f.Rear.Rest)
	}
	return t
}

func sagged(sag float64, travel units.Length) string {
	m, _ := length(travel)
	return percent(sag) + ", " + m
}

// newEnd writes what the page shows of one end.
func newEnd(name string, e *setup.EndSheet, o Options) *End {
	end := &End{Expect: expect(e), Full: full(e), Measure: measure(e)}
	if e.Coil != nil {
		end.Kind = "coil spring"
		end.coil(e.Coil)
	} else {
		end.Kind = "air spring"
		end.air(e.Air)
	}
	sag := ", sag " + percent(e.Rest.Sag)
	end.Brief += sag
	end.Short += sag
	end.Curves = fitted(e).curves(e)
	end.Points = end.Curves.table(o.Customary)
	end.Drawn = end.Curves.draw(name, e, o)
	return end
}

// coil writes the recommended spring and the shelf.
func (end *End) coil(a *fit.CoilAnswer) {
	best := a.Candidates[0]
	turned := ""
	if best.Turns > 0 {
		turned = turns(best.Turns) + " of the collar from loose"
	}
	metric, customary := rate(best.Rate)
	preload, _ := length(best.Preload)
	end.Brief = customary
	end.Short = fmt.Sprintf("spring %s (%s), preload %s", customary, metric, preload)
	end.Fit = []Row{
		rateRow("rate", "Spring", best.Rate, ""),
		lengthRow("preload", "Preload", best.Preload, turned),
		rateRow("ideal_rate", "Exactly on target", a.IdealRate, "at the collar's least preload"),
	}
	if best.SolidKnown {
		end.Fit = append(end.Fit, lengthRow("solid_reserve", "Left before solid", best.SolidReserve, "at full stroke"))
	}
	end.Choices = &Table{Caption: "The shelf, best first", Head: []string{"lbf/in", "N/mm", "Preload, mm", "Sag", "Found"}}
	for _, c := range a.Candidates {
		end.Choices.Rows = append(end.Choices.Rows, []string{
			fmt.Sprintf("%.0f", c.Rate.PoundsForcePerInch()), fmt.Sprintf("%.2f", c.Rate.NewtonsPerMillimetre()),
			fmt.Sprintf("%.1f", c.Preload.Millimetres()), percent(c.Rest.Sag), found(c.Findings)})
	}
}

// air writes the recommended fill and what other counts of spacers give.
func (end *End) air(a *fit.AirAnswer) {
	best := a.Options[0]
	change := ""
	if a.ChangeKnown {
		change = "change by " + signed("%+.2f bar", a.Change.Bar()) + " (" + signed("%+.1f psi", a.Change.PSI()) + ")"
	}
	spacers := "as fitted"
	switch {
	case a.SpacerChange > 0:
		spacers = fmt.Sprintf("add %d", a.SpacerChange)
	case a.SpacerChange < 0:
		spacers = fmt.Sprintf("take out %d", -a.SpacerChange)
	}
	metric, customary := fill(best.Fill)
	end.Brief = metric
	end.Short = fmt.Sprintf("%s (%s), %s", metric, customary, count(best.Spacers, "spacer"))
	end.Fit = []Row{
		row("fill", "Fill at full extension", metric, customary, change),
		row("spacers", "Spacers", fmt.Sprint(best.Spacers), "", spacers),
		row("ambient", "Above the air around", fmt.Sprintf("%.1f kPa(a)", a.Ambient.Kilopascals()), fmt.Sprintf("%.2f psia", a.Ambient.PSI()), ""),
	}
	if len(a.Options) < 2 {
		return
	}
	end.Choices = &Table{Caption: "With other spacers, the recommended first", Head: []string{"Spacers", "bar", "psi", "Sag", "End force, × load", "Found"}}
	for _, o := range a.Options {
		end.Choices.Rows = append(end.Choices.Rows, []string{
			fmt.Sprint(o.Spacers), fmt.Sprintf("%.2f", o.Fill.Bar()), fmt.Sprintf("%.1f", o.Fill.PSI()),
			percent(o.Rest.Sag), fmt.Sprintf("%.1f", o.FullRatio), found(o.Findings)})
	}
}

// expect is what to expect at the sag.
func expect(e *setup.EndSheet) []Row {
	full, _ := length(e.Travel)
	stroke, _ := length(e.Stroke)
	list := []Row{
		lengthRow("sag", "Sag at the wheel", e.Rest.Travel, percent(e.Rest.Sag)+" of "+full),
		lengthRow("shock_sag", "Sag "+where(e), e.Rest.Stroke, percent(e.Rest.ShockSag)+" of "+stroke),
	}
	if e.Friction > 0 {
		stated, _ := force(e.Friction)
		list = append(list, bandRow("band", "Friction may hold it at", e.Rest.TravelLow, e.Rest.TravelHigh, "for the "+stated+" stated"))
	}
	slow, from := "", "all the way"
	if e.Air != nil {
		slow = "standing still"
	}
	if p := e.LeverRatio; p.Max-p.Min > 1e-6*p.Max {
		from = fmt.Sprintf("from %.3f to %.3f", p.Start, p.End)
	}
	list = append(list,
		row("lever_ratio", "Lever ratio", fmt.Sprintf("%.3f", e.Rest.LeverRatio), "", from),
		rateRow("spring_rate", "Spring rate", e.Rest.SpringRate, slow),
		rateRow("wheel_rate", "Wheel rate", e.Rest.WheelRate, slow))
	if e.Air != nil {
		list = append(list, rateRow("fast_wheel_rate", "Wheel rate", e.FastWheelRate, fmt.Sprintf("quick stroke, exponent %g", e.Air.Exponent)))
	}
	return append(list, row("frequency", "Bounce frequency", fmt.Sprintf("%.2f Hz", e.FastFrequency.Hertz()), fmt.Sprintf("%.0f per min", 60*e.FastFrequency.Hertz()), "undamped"))
}

// full is what is left for the ride.
func full(e *setup.EndSheet) []Row {
	left, leftLbf := energy(e.EnergyLeft)
	list := []Row{
		forceRow("full_force", "Force at the wheel", e.Reserve.FullForce, fmt.Sprintf("%.1f × the load on the spring", e.FullRatio)),
		lengthRow("travel_left", "Travel left from the sag", e.TravelLeft, ""),
		row("energy_left", "Energy left from the sag", left, leftLbf, "undamped"),
	}
	if d := e.Reserve.DropHeight; d > 0 {
		list = append(list, row("drop", "Drop that uses it all", fmt.Sprintf("%.2f m", d.Metres()), fmt.Sprintf("%.1f ft", d.Feet()), "undamped: no promise"))
	}
	return list
}

// measure is what to read on the bike to confirm the prediction.
func measure(e *setup.EndSheet) []Row {
	var list []Row
	for _, m := range e.Measure {
		label, from := "Ring "+where(e), "from full extension"
		if m.What == "wheel" {
			label, from = "Axle, vertically", "extended less loaded"
		}
		list = append(list, lengthRow(m.What, label, m.Expected, from))
		if m.Low != m.High {
			list = append(list, bandRow(m.What+"_band", "Friction allows", m.Low, m.High, ""))
		}
	}
	return list
}
