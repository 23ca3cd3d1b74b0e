package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.com/wheelrate/ci/browsertest/devtools"
)

// checks are all there is to check.
var checks = []struct {
	name string
	run  func(*tester, *page)
}{
	{"every demonstration shows the library's numbers", demonstrations},
	{"the numbers agree with statics", balance},
	{"a change shows the library's numbers at once", changes},
	{"a job file of the program setup opens, and saves again", files},
	{"a link carries the job", links},
	{"a bad link says so", badLinks},
	{"faults are named beside their fields", faults},
	{"one end alone", oneEnd},
	{"a curve pasted", pasted},
	{"the negative chamber is asked about", negative},
	{"a spring by its gauge and its ring, step by step", gauged},
	{"a visit: what was found, what to do, the record for next time", visits},
	{"points of a linkage are moved", movedPoints},
	{"the card for the workshop", workshopCard},
	{"lessons follow their sliders, and check answers", touchedLessons},
	{"lessons on a phone, in the dark, and read out", readLessons},
	{"a bike of one's own in seven entries", ownBike},
	{"springs of a shelf in cells", shelfCells},
	{"bikes are kept, faults and all", keptBikes},
	{"cautions of air pressure stay in view", airCautions},
	{"by keyboard alone", keyboard},
	{"for a screen reader", screenReader},
	{"at 360 pixels nothing is cut off", narrow},
	{"every word stands out from its ground", contrast},
	{"pictures follow units and width", drawings},
	{"nothing is requested once loaded", quiet},
	{"offline", offline},
	{"work and units are kept, steps undone", keeping},
	{"printed as PDF", printed},
	{"the rules for access of axe-core", rules},
	{"a keystroke is answered within a frame", typing},
	{"the program starts within a second on a slow phone", starting},
	{"pictures to look at", pictures},
	{"pictures of the lessons to look at", lessonPictures},
}

func demonstrations(t *tester, p *page) {
	p.Visit(t.url)
	for _, name := range demoNames {
		p.demo(name)
		p.agree(demoJob(name))
		// The form holds all of it: what the link carries is the same job.
		if got, want := canonical(p.job()), canonical(demoJob(name)); got != want {
			fail("%s went in as\n%s\nand came out as\n%s", name, want, got)
		}
	}
}

func changes(t *tester, p *page) {
	p.Visit(t.url)
	job := demoJob("coil-shock")
	enter := func(id, text string, pairs ...string) {
		job = change(job, pairs...)
		p.enter(id, text)
		p.agree(job)
	}
	enter("masses.rider_mass", "181 lb", `"rider_mass": "78 kg"`, `"rider_mass": "181 lb"`)
	enter("front.sag", "17.5 %", `"sag": 0.2`, `"sag": 0.175`)
	enter("rear.sag", "0.33", `"sag": 0.3`, `"sag": 0.33`)
	enter("front.air.bore", "1.5 in", `"36.5 mm"`, `"1.5 in"`)
	enter("front.air.exponent", "1.2", `1.32`, `1.2`)
	enter("front.friction", "", `"friction": "22 N",`, ``)
	enter("rear.coil.shelf", "60 N/mm, 70 mm\n\n70 N/mm; 69 mm\n80 N/mm",
		string(job[bytes.Index(job, []byte(`"shelf": [`)):bytes.Index(job, []byte(`"preload_min"`))]),
		`"shelf": [{"rate": "60 N/mm", "solid_travel": "70 mm"}, {"rate": "70 N/mm", "solid_travel": "69 mm"}, {"rate": "80 N/mm"}],`)
	// Another way to say how the weight stands; the share is not asked then.
	p.choose("share", "scales")
	p.enter("masses.front_scale", "40 kg")
	enter("masses.rear_scale", "60 kg", `"rear_share": 0.59`, `"front_scale": "40 kg", "rear_scale": "60 kg"`)
	// A fork given as a constant ratio.
	p.choose("front.curve", "constant")
	p.enter("front.curve.constant", "0.9")
	enter("front.curve.travel", "144 mm", `{"fork": {"head_angle": "64 deg", "travel": "160 mm"}}`, `{"constant": 0.9, "travel": "144 mm"}`)
	// And back: what was entered before is still there.
	p.choose("front.curve", "fork")
	job = change(job, `{"constant": 0.9, "travel": "144 mm"}`, `{"fork": {"head_angle": "64 deg", "travel": "160 mm"}}`)
	p.agree(job)
}

func files(t *tester, p *page) {
	p.Visit(t.url)
	for _, name := range []string{"job.json", "coil-fork.json"} {
		path := filepath.Join(examplesDir(), "setup", "demo", name)
		job, err := os.ReadFile(path)
		must(err)
		p.file(path)
		p.Wait(`document.getElementById("note").value === ` + quote(note(job)))
		p.agree(job)
	}
	must(t.b.Call("", "Browser.setDownloadBehavior", object{"behavior": "allow", "downloadPath": t.dir, "browserContextId": p.Context}, nil))
	p.Eval(`document.getElementById("save").click()`, nil)
	saved := filepath.Join(t.dir, "job.json")
	var text []byte
	devtools.WaitFor("the saved job", func() bool { text, _ = os.ReadFile(saved); return len(text) > 0 && text[len(text)-1] == '\n' })
	job, err := os.ReadFile(filepath.Join(examplesDir(), "setup", "demo", "coil-fork.json"))
	must(err)
	if canonical(text) != canonical(job) {
		fail("opened\n%s\nsaved\n%s", canonical(job), canonical(text))
	}
	// A file that holds no job changes nothing, and the page says so.
	bad := filepath.Join(t.dir, "bad.json")
	must(os.WriteFile(bad, []byte(`{"schema": "wheelrate/job/1", "tyres": 2}`), 0o600))
	p.file(bad)
	p.Wait(`!document.getElementById("trouble").hidden`)
	if text := p.Text(`document.getElementById("trouble").textContent`); !strings.Contains(text, "bad.json") || !strings.Contains(text, "tyres") {
		fail("told %q", text)
	}
	p.agree(job)
}

func links(t *tester, p *page) {
	p.Visit(t.url)
	p.demo("air-both")
	p.enter("masses.bike_mass", "31 lb")
	p.enter("note", "Überprüfung, 100 % <ours> & \"yours\"")
	link := p.link()
	if len(link) > 2000 {
		fail("the link is %d bytes long", len(link))
	}
	other := t.open()
	other.Visit(link)
	job := change(demoJob("air-both"), `"29.8 lb"`, `"31 lb"`)
	other.agree(job)
	if canonical(other.job()) != canonical(p.job()) {
		fail("sent\n%s\ncame\n%s", canonical(p.job()), canonical(other.job()))
	}
	if got := other.Text(`document.querySelector("[data-out=note]").textContent`); got != "Überprüfung, 100 % <ours> & \"yours\"" {
		fail("the note came as %q", got)
	}
	if other.Yes(`!document.getElementById("trouble").hidden`) {
		fail("trouble with a good link")
	}
	// Another link in the same tab.
	p.demo("pivots")
	link = p.link()
	other.Eval(`location.hash = `+quote(link[strings.IndexByte(link, '#'):]), nil)
	other.Wait(`document.getElementById("note").value.includes("one pivot")`)
	other.agree(demoJob("pivots"))
	other.Clean()
}

func badLinks(t *tester, p *page) {
	p.Visit(t.url)
	good := p.link()
	good = good[strings.IndexByte(good, '#'):]
	var bomb string
	p.Eval(`(async () => {
		const packed = new Blob([new Uint8Array(30 << 20)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
		let text = "";
		for (const byte of new Uint8Array(await new Response(packed).arrayBuffer())) text += String.fromCharCode(byte);
		return "#job=" + btoa(text).replaceAll("+", "-").replaceAll("/", "_");
	})()`, &bomb)
	for name, fragment := range map[string]string{
		"cut off": good[:len(good)/2], "no base64": "#job=what?!", "empty": "#job=", "changed": good[:40] + "AAAA" + good[44:],
		"no job": "#job=" + deflated(`{"job": "none"}`), "no JSON": "#job=" + deflated(`what?`), "a number without unit": "#job=" + deflated(strings.Replace(string(demoJob("pivots")), "91 kg", "91", 1)),
		"very long": bomb,
	} {
		other := t.open()
		other.Visit(t.url + fragment)
		if got := other.Text(`document.getElementById("trouble").textContent`); other.Yes(`document.getElementById("trouble").hidden`) ||
			!strings.Contains(got, "no job that can be read") || !strings.Contains(got, "shown instead") {
			fail("%s: told %q", name, got)
		} else if (name == "very long") != strings.Contains(got, "longer than any job") {
			fail("%s: told %q", name, got) // not unpacked whole, to be refused then
		}
		other.agree(demoJob("coil-shock"))
		other.Clean()
	}
}

func airCautions(t *tester, p *page) {
	p.Visit(t.url)
	const air = "Air under pressure: let all of it out"
	seen := func() (form, result bool) {
		look := func(where string) bool {
			return p.Yes(fmt.Sprintf(`[...document.querySelectorAll(%s)].some(e => e.textContent.includes(%s) && e.checkVisibility())`, quote(where), quote(air)))
		}
		return look("#job .caution"), look(".cautions.first li")
	}
	for _, test := range []struct {
		demo string
		want bool
	}{{"coil-shock", true}, {"air-both", true}, {"pivots", false}} {
		p.demo(test.demo)
		p.agree(demoJob(test.demo))
		p.Eval(`for (const d of document.querySelectorAll(".asked")) d.open = true`, nil)
		if form, result := seen(); form != test.want || result != test.want {
			fail("%s: beside the fields %v, on the sheet %v, want %v", test.demo, form, result, test.want)
		}
	}
	p.demo("air-both")
	p.enter("front.air.bore", "what")
	p.Wait(`!document.getElementById("faults").hidden`)
	if form, result := seen(); !form || !result {
		fail("the caution is gone while the job has a fault")
	}
}

// quiet: once the page is there, using it asks nobody for anything.
func quiet(t *tester, p *page) {
	p.Visit(t.url)
	p.Wait(`document.getElementById("offline").textContent !== ""`)
	before := p.Requests()
	asked := len(before)
	for _, url := range before {
		if !strings.HasPrefix(url, t.url) && url != "about:blank" {
			fail("the page asked for %s", url)
		}
	}
	p.enter("masses.rider_mass", "90 kg")
	p.demo("pivots")
	p.choose("units", "customary")
	p.link()
	for _, url := range p.Requests()[asked:] {
		// The browser wants the icon of a changed address; the page's worker has it.
		if !strings.HasPrefix(url, t.url+"icon.svg") {
			fail("using the page asked for %s", url)
		}
	}
	// Each file once.
	slices.Sort(before)
	if n := len(slices.Compact(slices.Clone(before))); n != len(before) {
		fail("asked for some of these more than once: %v", before)
	}
}

// offline: with the server gone, the page still opens, links included.
func offline(t *tester, p *page) {
	s, err := serve(t.binary)
	must(err)
	defer s.stop()
	p.Visit(s.url)
	p.Wait(`document.getElementById("offline").textContent !== ""`)
	p.demo("air-both")
	link := p.link()
	must(s.stop())
	p.Visit(s.url)
	p.agree(demoJob("air-both")) // as it was left
	p.demo("coil-shock")
	p.enter("masses.rider_mass", "200 lb")
	job := change(demoJob("coil-shock"), `"78 kg"`, `"200 lb"`)
	p.agree(job)
	p.Visit(s.url + "linkage.html")
	p.Wait(`document.querySelector(".linkage-says").textContent.startsWith("Travel ")`)
	p.Visit(s.url)
	p.agree(job)
	p.enter("visit.date", "2026-11-25")
	p.told(answered(map[string]any{"schema": "wheelrate/visit/1", "date": "2026-11-25", "job": json.RawMessage(job)}))
	p.Visit(link)
	p.agree(demoJob("air-both"))
}
