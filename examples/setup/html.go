package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/rows"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

//go:embed sheet.html.tmpl
var sheetTemplate string

var htmlSheet = template.Must(template.New("sheet").Funcs(template.FuncMap{"title": program.Title[sag.Axle]}).Parse(sheetTemplate))

// sheetPage is what the page of HTML shows.
type sheetPage struct {
	Note     string
	Set      []rows.Row
	Parts    []part // of the set-up
	Choices  []choice
	Others   []rows.Row
	Both     part
	Sure     part
	Means    []rows.Row // sentences before the numbers of Sure
	Says     []rows.Row // and after them
	Pump     []pumpRow
	Riders   []riderRow
	Pictures []template.HTML
	Warnings []rows.Row
	LeftOut  []rows.Row
	Cautions []rows.Row
}

// part is a part of a table that has front and rear side by side.
type part struct {
	Title string
	Pairs []rows.Pair
}

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
	all := rows.Of(s)
	p := sheetPage{
		Note: s.Note, Set: rows.Pick(all, rows.Set), Warnings: rows.Pick(all, rows.Warnings), Others: rows.Pick(all, rows.Others),
		Both: table(all, rows.Both), Pump: pumpRows(job, s), LeftOut: rows.Pick(all, rows.LeftOut), Cautions: rows.Pick(all, rows.Cautions),
	}
	for _, section := range []rows.Section{rows.Loads, rows.Fit, rows.Expect, rows.Full, rows.Measure} {
		p.Parts = append(p.Parts, table(all, section))
	}
	for _, e := range s.Ends() {
		if c := choices(program.Title(string(e.Axle)), e.EndSheet); len(c.Rows) > 1 {
			p.Choices = append(p.Choices, c)
		}
	}
	var given []rows.Row
	for _, r := range rows.Pick(all, rows.Sure) {
		switch {
		case r.Metric != "":
			given = append(given, r)
		case given == nil:
			p.Means = append(p.Means, r)
		default:
			p.Says = append(p.Says, r)
		}
	}
	p.Sure = table(given, rows.Sure)
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

func table(all []rows.Row, section rows.Section) part {
	return part{section.Title(), rows.Pairs(rows.Pick(all, section))}
}

// choices are the springs of the shelf or the counts of spacers that an end can
// have, the recommended one first.
func choices(end string, e *setup.EndSheet) choice {
	if e.Coil != nil {
		table := choice{Title: end + ": on the shelf", What: "spring", With: "preload"}
		for i := range e.Coil.Candidates {
			c := &e.Coil.Candidates[i]
			table.Rows = append(table.Rows, choiceRow{c.Rate.Both().String(), c.Preload.Both().Metric, units.Percent(c.Rest.Sag),
				fmt.Sprintf("%.2f", c.FullRatio), rows.Ranked(c), i == 0})
		}
		return table
	}
	table := choice{Title: end + ": with other spacers", What: "spacers", With: "fill"}
	for i := range e.Air.Options {
		o := &e.Air.Options[i]
		table.Rows = append(table.Rows, choiceRow{fmt.Sprint(o.Spacers), o.Fill.Both().String(), units.Percent(o.Rest.Sag),
			fmt.Sprintf("%.2f", o.FullRatio), rows.Findings(o.Findings), i == 0})
	}
	return table
}

// pumpRows are the steps from the fill that an air spring holds, where the job
// tells, to the recommended one.
func pumpRows(job setup.Job, s *setup.Sheet) []pumpRow {
	var rows []pumpRow
	jobs := map[sag.Axle]*setup.EndJob{sag.Front: job.Front, sag.Rear: job.Rear}
	for _, e := range s.Ends() {
		air := jobs[e.Axle].Air
		if air == nil || e.Air == nil || air.Fill == 0 || air.NegativeVolume == 0 {
			continue
		}
		spec := air.Spec
		spec.Spacers = e.Fill().Spacers
		spec.Ambient = e.Air.Ambient
		within := units.PSIGauge(0.5) // what such a gauge can be read to
		plan, err := airspring.PlanTopUp(airspring.TopUpOf(spec, e.Fill().Fill, within))
		if err != nil {
			continue // spacers that don't leave the port room, say: the sheet itself has its words for it
		}
		said := map[airspring.TopUpAction]string{airspring.Pump: "pump up", airspring.Release: "let air out", airspring.Cycle: "unscrew the pump, cycle slowly past the port"}
		for _, step := range plan.Steps {
			rows = append(rows, pumpRow{string(e.Axle) + ": " + said[step.Action], step.Before.Both().String(), step.After.Both().String()})
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
		rows = append(rows, riderRow{m.Both().String(), setting(other.Front), setting(other.Rear), step == 0})
	}
	return rows, nil
}
