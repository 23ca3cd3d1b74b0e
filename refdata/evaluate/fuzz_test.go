package evaluate_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// FuzzEvaluate starts from what the embedded cases give.
func FuzzEvaluate(f *testing.F) {
	names := evaluate.Computations()
	place := map[string]int{}
	for i, name := range names {
		place[name] = i
		f.Add(i, []byte(`{}`))
	}
	for i, c := range cases(f) {
		if i%3 == 2 {
			f.Add(place[c.Computes], []byte(c.Given))
		}
	}
	f.Fuzz(func(t *testing.T, i int, given []byte) {
		if i < 0 || i >= len(names) {
			return
		}
		judge(t, names[i], names[i], given)
	})
}

// FuzzJudge: any expectation of an embedded case is met or not met, with a
// reason, and shown within its tolerance or out of it.
func FuzzJudge(f *testing.F) {
	cases := cases(f)
	for i := 0; i < len(cases); i += 37 {
		for name, v := range cases[i].Expect {
			text, err := json.Marshal(v)
			require.NoError(f, err)
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
		o := evaluate.Run(c)
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

// FuzzRun holds that no file makes the reader panic, that every refusal is a
// FileError, and that every case that was read can be judged.
func FuzzRun(f *testing.F) {
	f.Add(file(group(aCase("a"))))
	f.Add(file(`{"source":{"title":"T","where":"W"},"standing":"published","cases":[{"id":"x","computes":"units.convert","given":{},"error":["kind"],"tolerance":{"*":"1 °C"}}]}`))
	f.Add(strings.Repeat(`{"groups":[`, 50))
	f.Add(file(group(`{"id":"x","computes":"units.convert","given":{},"expect":{"value":` + strings.Repeat("[", 2000) + strings.Repeat("]", 2000) + `}}`)))
	f.Fuzz(func(t *testing.T, text string) {
		for c, err := range refdata.CasesFrom("f.json", strings.NewReader(text)) {
			if err != nil {
				if bad := new(refdata.FileError); !errors.As(err, &bad) {
					t.Errorf("error %v is no FileError", err)
				}
				break
			}
			if c.ID == "" || len(c.Expect) == 0 == (len(c.Error) == 0) {
				t.Errorf("case %+v is no case", c)
			}
			o := evaluate.Run(c)
			if o.Pass() != (o.Failure() == "") {
				t.Errorf("%s: passed %v, failure %q", c.ID, o.Pass(), o.Failure())
			}
		}
	})
}
