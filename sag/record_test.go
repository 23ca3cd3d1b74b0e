package sag

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// visit is a record of the job of the tests with a ring read at each end.
func visit(t testing.TB) Record {
	t.Helper()
	j := readJob(t, jobText)
	s, err := NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewRecord("2026-11-25", j, s)
	if err != nil {
		t.Fatal(err)
	}
	r.Note = "first visit"
	r.Front.Readings = []Reading{{Stroke: s.Front.Rest.Stroke, Error: 1 * units.Millimetre, Date: "2026-11-25"}}
	r.Rear.Readings = []Reading{
		{Stroke: s.Rear.Rest.Stroke, Error: 0.5 * units.Millimetre, Note: "standing"},
		{Stroke: s.Rear.Rest.Stroke + 0.1*units.Millimetre, Error: 0.5 * units.Millimetre, Note: "again"},
	}
	r.Extra = json.RawMessage(`{"shop":{"ticket":41,"tags":["b","a"]}}`)
	return r
}

func written(t testing.TB, r Record) []byte {
	t.Helper()
	var out bytes.Buffer
	n, err := r.WriteTo(&out)
	if err != nil {
		t.Fatal(err)
	}
	if int(n) != out.Len() {
		t.Fatalf("said to have written %d bytes of %d", n, out.Len())
	}
	return out.Bytes()
}

// What is written reads back the same to the last bit, and is written the same
// again.
func TestRecordRoundTrip(t *testing.T) {
	want := visit(t)
	// A number that no short decimal stands for.
	want.Rear.Friction = units.Force(35.0 / 3)
	text := written(t, want)
	got, err := ReadRecord(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	again := written(t, got)
	if diff := cmp.Diff(string(text), string(again)); diff != "" {
		t.Errorf("written again it differs:\n%s", diff)
	}
	got.Extra, want.Extra = nil, nil // differs in white space
	got.Job, want.Job = nil, nil     // compared as text above
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-written +read):\n%s", diff)
	}
	var extra struct {
		Shop struct {
			Ticket int      `json:"ticket"`
			Tags   []string `json:"tags"`
		} `json:"shop"`
	}
	second, err := ReadRecord(bytes.NewReader(again))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(second.Extra, &extra); err != nil || extra.Shop.Ticket != 41 || !slices.Equal(extra.Shop.Tags, []string{"b", "a"}) {
		t.Errorf("the extra became %s: %v", second.Extra, err)
	}
}

// A record says what the sheet recommended, and the next visit starts there:
// read back on the prediction, it agrees; for the same situation nothing
// changes.
func TestNextVisit(t *testing.T) {
	r := visit(t)
	j := readJob(t, jobText)
	s, err := NewSheet(j)
	if err != nil {
		t.Fatal(err)
	}
	best := s.Rear.Coil.Candidates[0]
	if r.Rear.Coil.Rate != best.Rate || r.Rear.Coil.Preload != best.Preload || r.Rear.Coil.SolidTravel == 0 || r.Rear.Coil.ThreadPitch != j.Rear.Coil.ThreadPitch {
		t.Errorf("rear %+v, recommended %+v", r.Rear.Coil, best)
	}
	if r.Front.Air.Fill != s.Front.Air.Options[0].Fill || r.Front.Air.Spacers != s.Front.Air.Options[0].Spacers || r.Front.Air.Ambient != j.Ambient {
		t.Errorf("front %+v", r.Front.Air)
	}
	for _, end := range []End{FrontEnd, RearEnd} {
		m, ok := r.Measuring(end)
		if !ok {
			t.Fatal(end)
		}
		measured, err := NewMeasured(m)
		if err != nil {
			t.Fatal(end, err)
		}
		if measured.Verdict != Agrees {
			t.Errorf("%s: %s", end, measured.Verdict)
		}
	}
	changed, err := NewChanged(r.ChangeTo(r.Situation))
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "rear sag", changed.Rear.Leave.Rest.Sag, s.Rear.Rest.Sag, unitstest.Rel(1e-9))
	unitstest.Near(t, "front sag", changed.Front.Leave.Rest.Sag, s.Front.Rest.Sag, unitstest.Rel(1e-9))
	if changed.Front.Set.Air != nil {
		unitstest.Near(t, "fill", float64(changed.Front.Set.Air.FillChange), 0, unitstest.Abs(1e-3))
	}
	// A heavier rider sags more.
	to := r.Situation
	to.Masses.RiderMass += 10
	if changed, err = NewChanged(r.ChangeTo(to)); err != nil {
		t.Fatal(err)
	}
	if !(changed.Rear.Leave.Rest.Sag > s.Rear.Rest.Sag) {
		t.Errorf("10 kg more: sag %v after %v", changed.Rear.Leave.Rest.Sag, s.Rear.Rest.Sag)
	}
	if _, ok := r.Measuring("middle"); ok {
		t.Error("an end that is none")
	}
	r.Front = nil
	if _, ok := r.Measuring(FrontEnd); ok {
		t.Error("an end that is not there")
	}
	if r.ChangeTo(to).Front != nil {
		t.Error("a change of an end that is not there")
	}
}

func TestReadRecordRefuses(t *testing.T) {
	good := string(written(t, visit(t)))
	for _, test := range []struct {
		what, from, to string
		want           []string
	}{
		{"a field that is unknown", `"date"`, `"day": 1, "date"`, []string{"day"}},
		{"a day that is none", "2026-11-25", "2026-02-30", []string{"date"}},
		{"a rider of nothing", `"rider_mass": "82 kg"`, `"rider_mass": "-82 kg"`, []string{"situation.masses.rider_mass"}},
		{"no unit", `"rider_mass": "82 kg"`, `"rider_mass": "82"`, []string{"situation.masses.rider_mass"}},
		{"another schema", "wheelrate/record/1", "wheelrate/job/1", []string{"schema"}},
		{"schema 0", "wheelrate/record/1", "wheelrate/record/0", []string{"schema"}},
		{"an extra that is no object", `"extra": {`, `"extra": [{`, []string{""}},
	} {
		text := strings.Replace(good, test.from, test.to, 1)
		if text == good {
			t.Fatalf("%s: nothing was replaced", test.what)
		}
		_, err := ReadRecord(strings.NewReader(text))
		if err == nil || errors.Is(err, ErrNewer) {
			t.Errorf("%s: %v", test.what, err)
			continue
		}
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		if test.want[0] != "" && !slices.Equal(test.want, got) {
			t.Errorf("%s: names %v, want %v: %v", test.what, got, test.want, err)
		}
	}
	for _, version := range []string{"2", "10", "999999999"} {
		_, err := ReadRecord(strings.NewReader(strings.Replace(good, "wheelrate/record/1", "wheelrate/record/"+version, 1)))
		if !errors.Is(err, ErrNewer) {
			t.Errorf("version %s: %v", version, err)
		}
	}
	if _, err := ReadRecord(strings.NewReader(strings.Repeat(" ", JobLimit+10))); err == nil {
		t.Error("a record of a megabyte of nothing")
	}
	if _, err := ReadRecord(failing{}); err == nil || !strings.Contains(err.Error(), "unexpected EOF") {
		t.Errorf("a reader that fails: %v", err)
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error)  { return 0, io.ErrUnexpectedEOF }
func (failing) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestRecordCheck(t *testing.T) {
	for _, test := range []struct {
		spoil func(*Record)
		want  []string
	}{
		{func(r *Record) { *r = Record{} }, []string{"date", "front", "schema", "situation.masses.bike_mass", "situation.masses.rear_share", "situation.masses.rider_mass"}},
		{func(r *Record) { r.Rear.Coil.Rate, r.Front.Air.MaxFill = -1, 0 }, []string{"front.air.max_fill", "rear.coil.rate"}},
		{func(r *Record) { r.Front.Air.Fill = r.Front.Air.MaxFill * 2 }, []string{"front.air.fill"}},
		{func(r *Record) { r.Rear.Readings[1].Stroke, r.Front.Readings[0].Error = 1, -1 }, []string{"front.readings[0].error", "rear.readings[1].stroke"}},
		{func(r *Record) { r.Rear.Readings = make([]Reading, 1001) }, []string{"rear.readings"}},
		{func(r *Record) { r.Extra = json.RawMessage(`[1]`) }, []string{"extra"}},
		{func(r *Record) { r.Extra = json.RawMessage(`{"a":`) }, []string{"extra"}},
		{func(r *Record) { r.Situation.Conditions = &airspring.Conditions{Temperature: 5, Altitude: 1e6} }, []string{"situation.conditions.altitude", "situation.conditions.temperature"}},
	} {
		r := visit(t)
		test.spoil(&r)
		err := r.Check()
		var got []string
		for _, f := range units.Fields(err) {
			got = append(got, f.Field)
		}
		slices.Sort(got)
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("(-want +got):\n%s%v", diff, err)
		}
		var out bytes.Buffer
		if n, err := r.WriteTo(&out); err == nil || n != 0 || out.Len() != 0 {
			t.Error("a bad record is written")
		}
	}
	if _, err := NewRecord("2026-11-25", readJob(t, jobText), nil); err == nil {
		t.Error("a record without a sheet")
	}
	if _, err := visit(t).WriteTo(failing{}); !errors.Is(err, io.ErrShortWrite) {
		t.Errorf("a writer that fails: %v", err)
	}
}

func FuzzReadRecord(f *testing.F) {
	f.Add(written(f, visit(f)))
	f.Add([]byte(`{"schema": "wheelrate/record/2"}`))
	f.Add([]byte(`{"schema": "wheelrate/record/1", "date": "2026-11-25", "extra": {"a": [1e999]}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		r, err := ReadRecord(bytes.NewReader(text))
		if err != nil {
			return
		}
		first := written(t, r)
		again, err := ReadRecord(bytes.NewReader(first))
		if err != nil {
			t.Fatalf("can't read what it wrote: %v\n%s", err, first)
		}
		if second := written(t, again); !bytes.Equal(first, second) {
			t.Fatalf("written twice:\n%s\n%s", first, second)
		}
	})
}
