package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

//go:embed sheet.html.tmpl
var sheetTemplate string

var htmlSheet = template.Must(template.New("sheet").Parse(sheetTemplate))

// sheetPage is what the page of HTML shows. Text is what the printed sheet
// says in the same words and digits.
type sheetPage struct {
	Note     string
	Set      []entry
	Expect   []pairRow // label, front, rear
	Choices  []choice
	Standing []pairRow
	Between  []string
	Sure     []pairRow
	Decides  []string
	Exact    string
	Pump     []pumpRow
	Riders   []riderRow
	Pictures []template.HTML
	Warnings []entry
	LeftOut  []string
	Cautions []string
}

type entry struct{ Name, Text string }

type pairRow struct{ Label, Front, Rear string }

type choice struct {
	Title, What, With string
	Rows              []choiceRow
}

type choiceRow struct {
	What, With, Sag, Full, Findings string
	Here                            bool // what is recommended
}

type pumpRow struct{ Do, Before, After string }

type riderRow struct {
	Mass, Front, Rear string
	Here              bool // the job's own rider
}

// writeHTML writes the sheet as one page without anything from elsewhere.
func writeHTML(w io.Writer, job setup.Job, s *setup.Sheet) error {
	p := sheetPage{Note: s.Note}
	p.Set = []entry{{"Front", inShort(&s.Front)}, {"Rear", inShort(&s.Rear)}}
	p.Expect = expected(s)
	p.Standing = standingRows(s)
	for i, e := range []*setup.EndSheet{&s.Front, &s.Rear} {
		if c := choices([]string{"Front", "Rear"}[i], e); len(c.Rows) > 1 {
			p.Choices = append(p.Choices, c)
		}
		if e.Coil != nil {
			p.Between = append(p.Between, betweenTexts(e.Coil)...)
		}
	}
	p.Sure, p.Decides = sureRows(s.Uncertainty)
	if s.Uncertainty != nil {
		p.Exact = exactly(s.Uncertainty)
	}
	p.Pump = pumpRows(job, s)
	for _, x := range s.Warnings {
		p.Warnings = append(p.Warnings, entry{x.Field, x.Text})
	}
	for _, o := range s.LeftOut {
		p.LeftOut = append(p.LeftOut, o.Text)
	}
	for _, c := range s.Cautions {
		p.Cautions = append(p.Cautions, c.Text)
	}
	var err error
	if p.Riders, err = riderRows(job, s); err != nil {
		return err
	}
	list := charts(s)
	if chart, ok := ridersChart(job, s); ok {
		list = append(list, chart)
	}
	for _, chart := range list {
		svg, err := picture.InlineSVG(chart)
		if err != nil {
			return err
		}
		p.Pictures = append(p.Pictures, template.HTML(svg)) // made here, of numbers and words that are escaped in it
	}
	var page bytes.Buffer
	if err := htmlSheet.Execute(&page, p); err != nil {
		return err
	}
	// A number and its sign of percent stay on one line.
	_, err = w.Write(bytes.ReplaceAll(page.Bytes(), []byte(" %"), []byte("\u00a0%")))
	return err
}

func both(r reading) string {
	if r.customary == "" {
		return r.metric
	}
	return r.metric + " (" + r.customary + ")"
}

func expected(s *setup.Sheet) []pairRow {
	row := func(label string, value func(e *setup.EndSheet) string) pairRow {
		return pairRow{label, value(&s.Front), value(&s.Rear)}
	}
	rows := []pairRow{
		row("load on the spring", func(e *setup.EndSheet) string { return both(force(e.Load)) }),
		row("sag at the wheel", func(e *setup.EndSheet) string { return percent(e.Rest.Sag) + ", " + both(length(e.Rest.Travel)) }),
		row("ring", func(e *setup.EndSheet) string { return both(length(e.Rest.Stroke)) + " " + where(e) }),
		row("friction allows", func(e *setup.EndSheet) string {
			if e.Friction == 0 {
				return "not stated"
			}
			return both(length(e.Rest.StrokeLow).through(length(e.Rest.StrokeHigh)))
		}),
		row("wheel rate at sag", func(e *setup.EndSheet) string { return both(rate(e.Rest.WheelRate)) }),
		row("bounce frequency", func(e *setup.EndSheet) string { return hertz(e.FastFrequency).metric }),
		row("force at full travel", func(e *setup.EndSheet) string {
			return fmt.Sprintf("%s, %.1f × the load", both(force(e.Reserve.FullForce)), e.FullRatio)
		}),
		row("energy left from sag", func(e *setup.EndSheet) string { return both(energy(e.EnergyLeft)) }),
	}
	// What only some jobs have: a row where either end has it.
	for _, r := range []pairRow{
		row("drop that uses it all", func(e *setup.EndSheet) string {
			if e.Reserve.DropHeight == 0 {
				return ""
			}
			return both(height(e.Reserve.DropHeight)) + ", undamped: not a promise"
		}),
		row("damping at the wheel", func(e *setup.EndSheet) string {
			if e.Damping == nil {
				return ""
			}
			return fmt.Sprintf("%s, %.2f of critical at sag, as stated", both(damping(e.Damping.Wheel)), e.Damping.Ratio)
		}),
		row("a drop", func(e *setup.EndSheet) string {
			if e.Landing == nil {
				return ""
			}
			return fmt.Sprintf("of %s uses %s, %s; %s at most", both(height(e.Landing.Height)), both(length(e.Landing.Travel)), percent(e.Landing.Used), both(force(e.Landing.PeakForce)))
		}),
	} {
		if r.Front != "" || r.Rear != "" {
			rows = append(rows, r)
		}
	}
	return rows
}

// choices are the springs of the shelf or the counts of spacers that an end can
// have, the recommended one first.
func choices(end string, e *setup.EndSheet) choice {
	if e.Coil != nil {
		table := choice{Title: end + ": on the shelf", What: "spring", With: "preload"}
		for i, c := range e.Coil.Candidates {
			table.Rows = append(table.Rows, choiceRow{both(rate(c.Rate)), one(c.Preload), percent(c.Rest.Sag),
				fmt.Sprintf("%.2f", c.FullRatio), words(c.Findings) + behind(c.Reason), i == 0})
		}
		return table
	}
	table := choice{Title: end + ": with other spacers", What: "spacers", With: "fill"}
	for i, o := range e.Air.Options {
		table.Rows = append(table.Rows, choiceRow{fmt.Sprint(o.Spacers), both(fill(o.Fill)), percent(o.Rest.Sag),
			fmt.Sprintf("%.2f", o.FullRatio), words(o.Findings), i == 0})
	}
	return table
}

func standingRows(s *setup.Sheet) []pairRow {
	sagOf := func(st setup.Standing) string { return atEnd(st, percent(st.Rest.Sag)) }
	var rows []pairRow
	if c := s.Coupled; c != nil {
		rows = append(rows, pairRow{fmt.Sprintf("settled together, pitch %.2f°", c.Pitch.Degrees()), percent(c.FrontSag), percent(c.RearSag)})
	}
	if f := s.Free; f != nil {
		rows = append(rows, pairRow{"with nobody on", sagOf(f.Front), sagOf(f.Rear)})
	}
	for _, st := range s.Stances {
		rows = append(rows, pairRow{fmt.Sprintf("%s, %s on the rear", st.Name, percent(st.Loads.RearShare)), sagOf(st.Front), sagOf(st.Rear)})
	}
	return rows
}

func sureRows(b *certainty.Budget) (rows []pairRow, decides []string) {
	if b == nil {
		return nil, nil
	}
	add := func(label string, front, rear string) {
		if front != "" || rear != "" {
			rows = append(rows, pairRow{label, front, rear})
		}
	}
	f, r := &b.Front, &b.Rear
	add("exact spring", sureOf(f.IdealRate, rate), sureOf(r.IdealRate, rate))
	add("exact fill", sureOf(f.FillWanted, fill), sureOf(r.FillWanted, fill))
	share := func(x float64) reading { return reading{metric: percent(x)} }
	add("sag at the wheel", sureOf(f.Sag, share), sureOf(r.Sag, share))
	add("ring", sureOf(f.StrokeReading, length), sureOf(r.StrokeReading, length))
	add("bounce frequency", sureOf(f.FastFrequency, hertz), sureOf(r.FastFrequency, hertz))
	return rows, append(rivalTexts(f), rivalTexts(r)...)
}

// sureOf is an answer with its uncertainty and what it mostly comes from.
func sureOf[Q ~float64](a *certainty.Answer[Q], in func(Q) reading) string {
	if a == nil {
		return ""
	}
	text := bare(in(a.Value).metric+" ") + " ± " + in(a.Uncertainty).metric
	if a.Dominant != "" {
		text += ", by " + plainly(a.Dominant)
	}
	return text
}

// pumpRows are the steps from the fill that an air spring holds, where the job
// tells, to the recommended one.
func pumpRows(job setup.Job, s *setup.Sheet) []pumpRow {
	var rows []pumpRow
	for _, end := range []struct {
		name string
		job  *setup.EndJob
		e    *setup.EndSheet
	}{{"front", &job.Front, &s.Front}, {"rear", &job.Rear, &s.Rear}} {
		air := end.job.Air
		if air == nil || end.e.Air == nil || air.Fill == 0 || air.NegativeVolume == 0 {
			continue
		}
		spec := air.Spec
		spec.Spacers = end.e.Air.Options[0].Spacers
		spec.Ambient = end.e.Air.Ambient
		within := units.PSIGauge(0.5) // what such a gauge can be read to
		plan, err := airspring.PlanTopUp(airspring.TopUpOf(spec, end.e.Air.Options[0].Fill, within))
		if err != nil {
			continue // spacers that don't leave the port room, say: the sheet itself has its words for it
		}
		said := map[airspring.TopUpAction]string{airspring.Pump: "pump up", airspring.Release: "let air out", airspring.Cycle: "unscrew the pump, cycle slowly past the port"}
		for _, step := range plan.Steps {
			rows = append(rows, pumpRow{end.name + ": " + said[step.Action], both(fill(step.Before)), both(fill(step.After))})
		}
	}
	return rows
}

// forRiders is the job as a template for other riders.
func forRiders(job setup.Job, s *setup.Sheet) (*setup.Template, error) {
	job.Masses.FrontScale, job.Masses.RearScale = 0, 0
	if job.Masses.RearShare == 0 && job.Masses.MassCentreBehindFrontAxle == 0 {
		job.Masses.RearShare = s.Loads.RearShare // as the scales have it
	}
	job.Uncertainty, job.Stances = nil, nil
	return setup.NewTemplate(job)
}

// riderRows are what riders of other masses need on the same bike.
func riderRows(job setup.Job, s *setup.Sheet) ([]riderRow, error) {
	bike, err := forRiders(job, s)
	if err != nil {
		return nil, err
	}
	var rows []riderRow
	for step := -3; step <= 3; step++ {
		m := s.RiderMass + units.Mass(5*step)
		other, err := bike.Sheet(m)
		if err != nil {
			continue // so light that nothing is left on a spring
		}
		rows = append(rows, riderRow{both(mass(m)), setting(&other.Front), setting(&other.Rear), step == 0})
	}
	return rows, nil
}

// setting is what an end is set to, in few words.
func setting(e *setup.EndSheet) string {
	if e.Coil != nil {
		c := e.Coil.Candidates[0]
		return fmt.Sprintf("%.0f lbf/in, %s, sag %s", c.Rate.PoundsForcePerInch(), one(c.Preload), percent(c.Rest.Sag))
	}
	o := e.Air.Options[0]
	return fmt.Sprintf("%s, %s, sag %s", both(fill(o.Fill)), spacerCount(o.Spacers), percent(o.Rest.Sag))
}
