package answer

import (
	"encoding/json"
	"fmt"
	"html"
	"math"
	"strings"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// historyKey is the name under which a record's Extra holds what the rings showed at its visits.
const historyKey = "sag_history"

// mostSeen is how many visits a history holds; the oldest go first.
const mostSeen = 60

// seen is what the rings showed at one visit.
type seen struct {
	Date  string     `json:"date"`
	Front *seenAtEnd `json:"front,omitempty"`
	Rear  *seenAtEnd `json:"rear,omitempty"`
}

// seenAtEnd is the sag that was read at an end, and the one wanted then: fractions of the travel.
type seenAtEnd struct {
	Sag    float64 `json:"sag"`
	Wanted float64 `json:"wanted"`
}

// historyOf returns what the rings showed at the visits of a record and at the one just answered, and
// the record's Extra with all of it. What else the Extra holds stays.
func historyOf(v advice.Visit, next visit.Record) ([]seen, json.RawMessage) {
	extra := map[string]json.RawMessage{}
	if json.Unmarshal(next.Extra, &extra) != nil || extra == nil {
		extra = map[string]json.RawMessage{}
	}
	var list []seen
	if json.Unmarshal(extra[historyKey], &list) != nil {
		list = nil // of another program
	}
	if now := (seen{v.Date, read(v.Front, next.Front), read(v.Rear, next.Rear)}); now.Front != nil || now.Rear != nil {
		list = append(list, now)
	}
	if list == nil {
		return nil, next.Extra
	}
	list = list[max(0, len(list)-mostSeen):]
	extra[historyKey], _ = json.Marshal(list) // numbers that were read
	text, _ := json.Marshal(extra)
	return list, text
}

// read returns the sag of the first reading of an end, nil without one.
func read(found *advice.EndVisit, end *visit.EndRecord) *seenAtEnd {
	if found == nil || end == nil || len(found.Readings) == 0 {
		return nil
	}
	curve, err := linkage.New(end.Curve)
	if err != nil {
		return nil
	}
	return &seenAtEnd{float64(curve.TravelAt(found.Readings[0].Stroke) / curve.Travel()), end.Sag}
}

// drawHistory draws the sag over the visits, nil for fewer than two of them. Front is a line of
// circles, rear a dashed line of squares, and a bar across each is the sag wanted then.
func drawHistory(list []seen) *Picture {
	if len(list) < 2 {
		return nil
	}
	const width, height, left, right, top, bottom = 340.0, 180.0, 40.0, 12.0, 26.0, 30.0
	most := 0.0
	for _, s := range list {
		for _, e := range []*seenAtEnd{s.Front, s.Rear} {
			if e != nil {
				most = max(most, e.Sag, e.Wanted)
			}
		}
	}
	most = math.Ceil(20*min(max(most, 0.05), 1)) / 20 // twentieths of the travel
	x := func(i int) float64 { return left + (width-left-right)*(float64(i)+0.5)/float64(len(list)) }
	y := func(v float64) float64 { return height - bottom - (height-top-bottom)*min(max(v, 0), most)/most }
	var b, said strings.Builder
	for i := 0; i <= 20; i++ {
		if v := float64(i) / 20; v <= most+1e-9 && (i%2 == 0 || most <= 0.2) {
			fmt.Fprintf(&b, `<path class="grid" d="M%.1f %.1fH%.1f"/><text x="%.1f" y="%.1f" text-anchor="end">%.0f %%</text>`, left, y(v), width-right, left-5, y(v)+4, 100*v)
		}
	}
	for _, i := range []int{0, len(list) - 1} {
		anchor := map[bool]string{true: "start", false: "end"}[i == 0]
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" text-anchor="%s">%s</text>`, map[bool]float64{true: left, false: width - right}[i == 0], height-8, anchor, html.EscapeString(list[i].Date))
	}
	for row, end := range []struct {
		name string
		of   func(seen) *seenAtEnd
	}{{"front", func(s seen) *seenAtEnd { return s.Front }}, {"rear", func(s seen) *seenAtEnd { return s.Rear }}} {
		var line, marks strings.Builder
		for i, s := range list {
			e := end.of(s)
			if e == nil {
				continue
			}
			command := "L"
			if line.Len() == 0 {
				command = "M"
				fmt.Fprintf(&said, " %s:", strings.ToUpper(end.name[:1])+end.name[1:])
			}
			fmt.Fprintf(&line, "%s%.1f %.1f", command, x(i), y(e.Sag))
			fmt.Fprintf(&said, " %s on %s, %s wanted;", units.Percent(e.Sag), s.Date, units.Percent(e.Wanted))
			if fmt.Fprintf(&marks, `<path class="mark" d="M%.1f %.1fh14"/>`, x(i)-7, y(e.Wanted)); row == 0 {
				fmt.Fprintf(&marks, `<circle class="dot" cx="%.1f" cy="%.1f" r="4"/>`, x(i), y(e.Sag))
			} else {
				fmt.Fprintf(&marks, `<rect class="dot" x="%.1f" y="%.1f" width="8" height="8"/>`, x(i)-4, y(e.Sag)-4)
			}
		}
		if line.Len() == 0 {
			continue
		}
		at := left + 90*float64(row)
		fmt.Fprintf(&b, `<path class="line"%s d="%s"/>%s<path class="line"%s d="M%.1f 11h24"/><text x="%.1f" y="15">%s</text>`, dash(row), line.String(), marks.String(), dash(row), at, at+29, end.name)
	}
	caption := "Sag as the rings showed it, a share of the travel." + strings.TrimSuffix(said.String(), ";") + "."
	caption = strings.ReplaceAll(caption, "; Rear:", ". Rear:")
	return &Picture{
		Title: "Sag over the visits", Caption: caption,
		SVG: fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" viewBox="0 0 %g %g" width="%g" height="%g" aria-label="%s">%s</svg>`, width, height, width, height, html.EscapeString(caption), b.String()),
	}
}
