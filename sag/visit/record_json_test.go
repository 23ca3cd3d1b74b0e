package visit_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// What is written reads back the same to the last bit, and is written the same
// again.
func TestRecordReadsBackToTheLastBit(t *testing.T) {
	want := visited(t)
	// A number that no short decimal stands for.
	want.Rear.Friction = units.Force(35.0 / 3)
	text := written(t, want)
	got := read(t, text)
	again := written(t, got)
	if diff := cmp.Diff(string(text), string(again)); diff != "" {
		t.Errorf("written again it differs:\n%s", diff)
	}
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("(-written +read):\n%s", diff)
	}
}

func TestTextsAreRefusedByField(t *testing.T) {
	good := string(written(t, visited(t)))
	for _, test := range []struct {
		what, from, to string
		want           []string
	}{
		{"a field given twice", `"date"`, `"date": "2026-11-25", "date"`, []string{"date"}},
		{"a number for a mass, and a share below 0", `"rider_mass": "82 kg"`, `"rider_mass": 82, "bike_rear_share": -1`, []string{"situation.masses.rider_mass", "situation.masses.bike_rear_share"}},
		{"no unit", `"rider_mass": "82 kg"`, `"rider_mass": "82"`, []string{"situation.masses.rider_mass"}},
		{"another schema", "wheelrate/record/1", "wheelrate/job/1", []string{"schema"}},
		{"schema 0", "wheelrate/record/1", "wheelrate/record/0", []string{"schema"}},
		{"an extra that is no object", `"extra": {`, `"extra": [{`, nil},
	} {
		text := strings.Replace(good, test.from, test.to, 1)
		if text == good {
			t.Fatalf("%s: nothing was replaced", test.what)
		}
		_, marked, err := visit.ReadRecord(strings.NewReader(text))
		if err == nil || errors.Is(err, units.ErrNewer) || marked != nil {
			t.Errorf("%s: %v", test.what, err)
			continue
		}
		if test.want != nil {
			named(t, test.what, err, test.want...)
		}
	}
	if _, _, err := visit.ReadRecord(strings.NewReader(strings.Repeat(" ", setup.JobLimit+10))); err == nil {
		t.Error("a record of a megabyte of nothing")
	}
	if _, _, err := visit.ReadRecord(failing{}); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("a reader that fails: %v", err)
	}
	if _, err := visited(t).WriteTo(failing{}); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("a writer that fails: %v", err)
	}
}

// A record without an extra has none once it is read, and the least extra is
// kept.
func TestLeastExtraIsKept(t *testing.T) {
	for text, want := range map[string]string{"": "", "{}": "{}", "{ }\n": "{}"} {
		r := handRecord()
		r.Extra = nil
		if text != "" {
			r.Extra = json.RawMessage(text)
		}
		if got := read(t, written(t, r)); string(got.Extra) != want || (got.Extra == nil) != (want == "") {
			t.Errorf("%q became %q", text, got.Extra)
		}
	}
}

// An application's own object is kept byte for byte, white space between its
// parts aside.
func TestExtraIsKeptByteForByte(t *testing.T) {
	const text = ` { "b" : 1.50 , "a" : [ 1e400, -0.0, 12345678901234567890123, "é \u00e9 <&> \/" ] ,
		"b" : { } , "c" : null } `
	const tight = `{"b":1.50,"a":[1e400,-0.0,12345678901234567890123,"é \u00e9 <&> \/"],"b":{},"c":null}`
	r := handRecord()
	r.Extra = json.RawMessage(text)
	for range 3 {
		if r = read(t, written(t, r)); string(r.Extra) != tight {
			t.Fatalf("became %s", r.Extra)
		}
	}
	// As deep as can be read again, and no deeper.
	nested := func(n int) json.RawMessage {
		return json.RawMessage(`{"a":` + strings.Repeat("[", n) + strings.Repeat("]", n) + `}`)
	}
	r.Extra = nested(98)
	read(t, written(t, r))
	for _, bad := range []string{"null", " ", `"{}"`, `{}, "note": ""`, `{}} {`, "{\"a\":\"\xff\"}", `{"a":"\ud800"}`, string(nested(99))} {
		r.Extra = json.RawMessage(bad)
		named(t, string(bad[:min(len(bad), 40)]), check(r), "extra")
	}
}

// A record of 1 MiB is read, white space and all, and one of a byte more is not; what
// is too large to be read again is not written.
func TestRecordHasUpToAMebibyte(t *testing.T) {
	r := handRecord()
	text := string(written(t, r))
	room := 1<<20 - len(text)
	read(t, []byte(text+strings.Repeat(" ", room)))
	for _, more := range []int{1, 2, 1000} {
		if _, _, err := visit.ReadRecord(strings.NewReader(text + strings.Repeat(" ", room+more))); !errors.Is(err, units.ErrRange) {
			t.Errorf("%d more: %v", more, err)
		}
	}
	r.Note = strings.Repeat("x", room-len(`  "note": "",`)-1)
	read(t, written(t, r))
	r.Note += "x"
	var out bytes.Buffer
	if n, err := r.WriteTo(&out); !errors.Is(err, units.ErrRange) || n != 0 || out.Len() != 0 {
		t.Errorf("one byte more: %v", err)
	}
}

// hostile is how long hostile texts are, in bytes.
func hostile() int {
	if unitstest.Long() {
		return 1 << 22
	}
	return 1 << 17
}

// mostError is the longest text of an error, in bytes: about 4 kB, and the last
// fault that fits.
const mostError = 5000

// A hostile text is refused in one short error, for a small multiple of its length in
// memory, and for a fixed amount over the limit.
func TestHostileTextsAreRefusedInShort(t *testing.T) {
	visit.ReadRecord(strings.NewReader("{}")) // makes what is made once
	for name, doc := range unitstest.Hostile(hostile()) {
		var err error
		n := unitstest.Allocated(func() { _, _, err = visit.ReadRecord(bytes.NewReader(doc)) })
		if wrong := unitstest.Refusal(err, mostError); wrong != "" {
			t.Errorf("%s: %s: %.200v", name, wrong, err)
		}
		if most := 40*min(len(doc), setup.JobLimit) + 1<<17; n > most { // 33 under the race detector
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
}

// Whatever one thing of a record is changed to, it is read and can be written, or
// refused in one short error, in bounded memory.
func TestSpoiltRecordsAreRefusedInShort(t *testing.T) {
	r := visited(t)
	r.Notes = []string{"one", "two"}
	text := written(t, r)
	i := 0
	for spoilt := range unitstest.Spoiled(text, min(hostile()/8, setup.JobLimit-2*len(text)), "extra") {
		if i++; !spoilt.Bad && i%4 != 0 && !unitstest.Long() {
			continue
		}
		name, doc := spoilt.Name, spoilt.Text
		var got visit.Record
		var marked []*units.FieldError
		var err error
		n := unitstest.Allocated(func() { got, marked, err = visit.ReadRecord(bytes.NewReader(doc)) })
		if spoilt.Bad && err == nil && marked == nil {
			t.Errorf("%s is read", name)
		} else if marked != nil {
			if wrong := unitstest.Refusal(errors.Join(check(got)), mostError); wrong != "" || len(names(check(got))) != len(marked) {
				t.Errorf("%s: %s: marked %v, refused %v", name, wrong, marked, check(got))
			}
		} else if err == nil {
			var out bytes.Buffer
			// Indented it may be over the limit.
			if _, err := got.WriteTo(&out); err != nil && (len(doc) < setup.JobLimit/4 || len(units.Fields(err)) != 1) {
				t.Errorf("%s: read, and not written: %v", name, err)
			}
		} else if wrong := unitstest.Refusal(err, mostError); wrong != "" {
			t.Errorf("%s: %s: %.300v", name, wrong, err)
		}
		if most := 100*len(doc) + 1<<24; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error)  { return 0, io.ErrUnexpectedEOF }
func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

// FuzzReadRecord: what is read is written and read again the same, and each end rests.
func FuzzReadRecord(f *testing.F) {
	f.Add(written(f, visited(f)))
	f.Add(written(f, handRecord()))
	f.Add([]byte(`{"schema": "wheelrate/record/2"}`))
	f.Add([]byte(`{"schema": "wheelrate/record/1", "date": "2026-11-25", "extra": {"a": [1e999]}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, marked, err := visit.ReadRecord(bytes.NewReader(text))
		if err != nil || marked != nil {
			return
		}
		first := written(t, r)
		again := read(t, first)
		if second := written(t, again); !bytes.Equal(first, second) {
			t.Fatalf("written twice:\n%s\n%s", first, second)
		}
		if diff := cmp.Diff(r, again, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("lost on the way (-read +read again):\n%s", diff)
		}
		for _, end := range []sag.Axle{sag.Front, sag.Rear} {
			if end == sag.Front && r.Front == nil || end == sag.Rear && r.Rear == nil {
				continue
			}
			a, err := r.Arrive(end, r.Situation, 0)
			if err != nil {
				t.Fatalf("a checked record does not settle: %v", err)
			}
			if o := a.Left; !(o.Rest.Stroke >= 0) || !(o.Rest.Sag >= 0 && o.Rest.Sag <= 1) {
				t.Fatalf("rests at %v, sag %v", a.Left.Rest.Stroke, a.Left.Rest.Sag)
			}
		}
	})
}
