package sag

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/units"
)

// Turns are preload over pitch, by hand; none for air, for a pitch that is
// unknown, and for what is no number of turns.
func TestRecordTurns(t *testing.T) {
	for _, test := range []struct {
		e    Setting
		want float64
	}{
		{Setting{}, 0},
		{airEnd(), 0},
		{Setting{Coil: &CoilSetting{Preload: 0.5 * milli, ThreadPitch: 1 * milli}}, 0.5},
		{Setting{Coil: &CoilSetting{Preload: 3 * milli, ThreadPitch: 1.5 * milli}}, 2},
		{Setting{Coil: &CoilSetting{ThreadPitch: 1.5 * milli}}, 0},
		{Setting{Coil: &CoilSetting{Preload: 3 * milli}}, 0},
		{Setting{Coil: &CoilSetting{Preload: -3 * milli, ThreadPitch: 1.5 * milli}}, 0},
		{Setting{Coil: &CoilSetting{Preload: -3 * milli, ThreadPitch: -1.5 * milli}}, 0},
		{Setting{Coil: &CoilSetting{Preload: 1e300, ThreadPitch: 1e-300}}, 0},
	} {
		if got := (EndRecord{Setting: test.e}).Turns(); !(got-test.want <= 1e-15 && test.want-got <= 1e-15) {
			t.Errorf("%+v: %v turns, want %v", test.e.Coil, got, test.want)
		}
	}
}

// A sheet that has a spring without a candidate, or air without an option, is
// that of no job.
func TestNewRecordOfAnEmptySheet(t *testing.T) {
	j := readJob(t, jobText)
	s := sheet(t, j)
	s.Rear.Coil.Candidates = nil
	if diff := cmp.Diff([]string{"sheet.rear"}, names(second(NewRecord("2026-11-25", j, s)))); diff != "" {
		t.Errorf("no candidate (-want +got):\n%s", diff)
	}
	s.Front.Air.Options = nil
	if diff := cmp.Diff([]string{"sheet.front", "sheet.rear"}, names(second(NewRecord("2026-11-25", j, s)))); diff != "" {
		t.Errorf("no option either (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]string{"sheet.front", "sheet.rear"}, names(second(NewRecord("2026-11-25", j, new(Sheet))))); diff != "" {
		t.Errorf("nothing at all (-want +got):\n%s", diff)
	}
}

// Of two springs of one rate, one of which goes solid at 50 mm of 60, the sheet
// means the one of which nobody knows where it binds, and so does the record;
// of others it is that of the rate.
func TestNewRecordNamesTheSpringThatIsMeant(t *testing.T) {
	for _, shelf := range [][]ShelfSpring{
		{{Rate: 80e3, SolidTravel: 0.05}, {Rate: 80e3}},
		{{Rate: 40e3, SolidTravel: 0.09}, {Rate: 80e3}, {Rate: 80e3, SolidTravel: 0.05}},
		{{Rate: 40e3}, {Rate: 80e3}},
	} {
		j := recordJob()
		j.Rear.Coil.Shelf = shelf
		s := sheet(t, j)
		if s.Rear.Coil.Candidates[0].SolidKnown || s.Rear.Coil.Candidates[0].Rate != 80e3 {
			t.Fatalf("recommended %+v", s.Rear.Coil.Candidates[0])
		}
		r, err := NewRecord("2026-11-25", j, s)
		require.NoError(t, err)
		if r.Rear.Coil.Rate != 80e3 || r.Rear.Coil.SolidTravel != 0 {
			t.Errorf("fitted %+v", r.Rear.Coil)
		}
	}
}

// A record of 1 MiB is read, white space and all, and one of a byte more is not.
func TestReadRecordUpToItsLimit(t *testing.T) {
	text := string(written(t, handRecord()))
	_, err := ReadRecord(strings.NewReader(text + strings.Repeat(" ", 1<<20-len(text))))
	require.NoError(t, err)
	for _, more := range []int{1, 2, 1000} {
		_, err = ReadRecord(strings.NewReader(text + strings.Repeat(" ", 1<<20-len(text)+more)))
		if !errors.Is(err, units.ErrRange) {
			t.Errorf("%d more: %v", more, err)
		}
	}
}

// A record without an extra has none once it is read, and the least extra is
// kept.
func TestRecordOfTheLeastExtra(t *testing.T) {
	for text, want := range map[string]string{"": "", "{}": "{}", "{ }\n": "{}"} {
		r := handRecord()
		r.Extra = nil
		if text != "" {
			r.Extra = json.RawMessage(text)
		}
		read, err := ReadRecord(bytes.NewReader(written(t, r)))
		require.NoError(t, err)
		if string(read.Extra) != want || (read.Extra == nil) != (want == "") {
			t.Errorf("%q became %q", text, read.Extra)
		}
	}
}

// A thousand readings at an end are taken and looked at one by one, texts and
// all; of more nothing is said but that they are too many.
func TestRecordReadingsAtTheirBound(t *testing.T) {
	many := func(n int, note string) []Reading {
		list := slices.Repeat([]Reading{{Stroke: 18 * milli, Error: milli}}, n)
		list[n-1].Note = note
		return list
	}
	for _, end := range []End{FrontEnd, RearEnd} {
		for _, test := range []struct {
			n    int
			note string
			want []string
		}{
			{1000, "good", nil},
			{1000, "\xff", []string{".readings[999].note"}},
			{1001, "good", []string{".readings"}},
			{1001, "\xff", []string{".readings"}},
		} {
			r := handRecord()
			r.end(end).Readings = many(test.n, test.note)
			var want []string
			for _, name := range test.want {
				want = append(want, string(end)+name)
			}
			if diff := cmp.Diff(want, names(r.Check())); diff != "" {
				t.Errorf("%d readings with %q (-want +got):\n%s", test.n, test.note, diff)
			}
		}
	}
}

// What is set may be as much as the job's marking and number of spacers, and
// is not held against a number that the job leaves open.
func TestRecordAsMuchAsTheJobHas(t *testing.T) {
	for _, test := range []struct {
		name          string
		most, spacers int // of the job and as set
		fill          units.GaugePressure
		want          []string
	}{
		{"all of them", 5, 5, units.BarGauge(10), nil},
		{"one too many", 4, 5, units.BarGauge(10), []string{"front.air.spacers"}},
		{"one where one fits", 1, 1, units.BarGauge(10), nil},
		{"two where one fits", 1, 2, units.BarGauge(10), []string{"front.air.spacers"}},
		{"as many as there are", 0, 7, units.BarGauge(10), nil},
		{"a lower marking", 5, 1, units.BarGauge(9), nil},
		{"a higher marking", 5, 1, units.BarGauge(10.001), []string{"front.air.max_fill"}},
	} {
		r := visit(t)
		r.Front.Readings, r.Front.Air.Fill = nil, units.BarGauge(5)
		r.Front.Air.Spacers, r.Front.Air.MaxFill, r.Job.Front.Air.MaxSpacers = test.spacers, test.fill, test.most
		r.Job.Front.Air.MaxFill = units.BarGauge(10)
		if test.most == 1 || test.most == 0 {
			r.Job.Front.Air.Spacers = 0
		}
		if diff := cmp.Diff(test.want, names(r.Check())); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// An end without a spring, or of a job that asks for two, is named as such and
// held against nothing.
func TestRecordOfNoSpringOrTwo(t *testing.T) {
	r := visit(t)
	r.Front.Air, r.Front.Readings = nil, nil
	if diff := cmp.Diff([]string{"front.coil"}, names(r.Check())); diff != "" {
		t.Errorf("no spring (-want +got):\n%s", diff)
	}
	r = visit(t)
	r.Job.Rear.Air = r.Job.Front.Air
	if diff := cmp.Diff([]string{"job.rear.coil"}, names(r.Check())); diff != "" {
		t.Errorf("two springs asked for (-want +got):\n%s", diff)
	}
	r = visit(t)
	r.Front.Coil = &CoilSetting{Rate: 8e3}
	r.Front.Air.Spacers = 6 // more than the job has, but there is more wrong
	if diff := cmp.Diff([]string{"front.coil"}, names(r.Check())); diff != "" {
		t.Errorf("two springs set (-want +got):\n%s", diff)
	}
}
