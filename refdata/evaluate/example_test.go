package evaluate_test

import (
	"fmt"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/units"
)

func Example() {
	passed, failed := 0, 0
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		if err != nil {
			fmt.Println(err)
			return
		}
		if c.Computes != "units.convert" {
			continue
		}
		o := evaluate.Run(c)
		if fmt.Print(o.Failure()); o.Pass() {
			passed++
		} else {
			failed++
		}
	}
	fmt.Println(passed, "passed,", failed, "failed")
	// Output: 122 passed, 0 failed
}

func ExampleCompute() {
	result, err := evaluate.Compute(refdata.Case{
		Computes: "units.convert",
		Given:    []byte(`{"kind": "stiffness", "value": "450 lbf/in"}`),
	})
	fmt.Printf("%.3f %v\n", result["value"], err)

	_, err = evaluate.Compute(refdata.Case{
		Computes: "units.convert",
		Given:    []byte(`{"kind": "force", "value": "450 lb"}`),
	})
	for _, f := range units.Fields(err) {
		fmt.Println(f.Field, "is bad:", err)
	}
	// Output:
	// 78.807 N/mm <nil>
	// value is bad: evaluate: value "450 lb": want a number and one of the units N, kN, lbf, kgf
}

func ExampleRun() {
	c := refdata.Case{
		ID: "made-up-1", File: "mine.json", Computes: "units.convert", Standing: refdata.CommonPractice,
		Given:     []byte(`{"kind": "gauge_pressure", "value": "1 bar"}`),
		Expect:    map[string]any{"value": "15 psi"},
		Tolerance: map[string]refdata.CaseTolerance{"value": {Absolute: "0.1 psi"}},
	}
	o := evaluate.Run(c)
	fmt.Println(o.Pass())
	fmt.Print(o.Failure())
	// Output:
	// false
	// made-up-1: units.convert (mine.json)
	//   value: expected 15 psi, got 14.5037737730209 psi, off by -0.496 psi, tolerance ±0.1 psi
	//   source: none (common practice)
}

func Example_ownFile() {
	file := `{
	  "schema": "wheelrate/cases/1",
	  "subject": "my bench",
	  "groups": [{"standing": "common practice", "cases": [
	    {"id": "my-1", "computes": "units.convert",
	     "given": {"kind": "length", "value": "2.5 in"},
	     "expect": {"value": "63.5 mm"}}]}]
	}`
	for _, text := range []string{file, strings.Replace(file, "computes", "compute", 1)} {
		for c, err := range refdata.CasesFrom("mine.json", strings.NewReader(text)) {
			if err != nil {
				fmt.Println("refused in", units.Fields(err)[0].Field)
				break
			}
			fmt.Println(evaluate.Run(c))
		}
	}
	// Output:
	// ok   my-1 units.convert
	// refused in groups[0].cases[0].compute
}
