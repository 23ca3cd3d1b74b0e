package rows

import (
	"slices"
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Row is one line of a sheet: a label, a number in both systems of units, and a note. A row without a
// number is a sentence, its Note.
type Row struct {
	Section Section  `json:"section"`
	End     sag.Axle `json:"end,omitempty"` // empty for the whole bike
	Key     string   `json:"key"`           // stable, such as "wheel_rate"; unique among the numbers of a section and an end
	Label   string   `json:"label,omitempty"`
	Part    bool     `json:"part,omitempty"` // a detail of the last row before it that is not a part
	// Values are the quantities or plain numbers of the text: the two ends of a range, or an
	// uncertain answer and its standard uncertainty.
	Values []any `json:"values,omitempty"`
	units.Dual
	Note string `json:"note,omitempty"`
}

// String returns the row as one line.
func (r Row) String() string {
	return either(r.Label == "", "", r.Label+": ") + r.Cell()
}

// Cell returns the row without its label.
func (r Row) Cell() string {
	text := r.Dual.String()
	return text + either(text == "" || r.Note == "", "", ", ") + r.Note
}

// Section is a part of a sheet.
type Section string

// The sections, in the order of [Of]. Those from Fit to Measure come first for the front, then for
// the rear.
const (
	Set      Section = "set" // a sentence for each end
	Warnings Section = "warnings"
	Loads    Section = "loads"
	Fit      Section = "fit"
	Others   Section = "others" // what else could be fitted, in sentences
	Pump     Section = "pump"   // the steps from the fill that an air spring holds
	Expect   Section = "expect"
	Full     Section = "full"
	Measure  Section = "measure"
	Both     Section = "both"
	Riders   Section = "riders" // of other masses
	Sure     Section = "sure"
	LeftOut  Section = "left_out"
	Cautions Section = "cautions"
)

// The sections of a visit. [Of] has none of them.
const (
	Advice Section = "advice"
	Read   Section = "read"
	Adjust Section = "adjust"
	Ridden Section = "ridden"
	Plan   Section = "plan"
)

var titles = map[Section]string{
	Set: "Set it to", Warnings: "Warnings", Loads: "Loads",
	Fit: "Fit", Others: "What else could be fitted", Pump: "At the pump", Expect: "Expect", Full: "Full travel", Measure: "Measure to confirm",
	Both: "The bike as a whole", Riders: "Riders of other masses", Sure: "How sure", LeftOut: "Left out and taken for granted", Cautions: "Cautions",
	Advice: "What to do", Read: "What was read", Adjust: "What to set", Ridden: "What the ride used", Plan: "Three settings to try",
}

// Title returns the heading of a section.
func (s Section) Title() string { return titles[s] }

// Of returns the rows of a sheet in reading order; none for nil. A program that shows a sheet should
// show them all. A sheet that was read from JSON lacks the bike's mass.
func Of(s *setup.Sheet) []Row {
	if s == nil {
		return nil
	}
	l := &list{}
	for _, e := range s.Ends() {
		l.at(Set, e.Axle)
		l.say("set", string(e.Axle), end{e}.inShort())
	}
	for _, w := range s.Warnings {
		l.at(Warnings, axleOf(w.Field))
		l.say(w.Code, w.Field, w.Text)
	}
	loads(l, s)
	for _, e := range s.Ends() {
		end{e}.rows(l)
	}
	both(l, s)
	riders(l, s)
	if s.Uncertainty != nil {
		sure(l, s.Uncertainty)
	}
	for _, o := range s.LeftOut {
		l.at(LeftOut, axleOf(o.Field))
		l.say(o.Code, "", o.Text)
	}
	l.at(Cautions, "")
	for _, c := range s.Cautions {
		l.say(c.Code, "", c.Text)
	}
	return l.rows
}

// axleOf returns the axle that a field of the job is about, such as front.air.bore; empty for the whole
// bike.
func axleOf(field string) sag.Axle {
	if end, _, _ := strings.Cut(field, "."); end == string(sag.Front) || end == string(sag.Rear) {
		return sag.Axle(end)
	}
	return ""
}

// Pick returns the rows of a section. If ends are given, it returns only rows about these; a row about
// the whole bike has the end "".
func Pick(all []Row, section Section, ends ...sag.Axle) []Row {
	var list []Row
	for _, r := range all {
		if r.Section == section && (len(ends) == 0 || slices.Contains(ends, r.End)) {
			list = append(list, r)
		}
	}
	return list
}

// Pair is a line of a table that has front and rear side by side: either Whole, about the whole
// bike, or Front and Rear, of which one may be nil.
type Pair struct {
	Label              string
	Part               bool
	Whole, Front, Rear *Row
}

// Pairs puts rows of the same section and key side by side, in the order of the front rows. A row that
// only the rear has comes before the next one that both have. Different labels are joined, as "sag
// along the stanchion / at the shock".
func Pairs(all []Row) []Pair {
	var list, alone []Pair // alone are the rear's since the last one that both have
	var rear []*Row
	for i := range all {
		switch r := &all[i]; r.End {
		case sag.Front:
			list = append(list, Pair{Label: r.Label, Part: r.Part, Front: r})
		case sag.Rear:
			rear = append(rear, r)
		default:
			list = append(list, Pair{Label: r.Label, Part: r.Part, Whole: r})
		}
	}
	last := len(list)
	for _, r := range rear {
		at := slices.IndexFunc(list, func(p Pair) bool {
			return p.Front != nil && p.Rear == nil && p.Front.Section == r.Section && p.Front.Key == r.Key
		})
		if at < 0 {
			alone = append(alone, Pair{Label: r.Label, Part: r.Part, Rear: r})
			continue
		}
		list[at].Label, list[at].Rear = common(list[at].Label, r.Label), r
		list = slices.Insert(list, at, alone...)
		last, alone = at+len(alone)+1, nil
	}
	return slices.Insert(list, last, alone...)
}

// common joins two labels. Words that both begin or end with stand once.
func common(a, b string) string {
	if a == b {
		return a
	}
	front, rear := strings.Fields(a), strings.Fields(b)
	from, to, n := 0, 0, min(len(front), len(rear))
	for from < n && front[from] == rear[from] {
		from++
	}
	for to < n-from && front[len(front)-1-to] == rear[len(rear)-1-to] {
		to++
	}
	return strings.Join(slices.Concat(front[:len(front)-to], []string{"/"}, rear[from:]), " ")
}

// end is one end of a sheet.
type end struct{ setup.SheetEnd }

// list is the rows so far, and the section and the end of the next ones.
type list struct {
	rows    []Row
	section Section
	end     sag.Axle
}

func (l *list) at(section Section, end sag.Axle) { l.section, l.end = section, end }

// when returns a list, or nil, which takes no rows.
func (l *list) when(wanted bool) *list {
	if wanted {
		return l
	}
	return nil
}

// row adds a row. A label that begins with spaces makes it a part.
func (l *list) row(key, label string, text units.Dual, note string, values ...any) {
	if l == nil {
		return
	}
	bare := strings.TrimLeft(label, " ")
	l.rows = append(l.rows, Row{
		Section: l.section, End: l.end, Key: key, Label: bare, Part: bare != label, Values: values, Dual: text, Note: note,
	})
}

func (l *list) say(key, label, text string) { l.row(key, label, units.Dual{}, text) }

func (l *list) add(key, label string, q interface{ Both() units.Dual }, note string) {
	l.row(key, label, q.Both(), note, q)
}

func (l *list) band(key, label string, low, high units.Length, note string) {
	l.row(key, label, low.Both().Through(high.Both()), note, low, high)
}
