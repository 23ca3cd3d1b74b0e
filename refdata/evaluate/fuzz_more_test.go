package evaluate

import (
	"encoding/json"
	"math"
	"testing"

	"example.com/wheelrate/refdata"
)

// FuzzCheck: any expectation of an embedded case is met or not met, with a
// reason, and shown within its tolerance or out of it.
func FuzzRun(f *testing.F) {
	cases, err := load(refdata.CaseFiles())
	if err != nil {
		f.Fatal(err)
	}
	for i := 0; i < len(cases); i += 37 {
		for name, v := range cases[i].Expect {
			text, err := json.Marshal(v)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(uint16(i), name, text, 1e-6, "")
		}
	}
	f.Add(uint16(0), "value", []byte(`"1 mm"`), math.NaN(), "0.5 mm")
	f.Add(uint16(0), "", []byte(`[["1e999 mm", 1, null, {}]]`), math.Inf(1), "-1 furlong")
	f.Fuzz(func(t *testing.T, i uint16, name string, value []byte, relative float64, absolute string) {
		c := cases[int(i)%len(cases)]
		var v any
		if json.Unmarshal(value, &v) != nil {
			return
		}
		c.Expect, c.Error = map[string]any{name: v}, nil
		c.Tolerance = map[string]refdata.CaseTolerance{"*": {Relative: relative, Absolute: absolute}}
		o := Run(c)
		if o.Pass() != (o.Failure() == "") {
			t.Fatalf("passed %v, failure %q", o.Pass(), o.Failure())
		}
		for _, line := range o.Outputs {
			if line.Pass() && (line.Failed > 0 || line.Problem != "" || !(line.Share <= 1)) {
				t.Fatalf("passes, yet %+v", line)
			}
			if line.String() == "" || !(line.Digits >= 0 && line.Digits <= 17) {
				t.Fatalf("%+v", line)
			}
		}
	})
}
