package main

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// keeping: work and units are there again after the page is loaded anew, steps are undone, and a store
// that holds nonsense or nothing at all does no harm.
func keeping(t *tester, p *page) {
	p.Visit(t.url)
	good := demoJob("coil-shock")
	p.choose("units", "customary")
	p.enter("masses.rider_mass", "85 kg")
	p.Eval(`document.activeElement.blur()`, nil)
	p.enter("rear.sag", "33 %")
	p.Eval(`document.activeElement.blur()`, nil)
	heavier := change(good, `"78 kg"`, `"85 kg"`)
	both := change(heavier, `"sag": 0.3,`, `"sag": 0.33,`)
	p.agree(both)
	p.Visit(t.url)
	if got := p.Text(`document.querySelector("input[name=units]:checked").value`); got != "customary" {
		fail("the units chosen are %s after the page is loaded anew", got)
	}
	p.agree(both)
	p.bothSystems(true)
	p.enter("rear.sag", "28 %")
	p.Eval(`document.activeElement.blur()`, nil)
	p.agree(change(heavier, `"sag": 0.3,`, `"sag": 0.28,`))
	p.Eval(`document.getElementById("undo").click()`, nil)
	p.agree(both)
	// A bare number takes the unit that is chosen.
	p.enter("masses.rider_mass", "190")
	p.Eval(`document.activeElement.blur()`, nil)
	p.agree(change(both, `"85 kg"`, `"190 lb"`))
	p.choose("units", "metric")
	p.enter("masses.rider_mass", "90")
	p.Eval(`document.activeElement.blur()`, nil)
	p.agree(change(both, `"85 kg"`, `"90 kg"`))

	// Whatever is found in the store, the page starts.
	for _, text := range []string{"what?", "null", "{}", `{"schema": "wheelrate/bikes/1", "bikes": [{"id": 1}]}`, `{"schema": "wheelrate/bikes/9"}`} {
		p.Eval(`for (const key of Object.keys(localStorage)) localStorage.setItem(key, `+quote(text)+`)`, nil)
		p.Visit(t.url)
		p.agree(good)
	}
	p.Clean()
	full := t.open()
	full.Do("Page.addScriptToEvaluateOnNewDocument", object{"source": `Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };`})
	full.Visit(t.url)
	full.enter("masses.rider_mass", "85 kg")
	full.agree(heavier)
	if full.Yes(`document.getElementById("trouble").hidden`) {
		fail("nothing is said where nothing can be kept")
	}
	full.Clean()
}

// printed: the page as PDF, of whole sheets none of which is empty, with the answers on it and without
// what is only there to be pressed.
func printed(t *tester, p *page) {
	p.Visit(t.url)
	p.agree(demoJob("coil-shock"))
	var out struct{ Data string }
	p.Get("Page.printToPDF", object{"printBackground": false, "preferCSSPageSize": true}, &out)
	pdf, err := base64.StdEncoding.DecodeString(out.Data)
	must(err)
	if n := bytes.Count(pdf, []byte("/Type /Page\n")) + bytes.Count(pdf, []byte("/Type/Page\n")); n < 1 || n > 8 {
		fail("%d sheets of paper", n)
	}
	if t.shots != "" {
		must(os.MkdirAll(t.shots, 0o755))
		must(os.WriteFile(filepath.Join(t.shots, "print.pdf"), pdf, 0o644))
	}
	p.Do("Emulation.setEmulatedMedia", object{"media": "print"})
	if !p.Yes(`[...document.querySelectorAll(".big")].length === 2 && [...document.querySelectorAll(".big")].every(e => e.checkVisibility())`) {
		fail("what to set is not printed")
	}
	if seen := p.Text(`[...document.querySelectorAll("button")].filter(b => b.checkVisibility()).map(b => b.textContent)`); seen != "" {
		fail("buttons are printed: %s", seen)
	}
}

// axeVersion is the rules for access that the page is held to, from the registry of npm.
const axeVersion = "4.10.3"

// rules fetches them, and runs them on every page, on a desktop and a phone.
func rules(t *tester, p *page) {
	fetch := exec.Command("npm", "install", "--prefix", t.dir, "--ignore-scripts", "--no-audit", "--no-fund", "--no-save", "axe-core@"+axeVersion)
	if text, err := fetch.CombinedOutput(); err != nil {
		fail("the rules can't be fetched, and nothing was held to them: %v\n%s", err, text)
	}
	source, err := os.ReadFile(filepath.Join(t.dir, "node_modules", "axe-core", "axe.min.js"))
	must(err)
	var wrong []string
	for _, name := range []string{"", "linkage.html", "lessons.html"} {
		for _, width := range []int{1280, 390} {
			p.Size(width, 844, width < 500)
			p.Visit(t.url + name)
			p.Eval(`for (const d of document.querySelectorAll("details")) d.open = true`, nil)
			p.Eval(string(source), nil)
			var list []string
			p.Eval(`axe.run(document, {resultTypes: ["violations"]}).then(r => r.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(" | ")))`, &list)
			for _, one := range list {
				wrong = append(wrong, fmt.Sprintf("%s at %d pixels: %s", name, width, one))
			}
		}
	}
	if wrong != nil {
		fail("%s", strings.Join(wrong, "\n"))
	}
}
