// Package programtest holds what the tests of the example programs share: hostile jobs, fuzzed
// ones, and the width of a page.
package programtest

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// How much is tried: little where every push runs it, more by hand.
var (
	size = flag.Int("hostile", 1<<14, "bytes of a hostile text")
	wild = flag.Int("wild", 30, "jobs drawn at random")
)

// notFinite is NaN or an infinity, in a text or a picture.
var notFinite = regexp.MustCompile(`\b(NaN|[+-]?Inf)\b`)

// Run is a program with its surroundings passed in, as [program.Main.Run] is.
type Run func(args []string, stdin io.Reader, stdout, stderr io.Writer) int

// Try is [TryRun] for a program that reads a job, with its own demonstration.
func Try(t *testing.T, m func() program.Main, free ...string) {
	t.Helper()
	run := func(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
		return m().Run(args, stdin, stdout, stderr)
	}
	TryRun(t, run, m().Demo, [][]string{{"-job", "-"}, {"-json", "-job", "-"}}, free...)
}

// Fuzz gives a program's answer whatever a fuzz test makes of its demonstration and of
// other seeds. There is an error that names fields, or an answer without NaN and infinity.
func Fuzz(f *testing.F, m func() program.Main, seeds ...string) {
	f.Add(m().Demo)
	for _, seed := range seeds {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var out bytes.Buffer
		if err := m().Answer(text, false, &out); err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatal(err)
			}
			return
		}
		// What a user calls things may say anything.
		if found := notFinite.Find(out.Bytes()); found != nil && !bytes.Contains(text, found) {
			t.Fatalf("%s in the answer:\n%s", found, out.String())
		}
	})
}

// Page checks that no line of a text is wider than a page has columns, or ends with a space.
func Page(t *testing.T, text string, columns int) {
	t.Helper()
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if n := utf8.RuneCountInString(line); n > columns || strings.HasSuffix(line, " ") {
			t.Errorf("%d columns: %q", n, line)
		}
	}
}

// TryRun gives a program everything that a demonstration can be spoiled to, with
// each of the calls, on standard input. It must answer in full, with finite
// numbers alone, or say what is wrong in short and nothing else. Names of objects
// that are the user's own are free. It must pass [TrySteering] too.
func TryRun(t *testing.T, run Run, demo []byte, calls [][]string, free ...string) {
	t.Helper()
	TrySteering(t, run, demo, calls)
	i := 0
	for spoilt := range unitstest.Spoiled(demo, min(*size, program.Limit-2*len(demo)), free...) {
		if i++; spoilt.Bad && i%4 == 0 || *size > 1<<16 || i%16 == 0 {
			one(t, run, calls[i/16%len(calls)], spoilt)
		}
	}
	for spoilt := range unitstest.Wild(demo, *wild, *size) {
		for _, args := range calls {
			one(t, run, args, spoilt)
		}
	}
}

func one(t *testing.T, run Run, args []string, spoilt unitstest.Spoilt) {
	t.Helper()
	var out, errs bytes.Buffer
	start := time.Now()
	status := run(args, bytes.NewReader(spoilt.Text), &out, &errs)
	if took := time.Since(start); testing.Verbose() && took > 200*time.Millisecond {
		t.Logf("%v: %v, %s", took.Round(time.Millisecond), args, spoilt.Name)
	}
	if fault := judge(args, spoilt, status, out.Bytes(), errs.String()); fault != "" {
		t.Errorf("%v, %s: %s", args, spoilt.Name, fault)
	}
}

// judge says what is wrong with what a program did, "" for nothing.
func judge(args []string, spoilt unitstest.Spoilt, status int, out []byte, errs string) string {
	switch {
	case status == 2 && len(out) > 0:
		return fmt.Sprintf("%d bytes of answer beside a fault", len(out))
	case status == 2 && (errs == "" || len(errs) > 1<<17):
		return fmt.Sprintf("%d bytes of faults", len(errs))
	case status == 2:
		return ""
	case status != 0:
		return fmt.Sprintf("status %d: %.300s", status, errs)
	case spoilt.Bad:
		return "it is accepted"
	case args[0] == "-json" && !json.Valid(out):
		return "the answer is not JSON"
	}
	// A name or a note may say so itself.
	if found := notFinite.Find(out); found != nil && !bytes.Contains(spoilt.Text, found) {
		return fmt.Sprintf("%s in the answer", found)
	}
	return ""
}
