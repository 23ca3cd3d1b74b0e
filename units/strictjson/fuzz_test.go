package strictjson_test

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// FuzzUnmarshal checks against encoding/json that only JSON is accepted, that
// both read the same, and that errors stay small and have a class.
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
	classes := []error{units.ErrRange, units.ErrUnit, units.ErrMissing, units.ErrConflict, units.ErrUnknown, units.ErrSyntax}
	f.Fuzz(func(t *testing.T, text string) {
		var v everything
		err := strictjson.Unmarshal("job", []byte(text), &v)
		if math.IsNaN(v.Front.Sag) || math.IsNaN(float64(v.Single)) || v.Warm != nil && !(*v.Warm >= 0) {
			t.Errorf("read %+v", v)
		}
		var ordinary everything
		ordinaryErr := json.Unmarshal([]byte(text), &ordinary)
		if err == nil {
			if ordinaryErr != nil {
				t.Fatalf("accepted what encoding/json refuses: %v", ordinaryErr)
			}
			if diff := cmp.Diff(ordinary, v, exported); diff != "" {
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
			if !known || field.Want.String() == "" || strings.ContainsAny(field.Error(), "\n\r") {
				t.Errorf("%#v", field)
			}
		}
	})
}

// FuzzDecode: read in any pieces, a text within the limit comes out as
// Unmarshal has it; a longer one is refused as out of range, and a reader's own
// error is handed on.
func FuzzDecode(f *testing.F) {
	f.Add(`{"front": {"air": {"bore": "36 mm", "fill": "72 psi", "spacers": 2}, "sag": 0.2}}`, int64(1000), uint8(0))
	f.Add(`{"sag": 1}`, int64(10), uint8(1))
	f.Add(`{"sag": 1}`, int64(9), uint8(2))
	f.Add(`{"sag": 1}`, int64(-1), uint8(3))
	f.Add(`[1, 2`, int64(1<<62), uint8(4))
	f.Fuzz(func(t *testing.T, text string, limit int64, how uint8) {
		r := strings.NewReader(text)
		broken := errors.New("cut off")
		var v, want everything
		var err error
		switch how % 4 {
		case 0:
			err = strictjson.Decode("job", r, limit, &v)
		case 1:
			err = strictjson.Decode("job", iotest.OneByteReader(r), limit, &v)
		case 2:
			err = strictjson.Decode("job", iotest.DataErrReader(r), limit, &v)
		case 3:
			err = strictjson.Decode("job", iotest.ErrReader(broken), limit, &v)
			if limit > 0 && !errors.Is(err, broken) {
				t.Fatalf("the reader's error is lost: %v", err)
			}
			return
		}
		if int64(len(text)) > max(limit, 0) {
			if !errors.Is(err, units.ErrRange) || len(units.Fields(err)) != 1 || !reflect.ValueOf(v).IsZero() {
				t.Fatalf("%d bytes with a limit of %d: %v", len(text), limit, err)
			}
			return
		}
		wantErr := strictjson.Unmarshal("job", []byte(text), &want)
		if (err == nil) != (wantErr == nil) || err != nil && err.Error() != wantErr.Error() || !reflect.DeepEqual(v, want) {
			t.Fatalf("read %+v, %v; at hand %+v, %v", v, err, want, wantErr)
		}
	})
}
