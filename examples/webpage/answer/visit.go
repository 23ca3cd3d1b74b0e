package answer

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/units"
)

// Visit is what the page shows of a visit. Either Faults or everything else is there.
type Visit struct {
	Faults     []*units.FieldError `json:"faults,omitempty"`
	Unreadable bool                `json:"unreadable,omitempty"` // as in [Answer]
	Said       string              `json:"said,omitempty"`       // the advice, to be read out
	Sections   []Section           `json:"sections,omitempty"`
	// Steps are, by end, what the ring says and what to do about it, in a sentence or two.
	Steps map[string]string `json:"steps,omitempty"`
	// History is the sag over the visits, where there were several.
	History *Picture `json:"history,omitempty"`
	// Next is the record for the next visit, with each end set as advised.
	Next json.RawMessage `json:"next,omitempty"`
}

// Section is a part of a sheet or of a visit: sentences, and rows of numbers.
type Section struct {
	Key   string   `json:"key"`           // such as "advice"
	End   string   `json:"end,omitempty"` // "front" or "rear"; empty for the whole bike
	Title string   `json:"title"`
	Says  []string `json:"says,omitempty"`
	Rows  []Row    `json:"rows,omitempty"`
}

// WorkVisit reads a visit and works it out.
func WorkVisit(text []byte) *Visit {
	v, err := advice.ReadVisit(bytes.NewReader(text), nil, nil)
	if err != nil {
		return &Visit{Unreadable: true, Faults: units.Faults(err)}
	}
	a, err := v.Answer()
	if err != nil {
		return &Visit{Faults: units.Faults(err)}
	}
	list, extra := historyOf(v, a.Next)
	a.Next.Extra = extra
	var next bytes.Buffer
	if _, err := a.Next.WriteTo(&next); err != nil {
		return &Visit{Faults: units.Faults(err)}
	}
	all := a.Rows()
	shown := &Visit{Sections: sections(all), History: drawHistory(list), Next: next.Bytes()}
	shown.Steps = map[string]string{"front": stepOf(a.Front), "rear": stepOf(a.Rear)}
	for i, r := range rows.Pick(all, rows.Advice) {
		if i > 0 {
			shown.Said += " "
		}
		shown.Said += program.Title(string(r.End)) + ": " + r.Note
	}
	return shown
}

// stepOf returns the advice for an end without what may explain its ring; "" without one.
func stepOf(a *advice.EndAnswer) string {
	if a == nil || a.Report == nil {
		return ""
	}
	var says []string
	for _, item := range a.Advice {
		switch text := item.Text; {
		case item.Code == "set_up", strings.HasPrefix(item.Code, "cause_"):
		case item.Code == "unexplained":
			before, _, _ := strings.Cut(text, ": ")
			says = append(says, before+". What may explain that stands below, when the bike comes back.")
		default:
			says = append(says, text)
		}
	}
	return typeset(strings.Join(says, " "))
}

// sections puts rows of the same section and end together, in the order in which each first appears.
func sections(all []rows.Row) []Section {
	var list []Section
	for _, r := range all {
		i := slices.IndexFunc(list, func(s Section) bool { return s.Key == string(r.Section) && s.End == string(r.End) })
		if i < 0 {
			i = len(list)
			list = append(list, Section{Key: string(r.Section), End: string(r.End), Title: r.Section.Title()})
		}
		if at := &list[i]; r.Metric == "" {
			at.Says = append(at.Says, r.String())
		} else {
			at.Rows = append(at.Rows, shown([]rows.Row{r})...)
		}
	}
	return list
}
