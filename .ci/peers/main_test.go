package main

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

func TestCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		want int
		says string
	}{
		{[]string{"-h"}, 0, "usage: peers\n"},
		{[]string{"-what"}, 2, "flag provided but not defined: -what\nusage: peers\n"},
		{[]string{"more"}, 2, "usage: peers\n"},
	} {
		var out, errs bytes.Buffer
		if got := run(c.args, &out, &errs); got != c.want || !strings.HasPrefix(errs.String(), c.says) || out.Len() > 0 {
			t.Errorf("%v: exit %d, want %d; %q", c.args, got, c.want, errs.String())
		}
	}
}

// A drawing has as many distances as its moving points leave free: two for
// each point that moves, the shock's among them.
func TestDrawing(t *testing.T) {
	for name, m := range map[string]string{"four-bar": drawing(fourBar()), "short links": drawing(shortLinks())} {
		lines := strings.Split(strings.TrimSpace(m), "\n")
		if lines[0] != "7" || len(lines) != 1+7+1+8+1 {
			t.Errorf("%s: 7 points, of which 4 move, want 8 distances:\n%s", name, m)
		}
		fixed := 0
		for _, l := range lines[1:8] {
			if strings.HasSuffix(l, " 1") {
				fixed++
			}
		}
		if fixed != 3 {
			t.Errorf("%s: %d points are fixed, want 3", name, fixed)
		}
	}
	// The shock's length at full extension comes first.
	if !strings.Contains(drawing(fourBar()), "\n8\n") || !strings.Contains(drawing(fourBar()), " 217.58") {
		t.Error("the shock of 217.589 mm is missing")
	}
}

// All programs come to the same answers, within what each piece of work permits, and no search finds better
// pivots than ours in up to a hundred times the work.
func TestAnswersAgree(t *testing.T) {
	var out bytes.Buffer
	if err := compare(&out, comparisons); err != nil {
		t.Fatal(err)
	}
	t.Log(out.String())
	for _, peer := range []string{"libslvs", "gonum", "SciPy", "random"} {
		if !strings.Contains(out.String(), peer) {
			t.Errorf("no line for %s", peer)
		}
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != 2+2+3+3+2+4+2+2+2*5 {
		t.Errorf("%d lines", len(lines))
	}
	for _, l := range lines {
		if strings.Count(l, "|") != 6 || strings.Contains(l, "NaN") || strings.Contains(l, "Inf") {
			t.Errorf("line %q", l)
		}
	}
}

func TestWrongAnswersAreRefused(t *testing.T) {
	for _, test := range []struct {
		what         string
		ours, theirs []float64
		search, ok   bool
	}{
		{"both right", []float64{1, 2}, []float64{1, 2.125}, false, true},
		{"the library off", []float64{1, 2.2}, []float64{1, 2}, false, false},
		{"the peer off", []float64{1, 2}, []float64{0.8, 2}, false, false},
		{"a value missing", []float64{1, 2}, []float64{1}, false, false},
		{"NaN", []float64{1, math.NaN()}, []float64{1, 2}, false, false},
		{"a peer's worse minimum", []float64{1, 2.5}, []float64{1, 3}, true, true},
		{"a peer's better minimum", []float64{1, 2.5}, []float64{1, 2.3}, true, false},
		{"a minimum as good", []float64{1, 2.375}, []float64{1, 2.25}, true, true},
	} {
		c := comparison{want: []float64{1, 2}, within: 0.125, search: test.search, ours: answer{Values: test.ours}, peers: map[string]answer{"other": {Values: test.theirs}}}
		if err := c.check(); (err == nil) != test.ok {
			t.Errorf("%s: %v", test.what, err)
		}
	}
}

func TestLines(t *testing.T) {
	c := comparison{
		work: "sum", want: []float64{3}, within: 1, ours: answer{Values: []float64{3}, NS: 20, Evaluations: 7},
		peers: map[string]answer{"b": {Values: []float64{3.25}, NS: 50}, "a": {Values: []float64{2.875}, NS: 10, Evaluations: 9}},
	}
	head := "| work | against | times as long | evaluations, ours : theirs | error, ours : theirs |\n|---|---|--:|--:|--:|\n"
	body := "| sum | a | 0.5 | 7 : 9 | – : 1e-01 |\n| sum | b | 2.5 | 7 : – | – : 2e-01 |\n"
	wrong := c
	wrong.work, wrong.within = "product", 0.1
	failed := errors.New("no peer")
	for _, test := range []struct {
		second func() (comparison, error)
		want   string
	}{
		{func() (comparison, error) { return c, nil }, ""},
		{func() (comparison, error) { return wrong, nil }, "product: the library is off by 0"},
		{func() (comparison, error) { return comparison{work: "product"}, failed }, "product: no peer"},
	} {
		var out bytes.Buffer
		err := compare(&out, []func() (comparison, error){func() (comparison, error) { return c, nil }, test.second})
		if test.want == "" {
			if err != nil || out.String() != head+body+body {
				t.Errorf("%v, %q, want %q", err, out.String(), head+body+body)
			}
		} else if err == nil || !strings.HasPrefix(err.Error(), test.want) || out.String() != head+body {
			t.Errorf("%v, want %q; %q", err, test.want, out.String())
		}
	}
}

// Without a compiler in reach there is nothing to hold poses against.
func TestMissingCompiler(t *testing.T) {
	t.Setenv("PATH", "")
	var out, errs bytes.Buffer
	if got := run(nil, &out, &errs); got != 1 || !strings.HasPrefix(errs.String(), "peers: 401 poses of a four-bar, closed form: compiling against libslvs: ") {
		t.Errorf("exit %d, %q", got, errs.String())
	}
}

// On a clock of its own: seven batches of about 5 ms, fewer once they have taken half a second, and of
// these the one that took least.
func TestTimed(t *testing.T) {
	for _, test := range []struct {
		first, later time.Duration
		calls        int
		least        time.Duration
	}{
		{time.Millisecond, time.Millisecond, 1 + 6*5, time.Millisecond},
		{time.Millisecond, time.Millisecond / 2, 1 + 5 + 5*10, time.Millisecond / 2},
		{10 * time.Millisecond, 2 * time.Millisecond, 1 + 1 + 5*2, 2 * time.Millisecond},
		{10 * time.Millisecond, 20 * time.Millisecond, 7, 10 * time.Millisecond},
		{100 * time.Millisecond, 100 * time.Millisecond, 5, 100 * time.Millisecond},
		{2 * time.Second, time.Second, 1, 2 * time.Second},
	} {
		synctest.Test(t, func(t *testing.T) {
			calls := 0
			a := timed(func() ([]float64, int) {
				calls++
				if calls == 1 {
					time.Sleep(test.first)
				} else {
					time.Sleep(test.later)
				}
				return []float64{5}, 8
			})
			if calls != test.calls || a.NS != float64(test.least) || len(a.Values) != 1 || a.Values[0] != 5 || a.Evaluations != 8 {
				t.Errorf("%v, then %v: %d calls, %+v", test.first, test.later, calls, a)
			}
		})
	}
}

// What SciPy does not know, or does not get, is an error with what Python says.
func TestSciPyComplains(t *testing.T) {
	if _, err := askSciPy("unknown", nil); err == nil || !strings.Contains(err.Error(), "KeyError: 'unknown'") {
		t.Error(err)
	}
	if _, err := askSciPy("roots", math.NaN()); err == nil {
		t.Error("NaN is asked for")
	}
}

func TestFigures(t *testing.T) {
	for v, want := range map[float64]string{1.649: "1.6", 12.4: "12", 1139: "1100", 99.6: "100", 9.96: "10", 0.257: "0.26"} {
		if got := figures(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}
