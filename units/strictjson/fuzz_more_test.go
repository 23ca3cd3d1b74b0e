package strictjson

import (
	"errors"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"example.com/wheelrate/units"
)

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
			err = Decode("job", r, limit, &v)
		case 1:
			err = Decode("job", iotest.OneByteReader(r), limit, &v)
		case 2:
			err = Decode("job", iotest.DataErrReader(r), limit, &v)
		case 3:
			err = Decode("job", iotest.ErrReader(broken), limit, &v)
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
		wantErr := Unmarshal("job", []byte(text), &want)
		if (err == nil) != (wantErr == nil) || err != nil && err.Error() != wantErr.Error() || !reflect.DeepEqual(v, want) {
			t.Fatalf("read %+v, %v; at hand %+v, %v", v, err, want, wantErr)
		}
	})
}
