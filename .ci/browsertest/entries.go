package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

func faults(t *tester, p *page) {
	p.Visit(t.url)
	good := demoJob("coil-shock")
	for _, test := range []struct {
		job    []byte
		enter  map[string]string // texts by field
		beside map[string]string // what must stand beside which field
	}{
		{change(good, `"36.5 mm"`, `"37 furlongs"`), map[string]string{"front.air.bore": "37 furlongs"}, map[string]string{"front.air.bore": "37 furlongs"}},
		{change(good, `"78 kg"`, `"78 furlongs"`, `"sag": 0.3`, `"sag": 30`), map[string]string{"masses.rider_mass": "78 furlongs", "rear.sag": "30"},
			map[string]string{"masses.rider_mass": "78 furlongs", "rear.sag": "less than 1"}},
		{change(good, `"sag": 0.3`, `"sag": 30`), map[string]string{"rear.sag": "30"}, map[string]string{"rear.sag": "less than 1"}},
		{change(good, `"sag": 0.2`, `"sag": "some"`), map[string]string{"front.sag": "some"}, map[string]string{"front.sag": "number"}},
		{change(good, `"rider_mass": "78 kg",`, ``), map[string]string{"masses.rider_mass": ""}, map[string]string{"masses.rider_mass": "Nothing entered; want a finite value, more than 0"}},
		{change(good, `"ambient": "99.2 kPa(a)",`, ``), map[string]string{"ambient": ""}, map[string]string{"ambient": "air pressure"}},
		{change(good, `"17.22 mm", "34.02 mm"`, `"17.22 mm", "3.4 mm"`), map[string]string{"rear.curve.table": strings.Replace(p.Text(`document.getElementById("rear.curve.table").value`), "34.02", "3.4", 1)},
			map[string]string{"rear.curve.table": "Line 3, travel: 3.4 mm"}},
		{change(good, `"425 lbf/in"`, `"425 furlongs"`), map[string]string{"rear.coil.shelf": strings.Replace(p.Text(`document.getElementById("rear.coil.shelf").value`), "425 lbf/in", "425 furlongs", 1)},
			map[string]string{"rear.coil.shelf": "Line 3, rate: 425 furlongs"}},
	} {
		p.demo("coil-shock")
		p.agree(good)
		for id, text := range test.enter {
			p.enter(id, text)
		}
		p.Eval(`document.activeElement.blur()`, nil) // told at once then
		// The last good sheet stays, and says that it is one.
		p.Wait(`!document.getElementById("faults").hidden && !document.getElementById("sheet").hidden && document.getElementById("sheet").classList.contains("old")`)
		if got := p.Text(`document.getElementById("faults-count").textContent`); !strings.Contains(got, "The sheet is the last one without.") {
			fail("of the sheet that stays is said %q", got)
		}
		p.numbers(good)
		// Each that the library names is in the list, and no other; those of
		// values that it could not read come with those that it could.
		read, err := setup.ReadJob(bytes.NewReader(test.job))
		if err == nil {
			_, err = setup.NewSheet(read)
		}
		want := max(len(units.Fields(err)), len(test.beside))
		if n := int(p.Number(`document.querySelectorAll("#faults-list li").length`)); n != want {
			fail("%v: %d faults listed, want %d", test.enter, n, want)
		}
		for id, part := range test.beside {
			got := p.Text(fmt.Sprintf(`document.getElementById("%s-fault").textContent`, id))
			if !strings.Contains(got, part) || !p.Yes(fmt.Sprintf(`(() => { const i = document.getElementById("%s"); return i.getAttribute("aria-invalid") === "true" && i.checkVisibility() && document.getElementById("%s-fault").checkVisibility(); })()`, id, id)) {
				fail("beside %s stands %q, want %q", id, got, part)
			}
			// The list leads there.
			p.Eval(`document.querySelector("#faults-list a").click()`, nil)
			if !p.Yes(`document.activeElement.getAttribute("aria-invalid") === "true"`) {
				fail("the list does not lead to the field")
			}
		}
	}
	// While a value is being typed the sheet stays, marked as old.
	p.demo("coil-shock")
	p.enter("masses.rider_mass", "8 k")
	if !p.Yes(`document.getElementById("sheet").classList.contains("old")`) {
		fail("a sheet of other values is not marked")
	}
	p.enter("masses.rider_mass", "80 kg")
	p.agree(change(good, `"78 kg"`, `"80 kg"`))
	if p.Yes(`document.querySelector("[aria-invalid]") || !document.getElementById("faults").hidden`) {
		fail("faults stay after they are mended")
	}
	// A line with too many parts is one fault, beside its field, whatever else is wrong there.
	shelf := p.Text(`document.getElementById("rear.coil.shelf").value`)
	for line, want := range map[string]string{
		"425 lbf/in, 69 mm, red": "Line 3: 425 lbf/in, 69 mm, red; want rate, solid travel and no more",
		"425 lbf/in, 68,8 mm":    "Line 3: 425 lbf/in, 68,8 mm; want rate, solid travel and no more; a decimal point is a point, not a comma",
		"425 lbf/in; 68,8 mm":    "Line 3, solid travel: 68,8 mm",
	} {
		p.enter("rear.coil.shelf", strings.Replace(shelf, "425 lbf/in, 69 mm", line, 1))
		p.Eval(`document.activeElement.blur()`, nil)
		p.Wait(`document.getElementById("rear.coil.shelf-fault").textContent.startsWith(` + quote(want) + `)`)
		if n := int(p.Number(`document.querySelectorAll("#faults-list li").length`)); n != 1 {
			fail("%s: %d faults", line, n)
		}
	}
	p.enter("rear.coil.shelf", shelf)
	p.enter("masses.rider_mass", "78 kg")
	p.agree(good)
	// A job with a fault that is opened has no sheet of another job below it.
	bad := filepath.Join(t.dir, "fault.json")
	must(os.WriteFile(bad, change(good, `"sag": 0.3`, `"sag": 30`), 0o600))
	p.file(bad)
	p.Wait(`document.getElementById("sheet").hidden && document.getElementById("faults-count").textContent.includes("No sheet.")`)
	p.demo("coil-shock")
	p.agree(good)
	// No link of a job with faults.
	p.enter("masses.rider_mass", "-80 kg")
	p.Eval(`document.getElementById("share").click()`, nil)
	p.Wait(`!document.getElementById("faults").hidden`)
	if p.Yes(`!document.getElementById("shared").hidden`) {
		fail("a link of a job with faults")
	}
}

// pasted: CSV in the field of the rear's curve is the table of the job, and a bad cell is told by its line.
func pasted(t *tester, p *page) {
	p.Visit(t.url)
	good := demoJob("coil-shock")
	p.enter("rear.curve.table", "My bike\nstroke (mm)\tWheel travel (mm)\n0\t0\n20\t56\n40\t107,0\n60\t152\n")
	var job map[string]any
	must(json.Unmarshal(good, &job))
	curve := job["rear"].(map[string]any)["curve"].(map[string]any)["table"].(map[string]any)
	curve["stroke"], curve["travel"] = []string{"0 mm", "20 mm", "40 mm", "60 mm"}, []string{"0 mm", "56 mm", "107 mm", "152 mm"}
	want, err := json.Marshal(job)
	must(err)
	p.agree(want)
	if got := canonical(p.job()); got != canonical(want) {
		fail("the link carries\n%s\nwant\n%s", got, canonical(want))
	}
	for text, says := range map[string]string{
		"stroke (mm),travel (mm)\n0,0\nfive,13\n":               "Five; want a number, in line 3",
		"stroke (mm),travel\n0,0\n":                             "want a title with a unit of length",
		"stroke (mm),travel (mm)\n0,0\n20,56\n20,107\n60,152\n": "Line 3 of the points, stroke: 20 mm",
	} {
		p.enter("rear.curve.table", text)
		p.Eval(`document.activeElement.blur()`, nil)
		p.Wait(`document.getElementById("rear.curve.table-fault").textContent.includes(` + quote(says) + `)`)
		if n := int(p.Number(`document.querySelectorAll("#faults-list li").length`)); n != 1 {
			fail("%q: %d faults", text, n)
		}
	}
}

// oneEnd: a hardtail and a shock alone show the library's numbers, and nothing of the end that is
// not there.
func oneEnd(t *tester, p *page) {
	p.Visit(t.url)
	both := demoJob("coil-shock")
	for _, gone := range []string{"rear", "front"} {
		p.demo("coil-shock")
		p.choose(gone, "none")
		job := without(both, gone)
		p.agree(job)
		if p.Yes(`document.getElementById("out-` + gone + `").checkVisibility() || document.querySelector("[data-out='` + gone + `.card'] .big")`) {
			fail("the sheet has a %s", gone)
		}
		if got, want := canonical(p.job()), canonical(job); got != want {
			fail("without a %s the link carries\n%s\nwant\n%s", gone, got, want)
		}
		// Opened again it is the same, and back with its end what was entered is still there.
		other := t.open()
		other.Visit(p.link())
		other.agree(job)
		other.Clean()
		p.choose(gone, map[string]string{"front": "air", "rear": "coil"}[gone])
		p.agree(both)
	}
	// An end with nothing entered is not silently left out.
	p.choose("rear", "none")
	other := t.open()
	other.Visit(p.link())
	other.choose("rear", "coil")
	other.Eval(`document.activeElement.blur()`, nil)
	other.Wait(`!document.getElementById("faults").hidden && document.getElementById("rear.sag-fault").textContent !== ""`)
	p.choose("front", "none")
	p.Wait(`document.getElementById("front-fault").textContent.includes("a front, a rear, or both")`)
}

// negative: nothing is taken for granted of a negative chamber, and "none" is an answer.
func negative(t *tester, p *page) {
	p.Visit(t.url)
	good := demoJob("coil-shock")
	open := filepath.Join(t.dir, "open.json")
	job := change(good, `"negative_volume": "58 cm³",`, ``, `"port_travel": "6 mm",`, ``, `"shaft": "10 mm",`, ``)
	must(os.WriteFile(open, job, 0o600))
	p.file(open)
	p.Wait(`document.getElementById("front.negative-fault").textContent.includes("Not answered; want the volume of the negative chamber")`)
	p.Eval(`document.querySelector("#faults-list a").click()`, nil)
	if got := p.Text(`document.activeElement.name`); got != "front.negative" {
		fail("the list leads to %q", got)
	}
	p.choose("front.negative", "none")
	job = change(job, `"spacer_volume"`, `"negative_chamber": "none", "spacer_volume"`)
	p.agree(job)
	if got, want := canonical(p.job()), canonical(job); got != want {
		fail("the link carries\n%s\nwant\n%s", got, want)
	}
	p.choose("front.negative", "volume")
	p.enter("front.air.negative_volume", "58 cm³")
	p.enter("front.air.shaft", "10 mm")
	p.enter("front.air.port_travel", "6 mm")
	p.agree(good)
}

// gauged: a fork known by its gauge and its ring, from a job of one reading to the next step and on to
// the answer, which is held against the library's at every reading.
func gauged(t *tester, p *page) {
	p.Visit(t.url)
	p.demo("gauge")
	p.agree(demoJob("gauge"))
	job := func(readings string) []byte {
		return []byte(`{"schema": "wheelrate/job/1", "masses": {"rider_mass": "71 kg"}, "front": {"curve": {"fork": {"travel": "150 mm"}}, "sag": 0.18,
			"gauge": {"negative_chamber": "none", "max_fill": "10 bar", "readings": [` + readings + `]}}}`)
	}
	p.enter("note", "")
	p.enter("front.gauge.readings", "62 psi, 43 mm")
	p.choose("front.gauge", "none")
	p.agree(job(`{"fill": "62 psi", "stroke": "43 mm"}`))
	said := p.Text(`document.querySelector("[data-out='front.card']").textContent`)
	if !strings.Contains(said, "a step and not the answer") {
		fail("one reading gives %q", said)
	}
	// The next reading starts with the fill that was told; each is one more, until one is on target.
	entered, text := `{"fill": "62 psi", "stroke": "43 mm"}`, "62 psi, 43 mm"
	for _, ring := range []string{"38 mm", "27 mm"} {
		told := p.Text(`document.querySelector("[data-out='front.card'] .big").firstChild.textContent`)
		p.enter("front-ring", strings.TrimSuffix(ring, " mm")) // in the unit that is chosen
		p.Press("Enter")
		if got := p.Text(`document.getElementById("front.gauge.readings").value`); got != text+"\n"+told+", "+ring {
			fail("the ring leads to the readings %q", got)
		}
		entered, text = entered+`, {"fill": "`+told+`", "stroke": "`+ring+`"}`, text+"\n"+told+", "+ring
		p.agree(job(entered))
	}
	if got := p.Text(`document.querySelector("[data-out='front.next']").textContent`); !strings.HasSuffix(got, " is right.") {
		fail("a reading on target, and next is %q", got)
	}
	fill := "83.4 psi"
	// Another rider's reading, and the ring from both ways.
	p.enter("front.gauge.readings", "62 psi, 43 mm, 80 kg\n"+fill+", 30 mm, , 31 mm")
	p.agree(job(`{"fill": "62 psi", "stroke": "43 mm", "rider_mass": "80 kg"}, {"fill": "` + fill + `", "stroke": "30 mm", "stroke_back": "31 mm"}`))
	if got, want := canonical(p.job()), canonical(job(`{"fill": "62 psi", "stroke": "43 mm", "rider_mass": "80 kg"}, {"fill": "`+fill+`", "stroke": "30 mm", "stroke_back": "31 mm"}`)); got != want {
		fail("the link carries\n%s\nwant\n%s", got, want)
	}
	p.Wait(`document.getElementById("visit-faults-count").textContent.includes("takes its next reading above") && document.getElementById("visit-keep").disabled`)
	// Nothing is taken for granted of a negative chamber.
	open := filepath.Join(t.dir, "unsaid.json")
	must(os.WriteFile(open, change(demoJob("gauge"), `"negative_chamber": "self_filling",`, ``), 0o600))
	p.file(open)
	p.Wait(`document.getElementById("front.gauge-fault").textContent.includes("Not answered")`)
}

// without is a job that lacks a part.
func without(job []byte, part string) []byte {
	var v map[string]any
	must(json.Unmarshal(job, &v))
	delete(v, part)
	text, err := json.Marshal(v)
	must(err)
	return text
}
