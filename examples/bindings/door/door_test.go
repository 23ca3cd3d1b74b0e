package door_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/examples/bindings/door"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// reply is what a caller decodes.
type reply struct {
	Answer  map[string]any
	Sheet   map[string]any
	Numbers []float64
	Version *door.Version
	Faults  []*units.FieldError
}

func ask(t *testing.T, question string) (r reply) {
	t.Helper()
	text := door.Answer([]byte(question))
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&r), "%s", text)
	return r
}

// Every case of the dataset has the outcome through the door that it has in Go, outputs that are
// described as always given are there, and a sentinel has a class.
func TestCasesThroughTheDoor(t *testing.T) {
	cases := 0
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		cases++
		question, err := json.Marshal(map[string]any{"computation": c.Computes, "given": c.Given})
		require.NoError(t, err)
		r := ask(t, string(question))
		if len(c.Error) == 0 {
			if j := evaluate.Judge(c, evaluate.Answered(c, r.Answer), nil); !j.Pass() || r.Faults != nil {
				t.Errorf("%v%s", r.Faults, j.Failure())
			}
			d, _ := refdata.Describe(c.Computes)
			for _, o := range d.Outputs {
				if _, given := r.Answer[o.Name]; !given && o.When == "" {
					t.Errorf("%s: no %s", c.ID, o.Name)
				}
			}
			continue
		}
		var names []string
		for _, f := range r.Faults {
			if f.Want.String() == "" {
				t.Errorf("%s: nothing is wanted of %s", c.ID, f.Field)
			}
			if code := f.Class.Code(); slices.Contains([]string{"topped_out", "bottomed_out", "locks"}, code) {
				f.Field = code
			}
			names = append(names, f.Field)
		}
		if j := evaluate.Judge(c, nil, evaluate.Refused(names...)); !j.Pass() || r.Answer != nil {
			t.Errorf("%v%s", r.Answer, j.Failure())
		}
	}
	require.Greater(t, cases, 1000)
}

func TestHostileQuestionsAreRefused(t *testing.T) {
	type fault struct{ Field, Value, Class string }
	for _, test := range []struct {
		name, question string
		want           []fault
	}{
		{"empty", "", []fault{{Class: "syntax"}}},
		{"null", "null", []fault{{Class: "syntax"}}},
		{"a list", "[]", []fault{{Class: "syntax"}}},
		{"nothing asked", "{}", []fault{{Class: "missing"}}},
		{"no version", `{"version":false}`, []fault{{Class: "missing"}}},
		{"cut off", `{"job":{`, []fault{{Field: "job", Class: "syntax"}}},
		{"text after it", `{"version":true} {}`, []fault{{Class: "syntax"}}},
		{"a zero byte", "{\"version\":true}\x00", []fault{{Class: "syntax"}}},
		{"no UTF-8", "{\"job\":{\"note\":\"\xff\"}}", []fault{{Class: "syntax"}}},
		{"too long", strings.Repeat(" ", door.Limit) + `{}`, []fault{{Value: "1048578", Class: "range"}}},
		{"deep", `{"job":` + strings.Repeat("[", 100000), []fault{{Field: "job" + strings.Repeat("[0]", 99), Class: "range"}}},
		{"two questions", `{"version":true,"job":{}}`, []fault{{Class: "conflict"}}},
		{"a job and inputs", `{"job":{},"given":{}}`, []fault{{Class: "conflict"}}},
		{"version and inputs", `{"version":true,"given":{}}`, []fault{{Class: "conflict"}}},
		{"an unknown field", `{"compute":"spring.coil"}`, []fault{{Field: "compute", Class: "unknown"}}},
		{"an unknown computation", `{"computation":"spring.leaf","given":{}}`, []fault{{Field: "computation", Value: "spring.leaf", Class: "unknown"}}},
		{"no inputs", `{"computation":"spring.coil"}`, []fault{{Field: "given", Class: "missing"}}},
		{"no computation", `{"given":{}}`, []fault{{Field: "computation", Class: "missing"}}},
		{"null as inputs", `{"computation":"units.convert","given":null}`, []fault{{Class: "syntax"}}},
		{"null as a job", `{"job":null}`, []fault{{Class: "syntax"}}},
		{"null as a name", `{"computation":null,"given":{}}`, []fault{{Field: "computation", Class: "syntax"}}},
		{"a unit of nothing", `{"convert":[],"unit":"furlong"}`, []fault{{Field: "unit", Value: "furlong", Class: "unit"}}},
		{"a number as a unit", `{"convert":[],"unit":"1"}`, []fault{{Field: "unit", Value: "1", Class: "unit"}}},
		{"no unit", `{"convert":["1 mm"]}`, []fault{{Field: "unit", Class: "missing"}}},
		{"no quantities", `{"unit":"mm"}`, []fault{{Field: "convert", Class: "missing"}}},
		{"other kinds", `{"convert":["1 mm","1 kg","1","-1 Pa(a)","1 in"],"unit":"mm"}`, []fault{
			{Field: "convert[1]", Value: "1 kg", Class: "unit"}, {Field: "convert[2]", Value: "1", Class: "unit"},
			{Field: "convert[3]", Value: "-1 Pa(a)", Class: "unit"}}},
		{"bad inputs", `{"computation":"spring.readings","given":{"travel":["1 mm","2 mm","3 mm"],"force":["1 N","2","x N"]}}`, []fault{
			{Field: "force[1]", Value: "2", Class: "unit"},
			{Field: "force[2]", Value: "x N", Class: "syntax"}}},
		{"a short spring", `{"computation":"sag.settle","given":{"curve":{"constant":1,"travel":"100 mm"},"law":{"linear":{"rate":"1 N/mm","travel":"100 mm"}},"load":"101 N"}}`,
			[]fault{{Field: "load", Value: "101 N", Class: "bottomed_out"}}},
	} {
		r := ask(t, test.question)
		var got []fault
		for _, f := range r.Faults {
			value, want := f.Texts()
			if len(want) < 4 {
				t.Errorf("%s: %v", test.name, f)
			}
			got = append(got, fault{f.Field, value, f.Class.Code()})
		}
		r.Faults = nil
		if diff := cmp.Diff(reply{}, r); diff != "" {
			t.Errorf("%s has an answer (-want +got):\n%s", test.name, diff)
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// By the definitions of the units: 1 in = 25.4 mm, 0 °C = 273.15 K = 32 °F, 1 lbf = 4.4482216152605 N. Both
// pressures and a stress have their units of one size.
func TestQuantitiesAsNumbers(t *testing.T) {
	for unit, test := range map[string]struct {
		texts string
		want  []float64
	}{
		"in":     {`["25.4 mm","0.0254 m","-1 in","0 mm"]`, []float64{1, 1, -1, 0}},
		"°F":     {`["0 °C","273.15 K","-40 °C"]`, []float64{32, 32, -40}},
		"psi":    {`["1 psi","6894.757293168361 Pa(g)","6894.757293168361 Pa"]`, []float64{1, 1, 1}},
		"bar(a)": {`["101.325 kPa(a)","1 bar(a)"]`, []float64{1.01325, 1}},
		"lbf/in": {`["175.12683524647637 N/m"]`, []float64{1}},
		"deg":    {`["3.141592653589793 rad","90°"]`, []float64{180, 90}},
		"mm":     {`[]`, nil},
	} {
		got := ask(t, fmt.Sprintf(`{"convert":%s,"unit":%q}`, test.texts, unit))
		if diff := cmp.Diff(reply{Numbers: test.want}, got, cmpopts.EquateApprox(1e-13, 1e-13), cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", unit, diff)
		}
	}
	if text := string(door.Answer([]byte(`{"convert":[],"unit":"mm"}`))); text != `{"numbers":[]}` {
		t.Error(text)
	}
	// Very many that are no quantities are not all named.
	many := ask(t, `{"convert":["x"`+strings.Repeat(`,"x"`, 1000)+`],"unit":"mm"}`)
	if len(many.Faults) != 100 {
		t.Errorf("%d faults", len(many.Faults))
	}
}

// A sheet through the door is the sheet in Go; a job's faults have their paths within the job.
func TestJobThroughTheDoor(t *testing.T) {
	text, err := os.ReadFile("../../setup/demo/job.json")
	require.NoError(t, err)
	job, err := setup.ReadJob(bytes.NewReader(text))
	require.NoError(t, err)
	sheet, err := setup.NewSheet(job)
	require.NoError(t, err)
	direct, err := json.Marshal(sheet)
	require.NoError(t, err)
	var want map[string]any
	require.NoError(t, json.Unmarshal(direct, &want))
	if diff := cmp.Diff(want, ask(t, `{"job":`+string(text)+`}`).Sheet); diff != "" {
		t.Errorf("(-in Go +through the door):\n%s", diff)
	}

	var fields []string
	for _, f := range ask(t, `{"job":{"schema":"wheelrate/job/1","masses":{"bike_mass":"-1 kg"},"front":{"sag":2,"curve":{"constant":1,"travel":"1 mm"}}}}`).Faults {
		fields = append(fields, f.Field)
	}
	for _, want := range []string{"masses.bike_mass", "front.sag"} {
		if !slices.Contains(fields, want) {
			t.Errorf("%s is not among %v", want, fields)
		}
	}
}

// The version is that of the README's changelog and of the package for JavaScript.
func TestVersion(t *testing.T) {
	v := ask(t, `{"version":true}`).Version
	require.Equal(t, &door.Version{Library: door.Library, Dataset: refdata.Version(), Job: setup.JobSchema, Computations: evaluate.Computations()}, v)
	readme, err := os.ReadFile("../../../README.md")
	require.NoError(t, err)
	_, changelog, _ := strings.Cut(string(readme), "### Changelog\n")
	_, newest, _ := strings.Cut(changelog, "#### v")
	if own, _, _ := strings.Cut(newest, " "); own != v.Library {
		t.Errorf("the changelog begins with %s, the door says %s", own, v.Library)
	}
	var pack struct{ Name, Version string }
	text, err := os.ReadFile("../javascript/package.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &pack))
	if pack.Version != v.Library {
		t.Errorf("the package is %s, the door says %s", pack.Version, v.Library)
	}
}

func TestLongestQuestion(t *testing.T) {
	const question = `{"version":true}`
	if r := ask(t, question+strings.Repeat(" ", door.Limit-len(question))); r.Version == nil {
		t.Errorf("a question of the limit: %v", r.Faults)
	}
	if r := ask(t, question+strings.Repeat(" ", door.Limit+1-len(question))); r.Faults == nil {
		t.Error("a question beyond the limit is answered")
	}
}

// A text comes back as it was, without escapes for a page.
func TestTextIsNotEscaped(t *testing.T) {
	text := string(door.Answer([]byte(`{"computation":"<b>&","given":{}}`)))
	if !strings.Contains(text, `"value":"<b>&"`) {
		t.Error(text)
	}
}

func TestQuestionsAtOnce(t *testing.T) {
	const question = `{"computation":"units.convert","given":{"kind":"length","value":"1 in"}}`
	want := string(door.Answer([]byte(question)))
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 50 {
				if got := string(door.Answer([]byte(question))); got != want {
					t.Errorf("%s, want %s", got, want)
				}
			}
		})
	}
	all.Wait()
}

func FuzzAnswer(f *testing.F) {
	f.Add([]byte(`{"version":true}`))
	f.Add([]byte(`{"computation":"spring.coil","given":{"wire_diameter":"9.5 mm"}}`))
	f.Add([]byte(`{"job":{"schema":"wheelrate/job/1","front":{}}}`))
	f.Fuzz(func(t *testing.T, question []byte) {
		text := door.Answer(question)
		if !json.Valid(text) {
			t.Errorf("%q gives %q", question, text)
		}
		if bytes.Contains(text, []byte(`"code":"defect"`)) {
			t.Errorf("%q: %s", question, text)
		}
	})
}
