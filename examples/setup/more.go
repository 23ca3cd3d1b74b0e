package main

import (
	"fmt"
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// between says what the two springs that the target lies between are like.
func (p page) between(a *fit.CoilAnswer) {
	texts := betweenTexts(a)
	if len(texts) == 0 {
		return
	}
	p.line("")
	p.line("  Between two springs")
	for _, text := range texts {
		p.paragraph("    ", text)
	}
}

// betweenTexts has a sentence for each of the two springs that the target lies
// between, also where the shelf has only one of them.
func betweenTexts(a *fit.CoilAnswer) (texts []string) {
	for _, side := range []struct {
		c    *fit.CoilCandidate
		word string
	}{{a.Between.Softer, "softer"}, {a.Between.Harder, "harder"}} {
		c := side.c
		if c == nil {
			texts = append(texts, fmt.Sprintf("Nothing on the shelf is %s than the spring exactly on target.", side.word))
			continue
		}
		texts = append(texts, fmt.Sprintf("The %s, %.0f lbf/in at %s of preload: sag %s, %s than wanted; %.0f N (%.1f × the load) at full travel; %.2f Hz.",
			side.word, c.Rate.PoundsForcePerInch(), one(c.Preload), percent(c.Rest.Sag), miss(c.Miss),
			c.FullForce.Newtons(), c.FullRatio, c.Rest.Frequency.Hertz()))
	}
	return texts
}

// behind says why a spring stands behind the one before it, where its findings
// don't.
func behind(why fit.Reason) string {
	if why == fit.RankedPreload {
		return "; more preload"
	}
	return ""
}

// drop writes what the job states of the damper, and how this end takes the
// drop it asks for.
func (p page) drop(e *setup.EndSheet) {
	if d := e.Damping; d != nil {
		p.row("damping at the wheel", damping(d.Wheel), fmt.Sprintf("%.2f of critical at sag, as stated", d.Ratio))
		p.row("  "+where(e), damping(d.Shock), "")
	}
	l := e.Landing
	if l == nil {
		return
	}
	with := "undamped"
	if e.Damping != nil {
		with = "damped as above"
	}
	p.row(fmt.Sprintf("a drop of %.2f m uses", l.Height.Metres()), length(l.Travel), percent(l.Used)+" of "+one(e.Travel)+", "+with)
	p.row("  force when deepest", force(l.Force), "")
	p.row("  force at most", force(l.PeakForce), "with the damper: not a promise")
}

func damping(c sag.Damping) reading {
	return read(c.NewtonSecondsPerMetre(), "%.0f N·s/m", c.PoundForceSecondsPerInch(), "%.2f lbf·s/in")
}

// miss says by how much a sag, as a fraction of travel, differs from a target.
func miss(m float64) string {
	if m < 0 {
		return percent(-m) + " less"
	}
	return percent(m) + " more"
}

// standing writes how the bike stands: both ends together, by itself, and in
// the job's stances.
func (p page) standing(s *setup.Sheet) {
	p.heading("BOTH ENDS")
	p.row("front/rear frequency", reading{metric: fmt.Sprintf("%.2f", s.FrequencyRatio)}, "bounce, fast stroke")
	if c := s.Coupled; c != nil {
		p.row("settled together, front", reading{percent(c.FrontSag), length(c.FrontTravel).metric}, change(c.FrontSagChange)+" by the pitch")
		p.row("  rear", reading{percent(c.RearSag), length(c.RearTravel).metric}, change(c.RearSagChange))
		p.row("  the frame pitches", reading{metric: fmt.Sprintf("%.2f°", c.Pitch.Degrees())}, fmt.Sprintf("%s on the rear, %s", percent(c.RearShare), change(c.RearShareChange)))
	}
	if f := s.Free; f != nil {
		share := percent(f.Loads.RearShare) + " on the rear"
		if f.ShareAssumed {
			share += ", as with the rider on: not stated"
		}
		p.row("with nobody on, front", reading{percent(f.Front.Rest.Sag), length(f.Front.Rest.Travel).metric}, atEnd(f.Front, share))
		p.row("  rear", reading{percent(f.Rear.Rest.Sag), length(f.Rear.Rest.Travel).metric}, atEnd(f.Rear, ""))
	}
	for _, st := range s.Stances {
		p.row(st.Name+", front", reading{percent(st.Front.Rest.Sag), length(st.Front.Rest.Travel).metric}, atEnd(st.Front, percent(st.Loads.RearShare)+" on the rear"))
		p.row("  rear", reading{percent(st.Rear.Rest.Sag), length(st.Rear.Rest.Travel).metric}, atEnd(st.Rear, ""))
	}
}

func change(x float64) string { return fmt.Sprintf("%+.1f points", 100*x) }

// atEnd adds where a load leaves an end topped or bottomed out.
func atEnd(st setup.Standing, text string) string {
	switch st.Finding {
	case sag.HeldAtTop:
		text = strings.TrimPrefix(text+"; held at full extension", "; ")
	case sag.Collapses:
		text = strings.TrimPrefix(text+"; goes to full travel", "; ")
	}
	return text
}

// sure writes how well the answers are known and what decides.
func (p page) sure(s *setup.Sheet) {
	b := s.Uncertainty
	if b == nil {
		return
	}
	p.heading("HOW SURE")
	p.paragraph("  ", "One standard deviation, from what was stated of the inputs; about one time in three the truth is farther off. Beside it the input that matters most.")
	for _, end := range []struct {
		name string
		e    *certainty.EndBudget
	}{{"front", &b.Front}, {"rear", &b.Rear}} {
		e := end.e
		p.line("  " + end.name)
		if a := e.IdealRate; a != nil {
			p.give("exact spring", rate(a.Value), rate(a.Uncertainty), a.Dominant)
		}
		if a := e.FillWanted; a != nil {
			p.give("exact fill", fill(a.Value), fill(a.Uncertainty), a.Dominant)
		}
		if a := e.Sag; a != nil {
			p.give("sag at the wheel", reading{metric: percent(a.Value)}, reading{metric: percent(a.Uncertainty)}, a.Dominant)
		}
		if a := e.StrokeReading; a != nil {
			p.give("ring", length(a.Value), length(a.Uncertainty), a.Dominant)
		}
		if a := e.FastFrequency; a != nil {
			p.give("bounce frequency", hertz(a.Value), hertz(a.Uncertainty), a.Dominant)
		}
		for _, text := range rivalTexts(e) {
			p.paragraph("    ", text)
		}
	}
	if list := exactly(b); list != "" {
		p.paragraph("  ", "Taken as exactly known, nobody having said otherwise: "+list+".")
	}
}

// exactly lists the inputs that nobody stated an uncertainty of.
func exactly(b *certainty.Budget) string {
	list := make([]string, len(b.Exact))
	for i, name := range b.Exact {
		list[i] = plainly(name)
	}
	return strings.Join(list, ", ")
}

// rivalTexts has a sentence for each spring that may be the right one instead.
func rivalTexts(e *certainty.EndBudget) (texts []string) {
	for _, r := range e.Rivals {
		if r.Probability < 0.005 {
			continue
		}
		texts = append(texts, fmt.Sprintf("With a probability of %.0f %% the %.0f lbf/in spring would be the right one instead of %.0f lbf/in. What decides between them: %s.",
			100*r.Probability, r.Rate.PoundsForcePerInch(), r.Recommended.PoundsForcePerInch(), again(r.Input)))
	}
	return texts
}

func hertz(f units.Frequency) reading { return reading{metric: fmt.Sprintf("%.2f Hz", f.Hertz())} }

// give writes an answer with its uncertainty and what it mostly comes from.
func (p page) give(label string, value, u reading, dominant string) {
	customary := ""
	if value.customary != "" {
		customary = bare(value.customary) + " ± " + u.customary
	}
	metric := value.metric
	if i := strings.IndexByte(metric, ' '); i > 0 {
		metric = metric[:i]
	}
	from := ""
	if dominant != "" {
		from = "  " + plainly(dominant)
	}
	p.line("    " + pad(label, 20) + pad(metric+" ± "+u.metric, 20) + pad(customary, 18) + from)
}

// plainly turns the name of an input into words.
func plainly(input string) string {
	end := ""
	if at, rest, ok := strings.Cut(input, "."); ok {
		end, input = at+" ", rest
	}
	said := map[string]string{
		"rider_mass": "the rider's mass", "bike_mass": "the bike's mass", "rear_share": "the share on the rear",
		"spring_rate": "spring rates", "table_travel": "travel readings", "reading": "reading of the ring",
	}
	text, ok := said[input]
	if !ok {
		text = strings.ReplaceAll(input, "_", " ")
	}
	if end != "" {
		return end + text
	}
	return text
}

// again says what to do about an input that decides.
func again(input string) string {
	switch input {
	case "rider_mass":
		return "weigh the rider again"
	case "bike_mass":
		return "weigh the bike again"
	case "rear_share", "front_scale", "rear_scale":
		return "weigh both wheels again"
	case "rear.spring_rate", "front.spring_rate":
		return "measure the two springs"
	case "rear.table_travel", "front.table_travel":
		return "read the " + strings.TrimSuffix(input, ".table_travel") + " table's travels again, or take them as measured"
	case "":
		return "nothing that was stated"
	}
	return "measure " + plainly(input) + " again"
}

// leftOut writes what the sheet could tell if it knew more.
func (p page) leftOut(list []setup.Omission) {
	if len(list) == 0 {
		return
	}
	p.heading("LEFT OUT")
	for _, o := range list {
		p.paragraph("  - ", o.Text)
	}
}
