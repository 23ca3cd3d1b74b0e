package sag

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
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
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
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

// handRecord is an invented bike that can be worked out by hand: 100 kg with
// 60 % on the rear wheel, 3 kg of it unsprung; ratio 2.5, 80 N/mm, 2 mm of
// preload behind; a fork of ratio 1 with 8 N/mm, 2 kg unsprung, in front.
func handRecord() Record {
	return Record{
		Schema: RecordSchema, Date: "2026-11-25", Notes: []string{"second", "first", "", "second"},
		Situation: Situation{Masses: Masses{RiderMass: 84, BikeMass: 16, UnsprungFront: 2, UnsprungRear: 3, RearShare: 0.6}},
		Front: &EndRecord{Setting: Setting{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.16}}, Sag: 0.2,
			Coil: &CoilSetting{Rate: 8e3},
		}},
		Rear:  &EndRecord{Setting: coilEnd()},
		Extra: json.RawMessage(`{}`),
	}
}

// recordJob asks for the bike of handRecord.
func recordJob() Job {
	r := handRecord()
	return Job{
		Schema: JobSchema, Masses: r.Situation.Masses,
		Front: EndJob{Curve: r.Front.Curve, Sag: 0.2, Coil: &CoilChoice{Shelf: []ShelfSpring{{Rate: 8e3}}}},
		Rear: EndJob{Curve: r.Rear.Curve, Sag: 0.28, Friction: 40, Coil: &CoilChoice{
			Shelf:      []ShelfSpring{{Rate: 80e3, SolidTravel: 0.05}, {Rate: 80e3, SolidTravel: 0.07}, {Rate: 80e3}},
			PreloadMax: 0.01, ThreadPitch: 1.5 * milli,
		}},
	}
}

// By hand: behind (60 − 3)·9.80665 N·2.5/80 N/mm − 2 mm = 15.46809531 mm of
// stroke, 2.5 times that at the wheel; friction of 40 N moves the stroke by
// 40/80 = 0.5 mm either way. In front (40 − 2)·9.80665/8 = 46.5815875 mm.
func TestOutcomeIsOfWhatIsSet(t *testing.T) {
	r := handRecord()
	j := recordJob()
	r.Job = &j // asks for 42 mm at the rear wheel, which is not what is set
	rear, err := r.Outcome(RearEnd)
	require.NoError(t, err)
	front, err := r.Outcome(FrontEnd)
	require.NoError(t, err)
	for _, row := range []struct {
		what      string
		got, want float64
	}{
		{"rear load", float64(rear.Load), 558.97905},
		{"rear stroke", float64(rear.Rest.Stroke), 15.4680953125 * milli},
		{"rear travel", float64(rear.Rest.Travel), 38.67023828125 * milli},
		{"rear sag", rear.Rest.Sag, 0.2578015885416667},
		{"rear miss", rear.Miss, 0.2578015885416667 - 0.28},
		{"rear low", float64(rear.Rest.StrokeLow), 14.9680953125 * milli},
		{"rear high", float64(rear.Rest.StrokeHigh), 15.9680953125 * milli},
		{"front load", float64(front.Load), 372.6527},
		{"front stroke", float64(front.Rest.Stroke), 46.5815875 * milli},
		{"turns", r.Rear.Turns(), 2 / 1.5},
		{"turns without a pitch", r.Front.Turns(), 0},
	} {
		near(t, row.what, row.got, row.want, 1e-9)
	}
	curve, law, err := r.Law(RearEnd)
	require.NoError(t, err)
	near(t, "force", float64(law.Force(18*milli)), 1600, 1e-12)
	near(t, "ratio", curve.LeverRatio(18*milli), 2.5, 1e-12)

	// A ring at 15.4 mm agrees with that; one at 20 mm is explained by nothing stated.
	for stroke, want := range map[units.Length]Verdict{15.4 * milli: Agrees, 20 * milli: Unexplained} {
		r.Rear.Readings = []Reading{{Stroke: stroke, Error: 0.2 * milli}}
		m, ok := r.Measuring(RearEnd)
		if !ok {
			t.Fatal("the record has a rear end")
		}
		near(t, "predicted", float64(m.Load), 558.97905, 1e-12)
		a, err := NewMeasured(m)
		require.NoError(t, err)
		if a.Verdict != want {
			t.Errorf("%v: %s, want %s", stroke, a.Verdict, want)
		}
	}
	// More preload, less sag: 3 mm instead of 2 is 1 mm of stroke.
	r.Rear.Coil.Preload = 3 * milli
	more, err := r.Outcome(RearEnd)
	require.NoError(t, err)
	near(t, "with more preload", float64(rear.Rest.Stroke-more.Rest.Stroke), 1*milli, 1e-9)
	// The rear end answers for itself, and an end that is none or bad for nothing.
	r.Front = nil
	for _, end := range []End{FrontEnd, "middle", ""} {
		if diff := cmp.Diff([]string{"end"}, names(second(r.Outcome(end)))); diff != "" {
			t.Errorf("%q (-want +got):\n%s", end, diff)
		}
	}
	r.Rear.Coil.Rate, r.Situation.Masses.BikeMass = units.Stiffness(math.NaN()), -1
	want := []string{"situation.masses.bike_mass", "rear.coil.rate"}
	if _, _, err := r.Law(RearEnd); !slices.Equal(names(err), want) {
		t.Errorf("names %v, want %v", names(err), want)
	}
	if diff := cmp.Diff(want, names(second(r.Outcome(RearEnd)))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if got := (EndRecord{Setting: Setting{Coil: &CoilSetting{Preload: 1, ThreadPitch: 5e-324}}}).Turns(); got != 0 {
		t.Errorf("%v turns", got)
	}
}

// The sheet can be had again from the record, and is the one it was made from.
func TestRecordSheet(t *testing.T) {
	r := visit(t)
	again, err := ReadRecord(bytes.NewReader(written(t, r)))
	require.NoError(t, err)
	s, err := again.Sheet()
	require.NoError(t, err)
	was, err := json.Marshal(sheet(t, readJob(t, jobText)))
	require.NoError(t, err)
	now, err := json.Marshal(s)
	require.NoError(t, err)
	if diff := cmp.Diff(string(was), string(now)); diff != "" {
		t.Errorf("(-was +now):\n%s", diff)
	}
	r.Job.Rear.Sag = 2
	if diff := cmp.Diff([]string{"job.rear.sag"}, names(second(r.Sheet()))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if _, err := handRecord().Sheet(); !errors.Is(err, units.ErrMissing) || !slices.Equal(names(err), []string{"job"}) {
		t.Errorf("no job: %v", err)
	}
}

// Of springs of one rate the record names the one that the sheet means, also
// of a sheet that was read from JSON; a sheet of another job is refused.
func TestNewRecordNamesTheSpring(t *testing.T) {
	j := recordJob()
	s := sheet(t, j)
	text, err := json.Marshal(s)
	require.NoError(t, err)
	var read Sheet
	require.NoError(t, json.Unmarshal(text, &read))
	for _, s := range []*Sheet{s, &read} {
		r, err := NewRecord("2026-11-25", j, s)
		require.NoError(t, err)
		// The spring of 50 mm goes solid before the 60 mm of stroke are through.
		if r.Rear.Coil.SolidTravel != 0.07 || r.Rear.Coil.Rate != 80e3 {
			t.Errorf("fitted %+v", r.Rear.Coil)
		}
	}
	if diff := cmp.Diff([]string{"sheet.front", "sheet.rear"}, names(second(NewRecord("2026-11-25", j, sheet(t, readJob(t, jobText)))))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]string{"date"}, names(second(NewRecord("25.11.2026", j, s)))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// An application's own object is kept byte for byte, white space between its
// parts aside.
func TestRecordKeepsExtra(t *testing.T) {
	const text = ` { "b" : 1.50 , "a" : [ 1e400, -0.0, 12345678901234567890123, "é \u00e9 <&> \/" ] ,
		"b" : { } , "c" : null } `
	const tight = `{"b":1.50,"a":[1e400,-0.0,12345678901234567890123,"é \u00e9 <&> \/"],"b":{},"c":null}`
	r := handRecord()
	r.Extra = json.RawMessage(text)
	for range 3 {
		var err error
		r, err = ReadRecord(bytes.NewReader(written(t, r)))
		require.NoError(t, err)
		if string(r.Extra) != tight {
			t.Fatalf("became %s", r.Extra)
		}
	}
	// As deep as can be read again, and no deeper.
	nested := func(n int) json.RawMessage {
		return json.RawMessage(`{"a":` + strings.Repeat("[", n) + strings.Repeat("]", n) + `}`)
	}
	r.Extra = nested(98)
	if _, err := ReadRecord(bytes.NewReader(written(t, r))); err != nil {
		t.Errorf("98 deep: %v", err)
	}
	for _, bad := range []string{"null", " ", `"{}"`, `{}, "note": ""`, `{}} {`, "{\"a\":\"\xff\"}", `{"a":"\ud800"}`, string(nested(99))} {
		r.Extra = json.RawMessage(bad)
		if diff := cmp.Diff([]string{"extra"}, names(r.Check())); diff != "" {
			t.Errorf("%.40q (-want +got):\n%s", bad, diff)
		}
	}
}

// What a record says against itself, or against the job it keeps, is named.
func TestRecordContradicts(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		name  string
		spoil func(*Record)
		want  []string
	}{
		{"nothing", func(*Record) {}, nil},
		{"air on a coil job", func(r *Record) { r.Rear.Coil, r.Rear.Air = nil, airEnd().Air }, []string{"rear.air"}},
		{"coil on an air job", func(r *Record) { r.Front.Air, r.Front.Coil = nil, &CoilSetting{Rate: 8e3} }, []string{"front.coil"}},
		{"both springs", func(r *Record) { r.Front.Coil = &CoilSetting{Rate: 8e3} }, []string{"front.coil"}},
		{"another curve", func(r *Record) { r.Rear.Curve = coilEnd().Curve }, []string{"rear.curve"}},
		{"more spacers than fit", func(r *Record) { r.Front.Air.Spacers = 6 }, []string{"front.air.spacers"}},
		{"a marking above the job's", func(r *Record) { r.Front.Air.MaxFill = units.BarGauge(10.5) }, []string{"front.air.max_fill"}},
		{"filled above the marking", func(r *Record) { r.Front.Air.Fill = units.BarGauge(10.5) }, []string{"front.air.fill"}},
		{"preload beyond the collar", func(r *Record) { r.Rear.Coil.Preload = 6 * milli }, []string{"rear.coil.preload"}},
		{"a job that can't be worked out", func(r *Record) { r.Job.Rear.Sag, r.Job.Masses.BikeMass = 0, units.Mass(math.Inf(1)) },
			[]string{"job.masses.bike_mass", "job.rear.sag"}},
		{"readings of a bad setting", func(r *Record) {
			r.Rear.Coil.Preload, r.Rear.Readings[1] = nan, Reading{Stroke: nan, Error: 0}
		}, []string{"rear.coil.preload", "rear.readings[1].error", "rear.readings[1].stroke"}},
		{"an error too small to tell loads apart by", func(r *Record) { r.Rear.Readings[0].Error = 1e-25 }, []string{"rear.readings[0].stroke"}},
		{"texts that JSON can't keep", func(r *Record) {
			r.Notes, r.Front.Readings[0].Note, r.Rear.Note, r.Job.Note = []string{"", "\xff"}, "\xc0", "\x80", "\xed\xa0\x80"
		}, []string{"front.readings[0].note", "job.note", "notes[1]", "rear.note"}},
	} {
		r := visit(t)
		test.spoil(&r)
		got := names(r.Check())
		slices.Sort(got)
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
	// What is set need not be of the shelf.
	r := visit(t)
	r.Rear.Coil.Rate, r.Rear.Coil.SolidTravel, r.Rear.Readings = 71e3, 0, nil
	if err := r.Check(); err != nil {
		t.Error(err)
	}
	// Names of points are texts too.
	var c units.Checker
	checkText(&c, "points", reflect.ValueOf(map[string][2]string{"\xff": {"a", "\xfe"}}))
	if diff := cmp.Diff([]string{"points", "points[1]"}, names(c.Err())); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// An air spring without an ambient has that of the altitude. The pressure is
// the closed form of the U.S. Standard Atmosphere at 1000 m,
// 101325·(1 − 0.0065·1000/288.15)^5.255876 = 89874.6 Pa, by hand.
func TestRecordAmbientIsThatOfTheAltitude(t *testing.T) {
	r := handRecord()
	r.Front = &EndRecord{Setting: airEnd()}
	r.Front.Air.Ambient = 0
	if diff := cmp.Diff([]string{"front.air.ambient"}, names(r.Check())); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	r.Situation.Conditions = &airspring.Conditions{Temperature: units.Celsius(10), Altitude: 1000}
	r, err := ReadRecord(bytes.NewReader(written(t, r)))
	require.NoError(t, err)
	o, err := r.Outcome(FrontEnd)
	require.NoError(t, err)
	near(t, "ambient", float64(o.Ambient), 89874.6, 1e-5)
	m, _ := r.Measuring(FrontEnd)
	near(t, "ambient of the readings", float64(m.Setting.Air.Ambient), 89874.6, 1e-5)
	if r.Front.Air.Ambient != 0 {
		t.Error("the record itself was changed")
	}
	changed, err := NewChanged(r.ChangeTo(r.Situation))
	require.NoError(t, err)
	near(t, "as a change has it", float64(changed.Front.Now.Rest.Stroke), float64(o.Rest.Stroke), 1e-12)
}

// What is too large to be read again is not written.
func TestRecordIsBounded(t *testing.T) {
	r := handRecord()
	room := JobLimit - len(written(t, r))
	r.Note = strings.Repeat("x", room-len(`  "note": "",`)-1)
	if _, err := ReadRecord(bytes.NewReader(written(t, r))); err != nil {
		t.Errorf("a record of the largest size: %v", err)
	}
	r.Note += "x"
	var out bytes.Buffer
	if n, err := r.WriteTo(&out); !errors.Is(err, units.ErrRange) || n != 0 || out.Len() != 0 {
		t.Errorf("one byte more: %v", err)
	}
}

func FuzzReadRecord(f *testing.F) {
	f.Add(written(f, visit(f)))
	f.Add(written(f, handRecord()))
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
		if diff := cmp.Diff(r, again, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("lost on the way (-read +read again):\n%s", diff)
		}
		for _, end := range []End{FrontEnd, RearEnd} {
			if r.end(end) == nil {
				continue
			}
			if _, _, err := r.Law(end); err != nil {
				t.Fatalf("a checked record has no law: %v", err)
			}
			o, err := r.Outcome(end)
			if err != nil {
				t.Fatalf("a checked record does not settle: %v", err)
			}
			if !(o.Rest.Stroke >= 0) || !(o.Rest.Sag >= 0 && o.Rest.Sag <= 1) {
				t.Fatalf("rests at %v, sag %v", o.Rest.Stroke, o.Rest.Sag)
			}
		}
	})
}
