package rows

import (
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Row is one line of a sheet: what a number is, the number in both systems of
// units, and what belongs to it. A row without a number is a sentence, its Note.
type Row struct {
	Section Section  `json:"section"`
	End     sag.Axle `json:"end,omitempty"` // that the row is about; empty for the whole bike
	// Key is a stable name such as "wheel_rate". Within a section and an end only
	// sentences share one.
	Key   string `json:"key"`
	Label string `json:"label,omitempty"`
	Part  bool   `json:"part,omitempty"` // of the last row that is not a part itself
	// Values are what the text says, for a program with text of its own: a
	// quantity of package units, a [sag.Damping] or a plain number; of a range its
	// two ends, of an uncertain answer the value and its standard uncertainty.
	Values []any `json:"values,omitempty"`
	units.Dual
	Note string `json:"note,omitempty"`
}

// String returns the row as one line of text.
func (r Row) String() string {
	if r.Label == "" {
		return r.Cell()
	}
	return r.Label + ": " + r.Cell()
}

// Cell returns the row without its label: the number in both systems and the note.
func (r Row) Cell() string {
	text := r.Dual.String()
	switch {
	case text == "":
		return r.Note
	case r.Note == "":
		return text
	}
	return text + ", " + r.Note
}

// Section is a part of a sheet.
type Section string

// The sections, in the order of [Of]. Fit, Others, Expect, Full and Measure are there
// for each end by itself.
const (
	Set      Section = "set" // a sentence for each end
	Warnings Section = "warnings"
	Loads    Section = "loads"
	Fit      Section = "fit"
	Others   Section = "others" // what else could be fitted, in sentences
	Expect   Section = "expect"
	Full     Section = "full"
	Measure  Section = "measure"
	Both     Section = "both"
	Sure     Section = "sure"
	LeftOut  Section = "left_out"
	Cautions Section = "cautions"
)

var titles = map[Section]string{
	Set: "Set it to", Warnings: "Warnings", Loads: "Loads",
	Fit: "Fit", Others: "What else could be fitted", Expect: "Expect", Full: "Full travel", Measure: "Measure to confirm",
	Both: "Both ends", Sure: "How sure", LeftOut: "Left out", Cautions: "Cautions",
}

// Title returns the heading of a section.
func (s Section) Title() string { return titles[s] }

// Of returns the rows of a sheet in reading order: warnings before the numbers,
// cautions at the end. A program that shows a sheet should show them all. The sheet
// must not be nil; one that was read from JSON does not have the bike's mass.
func Of(s *setup.Sheet) []Row {
	l := &list{}
	ends := []end{{sag.Front, &s.Front}, {sag.Rear, &s.Rear}}
	for _, e := range ends {
		l.at(Set, e.axle)
		l.say("set", string(e.axle), e.inShort())
	}
	for _, w := range s.Warnings {
		l.at(Warnings, "")
		if axle := sag.Axle(w.Field); axle == sag.Front || axle == sag.Rear {
			l.end = axle
		}
		l.say(w.Code, w.Field, w.Text)
	}
	loads(l, s)
	for _, e := range ends {
		e.rows(l)
	}
	both(l, s)
	if s.Uncertainty != nil {
		sure(l, s.Uncertainty)
	}
	l.at(LeftOut, "")
	for _, o := range s.LeftOut {
		l.say(o.Code, "", o.Text)
	}
	l.at(Cautions, "")
	for _, c := range s.Cautions {
		l.say(c.Code, "", c.Text)
	}
	return l.rows
}

// Pick returns the rows of a section that are about one of the ends given, or all of
// it where none is given. The whole bike is the end "".
func Pick(all []Row, section Section, ends ...sag.Axle) []Row {
	var list []Row
	for _, r := range all {
		if r.Section != section {
			continue
		}
		mine := len(ends) == 0
		for _, end := range ends {
			mine = mine || r.End == end
		}
		if mine {
			list = append(list, r)
		}
	}
	return list
}

// Pair is a line of a table that has front and rear side by side. One of the rows is
// empty where an end does not have it.
type Pair struct {
	Label       string
	Part        bool
	Front, Rear Row
}

// Pairs puts rows of the same section and key side by side, in the order of the front
// rows; a row that only the rear has stands behind the one it follows there. Rows of
// the whole bike are ignored. Where the labels differ, the pair has both: "sag along
// the stanchion / at the shock".
func Pairs(all []Row) []Pair {
	var list []Pair
	at := 0 // where the rear's next row goes
	for _, front := range all {
		if front.End == sag.Front {
			list = append(list, Pair{Label: front.Label, Part: front.Part, Front: front})
		}
	}
	for _, rear := range all {
		if rear.End != sag.Rear {
			continue
		}
		found := false
		for i := range list {
			p := &list[i]
			if found = p.Rear.Key == "" && p.Front.Section == rear.Section && p.Front.Key == rear.Key; found {
				p.Rear, p.Label, at = rear, common(p.Front.Label, rear.Label), i+1
				break
			}
		}
		if !found {
			list = append(list[:at], append([]Pair{{Label: rear.Label, Part: rear.Part, Rear: rear}}, list[at:]...)...)
			at++
		}
	}
	return list
}

// common joins two labels, with the words that they share at either end once.
func common(a, b string) string {
	if a == b {
		return a
	}
	front, rear := strings.Fields(a), strings.Fields(b)
	from := 0
	for from < min(len(front), len(rear)) && front[from] == rear[from] {
		from++
	}
	to := 0
	for to < min(len(front), len(rear))-from && front[len(front)-1-to] == rear[len(rear)-1-to] {
		to++
	}
	words := append(append(append([]string{}, front[:len(front)-to]...), "/"), rear[from:]...)
	return strings.Join(words, " ")
}

// end is one end of a sheet.
type end struct {
	axle sag.Axle
	*setup.EndSheet
}

// list is rows under way, with where the next ones belong.
type list struct {
	rows    []Row
	section Section
	end     sag.Axle
}

func (l *list) at(section Section, end sag.Axle) { l.section, l.end = section, end }

// row adds a row. A label that begins with spaces makes it a part.
func (l *list) row(key, label string, text units.Dual, note string, values ...any) {
	bare := strings.TrimLeft(label, " ")
	l.rows = append(l.rows, Row{
		Section: l.section, End: l.end, Key: key, Label: bare, Part: bare != label, Values: values, Dual: text, Note: note,
	})
}

func (l *list) say(key, label, text string) { l.row(key, label, units.Dual{}, text) }

type quantity interface{ Both() units.Dual }

func (l *list) add(key, label string, q quantity, note string) { l.row(key, label, q.Both(), note, q) }

func (l *list) band(key, label string, low, high units.Length, note string) {
	l.row(key, label, low.Both().Through(high.Both()), note, low, high)
}
