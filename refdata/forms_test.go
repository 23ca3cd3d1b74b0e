package refdata_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

var demoJobs = []string{
	"setup/demo/job.json", "setup/demo/coil-fork.json", "setup/demo/hardtail.json", "setup/demo/gauge.json",
	"webpage/demo/air-both.json", "webpage/demo/coil-shock.json", "webpage/demo/pivots.json",
}

// recordText is an invented record of air in front and a coil behind, with all
// that a record may hold at its top but a job.
const recordText = `{
  "schema": "wheelrate/record/1", "date": "2026-11-25", "note": "n", "notes": ["b", "a"],
  "situation": {
    "masses": {"rider_mass": "84 kg", "bike_mass": "16 kg", "unsprung_front": "2 kg", "unsprung_rear": "3 kg", "rear_share": 0.6},
    "conditions": {"temperature": "18 °C", "altitude": "400 m"}},
  "front": {
    "curve": {"fork": {"head_angle": "64°", "travel": "160 mm"}}, "sag": 0.2, "friction": "15 N",
    "air": {"bore": "35 mm", "shaft": "10 mm", "positive_volume": "240 cm³", "negative_volume": "60 cm3", "port_travel": "8 mm", "fill": "72 psi", "max_fill": "10 bar"}},
  "rear": {
    "curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28,
    "coil": {"rate": "80 N/mm", "preload": "2 mm", "solid_travel": "70 mm", "preload_max": "1e1 mm", "thread_pitch": "1.5 mm"},
    "readings": [{"stroke": "15.4 mm", "error": "0.5 mm", "date": "yesterday", "note": "standing"}],
    "ride": {"stroke": "55 mm", "error": "1 mm"}, "tried": [{"sag": 0.3, "felt": "too_soft"}], "note": "n"},
  "extra": {"any": [{"thing": null}]}
}`

// lawsText is an invented job of a rear whose springs are of every kind.
const lawsText = `{
  "schema": "wheelrate/job/1",
  "masses": {"rider_mass": "80 kg", "bike_mass": "17 kg", "unsprung_rear": "3 kg", "rear_share": 0.6},
  "rear": {
    "curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28,
    "coil": {"preload_max": "6 mm", "shelf": [
      {"rate": "80 N/mm", "solid_travel": "70 mm"},
      {"law": {"linear": {"rate": "80 N/mm", "travel": "70 mm"}}, "solid_travel": "68 mm"},
      {"law": {"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "10 mm", "main_travel": "65 mm"}}},
      {"law": {"series": [{"linear": {"rate": "200 N/mm", "travel": "10 mm"}}, {"linear": {"rate": "90 N/mm", "travel": "65 mm"}}]}},
      {"law": {"parallel": [{"law": {"linear": {"rate": "60 N/mm", "travel": "70 mm"}}}, {"law": {"linear": {"rate": "30 N/mm", "travel": "60 mm"}}, "starts_at": "12 mm"}]}},
      {"law": {"groups": [{"rate": "200 N/mm", "gap": "10 mm"}, {"rate": "90 N/mm", "gap": "65 mm"}]}},
      {"law": {"linear_pitch": {"wire_diameter": "11 mm", "mean_diameter": "50 mm", "active_coils": 7, "shear_modulus": "79 GPa", "first_gap": "6 mm", "last_gap": "14 mm"}}},
      {"law": {"coil": {"wire_diameter": "11 mm", "mean_diameter": "50 mm", "active_coils": 7, "shear_modulus": "79 GPa", "free_length": "180 mm"}}},
      {"law": {"parallel": [{"law": {"linear": {"rate": "60 N/mm", "travel": "70 mm"}}}, {"law": {"air": {"bore": "20 mm", "travel": "70 mm", "positive_volume": "60 cm3", "fill": "2 bar", "ambient": "101325 Pa(a)", "exponent": 1}}}]}}
    ]}}
}`

// form is a schema, texts that meet it, what reads these, and by what they are spoilt.
type form struct {
	name   string
	texts  []string
	read   func(text string) error
	spoilt map[string]string // in the first text
}

func forms(t *testing.T) []form {
	t.Helper()
	job := form{name: "job-1", read: func(text string) error {
		j, err := setup.ReadJob(strings.NewReader(text))
		if err == nil {
			_, err = setup.NewSheet(j)
		}
		return err
	}}
	for _, file := range demoJobs {
		text, err := os.ReadFile("../examples/" + file)
		require.NoError(t, err)
		job.texts = append(job.texts, string(text))
	}
	job.texts = append(job.texts, lawsText)
	job.spoilt = map[string]string{
		`"schema": "wheelrate/job/1"`: `"schema": "wheelrate/job/2"`,
		`"rider_mass": "82 kg"`:       `"rider_mass": 82`,
		`"82 kg"`:                     `"kg"`,
		`"ambient"`:                   `"weather"`,
		`"spacers": 1,`:               `"spacers": "one",`,
		`"shelf": [`:                  `"shelf": [1, `,
		`"rate": "350 lbf/in"`:        `"rate": "350 lbf/in", "law": {"linear": {"rate": "60 N/mm", "travel": "60 mm"}}`,
		`"rate": "400 lbf/in"`:        `"law": {}`,
	}
	record := form{name: "record-1", texts: []string{recordText}, read: func(text string) error {
		_, marked, err := visit.ReadRecord(strings.NewReader(text))
		for _, m := range marked {
			err = errors.Join(err, m)
		}
		return err
	}}
	dual := strings.Replace(recordText, `"rate": "80 N/mm"`, `"law": {"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "120 N/mm", "soft_travel": "10 mm", "main_travel": "65 mm"}}`, 1)
	record.texts = append(record.texts, dual)
	record.spoilt = map[string]string{
		"record/1":                   "record/2",
		`"notes": ["b", "a"]`:        `"notes": "b"`,
		`"b", "a"`:                   `"b", 1`,
		"84 kg":                      "kg",
		`"16 kg"`:                    `16`,
		`"friction": "15 N"`:         `"grip": "15 N"`,
		`"sag": 0.28`:                `"sag": "28"`,
		`"constant": 2.5`:            `"constant": "2.5"`,
		`[{"stroke"`:                 `[1, {"stroke"`,
		`{"any": [{"thing": null}]}`: `[]`,
	}
	pivots := form{name: "mechanism-1", read: func(text string) error {
		var s mechanism.Spec
		err := strictjson.Unmarshal("mechanism", []byte(text), &s)
		if err == nil {
			_, err = mechanism.New(s)
		}
		return err
	}}
	for _, file := range []string{"single-pivot.json", "four-bar.json"} {
		text, err := os.ReadFile("../examples/leverage/demo/" + file)
		require.NoError(t, err)
		var whole struct{ Mechanism json.RawMessage }
		require.NoError(t, json.Unmarshal(text, &whole))
		pivots.texts = append(pivots.texts, string(whole.Mechanism))
	}
	pivots.spoilt = map[string]string{`"axle": "A"`: `"axle": 1`, `"57.5 mm"`: `57.5`, `"bodies"`: `"links"`, `"S1", "S2"]`: `"S1"]`}
	return []form{job, record, pivots}
}

// A sheet meets its schema, and says which it is.
func TestSheetsMeetTheirSchema(t *testing.T) {
	parts := map[string]bool{}
	for _, text := range forms(t)[0].texts {
		job, err := setup.ReadJob(strings.NewReader(text))
		require.NoError(t, err)
		sheet, err := setup.NewSheet(job)
		require.NoError(t, err)
		out, err := json.Marshal(sheet)
		require.NoError(t, err)
		for _, f := range schemaFaults(t, "sheet-1", out) {
			t.Errorf("%s%s", job.Note, f)
		}
		var fields map[string]any
		require.NoError(t, json.Unmarshal(out, &fields))
		for name := range fields {
			parts[name] = true
		}
	}
	for name := range readSchema(t, "sheet-1.schema.json")["properties"].(map[string]any) {
		if !parts[name] {
			t.Errorf("no sheet has %s", name)
		}
	}
}

// Every record that is kept as an example of a version meets the schema.
func TestKeptRecordsMeetTheSchema(t *testing.T) {
	files, err := filepath.Glob("../sag/visit/testdata/records/*.json")
	require.NoError(t, err)
	require.Greater(t, len(files), 4)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		if faults := schemaFaults(t, "record-1", text); len(faults) > 0 {
			t.Errorf("%s: %v", file, faults)
		}
	}
}

// The demonstrations' jobs and an invented record meet the schemas of their
// formats, and so does a record that the library writes. What the library refuses
// for its form, the schemas do too.
func TestFormSchemasAgreeWithReaders(t *testing.T) {
	for _, f := range forms(t) {
		for _, text := range f.texts {
			if faults := schemaFaults(t, f.name, []byte(text)); f.read(text) != nil || len(faults) > 0 {
				t.Errorf("%s: %v, %v", f.name, f.read(text), faults)
			}
		}
		for from, to := range f.spoilt {
			bad := strings.Replace(f.texts[0], from, to, 1)
			require.NotEqual(t, f.texts[0], bad, from)
			if err, faults := f.read(bad), schemaFaults(t, f.name, []byte(bad)); err == nil || len(faults) == 0 {
				t.Errorf("%s instead of %s\nreader: %v\nschema: %v\nwant both to refuse it", to, from, err, faults)
			}
		}
	}
	spelled := strings.NewReplacer(`"sag": 0.28`, `"sag": "28 %"`, `"84 kg"`, `"84 KG"`, `"15 N"`, `"3.4 lbsf"`).Replace(recordText)
	if _, _, err := visit.ReadRecord(strings.NewReader(spelled)); err != nil || len(schemaFaults(t, "record-1", []byte(spelled))) > 0 {
		t.Errorf("as people spell it: %v, %v", err, schemaFaults(t, "record-1", []byte(spelled)))
	}
	record, _, err := visit.ReadRecord(strings.NewReader(recordText))
	require.NoError(t, err)
	job, err := setup.ReadJob(strings.NewReader(forms(t)[0].texts[0]))
	require.NoError(t, err)
	sheet, err := setup.NewSheet(job)
	require.NoError(t, err)
	fresh, err := visit.NewRecord("2026-11-25", job, sheet)
	require.NoError(t, err)
	fresh.Rear.Readings = []visit.Reading{{Stroke: sheet.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre}}
	fresh.Extra = json.RawMessage(`{"ticket": 41, "tags": ["a"]}`)
	for _, r := range []visit.Record{record, fresh} {
		var out bytes.Buffer
		_, err = r.WriteTo(&out)
		require.NoError(t, err)
		if faults := schemaFaults(t, "record-1", out.Bytes()); len(faults) > 0 {
			t.Errorf("a record: %v", faults)
		}
	}
}

// What a form says is required, the library refuses to do without.
func TestFormSchemasRequire(t *testing.T) {
	needed, seen := map[string]bool{}, map[string]bool{}
	for _, f := range forms(t) {
		schema := readSchema(t, f.name+".schema.json")
		defs := schema["$defs"].(map[string]any)
		for name, def := range defs {
			if def.(map[string]any)["required"] != nil {
				needed[name] = true
			}
		}
		for _, text := range f.texts {
			require.NoError(t, f.read(text))
			var whole any
			require.NoError(t, json.Unmarshal([]byte(text), &whole))
			var walk func(schema map[string]any, v any)
			walk = func(schema map[string]any, v any) {
				if ref, ok := schema["$ref"].(string); ok {
					name := strings.TrimPrefix(ref, "#/$defs/")
					seen[name] = true
					schema = defs[name].(map[string]any)
				}
				switch v := v.(type) {
				case []any:
					for _, element := range v {
						walk(schema["items"].(map[string]any), element)
					}
				case map[string]any:
					names, _ := schema["required"].([]any)
					for _, name := range names {
						kept, ok := v[name.(string)]
						require.True(t, ok, name)
						delete(v, name.(string))
						without, err := json.Marshal(whole)
						require.NoError(t, err)
						if f.read(string(without)) == nil || len(schemaFaults(t, f.name, without)) == 0 {
							t.Errorf("%s: %s is not needed in\n%s", f.name, name, without)
						}
						v[name.(string)] = kept
					}
					fields, _ := schema["properties"].(map[string]any)
					for name, sub := range v {
						if field, ok := fields[name].(map[string]any); ok {
							walk(field, sub)
						}
					}
				}
			}
			walk(schema, whole)
		}
	}
	// The descriptions of curves that no demonstration has: slots, and kinds that
	// package linkage tests.
	maps.DeleteFunc(needed, func(name string, _ bool) bool {
		return strings.HasPrefix(name, "linkage.") || strings.HasPrefix(name, "mechanism.")
	})
	delete(needed, "setup.Job") // the tops of their schemas
	delete(needed, "visit.Record")
	for name := range needed {
		if !seen[name] {
			t.Errorf("no text has a %s", name)
		}
	}
}

// Every type, and nearly every field, says what it is; a quantity says in which
// units it may be, and no description speaks of fields by names that JSON does not
// have.
func TestFormSchemasDescribe(t *testing.T) {
	for _, name := range []string{"job-1", "record-1", "sheet-1"} {
		described, all, docs := 0, 0, ""
		field := func(at string, v any) {
			schema := v.(map[string]any)
			doc, _ := schema["description"].(string)
			ref, _ := schema["$ref"].(string)
			if all++; doc != "" || ref != "" {
				described++
			}
			if strings.HasPrefix(ref, "#/$defs/units.") && !strings.Contains(doc, " in ") {
				t.Errorf("%s%s: no units in %q", name, at, doc)
			}
			docs += doc + "\n"
		}
		schema := readSchema(t, name+".schema.json")
		defs := schema["$defs"].(map[string]any)
		defs["the top"] = schema
		for of, v := range defs {
			def := v.(map[string]any)
			doc, _ := def["description"].(string)
			if docs += fmt.Sprintln(doc, def["enum"]); doc == "" {
				t.Errorf("%s: %s says nothing", name, of)
			}
			fields, _ := def["properties"].(map[string]any)
			for f, v := range fields {
				field(of+"."+f, v)
			}
		}
		if all < 60 || described < all*9/10 {
			t.Errorf("%s: %d of %d fields say what they are", name, described, all)
		}
		if bad := regexp.MustCompile(`RiderMass|MaxSpacers|HeadAngle|see New|As JSON|SeaLevel|\b[Nn]il (if|is|for|where|without)\b`).FindString(docs); bad != "" {
			t.Errorf("%s speaks of %s", name, bad)
		}
		wanted := []string{"length in mm, cm, m, in, ft", "ass in kg, g, lb, oz", "auge pressure in kPa(g), bar, psi", "tiffness in N/mm, N/m, lbf/in"}
		if name != "sheet-1" {
			wanted = append(wanted, "smooth measured")
		}
		for _, want := range wanted {
			if !strings.Contains(docs, want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
	}
}
