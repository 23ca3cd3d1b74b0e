package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// The mutants and survivors of the small package under testdata were counted
// and judged by reading it.
func TestSmallPackage(t *testing.T) {
	var progress bytes.Buffer
	r, err := hunt{root: "testdata/tiny", pkg: "work", slowest: time.Minute, workers: 2, progress: &progress}.run()
	must(t, err)
	t.Log(progress.String())
	known, err := readKnown("testdata/known/work.txt")
	must(t, err)
	want := `kind          mutants   killed    share
arithmetic          5        2    40.0%
sign                1        0     0.0%
constant            7        4    57.1%
call                4        2    50.0%
bound               3        1    33.3%
condition           4        3    75.0%
logic               2        1    50.0%
statement           4        2    50.0%
all                30       15    50.0%

15 survive, 15 of them with a stated reason
`
	var out bytes.Buffer
	if status := r.print(&out, known); status != 1 {
		t.Error("half of the mutants survive, and the status is", status)
	}
	if out.String() != want {
		t.Errorf("printed\n%s\nnot\n%s", out.String(), want)
	}

	known["work.go Hypotenuse: a * a → a % a #1"] = known["work.go Hypotenuse: a * a → a / a #1"]
	delete(known, "work.go Hypotenuse: a * a → a / a #1")
	delete(known, "work.go Forgotten: -n → n #1")
	out.Reset()
	r.print(&out, known)
	more := `
survivors without a reason:
work.go:22: work.go Hypotenuse: a * a → a / a #1
work.go:33: work.go Forgotten: -n → n #1 (no test comes across it)
listed as a survivor but killed or gone: work.go Hypotenuse: a * a → a % a #1

15 survive, 13 of them with a stated reason
`
	if !strings.Contains(out.String(), more) {
		t.Errorf("no\n%s\nin\n%s", more, out.String())
	}
}

func TestReasonsAreDemanded(t *testing.T) {
	name := filepath.Join(t.TempDir(), "work.txt")
	must(t, os.WriteFile(name, []byte("# fine\n\nwork.go F: a → b #1 | \n"), 0o644))
	if _, err := readKnown(name); err == nil || !strings.Contains(err.Error(), "work.txt:3: a survivor without a reason") {
		t.Errorf("got %v", err)
	}
}

// Every list of survivors must be readable, and nine of ten killed leaves the
// status to the list.
func TestLists(t *testing.T) {
	names, err := filepath.Glob("survivors/*.txt")
	must(t, err)
	for _, name := range names {
		if list, err := readKnown(name); err != nil || len(list) == 0 {
			t.Errorf("%s: %d survivors, %v", name, len(list), err)
		}
	}
}

func TestStatus(t *testing.T) {
	r := result{whole: true}
	for i := range 10 {
		r.mutants = append(r.mutants, mutant{id: i + 1, file: "a.go", in: "F", kind: "call", was: "x", is: "y", nth: i + 1})
	}
	r.survivors = r.mutants[:1]
	for known, want := range map[string]int{r.mutants[0].key(): 0, "another": 1} {
		if got := r.print(&bytes.Buffer{}, map[string]string{known: "reason"}); got != want {
			t.Errorf("%s: status %d, not %d", known, got, want)
		}
	}
	r.survivors = r.mutants[:2]
	known := map[string]string{r.mutants[0].key(): "reason", r.mutants[1].key(): "reason"}
	if got := r.print(&bytes.Buffer{}, known); got != 1 {
		t.Error("eight of ten are not enough")
	}
}

func TestBadCalls(t *testing.T) {
	for _, args := range [][]string{{}, {"spring", "sag"}, {"-workers", "0", "spring"}, {"-root", "nowhere", "work"}, {"-nonsense"}} {
		var stderr bytes.Buffer
		if status := run(args, &bytes.Buffer{}, &stderr); status != 2 || stderr.Len() == 0 {
			t.Errorf("%v: status %d, %q", args, status, stderr.String())
		}
	}
}
