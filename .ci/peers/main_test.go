package main

import (
	"bytes"
	"strings"
	"testing"
)

func TestCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		want int
	}{{[]string{"-h"}, 0}, {[]string{"-what"}, 2}, {[]string{"more"}, 2}} {
		var out, errs bytes.Buffer
		if got := run(c.args, &out, &errs); got != c.want || errs.Len() == 0 {
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

// No global method finds better pivots in a hundred times the work.
func TestPivotsAreThoseOfGlobalMethods(t *testing.T) {
	var out bytes.Buffer
	if err := againstGlobal(&out); err != nil || strings.Count(out.String(), "\n") != 4 {
		t.Errorf("%v\n%s", err, out.String())
	}
	t.Log(out.String())
}

func TestFigures(t *testing.T) {
	for v, want := range map[float64]string{1.649: "1.6", 12.4: "12", 1139: "1100", 99.6: "100"} {
		if got := figures(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}
