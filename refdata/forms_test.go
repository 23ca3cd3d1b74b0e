package refdata_test

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

var demoJobs = []string{
	"setup/demo/job.json", "setup/demo/coil-fork.json",
	"webpage/demo/air-both.json", "webpage/demo/coil-shock.json", "webpage/demo/pivots.json",
}

// The demonstrations' jobs, and a record of one, meet the schemas of their
// formats; what the library refuses for its form, they do too.
func TestFormSchemas(t *testing.T) {
	for _, name := range demoJobs {
		text, err := os.ReadFile("../examples/" + name)
		require.NoError(t, err)
		if faults := schemaFaults(t, "job-1", text); len(faults) > 0 {
			t.Errorf("%s: %v", name, faults)
		}
	}
	text, err := os.ReadFile("../examples/setup/demo/job.json")
	require.NoError(t, err)
	job, err := setup.ReadJob(bytes.NewReader(text))
	require.NoError(t, err)
	sheet, err := setup.NewSheet(job)
	require.NoError(t, err)
	record, err := visit.NewRecord("2026-11-25", job, sheet)
	require.NoError(t, err)
	record.Rear.Readings = []visit.Reading{{Stroke: sheet.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre}}
	record.Extra = json.RawMessage(`{"ticket": 41, "tags": ["a"]}`)
	var out bytes.Buffer
	_, err = record.WriteTo(&out)
	require.NoError(t, err)
	if faults := schemaFaults(t, "record-1", out.Bytes()); len(faults) > 0 {
		t.Errorf("a record: %v", faults)
	}
	for _, bad := range []struct{ from, to string }{
		{`"schema": "wheelrate/job/1"`, `"schema": "wheelrate/job/2"`},
		{`"rider_mass": "82 kg"`, `"rider_mass": 82`},
		{`"rider_mass": "82 kg"`, `"rider_mass": "kg"`},
		{`"ambient"`, `"weather"`},
		{`"spacers": 1,`, `"spacers": "one",`},
		{`"shelf": [`, `"shelf": [1, `},
	} {
		spoilt := strings.Replace(string(text), bad.from, bad.to, 1)
		require.NotEqual(t, string(text), spoilt, bad.from)
		if faults := schemaFaults(t, "job-1", []byte(spoilt)); len(faults) == 0 {
			t.Errorf("%s: meets the schema", bad.to)
		}
		if _, err := setup.ReadJob(strings.NewReader(spoilt)); err == nil && !strings.Contains(bad.to, "job/2") {
			t.Errorf("%s: is read", bad.to)
		}
	}
}

// Every field of the forms says what it is.
func TestFormSchemasDescribe(t *testing.T) {
	for _, name := range []string{"job-1", "record-1"} {
		text, err := os.ReadFile("schema/" + name + ".schema.json")
		require.NoError(t, err)
		var schema struct {
			Defs map[string]struct {
				Description string
				Properties  map[string]struct {
					Ref         string `json:"$ref"`
					Description string
				}
			} `json:"$defs"`
		}
		require.NoError(t, json.Unmarshal(text, &schema))
		described, all := 0, 0
		for def, d := range schema.Defs {
			if d.Description == "" {
				t.Errorf("%s: %s says nothing", name, def)
			}
			for _, p := range d.Properties {
				if all++; p.Description != "" || p.Ref != "" {
					described++
				}
			}
		}
		if all < 60 || described < all*9/10 {
			t.Errorf("%s: %d of %d fields say what they are", name, described, all)
		}
	}
}

// form is a schema, texts that meet it, and what reads these.
type form struct {
	name  string
	texts []string
	read  func(text string) error
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
	return []form{job, {"record-1", []string{recordText}, func(text string) error {
		_, err := visit.ReadRecord(strings.NewReader(text))
		return err
	}}}
}

// What a form says is required, the library refuses to do without.
func TestFormSchemasRequire(t *testing.T) {
	needed, seen := map[string]bool{}, map[string]bool{}
	for _, f := range forms(t) {
		data, err := os.ReadFile("schema/" + f.name + ".schema.json")
		require.NoError(t, err)
		var schema map[string]any
		require.NoError(t, json.Unmarshal(data, &schema))
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
	delete(needed, "setup.Job") // the top of job-1
	for name := range needed {
		if !seen[name] {
			t.Errorf("no text has a %s", name)
		}
	}
}

// A field that is a quantity says in which units it may be, and no description
// speaks of fields by names that JSON does not have.
func TestFormSchemasSayUnits(t *testing.T) {
	for _, name := range []string{"job-1", "record-1"} {
		data, err := os.ReadFile("schema/" + name + ".schema.json")
		require.NoError(t, err)
		var schema map[string]any
		require.NoError(t, json.Unmarshal(data, &schema))
		var walk func(at string, v any)
		walk = func(at string, v any) {
			object, _ := v.(map[string]any)
			doc, _ := object["description"].(string)
			ref, _ := object["$ref"].(string)
			if strings.HasPrefix(ref, "#/$defs/units.") && !strings.HasSuffix(at, ".items") && !strings.Contains(doc, " in ") {
				t.Errorf("%s%s: no units in %q", name, at, doc)
			}
			if bad := regexp.MustCompile(`RiderMass|MaxSpacers|HeadAngle|see New|As JSON|SeaLevel`).FindString(doc); bad != "" {
				t.Errorf("%s%s speaks of %s", name, at, bad)
			}
			for key, sub := range object {
				walk(at+"."+key, sub)
			}
		}
		walk("", schema)
		for _, want := range []string{"length in mm, cm, m, in, ft", "ass in kg, g, lb, oz", "auge pressure in kPa(g), bar, psi", "tiffness in N/mm, N/m, lbf/in", `"smooth"`} {
			if !strings.Contains(string(data), want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
	}
}
