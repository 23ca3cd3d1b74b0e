// Package planted plants wrong numbers into the page's program, one at a time, and finds which
// test notices each.
package planted

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// plant is a wrong number, or one shown as what it is not: in a file of the page's program, one text in
// place of another that stands there once.
type plant struct{ what, file, was, is string }

// plants must each be noticed, by the tests of the page's program or in the browser.
var plants = []plant{
	{"sag on the card, doubled", "webpage/site/show.js", `el("b", {}, sag.note.split(" of ")[0])`, `el("b", {}, 2 * parseFloat(sag.note) + " %")`},
	{"psi, one too many", "webpage/site/show.js", "const pair = (r) =>", `const pair = (r) => pairOf({ ...r, customary: r.customary?.replace(/^([\d.]+) psi$/, (_, n) => (Number(n) + 1).toFixed(1) + " psi") }), pairOf = (r) =>`},
	{"units in the other order", "webpage/site/show.js", "customary() && r.customary ? [r.customary, r.metric]", "!customary() && r.customary ? [r.customary, r.metric]"},
	{"the ring on the card is the wheel's travel", "webpage/site/show.js", `r.key === "stroke"`, `r.key === "wheel"`},
	{"front and rear swapped", "webpage/site/show.js", "card(name, answer[name], linkFor, taken)", `card(name, answer[name === "front" ? "rear" : "front"], linkFor, taken)`},
	{"the bar's band of friction mirrored", "webpage/site/show.js", `class="g-band" x="${at(low)}"`, `class="g-band" x="${at(1 - high)}"`},
	{"the bar's sag a tenth too long", "webpage/site/show.js", `width="${at(sag)}"`, `width="${at(1.1 * sag)}"`},
	{"low and high of the band about the wrong middle", "webpage/answer/sheet.go", "Low: float64(r.TravelLow / e.Travel), High: float64(r.TravelHigh / e.Travel)", "Low: 2*e.TargetSag - float64(r.TravelHigh/e.Travel), High: 2*e.TargetSag - float64(r.TravelLow/e.Travel)"},
	{"percent of percent", "webpage/answer/sheet.go", "units.Percent(o.Rest.Sag), fmt.Sprintf", "units.Percent(o.Rest.Sag/100), fmt.Sprintf"},
	{"the ends' columns swapped", "webpage/answer/sheet.go", "case end == sag.Rear:", "case end == sag.Front:"},
	{"rates a tenth too high", "webpage/answer/curves.go", "c.Rate = append(c.Rate, l.slow.Rate(w).NewtonsPerMillimetre())", "c.Rate = append(c.Rate, 1.1*l.slow.Rate(w).NewtonsPerMillimetre())"},
	{"an inch of 25 mm in the curves", "webpage/answer/curves.go", "units.Inch.Millimetres(), units.PoundForce", "25, units.PoundForce"},
	{"the dot beside its curve", "webpage/answer/chart.go", `class="dot" cx="%.1f" cy="%.1f" r="4.5"/>` + "`, x(c.at),", `class="dot" cx="%.1f" cy="%.1f" r="4.5"/>` + "`, x(c.at)+6,"},
	{"the axis numbered one step too high", "webpage/answer/chart.go", `y(v)+4, number(v, ys))`, `y(v)+4, number(v+ys, ys))`},
	{"the answer of before not marked", "webpage/site/app.js", `$("sheet").classList.add("old");`, ``},
	{"the cards of before not marked", "webpage/site/app.js", `at.classList.toggle("old", Boolean(before));
    if (before) before.hidden = false;`, `if (before) return;`},
	{"a bare number in the wrong unit", "webpage/site/job.js", `units.split("|")[customary() ? 1 : 0]`, `units.split("|")[customary() ? 0 : 1]`},
	{"the units chosen not kept", "webpage/site/calc.js", "localStorage.setItem(store, radio.value)", `localStorage.setItem(store, "metric")`},
	{"a psi more on the card for the workshop", "internal/card/end.go", "both.Metric, both.Customary", "both.Metric, (fill + units.PSIGauge(1)).Both().Customary"},
	{"a lesson's slider, a tenth too far", "webpage/site/lessons.js", "= s.valueAsNumber;", "= Math.min(Number(s.max), 1.1 * s.valueAsNumber);"},
	{"a lesson's sag, a tenth too much", "internal/lesson/sagging.go", "rest := must(end.Settle(load))\n\ttotal", "rest := must(end.Settle(1.1 * load))\n\ttotal"},
	{"a moved linkage's lever ratio, a twentieth too high", "webpage/answer/linkage.go", "start, end := l.LeverRatio[0]", "start, end := 1.05*l.LeverRatio[0]"},
}

// overlay writes the file with the plant in it, and what tells the Go tools to take it instead.
func (f plant) overlay(examples, dir string) (string, error) {
	path := filepath.Join(examples, filepath.FromSlash(f.file))
	text, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	if n := strings.Count(string(text), f.was); n != 1 {
		return "", fmt.Errorf("%s: %s stands %d times in %s, want once: mend the table of plants", f.what, f.was, n, f.file)
	}
	planted, list := filepath.Join(dir, "planted"+filepath.Ext(path)), filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(planted, []byte(strings.Replace(string(text), f.was, f.is, 1)), 0o600); err != nil {
		return "", err
	}
	replace, err := json.Marshal(map[string]any{"Replace": map[string]string{path: planted}})
	if err != nil {
		return "", err
	}
	return list, os.WriteFile(list, replace, 0o600)
}

// All plants each fault whose name matches, one at a time, and returns how many went unnoticed.
// Examples is the directory of the module of the examples.
func All(only *regexp.Regexp, examples, chromium string) (unnoticed int, err error) {
	dir, err := os.MkdirTemp("", "wheelrate-planted-")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(dir)
	for _, f := range plants {
		if !only.MatchString(f.what) {
			continue
		}
		list, err := f.overlay(examples, dir)
		if err != nil {
			return 0, err
		}
		begun := time.Now()
		by, err := f.noticed(list, examples, chromium)
		if err != nil {
			return 0, fmt.Errorf("%s: %w", f.what, err)
		}
		if by == "" {
			unnoticed++
			by = "UNNOTICED"
		}
		fmt.Printf("%-55s %s (%.0f s)\n", f.what, by, time.Since(begun).Seconds())
	}
	return unnoticed, nil
}

// noticed returns which test failed with the plant in place, "" if none did. It is an error if the page
// is not built with it, or does not start.
func (f plant) noticed(list, examples, chromium string) (string, error) {
	command := func(dir string, arguments ...string) (string, error) {
		c := exec.Command("go", arguments...)
		c.Dir, c.Env = dir, append(os.Environ(), "GOFLAGS=-overlay="+list)
		text, err := c.CombinedOutput()
		return string(text), err
	}
	if text, err := command(examples, "vet", "./webpage/..."); err != nil {
		return "", fmt.Errorf("%w\n%s", err, text)
	}
	if text, err := command(examples, "test", "./webpage/..."); err != nil {
		return firstLine(text, "--- FAIL: "), nil
	}
	text, err := command("", "run", "./browsertest", "-first", "-chromium", chromium)
	switch {
	case err == nil:
		return "", nil
	case !strings.Contains(text, "FAIL  ") || strings.Contains(text, "dataset.ready"):
		return "", fmt.Errorf("%w\n%s", err, text)
	}
	return firstLine(text, "FAIL  "), nil
}

// firstLine is what a text has behind some words at the start of a line, up to the end of the next line.
func firstLine(text, words string) string {
	_, rest, _ := strings.Cut("\n"+text, "\n"+words)
	lines := append(strings.SplitN(rest, "\n", 3), "", "")
	return strings.TrimSpace(lines[0]) + ": " + strings.TrimSpace(lines[1])
}
