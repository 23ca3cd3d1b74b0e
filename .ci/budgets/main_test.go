package main

import (
	"bytes"
	"context"
	"errors"
	"iter"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/sag/setup"
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
		promised := w.budget > 0 || w.ratio > 0 || w.count != nil
		if !strings.HasPrefix(lines[i+1], w.name) || strings.Contains(lines[i+1], "%") != promised {
			t.Errorf("no result of %q in %q", w.name, lines[i+1])
		}
		if w.floor != nil && !strings.Contains(lines[i+1], " × "+w.floorName) {
			t.Errorf("no ratio to %s in %q", w.floorName, lines[i+1])
		}
		if w.floor == nil && w.count == nil {
			t.Errorf("nothing is measured beside %q", w.name)
		}
		if strings.Contains(lines[i+1], "(allocates)") {
			t.Errorf("allocates: %q", lines[i+1])
		}
	}
	for _, args := range [][]string{{"-time", "0"}, {"-time", "soon"}, {"-what"}, {"more"}, {"-batch", "-riders", "99"}, {"-riders", "many"}} {
		errs.Reset()
		if code := run(args, &out, &errs); code != 2 || errs.Len() == 0 {
			t.Errorf("%v: exit %d, %q", args, code, errs.String())
		}
	}
	if code := run([]string{"-h"}, &out, &errs); code != 0 {
		t.Errorf("-h: exit %d", code)
	}
}

// The table of batches has a line for each size and number of workers, every
// rider has been worked out in turn, and nothing says how long it took.
func TestBatches(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"-batch", "-riders", "400"}, &out, &errs); code != 0 {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != 7 {
		t.Fatalf("%d lines:\n%s", len(lines), out.String())
	}
	for i, want := range [][2]string{{"4", "1"}, {"4", "2"}, {"40", "1"}, {"40", "2"}, {"400", "1"}, {"400", "2"}} {
		got := strings.Fields(lines[i+1])
		// Two numbers, the time and its unit, two ratios, three sizes and theirs.
		if len(got) != 12 || got[0] != want[0] || got[1] != want[1] || got[5] != "×" || got[7] != "×" || got[11] != "MB" {
			t.Errorf("line %d: %q", i+1, lines[i+1])
		}
	}
	for i, at := range []int{1, 2} { // against themselves
		if f := strings.Fields(lines[at]); f[4] != "1.00" || (i == 0 && f[6] != "1.00") {
			t.Errorf("line %d is not its own measure: %q", at, lines[at])
		}
	}
}

// A batch out of order, short or with a rider that can't be is refused.
func TestThroughChecks(t *testing.T) {
	job, err := readJob()
	if err != nil {
		t.Fatal(err)
	}
	b, err := setup.NewTemplate(job)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	batch := func(n int, swap, stop bool) iter.Seq2[*setup.Sheet, error] {
		list := slices.Collect(riders(n))
		if swap {
			list[1], list[2] = list[2], list[1]
		}
		return func(yield func(*setup.Sheet, error) bool) {
			for s, err := range inTurn(ctx, b, slices.Values(list), 2) {
				if !yield(s, err) {
					return
				}
				if stop {
					cancel()
				}
			}
		}
	}
	if p, err := follow(batch(50, false, false), 50); err != nil || !(p.time > 0) {
		t.Errorf("%+v, %v", p, err)
	}
	if _, err := follow(batch(50, true, false), 50); err == nil {
		t.Error("riders out of order are accepted")
	}
	if _, err := follow(batch(49, false, false), 50); err == nil {
		t.Error("49 of 50 riders are accepted")
	}
	if _, err := follow(batch(50, false, true), 50); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
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
