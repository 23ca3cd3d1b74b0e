package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
)

func TestHostileInput(t *testing.T) {
	for _, name := range demos {
		demo, err := demoFile(name)
		if err != nil {
			t.Fatal(err)
		}
		programtest.TryRun(t, run, demo, [][]string{{"-job", "-"}, {"-json", "-job", "-"}, {"gears", "-job", "-"}, {"motion", "-job", "-"}}, "points", "bodies")
	}
}

// A job goes in by -job as by a file behind the flags, and none of its names steers a terminal.
func TestJob(t *testing.T) {
	demo, err := demoFile("four-bar")
	if err != nil {
		t.Fatal(err)
	}
	for _, form := range [][]string{nil, {"-json"}, {"-csv"}} {
		text := string(demo)
		if form == nil {
			text = strings.Replace(text, `"note": "`, `"note": "\u001b[2J\u009b5m\u202e `, 1)
		}
		path := filepath.Join(t.TempDir(), "job.json")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		want := answer(t, "", append(form, path)...)
		for _, call := range [][]string{{"-job", path}, {"-job", "-"}, {"-"}} {
			if got := answer(t, text, append(form, call...)...); got != want {
				t.Errorf("%v %v gives\n%s, the file gives\n%s", form, call, got, want)
			}
		}
		if strings.ContainsAny(want, "\x1b\u009b\u202e") || form == nil && !strings.Contains(want, "[U+001B][2J[U+009B]5m[U+202E]") {
			t.Errorf("%v prints %q", form, want)
		}
	}
	for _, args := range [][]string{nil, {"-json"}} {
		text := strings.Replace(string(demo), `"schema": "`, `"schema": "\u001b\u202e`, 1)
		if _, errs, status := call(t, text, append(args, "-job", "-")...); status != 2 || strings.ContainsAny(errs, "\x1b\u202e") {
			t.Errorf("%v: status %d, %q", args, status, errs)
		}
	}
	text := strings.Replace(string(demo), `"note": "`, `"note": "\u009b\u202e`, 1)
	if out := answer(t, text, "-json", "-job", "-"); !strings.Contains(out, `"note": "\u009b\u202e`) {
		t.Errorf("the note in JSON: %.300q", out)
	}
}

func TestUnwritten(t *testing.T) { programtest.TryUnwritten(t, run, "-out") }
