package refdata_test

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// Faults are all that is wrong with what was asked. They come in place of an answer.
type Faults struct {
	Faults []Fault `json:"faults"`
}

// Fault is one thing that is wrong with what was asked. [units.FieldError] writes it.
type Fault struct {
	// What is wrong, for programs: range, unit, syntax, missing, conflict or unknown of an input, or more
	// exact, such as bottomed_out or undetermined; defect of the library, and other. There may be new ones.
	Code    string `json:"code"`
	Kind    string `json:"kind,omitempty"`    // the general code, where the code is a kind of it
	Package string `json:"package,omitempty"` // the part of the library that refused it
	Field   string `json:"field"`             // path of the field within what was given, such as rear.coil.rate; empty for all of it
	Value   any    `json:"value,omitempty"`   // what was given; a quantity as text with its unit
	Given   string `json:"given,omitempty"`   // the value in as few digits as people need, where value has more
	Text    string `json:"want"`              // what would be accepted, in English
	units.Want
}

// What the library refuses is told as the schema of faults says.
func TestFaultsMeetTheirSchema(t *testing.T) {
	codes := map[string]bool{}
	for _, f := range forms(t) {
		for from, to := range f.spoilt {
			list := units.Faults(f.read(strings.Replace(f.texts[0], from, to, 1)))
			out, err := json.Marshal(map[string]any{"faults": list})
			require.NoError(t, err)
			if bad := schemaFaults(t, "faults-1", out); len(bad) > 0 {
				t.Errorf("%s: %v", out, bad)
			}
			for _, one := range list {
				codes[one.Class.Code()] = true
			}
		}
	}
	for _, class := range []*units.Class{units.ErrRange, units.ErrUnit, units.ErrSyntax, units.ErrMissing, units.ErrConflict, units.ErrUnknown} {
		if !codes[class.Code()] && class != units.ErrRange {
			t.Errorf("no fault has the code %s", class.Code())
		}
	}
}

// The schema has the very fields that a fault can have.
func TestFaultsSchemaListsFields(t *testing.T) {
	fault := units.FieldError{Package: "coil", Field: "rate", Value: units.Metre / 3, Class: units.ErrNewer, Want: units.Want{
		Limits: []units.Limit{{Is: "at_most", Value: 2 * units.Metre, Of: "travel"}, {Is: "finite"}}, Counts: "springs",
		OneOf: []string{"a"}, Needs: []string{"b"}, Without: []string{"c"}, Meant: []string{"d"},
	}}
	out, err := json.Marshal(map[string]any{"faults": []any{&fault}})
	require.NoError(t, err)
	require.Empty(t, schemaFaults(t, "faults-1", out))
	var read struct{ Faults []map[string]any }
	require.NoError(t, json.Unmarshal(out, &read))
	defs := readSchema(t, "faults-1.schema.json")["$defs"].(map[string]any)
	names := func(def string) []string {
		return slices.Sorted(maps.Keys(defs[def].(map[string]any)["properties"].(map[string]any)))
	}
	limit := read.Faults[0]["limits"].([]any)[0].(map[string]any)
	if diff := cmp.Diff(names("units.Fault"), slices.Sorted(maps.Keys(read.Faults[0]))); diff != "" {
		t.Errorf("fields of a fault (-schema +fault):\n%s", diff)
	}
	if diff := cmp.Diff(names("units.Limit"), slices.Sorted(maps.Keys(limit))); diff != "" {
		t.Errorf("fields of a limit (-schema +limit):\n%s", diff)
	}
}
