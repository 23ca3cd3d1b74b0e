package evaluate

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
)

// finite tells whether v holds neither NaN nor an infinity, and says where.
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
	result, err := Compute(refdata.Case{Computes: computes, Given: given})
	if (err == nil) == (result == nil) {
		t.Errorf("%s(%s): result %v, error %v", computes, brief(string(given)), result, err)
	}
	for name, v := range result {
		if fault := finite(reflect.ValueOf(v)); fault != nil {
			t.Errorf("%s(%s): %s%v", computes, brief(string(given)), name, fault)
		}
	}
	if err != nil {
		for _, r := range refusals(err) {
			if len(r) == 0 {
				t.Errorf("%s(%s): an error that names nothing: %v", computes, brief(string(given)), err)
			}
		}
	}
	return err != nil
}

// FuzzEvaluate starts from what the embedded cases give.
func FuzzEvaluate(f *testing.F) {
	names := Computations()
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
		for _, computes := range Computations() {
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
