package answer

import (
	"fmt"
	"slices"
	"strings"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// newAnswer writes what the page shows of a sheet.
func newAnswer(s *setup.Sheet, o Options) *Answer {
	all := rows.Of(s)
	a := &Answer{
		Sheet: s, Plain: Plain{s.Note, s.LeftOut, s.Warnings, s.Cautions}, Loads: shown(rows.Pick(all, rows.Loads)), Both: shown(rows.Pick(all, rows.Both, "")),
		Standing: standing(all), Further: sections(further(all)), Front: newEnd(all, sag.Front, s.Front, o), Rear: newEnd(all, sag.Rear, s.Rear, o),
	}
	for _, one := range []struct {
		axle sag.Axle
		end  *End
		of   *setup.EndSheet
	}{{sag.Front, a.Front, s.Front}, {sag.Rear, a.Rear, s.Rear}} {
		if one.end != nil {
			one.end.Next, one.end.Taken = next(s, setup.SheetEnd{Axle: one.axle, EndSheet: one.of}), takenAt(s, one.axle)
		}
	}
	if others := rows.Pick(all, rows.Riders); others != nil {
		a.Riders = pairs(rows.Riders.Title(), "Rider", others)
	}
	if s.Uncertainty != nil {
		given := rows.Pick(all, rows.Sure)
		a.Says = sentences(given)
		a.Sure = pairs(rows.Sure.Title(), "Answer", given)
	}
	for _, r := range rows.Pick(all, rows.Set) {
		a.Said += program.Title(r.End) + ": " + r.Note + ". "
	}
	switch n := len(s.Warnings); n {
	case 0:
	case 1:
		a.Said += "1 warning."
	default:
		a.Said += fmt.Sprintf("%d warnings.", n)
	}
	a.Said = strings.TrimSpace(a.Said)
	return a
}

// placed are the sections of a sheet that have a place of their own on the page, the warnings and
// what was left out as the sheet has them.
var placed = []rows.Section{
	rows.Set, rows.Warnings, rows.Loads, rows.Fit, rows.Others, rows.Expect, rows.Full, rows.Measure,
	rows.Both, rows.Riders, rows.Sure, rows.LeftOut, rows.Cautions,
}

// further are the rows of all other sections.
func further(all []rows.Row) []rows.Row {
	return slices.DeleteFunc(slices.Clone(all), func(r rows.Row) bool { return slices.Contains(placed, r.Section) })
}

// shown turns rows of the sheet with a number into those of the page.
func shown(all []rows.Row) []Row {
	var list []Row
	for _, r := range all {
		if r.Metric == "" {
			continue
		}
		one := Row{r.Key, program.Title(r.Label), r.Part, typeset(r.Metric), typeset(r.Customary), typeset(r.Note)}
		switch {
		case r.Section == rows.Loads && r.End != "":
			one.Key = string(r.End) + "_" + r.Key
		case r.Section == rows.Both: // what it is a part of stands in a table
			one.Part = false
		}
		list = append(list, one)
	}
	return list
}

// sentences are the rows without a number.
func sentences(all []rows.Row) []string {
	var list []string
	for _, r := range all {
		if r.Metric == "" {
			list = append(list, r.Note)
		}
	}
	return list
}

// pairs is a table of what the ends have, side by side; first heads the labels. An end of which
// there is nothing has no column. It is nil without rows.
func pairs(caption, first string, all []rows.Row) *Table {
	t := &Table{Caption: caption, Head: []string{first}}
	var ends []sag.Axle
	for _, end := range []sag.Axle{sag.Front, sag.Rear} {
		if slices.ContainsFunc(all, func(r rows.Row) bool { return r.End == end && r.Metric != "" }) {
			ends, t.Head = append(ends, end), append(t.Head, program.Title(end))
		}
	}
	for _, p := range rows.Pairs(all) {
		line, any := []string{program.Title(p.Label)}, false
		for i, end := range ends {
			r := p.Front
			switch {
			case p.Whole != nil && i == 0:
				r = p.Whole
			case end == sag.Rear:
				r = p.Rear
			}
			cell := ""
			if r != nil {
				cell, any = typeset(r.Cell()), any || r.Metric != ""
			}
			line = append(line, cell)
		}
		if any {
			t.Rows = append(t.Rows, line)
		}
	}
	if t.Rows == nil {
		return nil
	}
	return t
}

// standing is the sag of both ends in every stance that the sheet knows.
func standing(all []rows.Row) *Table {
	var list []rows.Row
	for _, r := range rows.Pick(all, rows.Expect) {
		if r.Key == "sag" {
			r.Label = "as set up, each end by itself"
			list = append(list, r)
		}
	}
	return pairs("Sag with what is recommended", "Standing", append(list, rows.Pick(all, rows.Both, sag.Front, sag.Rear)...))
}

// typeset writes a minus as wide as a digit: the hyphen of a number, at the start or behind a space
// or a parenthesis.
func typeset(text string) string {
	for i := 0; i+1 < len(text); i++ {
		starts := i == 0 || text[i-1] == ' ' || text[i-1] == '('
		if starts && text[i] == '-' && '0' <= text[i+1] && text[i+1] <= '9' {
			text = text[:i] + "−" + text[i+1:]
		}
	}
	return text
}

// newEnd writes what the page shows of one end.
func newEnd(all []rows.Row, axle sag.Axle, e *setup.EndSheet, o Options) *End {
	if e == nil {
		return nil
	}
	pick := func(section rows.Section) []Row { return shown(rows.Pick(all, section, axle)) }
	end := &End{
		Fit: pick(rows.Fit), Expect: pick(rows.Expect), Full: pick(rows.Full), Measure: pick(rows.Measure),
		Others: sentences(rows.Pick(all, rows.Others, axle)), Choices: choices(e),
	}
	for _, r := range rows.Pick(all, rows.Set, axle) {
		end.Set = r.Note
	}
	if r := e.Settled(); r != nil {
		end.Bar = &Bar{Sag: r.Sag, Low: float64(r.TravelLow / e.Travel), High: float64(r.TravelHigh / e.Travel), Target: e.TargetSag}
	}
	if best := e.Spring(); best != nil {
		end.Kind, end.Brief = "coil spring", best.Rate.Both().Customary
		if best.Law != "" {
			end.Brief = best.Law
		}
	} else if best := e.Fill(); best != nil {
		end.Kind, end.Brief = "air spring", best.Fill.Both().Metric
	} else {
		end.Kind, end.Brief = "air spring", e.Gauge.Fill.Both().Metric
	}
	end.Step = e.Gauge != nil && !e.Gauge.Answer
	if e.State == nil { // its readings don't tell the spring
		if end.Brief += ", sag " + units.Percent(e.TargetSag); end.Step {
			end.Brief += " wanted: a step"
		}
		return end
	}
	end.Brief += ", sag " + units.Percent(e.Rest.Sag)
	if o.Width == 0 {
		return end
	}
	end.Curves = fitted(e).curves(e)
	end.Points = end.Curves.table(o.Customary)
	end.Drawn = end.Curves.draw(string(axle), e, o)
	return end
}

// choices are the springs of the shelf, or what other counts of spacers give.
func choices(e *setup.EndSheet) *Table {
	if e.Coil != nil {
		t := &Table{Caption: "The shelf, best first", Head: []string{"lbf/in", "N/mm", "Preload, mm", "Sag", "Found"}}
		for i := range e.Coil.Candidates {
			c := &e.Coil.Candidates[i]
			t.Rows = append(t.Rows, []string{
				fmt.Sprintf("%.0f", c.Rate.PoundsForcePerInch()), fmt.Sprintf("%.2f", c.Rate.NewtonsPerMillimetre()),
				fmt.Sprintf("%.1f", c.Preload.Millimetres()), units.Percent(c.Rest.Sag), rows.Ranked(c)})
		}
		return t
	}
	if e.Air == nil || len(e.Air.Options) < 2 {
		return nil
	}
	t := &Table{Caption: "With other spacers, the recommended first", Head: []string{"Spacers", "bar", "psi", "Sag", "End force, × load", "Found"}}
	for i := range e.Air.Options {
		o := &e.Air.Options[i]
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(o.Spacers), fmt.Sprintf("%.2f", o.Fill.Bar()), fmt.Sprintf("%.1f", o.Fill.PSI()),
			units.Percent(o.Rest.Sag), fmt.Sprintf("%.1f", o.FullRatio), rows.Findings(o.Findings)})
	}
	return t
}
