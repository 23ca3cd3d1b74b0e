package strictjson

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

// FuzzUnmarshal checks against encoding/json that nothing is accepted which
// is no JSON, that what is accepted means the same to both, and that errors
// stay small and have a class.
func FuzzUnmarshal(f *testing.F) {
	for _, seed := range []string{
		"", "{}", "null", "[]", `{"front": {"air": {"bore": "36 mm", "fill": "72 psi", "spacers": 2}, "sag": 0.2}}`,
		`{"points": {"A": ["-438 mm", "28 mm"], "A": [1]}, "name": "\ud83d\ude00\u00e9", "on": true, "small": -129}`,
		`{"raw": [1, {"a": null}], "next": {"next": {"warm": "-300 °C"}}, "finish": "x", "either": {"bore": 5}}`,
		`{"choice": {"bore": "NaN mm", "max_fill": "1e999 psi"}, "big": 18446744073709551616, "single": 1e39}`,
		strings.Repeat("[", 200), "\ufeff{}", "{\"name\": \"\xff\"}", `{"sag": 01e}`, `{"Sag": 1, "sag ": 2}`,
	} {
		f.Add(seed)
	}
	classes := append(classes[:], units.ErrSyntax)
	all := cmp.Exporter(func(reflect.Type) bool { return true })
	f.Fuzz(func(t *testing.T, text string) {
		var v everything
		err := Unmarshal("job", []byte(text), &v)
		if math.IsNaN(v.Front.Sag) || math.IsNaN(float64(v.Single)) || v.Warm != nil && !(*v.Warm >= 0) {
			t.Errorf("read %+v", v)
		}
		var ordinary everything
		ordinaryErr := json.Unmarshal([]byte(text), &ordinary)
		if err == nil {
			if ordinaryErr != nil {
				t.Fatalf("accepted what encoding/json refuses: %v", ordinaryErr)
			}
			if diff := cmp.Diff(ordinary, v, all); diff != "" {
				t.Errorf("(-encoding/json +got):\n%s", diff)
			}
			return
		}
		if len(err.Error()) > 300_000 {
			t.Errorf("an error of %d bytes", len(err.Error()))
		}
		fields := units.Fields(err)
		if len(fields) == 0 {
			t.Errorf("an error without a field: %v", err)
		}
		for _, field := range fields {
			known := false
			for _, class := range classes {
				known = known || errors.Is(field, class)
			}
			if !known || field.Want == "" || strings.ContainsAny(field.Error(), "\n\r") {
				t.Errorf("%#v", field)
			}
		}
	})
}
