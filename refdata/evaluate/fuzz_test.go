package evaluate_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// finite returns where v holds NaN or an infinity, nil where it does not.
func finite(v reflect.Value) error {
	switch {
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			if err := finite(v.Index(i)); err != nil {
				return fmt.Errorf("[%d]%w", i, err)
			}
		}
	case v.CanFloat():
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Errorf(" is %v", f)
		}
	case v.CanInt(), v.Kind() == reflect.String:
	default:
		return fmt.Errorf(" is a %v", v.Type())
	}
	return nil
}

// judge runs a computation and holds what every one must keep: a result or an
// error, never both or neither; no NaN and no infinity in a result; an error
// that names what is wrong.
func judge(t *testing.T, computes string, given []byte) (refused bool) {
	result, err := evaluate.Compute(refdata.Case{Computes: computes, Given: given})
	if (err == nil) == (result == nil) {
		t.Errorf("%s(%.120s): result %v, error %v", computes, given, result, err)
	}
	for name, v := range result {
		if fault := finite(reflect.ValueOf(v)); fault != nil {
			t.Errorf("%s(%.120s): %s%v", computes, given, name, fault)
		}
	}
	if err != nil && strings.Contains(evaluate.Judge(refdata.Case{Error: []string{"none"}}, nil, err).Problem, "something that is no field") {
		t.Errorf("%s(%.120s): an error that names nothing: %v", computes, given, err)
	}
	return err != nil
}

// FuzzEvaluate starts from what the embedded cases give.
func FuzzEvaluate(f *testing.F) {
	names := evaluate.Computations()
	place := map[string]int{}
	for i, name := range names {
		place[name] = i
		f.Add(i, []byte(`{}`))
	}
	n := 0
	require.NoError(f, refdata.Each(refdata.CaseFiles(), func(c refdata.Case) error {
		if n++; n%3 == 0 {
			f.Add(place[c.Computes], []byte(c.Given))
		}
		return nil
	}))
	f.Fuzz(func(t *testing.T, i int, given []byte) {
		if i < 0 || i >= len(names) {
			return
		}
		judge(t, names[i], given)
	})
}

// Every computation answers hostile input with an error, quickly.
func TestHostileInput(t *testing.T) {
	deep := strings.Repeat(`{"law":`, 100000) + "1" + strings.Repeat("}", 100000)
	hostile := map[string]string{
		"nothing": ``, "space": ` `, "null": `null`, "list": `[]`, "text": `"x"`, "number": `1`, "cut off": `{"a":`,
		"deep objects": deep, "deep lists": strings.Repeat("[", 500000), "deep series": `{"law":` + strings.Repeat(`{"series":[`, 50000) + strings.Repeat(`]}`, 50000) + `}`,
		"long list of numbers": `{"at":[` + strings.Repeat("1,", 500000) + `1]}`,
		"long list of lengths": `{"at":[` + strings.Repeat(`"1 mm",`, 140000) + `"1 mm"]}`,
		"long text":            `{"value":"` + strings.Repeat("9", 1<<20-100) + `"}`,
		"long number":          `{"value":` + strings.Repeat("9", 1<<20-100) + `}`,
		"not UTF-8":            "{\"\xff\xfe\":\"\xff\"}",
		"the same field twice": `{"value":"1 mm","value":"1 mm"}`,
	}
	for name, given := range hostile {
		for _, computes := range evaluate.Computations() {
			if !judge(t, computes, []byte(given)) {
				t.Errorf("%s: %s is not refused", computes, name)
			}
		}
	}
}

// Each field of each embedded case is spoilt in turn, at every depth. The
// computation must refuse it or go on without it, and never come to harm.
func TestSpoiltCases(t *testing.T) {
	spoilt := []any{nil, "", "NaN mm", "-1 mm", "0 mm", "1e300 mm", "1e-300 mm", -1.0, 0.0, 1e300, 1e-300, true, []any{}, map[string]any{}}
	seen := map[string]int{}
	require.NoError(t, refdata.Each(refdata.CaseFiles(), func(c refdata.Case) error {
		if seen[c.Computes]++; seen[c.Computes] > 4 {
			return nil
		}
		var given any
		require.NoError(t, json.Unmarshal(c.Given, &given))
		spoil(given, func(restore func()) {
			data, err := json.Marshal(given)
			restore()
			require.NoError(t, err)
			judge(t, c.Computes, data)
		}, spoilt)
		return nil
	}))
}

// spoil puts each of the spoilt values in the place of each value within v,
// and calls try with what puts the old value back.
func spoil(v any, try func(restore func()), spoilt []any) {
	set := func(old any, put func(any)) {
		for _, s := range spoilt {
			put(s)
			try(func() { put(old) })
		}
		spoil(old, try, spoilt)
	}
	switch v := v.(type) {
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			set(v[name], func(s any) { v[name] = s })
		}
	case []any:
		for i := range v {
			if i < 4 {
				set(v[i], func(s any) { v[i] = s })
			}
		}
	}
}

// FuzzJudge: any expectation of an embedded case is met or not met, with a
// reason, and shown within its tolerance or out of it.
func FuzzJudge(f *testing.F) {
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
		err := refdata.EachFrom("f.json", strings.NewReader(text), func(c refdata.Case) error {
			if c.ID == "" || len(c.Expect) == 0 == (len(c.Error) == 0) {
				t.Errorf("case %+v is no case", c)
			}
			o := evaluate.Run(c)
			if o.Pass() != (o.Failure() == "") {
				t.Errorf("%s: passed %v, failure %q", c.ID, o.Pass(), o.Failure())
			}
			return nil
		})
		var bad *refdata.FileError
		if err != nil && !errors.As(err, &bad) {
			t.Errorf("error %v is no FileError", err)
		}
	})
}
