package visit_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The records that earlier versions wrote, and the paths that checks made since mark in them. A file is
// never changed.
var oldRecords = map[string][]string{
	"first.json":  nil,
	"pivots.json": nil,
	"ridden.json": nil, // with a ride and what was tried
	// From before unsprung masses and a negative chamber had to be stated.
	"unstated.json": {"situation.masses.unsprung_front", "situation.masses.unsprung_rear", "job.masses.unsprung_front", "job.front.air.negative_volume", "job.masses.unsprung_rear", "front.air.negative_volume"},
	"gauge.json":    nil, // of a spring known by its gauge
	"laws.json":     nil, // with springs of every kind on the shelf
}

func TestOldRecordsAreReadForEver(t *testing.T) {
	files, err := filepath.Glob("testdata/records/*.json")
	require.NoError(t, err)
	require.Len(t, files, len(oldRecords))
	for file, want := range oldRecords {
		text, err := os.ReadFile("testdata/records/" + file)
		require.NoError(t, err)
		r, marked, err := visit.ReadRecord(bytes.NewReader(text))
		require.NoError(t, err, file)
		var paths []string
		for _, m := range marked {
			paths = append(paths, m.Field)
		}
		require.Equal(t, want, paths, file)
		if marked != nil {
			continue
		}
		require.Equal(t, r, read(t, written(t, r)), file)
		if r.Job != nil {
			_, err = r.Sheet()
			require.NoError(t, err, file)
		}
		for _, end := range []sag.Axle{sag.Front, sag.Rear} {
			if end == sag.Front && r.Front != nil || end == sag.Rear && r.Rear != nil {
				a := arrive(t, r, end)
				require.InDelta(t, 0, a.Left.Miss, 0.02, file) // as its sheet recommended
			}
		}
	}
}

// A record with a later number, with a job of one, or with fields that are not known was written by a
// newer version: the error says so, and names them all.
func TestNewerRecordsAreToldFromBadOnes(t *testing.T) {
	good := string(written(t, visited(t)))
	for _, test := range []struct {
		what string
		swap []string
		want []string
	}{
		{"a later record", []string{"record/1", "record/2"}, []string{"schema"}},
		{"a later record of another form", []string{"record/1", "record/2", `"82 kg"`, "82", `"note"`, `"tyres"`}, []string{"schema"}},
		{"a later record with a number as its job", []string{"record/1", "record/2", `"job": {`, `"job": 3, "jib": {`}, []string{"schema"}},
		{"a later job", []string{"job/1", "job/2"}, []string{"job.schema"}},
		{"a later job of another form", []string{"job/1", "job/2", `"shelf": [`, `"shelf": [1,`}, []string{"job.schema"}},
		{"fields of later", []string{`"date"`, `"tyres": {"front": 1}, "date"`, `"masses"`, `"rain": true, "masses"`, `"shelf": [`, `"steel": "", "shelf": [`},
			[]string{"tyres", "situation.rain", "job.rear.coil.steel"}},
		{"a kind of later", []string{`"coil": {` + "\n" + `      "rate": "78.80707586091438 N/mm"`, `"coil": {"law": {"magnets": {}}`}, []string{"rear.coil.law.magnets"}},
	} {
		text := good
		for i := 0; i < len(test.swap); i += 2 {
			require.Contains(t, text, test.swap[i])
			text = strings.Replace(text, test.swap[i], test.swap[i+1], 1)
		}
		_, marked, err := visit.ReadRecord(strings.NewReader(text))
		require.ErrorIs(t, err, units.ErrNewer, test.what)
		require.Nil(t, marked)
		named(t, test.what, err, test.want...)
		for _, f := range units.Fields(err) {
			require.ErrorIs(t, f, units.ErrNewer)
			require.Contains(t, f.Want.String(), "a later version of this program")
		}
	}
	// A version with no end of digits is no later version.
	for version, newer := range map[string]bool{"2": true, "10": true, "999999999": true, "0": false, "02": false, "+2": false, "2x": false, "": false, strings.Repeat("2", 10): false, strings.Repeat("2", 1000): false} {
		_, _, err := visit.ReadRecord(strings.NewReader(strings.Replace(good, visit.RecordSchema, "wheelrate/record/"+version, 1)))
		if errors.Is(err, units.ErrNewer) != newer || unitstest.Refusal(err, 1000) != "" {
			t.Errorf("version %.20s: %.200v", version, err)
		}
	}
}

// In a record, which programs write, a name that is not known is a newer version's, and the name that it
// resembles is told as well. In a job, which people write, it is a typo.
func TestUnknownFieldsOfJobsAreTypos(t *testing.T) {
	typo := strings.NewReplacer(`"thread_pitch"`, `"thread_pich"`)
	_, _, err := visit.ReadRecord(strings.NewReader(typo.Replace(string(written(t, handRecord())))))
	require.ErrorIs(t, err, units.ErrNewer)
	require.ErrorContains(t, err, "or a later version of this program; did you mean thread_pitch?")

	_, err = setup.ReadJob(strings.NewReader(typo.Replace(demoText)))
	require.ErrorIs(t, err, units.ErrUnknown)
	require.NotErrorIs(t, err, units.ErrNewer)
	require.ErrorContains(t, err, "did you mean thread_pitch?")
	require.NotContains(t, err.Error(), "later version")

	for _, form := range []string{demoText, `{"schema": "wheelrate/job/1", "masses": [1]}`} {
		_, err = setup.ReadJob(strings.NewReader(strings.Replace(form, "job/1", "job/2", 1)))
		require.ErrorIs(t, err, units.ErrNewer)
		named(t, "a later job", err, "schema")
	}
}

// What today's checks refuse is marked, and the rest of the record is there. What needs what is marked
// refuses it.
func TestStricterChecksMark(t *testing.T) {
	good := visited(t)
	text := strings.NewReplacer(`"date": "2026-11-25",`+"\n"+`  "note"`, `"date": "2026-02-30", "note"`, `"thread_pitch": "1.5 mm"`, `"thread_pitch": "-1.5 mm"`).Replace(string(written(t, good)))
	r, marked, err := visit.ReadRecord(strings.NewReader(text))
	require.NoError(t, err)
	var paths []string
	for _, m := range marked {
		paths = append(paths, m.Field)
	}
	require.Equal(t, []string{"date", "job.rear.coil.thread_pitch", "rear.coil.thread_pitch"}, paths)
	require.Equal(t, good.Rear.Readings, r.Rear.Readings)
	require.Equal(t, good.Front, r.Front)
	require.Equal(t, outcome(t, good, sag.Front), outcome(t, r, sag.Front))
	named(t, "the rear", second(r.Arrive(sag.Rear, r.Situation, 0)), "coil.thread_pitch")
	named(t, "the sheet", second(r.Sheet()), "job.rear.coil.thread_pitch")
	named(t, "written", second(r.WriteTo(new(bytes.Buffer))), paths...)
}
