// Package card writes a set-up sheet as a card for the workshop: half a page, with what to set at
// each end and what to read on the left, and the steps of the work with boxes to tick on the right.
//
// [HTML] returns the card as a part of a page, [CSS] its style, and [Page] both as a whole page. Two
// cards fit on a sheet of A4 or of Letter paper, one on A5. All class names begin with "workcard".
//
// Every number on a card is the sheet's. What nobody said, and what only the maker's manual knows, is
// a blank with words. Not on the card: everything else that a sheet says.
package card

import (
	_ "embed"
	"fmt"
	"html"
	"slices"
	"strings"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
)

// CSS is the style of a card, on screens and in print.
//
//go:embed card.css
var CSS string

// Page returns a page of HTML with the card of a sheet and nothing else.
func Page(s *setup.Sheet) string {
	return "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" +
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Card for the workshop</title>\n" +
		"<style>\n@page { margin: 6mm; }\nbody { margin: 0; background: #fff; }\n" + CSS + "</style>\n</head>\n<body>\n" + HTML(s) + "</body>\n</html>\n"
}

// HTML returns the card of a sheet as an element <section>; "" for nil.
func HTML(s *setup.Sheet) string {
	if s == nil {
		return ""
	}
	w := &writer{ends: ends(s), told: map[string]bool{}}
	w.add(`<section class="workcard" aria-label="Card for the workshop">`, "\n", `<header class="workcard-head"><b>Card for the workshop</b> rider <b>`,
		text(s.RiderMass.Both().String()), `</b>, dressed to ride`)
	w.blank("bike,")
	w.blank("date,")
	w.add("</header>\n<div class=\"workcard-set\">\n")
	for _, axle := range []sag.Axle{sag.Front, sag.Rear} {
		at := slices.IndexFunc(w.ends, func(e end) bool { return e.Axle == axle })
		if at < 0 {
			w.add(`<div class="workcard-end"><h3>`, program.Title(string(axle)), `</h3><p>nothing to set: the job has no spring here</p></div>`, "\n")
			continue
		}
		w.end(&w.ends[at])
	}
	if whole := warnings(s, ""); whole != nil {
		w.warn(whole)
	}
	w.add("</div>\n<div class=\"workcard-work\">\n")
	for i := range w.ends {
		w.steps(string(w.ends[i].Axle), work, &w.ends[i])
	}
	w.steps("then", last, nil)
	w.add("</div>\n<p class=\"workcard-foot\">", text(foot.caution))
	if s.Note != "" {
		w.add(` <span class="workcard-note">`, text(clipped(s.Note)), `</span>`)
	}
	w.add("</p>\n</section>\n")
	return w.String()
}

// noteLength is how much of a job's note has room.
const noteLength = 64

func clipped(note string) string {
	if runes := []rune(note); len(runes) > noteLength {
		return strings.TrimSpace(string(runes[:noteLength])) + "…"
	}
	return note
}

// text returns a text for a page, on one line and escaped.
func text(s string) string {
	return html.EscapeString(program.Line(strings.Join(strings.Fields(s), " ")))
}

// writer is a card so far, of some ends.
type writer struct {
	strings.Builder
	ends []end
	told map[string]bool // cautions that stand on it
}

func (w *writer) add(parts ...string) {
	for _, part := range parts {
		w.WriteString(part)
	}
}

// blank adds a place to write, between its name and its unit.
func (w *writer) blank(of string) {
	name, unit, _ := strings.Cut(of, ",")
	w.add(` <label class="workcard-blank">`, text(name), ` <input type="text" autocomplete="off"> `, text(unit), `</label>`)
}

// end adds what to set at an end and what to read there.
func (w *writer) end(e *end) {
	long := ""
	if e.Long() {
		long = ` workcard-long`
	}
	w.add(`<div class="workcard-end"><h3>`, program.Title(string(e.Axle)), `: `, e.Kind, `</h3>`,
		`<p class="workcard-number`, long, `"><b>`, text(e.Large), `</b> `, text(e.Small), `</p>`)
	for _, more := range e.More {
		w.add(`<p>`, text(more), `</p>`)
	}
	if e.Where != "" {
		w.add(`<p class="workcard-ring">ring <b>`, text(e.Ring.Metric), `</b> `, text(e.Ring.Customary), `</p><p class="workcard-small">`, text(e.Where), `</p>`)
	}
	w.warn(e.warn)
	w.add("</div>\n")
}

func (w *writer) warn(list []string) {
	for _, one := range list {
		w.add(`<p class="workcard-warn">! `, text(one), `</p>`)
	}
}

// steps adds the steps that suit an end, below a name; all of them for nil, the whole bike.
func (w *writer) steps(name string, list []step, e *end) {
	w.add(`<div class="workcard-steps"><b>`, text(name), "</b>\n<ol>\n")
	for _, s := range list {
		do := text(s.do)
		if e != nil {
			if !e.suits(s.when) {
				continue
			}
			do = e.fill(do)
		}
		w.add(`<li><label><input type="checkbox"> `, do, `</label>`)
		for _, of := range s.blanks {
			w.blank(of)
		}
		for i := 0; s.reads && i < len(w.ends); i++ {
			w.blank(string(w.ends[i].Axle) + ",")
		}
		if s.rounds {
			w.rounds(e.rounds)
		}
		switch {
		case s.caution == "":
		case w.told[s.caution]:
			w.add(` <em>! As in front.</em>`)
		default:
			w.add(` <em>! `, text(s.caution), `</em>`)
			w.told[s.caution] = true
		}
		w.add("</li>\n")
	}
	w.add("</ol></div>\n")
}

// mostRounds is how many readings of the gauge have room.
const mostRounds = 6

// rounds adds the readings of the gauge after each cycle, a box beside each.
func (w *writer) rounds(list []string) {
	for i, one := range list {
		switch last := len(list) - 1; {
		case len(list) <= mostRounds || i < mostRounds-1 || i == last:
			w.add(` <label class="workcard-round"><input type="checkbox"> `, text(one), `</label>`)
		case i == mostRounds-1:
			w.add(` …`)
		}
	}
}

// mostWarnings is how many warnings of one end, or of the whole bike, have room.
const mostWarnings = 2

// warnings returns those of an end, or of neither.
func warnings(s *setup.Sheet, axle sag.Axle) (list []string) {
	for _, r := range rows.Pick(rows.Of(s), rows.Warnings, axle) {
		list = append(list, r.Note)
	}
	if more := len(list) - mostWarnings; more > 0 {
		list = append(list[:mostWarnings], fmt.Sprintf("%d more on the sheet: read them first.", more))
	}
	return list
}
