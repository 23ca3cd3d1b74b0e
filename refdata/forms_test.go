package refdata

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// The demonstrations' jobs, and a record of one, meet the schemas of their
// formats; what the library refuses for its form, they do too.
func TestFormSchemas(t *testing.T) {
	for _, name := range []string{"job.json", "coil-fork.json"} {
		text, err := os.ReadFile("../examples/setup/demo/" + name)
		require.NoError(t, err)
		if faults := schemaFaults(t, "job-1", text); len(faults) > 0 {
			t.Errorf("%s: %v", name, faults)
		}
	}
	text, err := os.ReadFile("../examples/setup/demo/job.json")
	require.NoError(t, err)
	job, err := sag.ReadJob(bytes.NewReader(text))
	require.NoError(t, err)
	sheet, err := sag.NewSheet(job)
	require.NoError(t, err)
	record, err := sag.NewRecord("2026-11-25", job, sheet)
	require.NoError(t, err)
	record.Rear.Readings = []sag.Reading{{Stroke: sheet.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre}}
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
		if _, err := sag.ReadJob(strings.NewReader(spoilt)); err == nil && !strings.Contains(bad.to, "job/2") {
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
