package sag

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// wild is how many jobs drawn at random are tried for each demonstration.
var wild = flag.Int("wild", 15, "jobs drawn at random")

// often tells whether a text that may be as good as another is tried: one in
// four where every push runs them.
func often(i int) bool { return *hostile > 1<<20 || i%4 == 0 }

// slow tells by hand, with -v, which texts take how long.
func slow(t *testing.T, name string, from time.Time) {
	if took := time.Since(from); testing.Verbose() && took > 100*time.Millisecond {
		t.Logf("%v: %s", took.Round(time.Millisecond), name)
	}
}

// mostError is the longest text of an error, in bytes: about 4 kB, and the last
// fault that fits.
const mostError = 5000

// A job and a record are refused in one short error, for a small multiple of
// their length in memory, and for a fixed amount where they are over the limit.
func TestHostileTexts(t *testing.T) {
	readers := map[string]func(text []byte) error{
		"job": func(text []byte) error {
			j, err := ReadJob(bytes.NewReader(text))
			if err == nil { // a schema is a text like any other to a reader of jobs
				_, err = NewSheet(j)
			}
			return err
		},
		"record": func(text []byte) error { _, err := ReadRecord(bytes.NewReader(text)); return err },
	}
	for name, doc := range unitstest.Hostile(*hostile) {
		for what, read := range readers {
			var err error
			start := time.Now()
			n := unitstest.Allocated(func() { err = read(doc) })
			slow(t, what+" of "+name, start)
			wrong := unitstest.Refusal(err, mostError)
			if what == "record" && errors.Is(err, ErrNewer) {
				wrong = unitstest.Refusal(err, 1000)
			}
			if wrong != "" {
				t.Errorf("%s of %s: %s: %.200v", what, name, wrong, err)
			}
			if most := 40*min(len(doc), JobLimit) + 1<<17; n > most { // 33 under the race detector
				t.Errorf("%s of %s: %d bytes of memory for %d, want at most %d", what, name, n, len(doc), most)
			}
		}
	}
}

// demonstrations are jobs with all the fields there are, between them.
func demonstrations(t *testing.T) map[string]string {
	list := map[string]string{"own": jobText}
	for _, name := range []string{"setup/demo/job.json", "setup/demo/coil-fork.json", "webpage/demo/pivots.json"} {
		text, err := os.ReadFile("../examples/" + name)
		if err != nil {
			t.Fatal(err)
		}
		list[name] = string(text)
	}
	return list
}

// Whatever one thing of a job is changed to, there is a sheet that can be
// written, or one short error, in bounded memory.
func TestSpoiledJobs(t *testing.T) {
	for job, text := range demonstrations(t) {
		i := 0
		for spoilt := range unitstest.Spoiled([]byte(text), min(*hostile/8, JobLimit-2*len(text)), "points", "bodies") {
			if i++; !spoilt.Bad && !often(i) {
				continue
			}
			name, doc := job+": "+spoilt.Name, spoilt.Text
			var s *Sheet
			var j Job
			var err, readErr error
			start := time.Now()
			n := unitstest.Allocated(func() { j, readErr = ReadJob(bytes.NewReader(doc)) })
			slow(t, name, start)
			start = time.Now()
			more := 0
			if err = readErr; err == nil {
				more = unitstest.Allocated(func() { s, err = NewSheet(j) })
			}
			slow(t, "sheet of "+name, start)
			switch {
			case spoilt.Bad && readErr == nil:
				t.Errorf("%s is read", name)
			case err == nil:
				if _, err := json.Marshal(s); err != nil {
					t.Errorf("%s: %v", name, err)
				}
			case s != nil:
				t.Errorf("%s: a sheet beside an error", name)
			default:
				if wrong := unitstest.Refusal(err, mostError); wrong != "" {
					t.Errorf("%s: %s: %.300v", name, wrong, err)
				}
			}
			if most := 50*len(doc) + 1<<17; n > most {
				t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
			}
			if most := 1 << 24; more > most {
				t.Errorf("%s: %d bytes of memory for a sheet, want at most %d", name, more, most)
			}
		}
	}
}

// Jobs with several values at an extreme have a sheet that can be written, or
// one short error.
func TestWildJobs(t *testing.T) {
	for job, text := range demonstrations(t) {
		for spoilt := range unitstest.Wild([]byte(text), *wild, JobLimit-2*len(text)) {
			j, err := ReadJob(bytes.NewReader(spoilt.Text))
			name := job + ": " + spoilt.Name
			var s *Sheet
			start := time.Now()
			if err == nil {
				s, err = NewSheet(j)
			}
			slow(t, name, start)
			if err == nil {
				if _, err := json.Marshal(s); err != nil {
					t.Errorf("%s: %v", name, err)
				}
			} else if wrong := unitstest.Refusal(err, mostError); wrong != "" {
				t.Errorf("%s: %s: %.300v", name, wrong, err)
			}
		}
	}
}

// The same of a record, which is checked as it is read.
func TestSpoiledRecords(t *testing.T) {
	r := visit(t)
	r.Notes = []string{"one", "two"}
	text := written(t, r)
	i := 0
	for spoilt := range unitstest.Spoiled(text, min(*hostile/8, JobLimit-2*len(text)), "extra") {
		if i++; !spoilt.Bad && !often(i) {
			continue
		}
		name, doc := spoilt.Name, spoilt.Text
		var got Record
		var err error
		start := time.Now()
		n := unitstest.Allocated(func() { got, err = ReadRecord(bytes.NewReader(doc)) })
		slow(t, name, start)
		if spoilt.Bad && err == nil {
			t.Errorf("%s is read", name)
		} else if err == nil {
			var out bytes.Buffer
			// Indented it may be over the limit.
			if _, err := got.WriteTo(&out); err != nil && (len(doc) < JobLimit/4 || len(units.Fields(err)) != 1) {
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

// What is wrong many times over costs memory in proportion: twice the text,
// about twice the memory.
func TestHostileTextsCostInProportion(t *testing.T) {
	big := map[string]string{
		"stances": strings.Replace(jobText, `"front":`, `"stances":[#],"front":`, 1),
		"shelf":   strings.Replace(jobText, `"shelf": [`, `"shelf": [#,`, 1),
		"stroke":  strings.Replace(jobText, `"stroke": [`, `"stroke": [#,`, 1),
	}
	for name, text := range big {
		for _, part := range []string{"{}", `"0 mm"`, `"NaN"`, "1", "null", `{"rate":"1 N/mm"}`, `{"name":"a"}`, `{"name":"a","rear_share":0.5}`} {
			cost := func(n int) int {
				doc := strings.Replace(text, "#", strings.TrimSuffix(strings.Repeat(part+",", n/len(part)), ","), 1)
				return unitstest.Allocated(func() {
					if j, err := ReadJob(strings.NewReader(doc)); err == nil {
						_, _ = NewSheet(j)
					}
				})
			}
			if once, twice := cost(1<<17), cost(1<<18); twice > 3*once+1<<17 {
				t.Errorf("%s of %s: %d bytes for one length, %d for twice that", name, part, once, twice)
			}
		}
	}
}

// A target and a pitch next to nothing would make rates and turns infinite.
func TestTargetsAndPitchesNextToNothing(t *testing.T) {
	for _, row := range []struct {
		from, to string
		fields   []string
	}{
		{`"sag": 0.29`, `"sag": 1e-320`, []string{"rear.sag"}},
		{`"sag": 0.29`, `"sag": 1e-7`, []string{"rear.sag"}},
		{`"thread_pitch": "1.5 mm"`, `"thread_pitch": "1e-320 mm"`, []string{"rear.coil.thread_pitch"}},
		{`"thread_pitch": "1.5 mm"`, `"thread_pitch": "0.001 mm"`, nil},
		{`"thread_pitch": "1.5 mm"`, `"thread_pitch": "0 mm"`, nil},
	} {
		j := readJob(t, strings.Replace(jobText, row.from, row.to, 1))
		_, err := NewSheet(j)
		var fields []string
		for _, f := range units.Fields(err) {
			fields = append(fields, f.Field)
		}
		if !slices.Equal(fields, row.fields) {
			t.Errorf("%s: %v", row.to, err)
		}
		r := visit(t)
		r.Job, r.Rear.Sag, r.Rear.Coil.ThreadPitch = nil, j.Rear.Sag, j.Rear.Coil.ThreadPitch
		if err := r.Check(); (err == nil) != (row.fields == nil) {
			t.Errorf("the record of %s: %v", row.to, err)
		}
	}
}

// Stances are worked out one by one: there are so many and no more.
func TestStancesAreBounded(t *testing.T) {
	j := readJob(t, jobText)
	for i := range mostStances {
		j.Stances = append(j.Stances, NamedStance{Name: strconv.Itoa(i), RearShare: 0.5})
	}
	if s := sheet(t, j); len(s.Stances) != mostStances {
		t.Errorf("%d stances", len(s.Stances))
	}
	j.Stances = append(j.Stances, NamedStance{Name: "one more", RearShare: 0.5})
	_, err := NewSheet(j)
	if f := units.Fields(err); len(f) != 1 || f[0].Field != "stances" {
		t.Errorf("one more: %v", err)
	}
}

// A version with no end of digits is no later version.
func TestRecordSchemaOfManyDigits(t *testing.T) {
	for _, row := range []struct {
		digits int
		newer  bool
	}{{9, true}, {10, false}, {1000, false}} {
		text := bytes.Replace(written(t, visit(t)), []byte(RecordSchema), []byte("wheelrate/record/"+strings.Repeat("2", row.digits)), 1)
		_, err := ReadRecord(bytes.NewReader(text))
		if errors.Is(err, ErrNewer) != row.newer || unitstest.Refusal(err, 1000) != "" {
			t.Errorf("%d digits: %.200v", row.digits, err)
		}
	}
}

// Bands and comparisons are of so many springs and no more, and of a wheel that
// carries something.
func TestSpringsAreBounded(t *testing.T) {
	curve := curveOf(t, readJob(t, jobText).Rear)
	r := Range{End: RearEnd, RearShare: 0.6, BikeMass: 16, Unsprung: 3, Sag: 0.28}
	var list []Contender
	for i := range mostSprings {
		k := units.Stiffness(60e3 + 20*float64(i))
		r.Rates = append(r.Rates, k)
		list = append(list, Contender{Name: strconv.Itoa(i), Slow: linear(t, k, curve.Stroke(), 0)})
	}
	first := func(err error) string {
		if f := units.Fields(err); len(f) == 1 {
			return f[0].Field
		}
		return fmt.Sprint(err)
	}
	if _, err := NewBands(curve, r); err != nil {
		t.Error(err)
	}
	if _, err := Compare(curve, 900, list[:mostContenders], 2); err != nil {
		t.Error(err)
	}
	if _, err := Compare(curve, 900, list[:mostContenders+1], 2); first(err) != "springs" {
		t.Error(err)
	}
	r.Rates = append(r.Rates, 1e6)
	if _, err := NewBands(curve, r); first(err) != "rates" {
		t.Error(err)
	}
	r.Rates = r.Rates[:2]
	for end, share := range map[End]float64{RearEnd: 1e-320, FrontEnd: 1 - 1e-16} {
		r.End, r.RearShare = end, share
		if _, err := NewBands(curve, r); first(err) != "rear_share" {
			t.Errorf("%s: %v", end, err)
		}
	}
	r.End, r.RearShare, r.Rates = RearEnd, 0.5, []units.Stiffness{1.5e308}
	if b, err := NewBands(curve, r); err == nil {
		t.Errorf("an immense rate: %v", b)
	}
}

// Of more readings than are looked at none is.
func TestLongRecordIsNotLookedThrough(t *testing.T) {
	r := visit(t)
	r.Rear.Readings = make([]Reading, 300_000)
	var err error
	n := unitstest.Allocated(func() { err = r.Check() })
	if f := units.Fields(err); len(f) != 1 || f[0].Field != "rear.readings" || n > 8<<20 {
		t.Errorf("%d bytes, %.200v", n, err)
	}
}
