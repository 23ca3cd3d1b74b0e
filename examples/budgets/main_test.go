package main

import (
	"bytes"
	"strings"
	"testing"
)

// Every piece of work is measured, within whatever time; a call with a fault
// says so.
func TestRun(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"-time", "1ms"}, &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	list, err := works()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != len(list)+1 {
		t.Fatalf("%d lines for %d pieces of work:\n%s", len(lines), len(list), out.String())
	}
	for i, w := range list {
		if !strings.HasPrefix(lines[i+1], w.name) || !strings.Contains(lines[i+1], "%") {
			t.Errorf("no result of %q in %q", w.name, lines[i+1])
		}
		if strings.Contains(lines[i+1], "(allocates)") {
			t.Errorf("allocates: %q", lines[i+1])
		}
	}
	for _, args := range [][]string{{"-time", "0"}, {"-time", "soon"}, {"-what"}, {"more"}} {
		errs.Reset()
		if code := run(args, &out, &errs); code != 2 || errs.Len() == 0 {
			t.Errorf("%v: exit %d, %q", args, code, errs.String())
		}
	}
	if code := run([]string{"-h"}, &out, &errs); code != 0 {
		t.Errorf("-h: exit %d", code)
	}
}

// The counts are not times: they are promised, and asserted.
func TestCounts(t *testing.T) {
	list, err := works()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range list {
		if w.count != nil && !(w.count() <= w.most && w.count() > 1) {
			t.Errorf("%s: %d, want at most %d", w.name, w.count(), w.most)
		}
	}
}
