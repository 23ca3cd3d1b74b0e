package visit_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A record says what the sheet recommended, and the next visit starts there:
// read back on the prediction, it agrees; for the same situation nothing
// changes.
func TestNextVisitStartsWhereTheLastEnded(t *testing.T) {
	r := visited(t)
	j := demoJob(t)
	s := sheet(t, j)
	best := s.Rear.Coil.Candidates[0]
	if r.Rear.Coil.Rate != best.Rate || r.Rear.Coil.Preload != best.Preload || r.Rear.Coil.SolidTravel == 0 || r.Rear.Coil.ThreadPitch != j.Rear.Coil.ThreadPitch {
		t.Errorf("rear %+v, recommended %+v", r.Rear.Coil, best)
	}
	if r.Front.Air.Fill != s.Front.Air.Options[0].Fill || r.Front.Air.Spacers != s.Front.Air.Options[0].Spacers || r.Front.Air.Ambient != j.Ambient {
		t.Errorf("front %+v", r.Front.Air)
	}
	for end, list := range map[sag.Axle][]visit.Reading{sag.Front: r.Front.Readings, sag.Rear: r.Rear.Readings} {
		was := arrive(t, r, end)
		a, err := was.Report(was.Now.Load, list)
		require.NoError(t, err)
		if a.Verdict != visit.Agrees {
			t.Errorf("%s: %s", end, a.Verdict)
		}
	}
	same := effect(t, to(r, r.Situation))
	near(t, "rear sag", same.Rear.Leave.Rest.Sag, s.Rear.Rest.Sag, 1e-9)
	near(t, "front sag", same.Front.Leave.Rest.Sag, s.Front.Rest.Sag, 1e-9)
	if d := same.Front.Set.Air.FillChange; math.Abs(float64(d)) > 1e-3 {
		t.Errorf("another fill, by %v", d)
	}
	// A heavier rider sags more.
	heavier := r.Situation
	heavier.Masses.RiderMass += 10
	if same = effect(t, to(r, heavier)); !(same.Rear.Leave.Rest.Sag > s.Rear.Rest.Sag) {
		t.Errorf("10 kg more: sag %v after %v", same.Rear.Leave.Rest.Sag, s.Rear.Rest.Sag)
	}
}

// By hand: behind (60 − 3)·9.80665 N·2.5/80 N/mm − 2 mm = 15.46809531 mm of
// stroke, 2.5 times that at the wheel; friction of 40 N moves the stroke by
// 40/80 = 0.5 mm either way. In front (40 − 2)·9.80665/8 = 46.5815875 mm.
func TestOutcomeIsThatOfTheSetting(t *testing.T) {
	r := handRecord()
	j := recordJob()
	r.Job = &j // asks for 42 mm at the rear wheel, which is not what is set
	rear := outcome(t, r, sag.Rear)
	front := outcome(t, r, sag.Front)
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
	} {
		near(t, row.what, row.got, row.want, 1e-9)
	}
	end := arrive(t, r, sag.Rear).End()
	near(t, "force", float64(end.Law.Force(18*milli)), 1600, 1e-12)
	near(t, "ratio", end.Curve.LeverRatio(18*milli), 2.5, 1e-12)
	near(t, "friction", float64(end.Friction), 40, 0)

	// The rear end answers for itself, and an end that is unknown or bad for nothing.
	r.Front = nil
	for _, end := range []sag.Axle{sag.Front, "middle", ""} {
		named(t, string(end), second(r.Arrive(end, r.Situation, 0)), "end")
	}
	r.Rear.Coil.Rate, r.Situation.Masses.BikeMass = units.Stiffness(math.NaN()), -1
	named(t, "rear", second(r.Arrive(sag.Rear, handRecord().Situation, 0)), "situation.masses.bike_mass", "coil.rate")
}

// The sheet can be had again from the record, and is the one it was made from.
func TestRecordKeepsTheSheetOfItsJob(t *testing.T) {
	r := visited(t)
	again := read(t, written(t, r))
	s, err := again.Sheet()
	require.NoError(t, err)
	was, err := json.Marshal(sheet(t, demoJob(t)))
	require.NoError(t, err)
	now, err := json.Marshal(s)
	require.NoError(t, err)
	if diff := cmp.Diff(string(was), string(now)); diff != "" {
		t.Errorf("(-was +now):\n%s", diff)
	}
	r.Job.Rear.Sag = 2
	named(t, "a bad job", second(r.Sheet()), "job.rear.sag")
	if _, err := handRecord().Sheet(); !errors.Is(err, units.ErrMissing) || !slices.Equal(names(err), []string{"job"}) {
		t.Errorf("no job: %v", err)
	}
}

// Of springs of one rate the record names the one that the sheet means, also
// of a sheet that was read from JSON; a sheet of another job is refused. A spring
// that goes solid before the 60 mm of stroke are through is not the one, and
// where it is unknown when one binds, the record does not know it either.
func TestRecordNamesTheSpringOfTheSheet(t *testing.T) {
	for _, test := range []struct {
		shelf []fit.ShelfSpring
		solid units.Length
	}{
		{recordJob().Rear.Coil.Springs, 0.07},
		{[]fit.ShelfSpring{{Rate: 80e3, SolidTravel: 0.05}, {Rate: 80e3}}, 0},
		{[]fit.ShelfSpring{{Rate: 40e3, SolidTravel: 0.09}, {Rate: 80e3}, {Rate: 80e3, SolidTravel: 0.05}}, 0},
		{[]fit.ShelfSpring{{Rate: 40e3}, {Rate: 80e3}}, 0},
	} {
		j := recordJob()
		j.Rear.Coil.Springs = test.shelf
		s := sheet(t, j)
		text, err := json.Marshal(s)
		require.NoError(t, err)
		var read setup.Sheet
		require.NoError(t, json.Unmarshal(text, &read))
		for _, s := range []*setup.Sheet{s, &read} {
			r, err := visit.NewRecord("2026-11-25", j, s)
			require.NoError(t, err)
			if best := s.Rear.Coil.Candidates[0]; best.SolidKnown != (test.solid > 0) || r.Rear.Coil.SolidTravel != test.solid || r.Rear.Coil.Rate != 80e3 {
				t.Errorf("recommended %+v, fitted %+v", best, r.Rear.Coil)
			}
		}
		named(t, "another job", second(visit.NewRecord("2026-11-25", j, sheet(t, demoJob(t)))), "sheet.front", "sheet.rear")
		named(t, "a date", second(visit.NewRecord("25.11.2026", j, s)), "date")
	}
}

// A sheet whose spring is not the one of the shelf that it names, or that has a coil
// without a candidate or air without an option, is that of no job.
func TestSheetsOfNoJobAreRefused(t *testing.T) {
	j := demoJob(t)
	s := sheet(t, j)
	best := &s.Rear.Coil.Candidates[0]
	right := best.Index
	for _, best.Index = range []int{-1, len(j.Rear.Coil.Springs), (right + 1) % len(j.Rear.Coil.Springs)} {
		named(t, "a spring that is not on the shelf", second(visit.NewRecord("2026-11-25", j, s)), "sheet.rear")
	}
	best.Index = right
	s.Rear.Coil.Candidates = nil
	named(t, "no candidate", second(visit.NewRecord("2026-11-25", j, s)), "sheet.rear")
	s.Front.Air.Options = nil
	named(t, "no option either", second(visit.NewRecord("2026-11-25", j, s)), "sheet.front", "sheet.rear")
	named(t, "nothing at all", second(visit.NewRecord("2026-11-25", j, new(setup.Sheet))), "sheet.front", "sheet.rear")
}

// An air spring without an ambient has that of the altitude. The pressure is
// the closed form of the U.S. Standard Atmosphere at 1000 m,
// 101325·(1 − 0.0065·1000/288.15)^5.255876 = 89874.6 Pa, by hand.
func TestAmbientIsThatOfTheAltitude(t *testing.T) {
	r := handRecord()
	r.Front = &visit.EndRecord{Setting: airEnd()}
	r.Front.Air.Ambient = 0
	named(t, "no ambient", check(r), "front.air.ambient")
	r.Situation.Conditions = &airspring.Conditions{Temperature: units.Celsius(10), Altitude: 1000}
	r = read(t, written(t, r))
	o := outcome(t, r, sag.Front)
	near(t, "ambient", float64(o.Ambient), 89874.6, 1e-5)
	if r.Front.Air.Ambient != 0 {
		t.Error("the record itself was changed")
	}
	same := effect(t, to(r, r.Situation))
	near(t, "as a change has it", float64(same.Front.Now.Rest.Stroke), float64(o.Rest.Stroke), 1e-12)
}

// What is wrong with a record, what it says against itself, and what it says against
// the job that it keeps, is named; nothing is written of it.
func TestRecordsAreRefusedByField(t *testing.T) {
	nan := units.Length(math.NaN())
	// asked sets the front's air against what the job, with a marking of 10 bar, has room for.
	asked := func(most, spacers int, marking float64) func(*visit.Record) {
		return func(r *visit.Record) {
			r.Front.Readings, r.Front.Air.Fill = nil, units.BarGauge(5)
			r.Front.Air.Spacers, r.Front.Air.MaxFill = spacers, units.BarGauge(marking)
			r.Job.Front.Air.MaxSpacers, r.Job.Front.Air.Spacers = most, 0
		}
	}
	for _, test := range []struct {
		name  string
		spoil func(*visit.Record)
		want  []string
	}{
		{"nothing wrong", func(*visit.Record) {}, nil},
		{"nothing there", func(r *visit.Record) { *r = visit.Record{} }, []string{"date", "front", "schema", "situation.masses.bike_mass", "situation.masses.rear_share", "situation.masses.rider_mass"}},
		{"bad settings", func(r *visit.Record) { r.Rear.Coil.Rate, r.Front.Air.MaxFill = -1, 0 }, []string{"front.air.max_fill", "rear.coil.rate"}},
		{"bad readings", func(r *visit.Record) { r.Rear.Readings[1].Stroke, r.Front.Readings[0].Error = 1, -1 }, []string{"front.readings[0].error", "rear.readings[1].stroke"}},
		{"an extra that is a list", func(r *visit.Record) { r.Extra = json.RawMessage(`[1]`) }, []string{"extra"}},
		{"an extra cut short", func(r *visit.Record) { r.Extra = json.RawMessage(`{"a":`) }, []string{"extra"}},
		{"bad conditions", func(r *visit.Record) { r.Situation.Conditions = &airspring.Conditions{Temperature: 5, Altitude: 1e6} }, []string{"situation.conditions.altitude", "situation.conditions.temperature"}},
		{"air on a coil job", func(r *visit.Record) { r.Rear.Coil, r.Rear.Air = nil, airEnd().Air }, []string{"rear.air"}},
		{"coil on an air job", func(r *visit.Record) {
			r.Front.Air, r.Front.Coil = nil, &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 8e3}}
		}, []string{"front.coil"}},
		{"no spring", func(r *visit.Record) { r.Front.Air, r.Front.Readings = nil, nil }, []string{"front.coil"}},
		{"both springs, and more spacers than the job has", func(r *visit.Record) {
			r.Front.Coil, r.Front.Air.Spacers = &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 8e3}}, 6
		}, []string{"front.coil"}},
		{"both springs asked for", func(r *visit.Record) { r.Job.Rear.Air = r.Job.Front.Air }, []string{"job.rear.coil"}},
		{"another curve", func(r *visit.Record) { r.Rear.Curve = coilEnd().Curve }, []string{"rear.curve"}},
		{"all spacers", asked(5, 5, 10), nil},
		{"a spacer too many", asked(4, 5, 10), []string{"front.air.spacers"}},
		{"a spacer where one fits", asked(1, 1, 10), nil},
		{"two where one fits", asked(1, 2, 10), []string{"front.air.spacers"}},
		{"as many as there are", asked(0, 7, 10), nil},
		{"a lower marking", asked(5, 1, 9), nil},
		{"a marking above the job's", asked(5, 1, 10.001), []string{"front.air.max_fill"}},
		{"filled above the marking", func(r *visit.Record) { r.Front.Air.Fill = units.BarGauge(10.5) }, []string{"front.air.fill"}},
		{"an air spring shorter than the stroke", func(r *visit.Record) { r.Front.Air.Travel, r.Front.Readings = 0.1, nil }, []string{"front.air.travel"}},
		{"preload beyond the collar", func(r *visit.Record) { r.Rear.Coil.Preload = 6 * milli }, []string{"rear.coil.preload"}},
		{"a spring that is not of the shelf", func(r *visit.Record) { r.Rear.Coil.Rate, r.Rear.Coil.SolidTravel, r.Rear.Readings = 71e3, 0, nil }, nil},
		{"a job that can't be worked out", func(r *visit.Record) { r.Job.Rear.Sag, r.Job.Masses.BikeMass = 0, units.Mass(math.Inf(1)) },
			[]string{"job.masses.bike_mass", "job.rear.sag"}},
		{"readings of a bad setting", func(r *visit.Record) {
			r.Rear.Coil.Preload, r.Rear.Readings[1] = nan, visit.Reading{Stroke: nan, Error: 0}
		}, []string{"rear.coil.preload", "rear.readings[1].error", "rear.readings[1].stroke"}},
		{"an error too small to tell loads apart by", func(r *visit.Record) { r.Rear.Readings[0].Error = 1e-25 }, []string{"rear.readings[0].stroke"}},
	} {
		r := visited(t)
		test.spoil(&r)
		got := names(check(r))
		slices.Sort(got)
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
		var out bytes.Buffer
		if n, err := r.WriteTo(&out); (err != nil) != (test.want != nil) || int(n) != out.Len() || (n == 0) != (err != nil) {
			t.Errorf("%s: %d bytes written, %v", test.name, n, err)
		}
	}
	named(t, "no sheet", second(visit.NewRecord("2026-11-25", demoJob(t), nil)), "sheet")
}

// Texts that JSON can't keep are not written: nothing is lost.
func TestRecordsOfUTF8AreWritten(t *testing.T) {
	for name, spoil := range map[string]func(*visit.Record){
		"a note": func(r *visit.Record) { r.Notes = []string{"", "\xff"} }, "of a reading": func(r *visit.Record) { r.Front.Readings[0].Note = "\xc0" },
		"of the job": func(r *visit.Record) { r.Job.Note = "\xed\xa0\x80" },
	} {
		r := visited(t)
		spoil(&r)
		var out bytes.Buffer
		if n, err := r.WriteTo(&out); err == nil || n != 0 || out.Len() != 0 || len(units.Fields(err)) != 1 {
			t.Errorf("%s: %d bytes written, %v", name, n, err)
		}
	}
	r := visited(t)
	r.Note, r.Extra = `said \ufffd and � of 3 < 4`, json.RawMessage(`{"a":"\ufffd"}`)
	back := read(t, written(t, r))
	require.Equal(t, r.Note, back.Note)
	require.Equal(t, string(r.Extra), string(back.Extra))
}

// A thousand readings at an end are taken and looked at one by one; of more nothing is said but that they are too many, and none is looked at.
func TestRecordTakesAThousandReadings(t *testing.T) {
	for _, end := range []sag.Axle{sag.Front, sag.Rear} {
		for _, test := range []struct {
			n    int
			note string
			want []string
		}{
			{1000, "good", nil},
			{1001, "good", []string{string(end) + ".readings"}},
			{300_000, "\xff", []string{string(end) + ".readings"}},
		} {
			r := handRecord()
			list := slices.Repeat(readings(1, 18), test.n)
			list[test.n-1].Note = test.note
			(map[sag.Axle]*visit.EndRecord{sag.Front: r.Front, sag.Rear: r.Rear})[end].Readings = list
			var err error
			n := unitstest.Allocated(func() { err = check(r) })
			if named(t, fmt.Sprint(test.n, " readings"), err, test.want...); n > 8<<20 {
				t.Errorf("%d bytes for %d readings", n, test.n)
			}
		}
	}
}

// FuzzNewRecord: what is recorded of a sheet can be written, read, checked and
// asked where it rests; a date that does not exist is refused.
func FuzzNewRecord(f *testing.F) {
	f.Add([]byte(demoText), "2026-11-25", 82.0)
	f.Add([]byte(demoText), "2026-02-30", 60.0)
	f.Add([]byte(demoText), "", 150.0)
	f.Fuzz(func(t *testing.T, text []byte, date string, rider float64) {
		j, err := setup.ReadJob(bytes.NewReader(text))
		if err != nil || j.Uncertainty != nil {
			return
		}
		for _, e := range []*setup.EndJob{j.Front, j.Rear} {
			if e == nil {
				continue
			}
			if t := e.Curve.Table; t != nil && len(t.Travel) > 20 || e.Coil != nil && len(e.Coil.Springs) > 10 || e.Air != nil && e.Air.MaxSpacers > 10 {
				return
			}
		}
		if j.Masses.RiderMass > 0 {
			j.Masses.RiderMass = units.Mass(rider)
		}
		s, err := setup.NewSheet(j)
		if err != nil {
			answered(t, "sheet", nil, err)
			s = nil
		}
		r, err := visit.NewRecord(date, j, s)
		if err != nil {
			answered(t, "record", nil, err)
			return
		}
		if err := check(r); err != nil {
			t.Fatalf("an invalid record: %v", err)
		}
		again := read(t, written(t, r))
		for _, e := range []sag.Axle{sag.Front, sag.Rear} {
			a, err := r.Arrive(e, r.Situation, 0)
			if !answered(t, "arrival", a, err) {
				t.Fatalf("no outcome of a sheet's setting: %v", err)
			}
			if same, err := again.Arrive(e, r.Situation, 0); err != nil || same.Left.Rest != a.Left.Rest {
				t.Fatalf("read again it rests at %+v, not %+v: %v", same.Left.Rest, a.Left.Rest, err)
			}
		}
	})
}

// A spring known by its gauge is recorded with the chambers that its readings tell, and with what was
// taken for blanks of the job; with too few readings there is no record yet.
func TestRecordOfAGauge(t *testing.T) {
	const text = `{"schema": "wheelrate/job/1", "masses": {"rider_mass": "78 kg"}, "front": {"curve": {"fork": {"travel": "160 mm"}}, "sag": 0.2,
		"gauge": {"negative_chamber": "none", "max_fill": "10 bar", "ring_error": "0.1 mm", "readings": [{"fill": "2.9 bar", "stroke": "46 mm"}SECOND]}}}`
	job := sagtest.Job(t, strings.Replace(text, "SECOND", `, {"fill": "3.5 bar", "stroke": "24 mm"}`, 1))
	s := sagtest.Sheet(t, job)
	r, err := visit.NewRecord("2026-11-25", job, s)
	require.NoError(t, err)
	require.InDelta(t, 0.2, outcome(t, r, sag.Front).Rest.Sag, 1e-9)
	require.Equal(t, s.Front.Gauge.Fill, r.Front.Air.Fill)
	require.Equal(t, units.Mass(16), r.Situation.Masses.BikeMass)
	var out bytes.Buffer
	_, err = r.WriteTo(&out)
	require.NoError(t, err)
	require.Equal(t, r.Front, read(t, out.Bytes()).Front)
	r.Front.Air.MaxFill = units.BarGauge(10.1)
	named(t, "above the marking of the gauge", check(r), "front.air.max_fill")
	r.Front.Air.MaxFill, r.Front.Tried = units.BarGauge(9.9), []visit.Tried{{Sag: 1.2, Felt: visit.FeltRight}, {Sag: 0.2}}
	named(t, "what was tried", check(r), "front.tried[0].sag", "front.tried[1].felt")

	few := sagtest.Job(t, strings.Replace(text, "SECOND", "", 1))
	_, err = visit.NewRecord("2026-11-25", few, sagtest.Sheet(t, few))
	require.Equal(t, []string{"sheet.front"}, sagtest.Names(err))
}
