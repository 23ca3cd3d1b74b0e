package evaluate_test

import (
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

func converting(kind, value string) refdata.Case {
	return refdata.Case{File: "f.json", ID: "x", Computes: "units.convert", Standing: refdata.FromMemory,
		Given: []byte(`{"kind":"` + kind + `","value":"` + value + `"}`)}
}

func TestRun(t *testing.T) {
	with := func(c refdata.Case, expect map[string]any, refused ...string) refdata.Case {
		c.Expect, c.Error = expect, refused
		return c
	}
	inch := converting("length", "1 in")
	unknown := inch
	unknown.Computes = "units.invert"
	tests := []struct {
		name string
		c    refdata.Case
		says []string // all of these in the failure; none for a pass
	}{
		{"right", with(inch, map[string]any{"value": "25.4 mm"}), nil},
		{"wrong", with(inch, map[string]any{"value": "25 mm"}),
			[]string{"x: units.convert (f.json)", "expected 25 mm, got 25.4 mm, off by 0.4 mm, tolerance relative 1e-09", "none (from memory)"}},
		{"an output it does not give", with(inch, map[string]any{"rate": "25 N/mm"}),
			[]string{"rate: it is no output of units.convert, which has value"}},
		{"refused", with(converting("length", "1 N"), map[string]any{"value": "25 mm"}),
			[]string{`refused: evaluate: value "1 N"`}},
		{"refused as it should be", with(converting("length", "1 N"), nil, "value"), nil},
		{"refused for another field", with(converting("length", "1 N"), nil, "kind"), []string{"not named: kind", "named besides: value"}},
		{"not refused", with(inch, nil, "value"), []string{"expected to be refused for value, but it was computed"}},
		{"unknown computation", with(unknown, map[string]any{"value": "25.4 mm"}), []string{`computes "units.invert"`}},
		{"unknown computation is a refusal", with(unknown, nil, "computes"), nil},
		{"nothing expected", inch, []string{"nothing is expected"}},
	}
	for _, tt := range tests {
		o := evaluate.Run(tt.c)
		if o.Pass() != (tt.says == nil) || o.Pass() != (o.Failure() == "") {
			t.Errorf("%s: passed %v: %s", tt.name, o.Pass(), o.Failure())
		}
		for _, s := range tt.says {
			if !strings.Contains(o.Failure(), s) {
				t.Errorf("%s: %q does not say %q", tt.name, o.Failure(), s)
			}
		}
		if want := map[bool]string{true: "ok   x ", false: "FAIL x "}[o.Pass()]; !strings.HasPrefix(o.String(), want) {
			t.Errorf("%s: %q, want %q", tt.name, o, want)
		}
	}
}
