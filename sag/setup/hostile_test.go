package setup_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600
// by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// wild is how many jobs drawn at random are tried for each demonstration.
var wild = flag.Int("wild", 15, "jobs drawn at random")

// often reports whether a text is tried: all with -long, otherwise one in eight of
// those that may be as good as another, and one in two of those that are bad.
func often(i int, bad bool) bool { return unitstest.Long() || i%8 == 0 || bad && i%2 == 0 }

// slow says by hand, with -v, which texts take how long.
func slow(t *testing.T, name string, from time.Time) {
	if took := time.Since(from); testing.Verbose() && took > 100*time.Millisecond {
		t.Logf("%v: %s", took.Round(time.Millisecond), name)
	}
}

// mostError is the longest text of an error, in bytes: about 4 kB, and the last
// fault that fits.
const mostError = 5000

// A job is refused in one short error, for a small multiple of its length in memory,
// and for a fixed amount where it is over the limit.
func TestHostileTextsAreRefused(t *testing.T) {
	for name, doc := range unitstest.Hostile(*hostile) {
		var err error
		start := time.Now()
		n := unitstest.Allocated(func() {
			var j setup.Job
			if j, err = setup.ReadJob(bytes.NewReader(doc)); err == nil { // a schema is a text like any other to a reader of jobs
				_, err = setup.NewSheet(j)
			}
		})
		slow(t, name, start)
		if wrong := unitstest.Refusal(err, mostError); wrong != "" {
			t.Errorf("%s: %s: %.200v", name, wrong, err)
		}
		if most := 40*min(len(doc), setup.JobLimit) + 1<<17; n > most { // 33 under the race detector
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
}

// demonstrations are jobs with all the fields there are, between them.
func demonstrations(t *testing.T) map[string]string {
	t.Helper()
	list := map[string]string{"own": jobText, "laws": varyingText}
	for _, name := range []string{"setup/demo/job.json", "setup/demo/coil-fork.json", "webpage/demo/pivots.json"} {
		text, err := os.ReadFile("../../examples/" + name)
		require.NoError(t, err)
		list[name] = string(text)
	}
	return list
}

// work reads a job and works out its sheet. There is one of two, a sheet that can be
// written or one short error, and each step keeps to its memory; nothing bad is read.
func work(t *testing.T, name string, spoilt unitstest.Spoilt) {
	t.Helper()
	start := time.Now()
	var j setup.Job
	var s *setup.Sheet
	var err error
	n := unitstest.Allocated(func() { j, err = setup.ReadJob(bytes.NewReader(spoilt.Text)) })
	// At most 60 MiB for the largest job: "{}," in a series is a spring of some 130 bytes.
	if most := 60*len(spoilt.Text) + 1<<17; n > most {
		t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(spoilt.Text), most)
	}
	if err == nil {
		if spoilt.Bad {
			t.Errorf("%s is read", name)
		}
		if n, most := unitstest.Allocated(func() { s, err = setup.NewSheet(j) }), 1<<24; n > most {
			t.Errorf("%s: %d bytes of memory for a sheet, want at most %d", name, n, most)
		}
	}
	slow(t, name, start)
	if err == nil {
		text(t, s)
	} else if wrong := unitstest.Refusal(err, mostError); wrong != "" || s != nil {
		t.Errorf("%s: %s, a sheet beside it: %v: %.300v", name, wrong, s != nil, err)
	}
}

// Whatever one thing of a job is changed to, or several to an extreme, there is a sheet
// or one short error, in bounded memory.
func TestSpoiledJobsHaveASheetOrAnError(t *testing.T) {
	for job, text := range demonstrations(t) {
		i := 0
		for spoilt := range unitstest.Spoiled([]byte(text), min(*hostile/8, setup.JobLimit-2*len(text)), "points", "bodies") {
			if i++; often(i, spoilt.Bad) {
				work(t, job+": "+spoilt.Name, spoilt)
			}
		}
		for spoilt := range unitstest.Wild([]byte(text), *wild, setup.JobLimit-2*len(text)) {
			work(t, job+": "+spoilt.Name, spoilt)
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
					if j, err := setup.ReadJob(strings.NewReader(doc)); err == nil {
						_, _ = setup.NewSheet(j)
					}
				})
			}
			if once, twice := cost(1<<17), cost(1<<18); twice > 3*once+1<<17 {
				t.Errorf("%s of %s: %d bytes for one length, %d for twice that", name, part, once, twice)
			}
		}
	}
}

// FuzzJob: whatever the job says, there is a sheet without NaN or an error that
// names a field.
func FuzzJob(f *testing.F) {
	f.Add([]byte(jobText))
	f.Add([]byte(strings.Replace(jobText, `"82 kg"`, `"8200 kg"`, 1)))
	f.Add([]byte(strings.Replace(jobText, `"method": "smooth"`, `"method": "monotone"`, 1)))
	f.Add([]byte(`{"schema": 3, "front": [], "rear": {"coil": {"shelf": [{}]}}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		j, err := setup.ReadJob(bytes.NewReader(text))
		if err != nil {
			return
		}
		s, err := setup.NewSheet(j)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatalf("names no field: %v", err)
			}
			return
		}
		if _, err := json.Marshal(s); err != nil {
			t.Fatalf("a sheet that can't be written: %v", err)
		}
	})
}

// FuzzTemplate: one template's sheets are those of the same job with that rider, one
// by one and many at a time, refusals included.
func FuzzTemplate(f *testing.F) {
	f.Add([]byte(jobText), 82.0, 55.0)
	f.Add([]byte(strings.Replace(jobText, `"method": "smooth"`, `"method": "monotone"`, 1)), 1e-9, math.NaN())
	f.Add([]byte(strings.Replace(jobText, `"rider_mass": "82 kg", `, ``, 1)), 150.0, -1.0)
	f.Fuzz(func(t *testing.T, job []byte, first, second float64) {
		named := func(what string, err error) {
			t.Helper()
			if len(units.Fields(err)) == 0 {
				t.Fatalf("%s: an error that names no field: %v", what, err)
			}
		}
		j, err := setup.ReadJob(bytes.NewReader(job))
		if err != nil {
			named("job", err)
			return
		}
		for _, e := range []*setup.EndJob{j.Front, j.Rear} { // large ones are slow, not different
			if e == nil {
				continue
			}
			if t := e.Curve.Table; t != nil && len(t.Travel) > 20 || e.Coil != nil && len(e.Coil.Springs) > 10 || e.Air != nil && e.Air.MaxSpacers > 10 {
				return
			}
		}
		if j.Uncertainty != nil {
			return
		}
		j.Riders = nil // NewSheet alone works out their answers
		b, err := setup.NewTemplate(j)
		if (b == nil) == (err == nil) {
			t.Fatalf("template %v, error %v", b, err)
		}
		if err != nil {
			named("template", err)
			return
		}
		riders := []units.Mass{units.Mass(first), units.Mass(second)}
		for _, rider := range riders {
			j.Masses.RiderMass = rider
			want, wantErr := setup.NewSheet(j)
			s, err := b.Sheet(rider)
			if (err == nil) != (wantErr == nil) {
				t.Fatalf("rider %v: %v of the template, %v by NewSheet", float64(rider), err, wantErr)
			}
			if err != nil {
				named("sheet", err)
			} else if a, b := text(t, s), text(t, part(want)); a != b {
				t.Fatalf("two sheets of one job:\n%s\n%s", a, b)
			}
		}
	})
}
