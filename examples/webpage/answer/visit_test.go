package answer

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
)

// aVisit is a first visit of a demonstration's bike, with what else is found on it.
func aVisit(t *testing.T, found string) []byte {
	t.Helper()
	return []byte(`{"schema": "wheelrate/visit/1", "date": "2026-11-25"` + found + `, "job": ` + string(demo(t, "coil-shock")) + `}`)
}

// missing lists what a page lacks of rows: numbers in either system of units, and sentences.
func missing(list []rows.Row, page any) (lacks []string) {
	text, err := json.Marshal(page)
	if err != nil {
		return []string{err.Error()}
	}
	for _, r := range list {
		words := []string{typeset(r.Metric), typeset(r.Customary), typeset(r.Note)}
		if r.Metric == "" {
			words = []string{r.Note}
		}
		for _, w := range words {
			quoted, _ := json.Marshal(w)
			if !bytes.Contains(text, quoted[1:len(quoted)-1]) {
				lacks = append(lacks, string(r.Section)+" "+r.Key+": "+w)
			}
		}
	}
	return lacks
}

// The page has all that a sheet has, in sections that it places and in those that it does not know.
func TestPageHasEveryRow(t *testing.T) {
	for _, name := range demos {
		job, err := setup.ReadJob(bytes.NewReader(demo(t, name)))
		if err != nil {
			t.Fatal(err)
		}
		s, err := setup.NewSheet(job)
		if err != nil {
			t.Fatal(err)
		}
		if lacks := missing(rows.Of(s), newAnswer(s, Options{})); lacks != nil {
			t.Errorf("%s: %q", name, lacks)
		}
	}
	unknown := []rows.Row{{Section: "weather", End: "rear", Note: "It rains."}, {Section: "weather", Note: "It snows."}}
	got := sections(further(unknown))
	if len(got) != 2 || got[0].End != "rear" || !slices.Equal(got[0].Says, []string{"It rains."}) {
		t.Errorf("%+v", got)
	}
}

// A visit is answered as package visit does, and the record for the next one is read back.
func TestVisit(t *testing.T) {
	text := aVisit(t, `, "conditions": {"temperature": "12 °C", "altitude": "300 m"},
		"front": {"readings": [{"stroke": "36 mm", "error": "1 mm"}], "ride": {"stroke": "120 mm", "error": "2 mm"}}, "rear": {"felt": "too_hard"}`)
	read, err := advice.ReadVisit(bytes.NewReader(text), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	want, err := read.Answer()
	if err != nil {
		t.Fatal(err)
	}
	got := WorkVisit(text)
	if got.Faults != nil {
		t.Fatal(got.Faults)
	}
	if lacks := missing(want.Rows(), got); lacks != nil {
		t.Errorf("%q", lacks)
	}
	advice := rows.Pick(want.Rows(), rows.Advice)
	if len(advice) == 0 || !strings.HasPrefix(got.Said, "Front: "+advice[0].Note) {
		t.Errorf("said %q", got.Said)
	}
	next, _, err := visit.ReadRecord(bytes.NewReader(got.Next))
	if err != nil {
		t.Fatal(err)
	}
	if next.Date != "2026-11-25" || next.Situation.Conditions == nil || !strings.Contains(strings.Join(next.Notes, " "), "too_hard") {
		t.Errorf("%+v", next)
	}
	// The next visit starts from it.
	record, err := json.Marshal(got)
	if err != nil {
		t.Fatal(err)
	}
	var page struct{ Next json.RawMessage }
	if err := json.Unmarshal(record, &page); err != nil {
		t.Fatal(err)
	}
	if again := WorkVisit([]byte(`{"schema": "wheelrate/visit/1", "date": "2026-11-26", "record": ` + string(page.Next) + `}`)); again.Faults != nil {
		t.Error(again.Faults)
	}
}

func TestVisitFaults(t *testing.T) {
	for _, test := range []struct {
		name, visit string
		unreadable  bool
		fields      []string
	}{
		{"nothing", `{"schema": "wheelrate/visit/1", "date": "2026-11-25"}`, false, []string{"record"}},
		{"no JSON", "what?", true, []string{""}},
		{"a ring past the stroke", string(aVisit(t, `, "rear": {"readings": [{"stroke": "61 mm", "error": "1 mm"}]}`)), false, []string{"rear.readings[0].stroke"}},
		{"no error of the ride's ring", string(aVisit(t, `, "front": {"ride": {"stroke": "120 mm"}}`)), false, []string{"front.ride.error"}},
		{"a unit", string(aVisit(t, `, "rider_mass": "90 furlongs"`)), true, []string{"rider_mass"}},
		{"a fault of the job", strings.Replace(string(aVisit(t, "")), `"sag": 0.3`, `"sag": 30`, 1), false, []string{"job.rear.sag"}},
	} {
		got := WorkVisit([]byte(test.visit))
		var fields []string
		for _, f := range got.Faults {
			fields = append(fields, f.Field)
			if f.Want.String() == "" {
				t.Errorf("%s: %+v", test.name, f)
			}
		}
		if !slices.Equal(fields, test.fields) || got.Unreadable != test.unreadable || got.Next != nil || got.Sections != nil {
			t.Errorf("%s: unreadable %v, %v, want %v, %v", test.name, got.Unreadable, fields, test.unreadable, test.fields)
		}
	}
}

// No visit panics, or gives JSON that no page reads.
func FuzzWorkVisit(f *testing.F) {
	f.Add(`{"schema": "wheelrate/visit/1", "date": "2026-11-25", "job": ` + byHand + `}`)
	f.Add(`{"schema": "wheelrate/visit/1", "date": "2026-11-25", "rear": {"felt": "right", "readings": [{"stroke": "9 mm", "error": "1 mm"}]}, "job": ` + byHand + `}`)
	f.Add("{}")
	f.Fuzz(func(t *testing.T, text string) {
		v := WorkVisit([]byte(text))
		if (v.Next == nil) != (len(v.Faults) > 0) {
			t.Fatalf("a record and faults, or neither: %+v", v)
		}
		if _, err := json.Marshal(v); err != nil {
			t.Fatal(err)
		}
	})
}

// Budget: at most 3 ms, as for a job.
func BenchmarkWorkVisit(b *testing.B) {
	text := []byte(`{"schema": "wheelrate/visit/1", "date": "2026-11-25", "rear": {"readings": [{"stroke": "9 mm", "error": "1 mm"}]}, "job": ` + byHand + `}`)
	b.ReportAllocs()
	for b.Loop() {
		if v := WorkVisit(text); v.Faults != nil {
			b.Fatal(v.Faults)
		}
	}
}

// The sag over the visits goes with the record: what the rings showed, the share of the travel, and what
// was wanted, on the axis where it belongs. By hand for a constant lever ratio: 9 mm and 12 mm of a stroke of
// 50 mm are 18 % and 24 %.
func TestHistory(t *testing.T) {
	first := WorkVisit([]byte(`{"schema": "wheelrate/visit/1", "date": "2026-11-25", "rear": {"readings": [{"stroke": "9 mm", "error": "1 mm"}]}, "job": ` + byHand + `}`))
	if first.Faults != nil || first.History != nil {
		t.Fatalf("%+v, %+v", first.Faults, first.History)
	}
	record := bytes.Replace(first.Next, []byte(`"extra": {`), []byte(`"extra": {"shop": "ours",`), 1)
	again := `{"schema": "wheelrate/visit/1", "date": "2026-12-24", "rear": {"readings": [{"stroke": "12 mm", "error": "1 mm"}]}, "front": {"readings": [{"stroke": "10 mm", "error": "1 mm"}]}, "record": ` + string(record) + `}`
	second := WorkVisit([]byte(again))
	if second.Faults != nil || second.History == nil {
		t.Fatalf("%+v", second.Faults)
	}
	const caption = "Sag as the rings showed it, a share of the travel. Front: 20.0 % on 2026-12-24, 20.0 % wanted. Rear: 18.0 % on 2026-11-25, 20.0 % wanted; 24.0 % on 2026-12-24, 20.0 % wanted."
	if second.History.Caption != caption {
		t.Errorf("%q", second.History.Caption)
	}
	// Squares of the rear, from the axis at 0 % up to 25 %: 124 pixels of height from 150 up.
	for _, want := range []string{
		`y="` + pixels(150-124*0.18/0.25-4) + `" width="8"`, `y="` + pixels(150-124*0.24/0.25-4) + `" width="8"`,
		`cy="` + pixels(150-124*0.20/0.25) + `" r="4"`, `<text x="35.0" y="` + pixels(150-124*0.20/0.25+4) + `" text-anchor="end">20 %</text>`,
		">2026-11-25</text>", ">2026-12-24</text>",
	} {
		if !strings.Contains(second.History.SVG, want) {
			t.Errorf("no %s in %s", want, second.History.SVG)
		}
	}
	if !bytes.Contains(second.Next, []byte(`"shop": "ours"`)) {
		t.Errorf("what else was kept is lost: %s", second.Next)
	}
	// Without a reading nothing is added, and something else under the name is no history.
	if third := WorkVisit([]byte(`{"schema": "wheelrate/visit/1", "date": "2026-12-25", "record": ` + string(second.Next) + `}`)); third.History == nil || third.History.Caption != caption {
		t.Errorf("%+v", third.History)
	}
	strange := regexp.MustCompile(`"sag_history":\s*\[`).ReplaceAll(first.Next, []byte(`"sag_history": 7, "was": [`))
	if odd := WorkVisit([]byte(`{"schema": "wheelrate/visit/1", "date": "2026-12-25", "record": ` + string(strange) + `}`)); odd.Faults != nil || odd.History != nil {
		t.Errorf("%+v, %+v", odd.Faults, odd.History)
	}
	if !strings.HasPrefix(second.Steps["rear"], "The ring stands at 12.0 mm (0.47 in), not at 10.0 mm (0.39 in). What may explain that") || strings.Contains(second.Steps["rear"], "Any one") {
		t.Errorf("%q", second.Steps["rear"])
	}
}

func pixels(v float64) string { return fmt.Sprintf("%.1f", v) }
