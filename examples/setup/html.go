package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"

	"example.com/wheelrate/examples/internal/card"
	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

//go:embed sheet.html.tmpl
var sheetTemplate string

var htmlSheet = template.Must(template.New("sheet").Funcs(template.FuncMap{"title": program.Title[sag.Axle], "cell": cell}).Parse(sheetTemplate))

// sheetPage is what the page of HTML shows.
type sheetPage struct {
	Note     string
	Set      []setting
	Parts    []part // of the set-up
	Choices  []choice
	Others   []rows.Row
	Tables   []part
	Sure     part
	Means    []rows.Row // sentences before the numbers of Sure
	Says     []rows.Row // and after them
	Pictures []template.HTML
	Warnings []rows.Row
	LeftOut  []rows.Row
	Cautions []rows.Row
}

// setting is what to set at an end.
type setting struct {
	Axle sag.Axle
	*card.Setting
}

// part is a table, or a part of one, that has the ends side by side.
type part struct {
	Title, First string // First heads the labels
	Ends         []sag.Axle
	Pairs        []rows.Pair
}

// Columns is how many columns the table has.
func (p part) Columns() int { return 1 + len(p.Ends) }

// cell is what a line of a table has of an end; nil for nothing.
func cell(p rows.Pair, axle sag.Axle) *rows.Row {
	if axle == sag.Front {
		return p.Front
	}
	return p.Rear
}

type choice struct {
	Title, What, With string
	Rows              []choiceRow
}

type choiceRow struct {
	What, With, Sag, Full, Findings string
	Here                            bool // what is recommended
}

// writeHTML writes the sheet as one page without anything from elsewhere.
func writeHTML(w io.Writer, job setup.Job, s *setup.Sheet) error {
	all := rows.Of(s)
	p := sheetPage{
		Note: s.Note, Warnings: rows.Pick(all, rows.Warnings), Others: rows.Pick(all, rows.Others),
		LeftOut: rows.Pick(all, rows.LeftOut), Cautions: rows.Pick(all, rows.Cautions),
	}
	front, rear := card.Settings(s)
	for _, one := range []setting{{sag.Front, front}, {sag.Rear, rear}} {
		if one.Setting != nil {
			p.Set = append(p.Set, one)
		}
	}
	table := func(all []rows.Row, section rows.Section, first string) part {
		t := part{Title: section.Title(), First: first, Pairs: rows.Pairs(rows.Pick(all, section))}
		for _, e := range s.Ends() {
			t.Ends = append(t.Ends, e.Axle)
		}
		return t
	}
	for _, section := range []rows.Section{rows.Loads, rows.Fit, rows.Expect, rows.Full, rows.Measure} {
		if t := table(all, section, ""); len(t.Pairs) > 0 {
			p.Parts = append(p.Parts, t)
		}
	}
	for _, section := range []rows.Section{rows.Both, rows.Pump, rows.Riders} {
		first := map[rows.Section]string{rows.Riders: "rider"}[section]
		if t := table(numbers(all), section, first); len(t.Pairs) > 0 {
			p.Tables = append(p.Tables, t)
		}
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
	p.Sure = table(given, rows.Sure, "")
	list := charts(job, s)
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
	_, err := w.Write(bytes.ReplaceAll(page.Bytes(), []byte(" %"), []byte("\u00a0%")))
	return err
}

// numbers are the rows that are no sentences.
func numbers(all []rows.Row) []rows.Row {
	return slices.DeleteFunc(slices.Clone(all), func(r rows.Row) bool { return r.Metric == "" })
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
	if e.Air == nil {
		return choice{}
	}
	table := choice{Title: end + ": with other spacers", What: "spacers", With: "fill"}
	for i := range e.Air.Options {
		o := &e.Air.Options[i]
		table.Rows = append(table.Rows, choiceRow{fmt.Sprint(o.Spacers), o.Fill.Both().String(), units.Percent(o.Rest.Sag),
			fmt.Sprintf("%.2f", o.FullRatio), rows.Findings(o.Findings), i == 0})
	}
	return table
}
