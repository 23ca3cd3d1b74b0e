package evaluate_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
)

// The outputs of another program have the types of our own, whichever way they are written; what is no value of
// their kind stays as it is.
func TestAnsweredHasOurTypes(t *testing.T) {
	for _, row := range []struct {
		computes, given, answer string
		want                    evaluate.Result
	}{
		{"spring.coil", `{}`, `{"rate": "2 N/mm", "index": 4.5, "colour": "red"}`, evaluate.Result{"rate": 2 * units.NewtonPerMillimetre, "index": 4.5}},
		{"spring.coil", `{}`, `{"rate": 2000}`, evaluate.Result{"rate": 2 * units.NewtonPerMillimetre}},
		{"spring.coil", `{}`, `{"rate": "2 N", "index": "4.5", "mass": null, "pitch": true}`, evaluate.Result{"rate": "2 N", "index": "4.5", "mass": nil, "pitch": true}},
		{"spring.law", `{}`, `{"force": ["1 kN", 2], "rate": [1, 2]}`, evaluate.Result{"force": []units.Force{1000, 2}, "rate": []units.Stiffness{1, 2}}},
		{"spring.law", `{}`, `{"force": [], "rate": ["1 N/m", "1 N"], "energy": [1, null], "travel": [null]}`,
			evaluate.Result{"force": []any{}, "rate": []any{"1 N/m", "1 N"}, "energy": []any{1.0, nil}, "travel": []any{nil}}},
		{"linkage.table", `{}`, `{"lever_ratio": [2, 3]}`, evaluate.Result{"lever_ratio": []float64{2, 3}}},
		{"spring.caliper", `{}`, `{"dominant": "wire_diameter"}`, evaluate.Result{"dominant": "wire_diameter"}},
		{"units.convert", `{"kind": "temperature"}`, `{"value": "0 °C"}`, evaluate.Result{"value": units.Celsius(0)}},
		{"units.convert", `{"kind": "temperature"}`, `{"value": 1}`, evaluate.Result{"value": units.Temperature(1)}},
		{"units.convert", `{"kind": 1}`, `{"value": "0 °C"}`, evaluate.Result{"value": "0 °C"}},
		{"no.such", `{}`, `{"value": 1}`, evaluate.Result{}},
	} {
		var outputs map[string]any
		require.NoError(t, json.Unmarshal([]byte(row.answer), &outputs))
		got := evaluate.Answered(refdata.Case{Computes: row.computes, Given: []byte(row.given)}, outputs)
		if diff := cmp.Diff(row.want, got); diff != "" {
			t.Errorf("%s %s (-want +got):\n%s", row.computes, row.answer, diff)
		}
	}
}

// An input that another program refuses is judged by the names it gives.
func TestRefusedIsJudgedByNames(t *testing.T) {
	c := refdata.Case{ID: "x", Computes: "spring.law", Error: []string{"rate", "locks"}}
	for _, row := range []struct {
		fields []string
		pass   bool
	}{
		{[]string{"rate", "locks"}, true}, {[]string{"law.linear.rate", "locks"}, true}, {[]string{"locks", "rate", "law.rate"}, true},
		{[]string{"rate"}, false}, {[]string{"rate", "locks", "travel"}, false}, {nil, false},
	} {
		if j := evaluate.Judge(c, nil, evaluate.Refused(row.fields...)); j.Pass() != row.pass {
			t.Errorf("%v: %s", row.fields, j.Failure())
		}
	}
	if err := evaluate.Refused(); err == nil || len(units.Fields(err)) > 0 {
		t.Errorf("no name: %v", err)
	}
}

func ExampleAnswered() {
	c := refdata.Case{ID: "made-up-1", File: "mine.json", Computes: "spring.law", Standing: refdata.Computed,
		Expect: map[string]any{"force": []any{"800 N"}}}
	for _, answer := range []string{`{"force": ["0.8 kN"]}`, `{"force": [800]}`, `{"force": ["80 kg"]}`} {
		var outputs map[string]any
		if err := json.Unmarshal([]byte(answer), &outputs); err != nil {
			panic(err)
		}
		fmt.Println(answer, evaluate.Judge(c, evaluate.Answered(c, outputs), nil).Pass())
	}
	// Output:
	// {"force": ["0.8 kN"]} true
	// {"force": [800]} true
	// {"force": ["80 kg"]} false
}

func ExampleRefused() {
	c := refdata.Case{ID: "made-up-2", File: "mine.json", Computes: "spring.law", Error: []string{"rate"}}
	fmt.Println(evaluate.Judge(c, nil, evaluate.Refused("law.linear.rate")).Pass())
	// Output: true
}
