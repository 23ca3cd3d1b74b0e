package card_test

import (
	"encoding/json"
	"fmt"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/card"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// read returns a demonstration of the programs.
func read(t *testing.T, name string) setup.Job {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	job, err := setup.ReadJob(f)
	if err != nil {
		t.Fatal(err)
	}
	return job
}

func sheet(t *testing.T, job setup.Job) *setup.Sheet {
	t.Helper()
	s, err := setup.NewSheet(job)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var (
	tag    = regexp.MustCompile(`<[^>]*>`)
	spaces = regexp.MustCompile(`\s+`)
	number = regexp.MustCompile(`\d+(\.\d+)?`)
)

// plain returns what a reader sees of a card, its boxes as ☐ and its blanks as ____.
func plain(text string) string {
	text = strings.ReplaceAll(text, `<input type="checkbox">`, "☐")
	text = strings.ReplaceAll(text, `<input type="text" autocomplete="off">`, "____")
	text = strings.NewReplacer("</li>", " ", "</p>", " ", "</h3>", " ").Replace(text)
	return strings.TrimSpace(spaces.ReplaceAllString(html.UnescapeString(tag.ReplaceAllString(text, "")), " "))
}

var demos = []string{
	"setup/demo/job", "setup/demo/coil-fork", "setup/demo/gauge", "setup/demo/hardtail",
	"webpage/demo/air-both", "webpage/demo/coil-shock", "webpage/demo/gauge", "webpage/demo/pivots",
}

// Every number on a card is one of its sheet, no word is left in braces, and every element is closed.
func TestCardsOfDemonstrations(t *testing.T) {
	for _, name := range demos {
		s := sheet(t, read(t, name))
		of := card.HTML(s)
		known := s.Note
		for _, r := range rows.Of(s) {
			known += " " + r.String()
		}
		for _, e := range s.Ends() { // a thickness is told as the shelf has it
			if best := e.Spring(); best != nil {
				known += fmt.Sprint(" ", best.PreloadSpacers, best.Turns)
			}
			if e.Air != nil {
				known += fmt.Sprint(" ", max(e.Air.SpacerChange, -e.Air.SpacerChange), " ", (e.Fill().Fill - e.Air.Change).Both())
			}
		}
		for _, n := range number.FindAllString(plain(of), -1) {
			if !regexp.MustCompile(`(^|[^\d.])` + regexp.QuoteMeta(n) + `($|[^\d])`).MatchString(known) {
				t.Errorf("%s: %s is no number of the sheet", name, n)
			}
		}
		if strings.ContainsAny(of, "{}") || strings.Contains(of, "NaN") || strings.Contains(of, "Inf") {
			t.Errorf("%s: braces, or a number that is not finite:\n%s", name, plain(of))
		}
		for _, element := range []string{"section", "header", "div", "ol", "li", "p", "b", "h3", "em", "label", "span"} {
			if open, closed := len(regexp.MustCompile("<"+element+"[ >]").FindAllString(of, -1)), strings.Count(of, "</"+element+">"); open != closed {
				t.Errorf("%s: %d <%s>, %d </%s>", name, open, element, closed, element)
			}
		}
	}
}

// lacks reports what of a list a card does not say.
func lacks(t *testing.T, name, of string, list ...string) {
	t.Helper()
	for _, want := range list {
		if !strings.Contains(of, want) {
			t.Errorf("%s: lacks %q in\n%s", name, want, of)
		}
	}
}

// The steps are those of the work at hand, in its order, with what the sheet says.
func TestStepsFollowTheWork(t *testing.T) {
	air := func(change func(*fit.Chamber)) func(*setup.Job) {
		return func(j *setup.Job) { change(j.Front.Air) }
	}
	for _, test := range []struct {
		name, job string
		change    func(*setup.Job)
		want      []string
		not       string
	}{
		{"air as fitted", "setup/demo/job", nil, []string{
			"Front: air spring 5.97 bar 86.6 psi 1 spacer (as fitted) ring 34.0 mm 1.34 in along the stanchion from full extension, sag 20.0 %; friction allows 31.9–36.2 mm (1.25–1.42 in)",
			"☐ Bike in the stand", "Gauge: 5.60 bar (81.2 psi) if no air was lost. shows ____",
			"Shock pump: 5.97 bar (86.6 psi). marking on the part ____ ! Never above it.",
			"past the port at 7.0 mm. Set it again. After each cycle: ☐ 5.90 bar (85.5 psi) ☐ 5.96 bar (86.4 psi)",
			"preload 1.5 mm = 1 turn ring", "rear ☐ Collar back", "New spring in, marked 450 lbf/in (78.81 N/mm).", "then 1 turn: preload 1.5 mm (0.06 in).", "bolts ____ N·m",
			"then ☐ Axles", "Rings, mm: front ____ rear ____",
		}, "Air cap"},
		{"spacers in", "setup/demo/job", air(func(a *fit.Chamber) { a.FullTravelRatio = 13 }), []string{
			"5 spacers (add 4)", "Let all the air out, slowly. ! Never open it under pressure.", "Air cap off, add 4: 5 spacers in it. Cap on. oil ____ ml cap ____ N·m",
			"Shock pump: 5.66 bar",
		}, "until it still shows"},
		{"spacers out", "webpage/demo/air-both", nil, []string{
			"1 spacer (take out 1)", "Air cap off, take out 1: 1 spacer in it.", "4 spacers (add 4)", "! As in front.", "rider 61.6 kg",
		}, ""},
		{"no spacer left", "setup/demo/job", air(func(a *fit.Chamber) { a.FullTravelRatio = 1 }), []string{"0 spacers (take out 1)", "take out 1: 0 spacers in it."}, ""},
		{"less air", "setup/demo/job", air(func(a *fit.Chamber) { a.Fill = units.BarGauge(7) }), []string{"Let air out to 5.97 bar (86.6 psi), slowly, with no load on it."}, "Shock pump"},
		{"fill not known", "setup/demo/job", air(func(a *fit.Chamber) { a.Fill = 0 }), []string{"Eye protection on. Gauge on. shows ____", "until it still shows after a cycle."}, "After each cycle"},
		{"one chamber", "setup/demo/job", air(func(a *fit.Chamber) {
			a.Fill, a.NegativeVolume, a.PortTravel, a.NegativeChamber = 0, 0, 0, fit.None
		}), []string{"Shock pump: "}, "cycle"},
		{"spacers never said", "setup/demo/job", air(func(a *fit.Chamber) { a.Spacers, a.MaxSpacers, a.SpacerVolume = 0, 0, 0 }), []string{"spacers (as fitted)"}, "0 spacers"},
		{"coil fork", "setup/demo/coil-fork", nil, []string{
			"50 lbf/in 8.76 N/mm preload 2.0 mm, spacers 1 mm", "Crown bolts loose", "The spring may push the cap", "Preload spacers in: 1 mm.", "Cap on, crown bolts in. oil ____ ml cap ____ N·m",
		}, "Collar"},
		{"a ratio of 1", "setup/demo/coil-fork", func(j *setup.Job) {
			j.Front.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 160 * units.Millimetre}}
		}, []string{"along the stanchion", "Crown bolts loose"}, "Collar"},
		{"pitch not known", "setup/demo/job", func(j *setup.Job) { j.Rear.Coil.ThreadPitch = 0 }, []string{"then on until the spring is 1."}, "turn"},
		{"collar at its end", "setup/demo/job", func(j *setup.Job) { j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 0, 1e-9 }, []string{"touches the spring, no further."}, "turn"},
		{"one gauge", "setup/demo/gauge", nil, []string{
			"5.92 bar 85.9 psi a step: work out the next from fill and ring ring 32.0 mm", "Rear nothing to set: the job has no spring here", "set it again", "Rings, mm: front ____ ☐",
		}, "spacer"},
		{"at the marking", "setup/demo/gauge", func(j *setup.Job) { j.Front.Sag = 0.13 }, []string{"the most that may be set"}, "a step:"},
		{"hardtail", "setup/demo/hardtail", nil, []string{"Rear nothing to set", "☐ 9.58 bar", "☐ 10.14 bar", "☐ 10.27 bar", "☐ 10.29 bar"}, "Collar"},
	} {
		job := read(t, test.job)
		if test.change != nil {
			test.change(&job)
		}
		of := plain(card.HTML(sheet(t, job)))
		lacks(t, test.name, of, test.want...)
		if test.not != "" && strings.Contains(of, test.not) {
			t.Errorf("%s: says %q in\n%s", test.name, test.not, of)
		}
	}
}

// What must not be fitted is not on the card: the warning stands in its place.
func TestNothingDangerousIsFitted(t *testing.T) {
	solid := read(t, "setup/demo/job")
	for i := range solid.Rear.Coil.Springs {
		solid.Rear.Coil.Springs[i].SolidTravel = 40 * units.Millimetre
	}
	of := plain(card.HTML(sheet(t, solid)))
	lacks(t, "solid", of, "Rear: coil spring fit nothing at this end; see the warning ! The spring binds", "Do not fit it", "rear ☐ Fit nothing at this end")
	if strings.Contains(of, "New spring in") {
		t.Errorf("fits a spring that goes solid:\n%s", of)
	}
}

// A fill of none is nothing to set.
func TestNoFillIsSet(t *testing.T) {
	s := sheet(t, read(t, "setup/demo/gauge"))
	s.Front.Gauge.Fill = 0
	of := plain(card.HTML(s))
	lacks(t, "no fill", of, "Front: air spring fit nothing at this end", "☐ Fit nothing at this end")
	if strings.Contains(of, "0.00 bar") {
		t.Errorf("sets nothing as a number:\n%s", of)
	}
}

// Settings are those of the card, and say by their length how they can be set.
func TestSettings(t *testing.T) {
	front, rear := card.Settings(sheet(t, read(t, "setup/demo/job")))
	if front == nil || rear == nil || front.Large != "5.97 bar" || rear.Large != "450 lbf/in" || rear.Small != "78.81 N/mm" || front.Ring.Metric != "34.0 mm" {
		t.Errorf("%+v, %+v", front, rear)
	}
	if _, rear := card.Settings(sheet(t, read(t, "setup/demo/hardtail"))); rear != nil {
		t.Errorf("a rear without a spring has %+v", rear)
	}
	for large, long := range map[string]bool{"450 lbf/in": false, "12345678 bår": false, "1234567890 bar": true, "123456789 bar": true} {
		if (card.Setting{Large: large}).Long() != long {
			t.Errorf("%q: long is %t", large, !long)
		}
	}
}

// Many warnings and many readings of the gauge are cut short with words, and a spring of any name has room.
func TestCardHasRoom(t *testing.T) {
	s := sheet(t, read(t, "setup/demo/job"))
	s.Warnings = append(s.Warnings, units.Warning{Field: "front", Text: "A second one."})
	if of := plain(card.HTML(s)); !strings.Contains(of, "! A second one. Rear:") || strings.Contains(of, "on the sheet") {
		t.Errorf("two warnings have room:\n%s", of)
	}
	s.Warnings = s.Warnings[:len(s.Warnings)-1]
	for i := range 5 {
		s.Warnings = append(s.Warnings, units.Warning{Code: "x", Field: "front.air", Text: fmt.Sprintf("Warning %c.", 'A'+i)}, units.Warning{Field: "masses", Text: "All of it."})
	}
	s.Front.Pump.Steps = nil
	for i := range 9 {
		s.Front.Pump.Steps = append(s.Front.Pump.Steps, airspring.TopUpStep{Action: airspring.Cycle, After: units.BarGauge(1 + float64(i))})
	}
	steps := s.Front.Pump.Steps
	s.Front.Pump.Steps = steps[:6]
	if of := plain(card.HTML(s)); !strings.Contains(of, "☐ 5.00 bar (72.5 psi) ☐ 6.00 bar (87.0 psi)") || strings.Contains(of, " …") {
		t.Errorf("six readings have room:\n%s", of)
	}
	s.Front.Pump.Steps = steps[:7]
	lacks(t, "seven readings", plain(card.HTML(s)), "☐ 5.00 bar (72.5 psi) … ☐ 7.00 bar (101.5 psi)")
	s.Front.Pump.Steps = steps
	s.Rear.Spring().Law = "rising from 400 to 520 lbf/in <b>"
	s.Note = strings.Repeat("ab ", 100)
	of := card.HTML(s)
	lacks(t, "room", plain(of), "! Warning A. ! 4 more on the sheet: read them first.", "! All of it. ! All of it. ! 3 more", "☐ 5.00 bar (72.5 psi) … ☐ 9.00 bar", "marked rising from 400 to 520 lbf/in <b>.", "ab a…")
	lacks(t, "room", of, "workcard-long", "&lt;b&gt;")
}

// A sheet that was read from JSON has its card too: what it does not say is asked for.
func TestCardOfSheetFromJSON(t *testing.T) {
	for _, name := range demos {
		text, err := json.Marshal(sheet(t, read(t, name)))
		if err != nil {
			t.Fatal(err)
		}
		var s setup.Sheet
		if err := json.Unmarshal(text, &s); err != nil {
			t.Fatal(err)
		}
		lacks(t, name, plain(card.HTML(&s)), "Bike in the stand", "Rings, mm:")
	}
	if card.HTML(nil) != "" {
		t.Error("a card of no sheet")
	}
}

// A page has the card, its style, and nothing from elsewhere.
func TestPage(t *testing.T) {
	s := sheet(t, read(t, "setup/demo/job"))
	s.Note = "a\x1b\u202e\nb</section>"
	page := card.Page(s)
	lacks(t, "page", page, "<!doctype html>", card.CSS, "a[U+001B][U+202E] b&lt;/section&gt;", "</html>")
	for _, bad := range []string{"http", "<script", "src=", "@import", "url("} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	for _, class := range regexp.MustCompile(`class="([^"]*)"|\.([a-z][\w-]*)`).FindAllStringSubmatch(card.HTML(s)+card.CSS, -1) {
		for _, one := range strings.Fields(class[1] + " " + class[2]) {
			if !strings.HasPrefix(one, "workcard") && class[1] != "" {
				t.Errorf("a class of another name: %q", one)
			}
		}
	}
}
