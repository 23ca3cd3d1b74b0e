package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func call(args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = run(args, &out, &errs)
	return out.String(), errs.String(), status
}

// What the lessons say, worked once more by formulas of its own, or taken from
// independent computations with 40 digits (the four-bar of lesson 3).
func TestNumbers(t *testing.T) {
	k := func(d float64) float64 { return 79500 * math.Pow(d, 4) / (8 * math.Pow(43, 3) * 6.5) }
	const a36, pa = math.Pi / 4 * 0.036 * 0.036, 101325.0
	gas := func(x, n float64) float64 { return a36 * ((10e5+pa)*math.Pow(85e-6/(85e-6-a36*x), n) - pa) }
	v60 := 85e-6 - a36*0.06
	u := math.Hypot(math.Hypot((4/8.0+3/43.0)*0.03, 3/43.0*0.1), math.Hypot(0.1/6.5, 500.0/79500))
	for lesson, wants := range map[string][]string{
		"1": {
			fmt.Sprintf("comes out as %.1f N/mm", k(8)), fmt.Sprintf("%.1f N/mm     16.000", k(16)), fmt.Sprintf("%.1f N/mm %10.3f", k(9), math.Pow(9.0/8, 4)), "5.1 % too high",
		},
		"2": {
			fmt.Sprintf("sweeps %.1f cm³", 1e6*a36*0.06), fmt.Sprintf("%.1f bar(a)     %.0f N", (10e5+pa)*85e-6/v60/1e5, gas(0.06, 1)),
			fmt.Sprintf("ends at\n%.0f N instead of %.0f N", gas(0.06, 1.3), gas(0.06, 1)),
			fmt.Sprintf("11.0 bar(a) %8.0f N", gas(0, 1)), "never\nfill above the marking",
		},
		"3": {"0.0 mm    2.900 -20.4 1/m", "154.7 mm    2.251", "80/2.9² =\n9.5 N/mm"},
		"4": {fmt.Sprintf("out with %.0f N", a36*5e5), fmt.Sprintf("%6.0f mm %12.0f N", 160.0, a36*((5e5+pa)*250/(250-1e6*a36*0.16)-pa)), "after 2 rounds"},
		"5": {fmt.Sprintf("%.1f ±\n%.1f N/mm", k(8), k(8)*u), "0.1·√2/5 = 0.028", fmt.Sprintf("%4.0f %%  wire diameter", 100*math.Pow((4/8.0+3/43.0)*0.03/u, 2)), "know the wire better"},
	} {
		text, errs, status := call(lesson)
		if status != 0 || errs != "" {
			t.Errorf("lesson %s: status %d, %s", lesson, status, errs)
		}
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("lesson %s lacks %q in\n%s", lesson, want, text)
			}
		}
	}
}

func TestAllOfThem(t *testing.T) {
	text, errs, status := call()
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for i, l := range lessons {
		if !strings.Contains(text, fmt.Sprintf("%d. %s\n===", i+1, l.title)) {
			t.Errorf("no lesson %d", i+1)
		}
	}
	if n := strings.Count(text, "To try:"); n != 5 {
		t.Errorf("%d things to try, want 5", n)
	}
	for _, line := range strings.Split(text, "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("a line of %d columns: %q", len([]rune(line)), line)
		}
	}
	if strings.Contains(text, "NaN") || strings.Contains(text, "%!") {
		t.Error(text)
	}
}

func TestPictures(t *testing.T) {
	dir := t.TempDir()
	text, errs, status := call("-out", dir)
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for i := 1; i <= 5; i++ {
		path := filepath.Join(dir, fmt.Sprintf("lesson-%d.svg", i))
		if svg, err := os.ReadFile(path); err != nil || !bytes.Contains(svg, []byte("</svg>")) || !strings.Contains(text, path) {
			t.Errorf("lesson %d: %v", i, err)
		}
	}
}

func TestCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		want int
	}{{[]string{"-h"}, 0}, {[]string{"-what"}, 2}, {[]string{"6"}, 2}, {[]string{"0"}, 2}, {[]string{"two"}, 2}, {[]string{"-out", "/dev/null/x", "1"}, 1}} {
		out, errs, status := call(c.args...)
		if status != c.want || out != "" || errs == "" {
			t.Errorf("%v: status %d, want %d; %q", c.args, status, c.want, errs)
		}
	}
	var errs bytes.Buffer
	if status := run([]string{"1"}, full{}, &errs); status != 1 {
		t.Errorf("a full disk: status %d", status)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }
