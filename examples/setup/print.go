package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// The sheet is laid out for a page of 80 columns: a label, the metric reading,
// the customary reading, and what belongs to both.
type columns struct{ label, metric, customary int }

var (
	usual  = columns{26, 17, 17}
	unsure = columns{20, 20, 20} // for a reading with its uncertainty
)

// wide is how many columns a sentence has, and widest a row with what belongs to it.
const wide, widest = 80, 100

// page writes the sheet's lines.
type page struct{ w io.Writer }

func (p page) line(text string) { fmt.Fprintln(p.w, program.Line(strings.TrimRight(text, " "))) }

func (p page) heading(text string) {
	p.line("")
	p.line(text)
	p.line(strings.Repeat("-", utf8.RuneCountInString(text)))
}

// rows writes rows, sentences among them.
func (p page) rows(list []rows.Row, c columns) {
	for _, r := range list {
		switch {
		case r.Metric == "":
			p.paragraph("    ", r.Note)
		default:
			label := r.Label
			if r.Part {
				label = "  " + label
			}
			if utf8.RuneCountInString(label) >= c.label {
				p.line("    " + label)
				label = ""
			}
			cells := "    " + pad(label, c.label) + pad(r.Metric, c.metric) + pad(r.Customary, c.customary)
			p.wrap(cells, r.Note, widest)
		}
	}
}

// paragraph wraps text with a mark before its first line.
func (p page) paragraph(mark, text string) { p.wrap(mark, text, wide) }

// wrap writes text in lines of some columns, with a mark before the first.
func (p page) wrap(mark, text string, columns int) {
	width := utf8.RuneCountInString(mark)
	for i, line := range program.Lines(text, columns-width) {
		if i > 0 {
			mark = strings.Repeat(" ", width)
		}
		p.line(mark + line)
	}
}

func pad(text string, width int) string {
	if n := width - utf8.RuneCountInString(text); n > 0 {
		return text + strings.Repeat(" ", n)
	}
	return text + " "
}

// printSheet writes the whole sheet.
func printSheet(w io.Writer, s *setup.Sheet) {
	p, all := page{w}, rows.Of(s)
	p.line("SET-UP SHEET")
	if s.Note != "" {
		p.paragraph("  ", s.Note)
	}
	// sentences writes a section of them, each behind a mark and its label of some
	// width.
	sentences := func(section rows.Section, mark string, wide int) {
		list := rows.Pick(all, section)
		if len(list) == 0 {
			return
		}
		p.heading(strings.ToUpper(section.Title()))
		for _, r := range list {
			label := ""
			if r.Label != "" {
				label = pad(r.Label+":", wide)
			}
			p.paragraph(mark+label, r.Note)
		}
	}
	sentences(rows.Set, "  ", 7)
	sentences(rows.Warnings, "  ! ", 0)
	p.heading(strings.ToUpper(rows.Loads.Title()))
	p.rows(rows.Pick(all, rows.Loads), usual)
	for _, e := range s.Ends() {
		p.end(all, e.Axle, e.EndSheet)
	}
	p.both(rows.Both, all)
	p.both(rows.Riders, all)
	p.sure(all)
	sentences(rows.LeftOut, "  - ", 0)
	sentences(rows.Cautions, "  * ", 0)
}

// end writes what concerns one end of the bike.
func (p page) end(all []rows.Row, axle sag.Axle, e *setup.EndSheet) {
	kind := "coil spring"
	if e.Coil == nil {
		kind = "air spring"
	}
	p.heading(strings.ToUpper(string(axle)) + ": " + kind)
	for i, section := range []rows.Section{rows.Fit, rows.Expect, rows.Full, rows.Measure} {
		list := rows.Pick(all, section, axle)
		if len(list) == 0 {
			continue
		}
		if i > 0 {
			p.line("")
		}
		p.line("  " + section.Title())
		p.rows(list, usual)
		if section == rows.Fit {
			p.choices(e)
			p.rows(rows.Pick(all, rows.Others, axle), usual)
			if steps := rows.Pick(all, rows.Pump, axle); len(steps) > 0 {
				p.line("")
				p.line("  " + rows.Pump.Title())
				p.rows(steps, usual)
			}
		}
	}
}

// choices writes the springs of the shelf or the counts of spacers, the recommended
// one first and marked.
func (p page) choices(e *setup.EndSheet) {
	mark := map[bool]string{true: "  > ", false: "    "}
	switch {
	case e.Coil != nil:
		p.line("")
		p.line("  On the shelf")
		p.line("    " + pad("N/mm", 9) + pad("lbf/in", 8) + pad("preload", 10) + pad("sag", 9) + pad("full ×", 9) + "findings")
		for i := range e.Coil.Candidates {
			c := &e.Coil.Candidates[i]
			p.wrap(mark[i == 0]+pad(fmt.Sprintf("%.2f", c.Rate.NewtonsPerMillimetre()), 9)+
				pad(fmt.Sprintf("%.0f", c.Rate.PoundsForcePerInch()), 8)+
				pad(c.Preload.Both().Metric, 10)+pad(units.Percent(c.Rest.Sag), 9)+pad(fmt.Sprintf("%.2f", c.FullRatio), 9), rows.Ranked(c), widest)
		}
		p.line("")
		p.line("  Between two springs")
	case e.Air != nil && len(e.Air.Options) > 1:
		p.line("")
		p.line("  With other spacers")
		p.line("    " + pad("spacers", 9) + pad("fill", 22) + pad("sag", 9) + pad("full ×", 9) + "findings")
		for i := range e.Air.Options {
			o := &e.Air.Options[i]
			fill := o.Fill.Both()
			p.wrap(mark[i == 0]+pad(fmt.Sprint(o.Spacers), 9)+pad(fill.Metric+" / "+fill.Customary, 22)+pad(units.Percent(o.Rest.Sag), 9)+
				pad(fmt.Sprintf("%.2f", o.FullRatio), 9), rows.Findings(o.Findings), widest)
		}
	}
}

// both writes a section about both ends, the rear under the front.
func (p page) both(section rows.Section, all []rows.Row) {
	list := rows.Pick(all, section)
	if len(list) == 0 {
		return
	}
	p.heading(strings.ToUpper(section.Title()))
	for i := range list {
		switch r := &list[i]; {
		case r.End == sag.Rear && i > 0 && list[i-1].End == sag.Front:
			r.Label, r.Part = "rear", true
		case r.End != "":
			r.Label += ", " + string(r.End)
		}
	}
	p.rows(list, usual)
}

// sure writes how well the answers are known, where the sheet says so.
func (p page) sure(all []rows.Row) {
	list := rows.Pick(all, rows.Sure)
	if len(list) == 0 {
		return
	}
	p.heading(strings.ToUpper(rows.Sure.Title()))
	under := sag.Axle("")
	for _, r := range list {
		if r.End == "" && r.Metric == "" {
			p.paragraph("  ", r.Note)
			continue
		}
		if r.End != under {
			if under = r.End; under == "" {
				p.line("  the whole bike")
			} else {
				p.line("  " + string(under))
			}
		}
		p.rows([]rows.Row{r}, unsure)
	}
}
