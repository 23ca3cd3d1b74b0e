package main

import (
	"bytes"
	"fmt"
	"strings"

	"example.com/wheelrate/sag/setup"
)

func drawings(t *tester, p *page) {
	p.Visit(t.url)
	p.Eval(`document.getElementById("fold-feels").open = true`, nil)
	for _, width := range []int{1280, 800, 360} {
		p.Size(width, 800, false)
		p.Wait(`[...document.querySelectorAll(".chart")].every(c => Math.abs(c.getBoundingClientRect().width - Math.min(1000, document.querySelector(".pictures").clientWidth)) < 2)`)
	}
	for _, name := range demoNames {
		p.demo(name)
		job := demoJob(name)
		p.agree(job)
		read, err := setup.ReadJob(bytes.NewReader(job))
		must(err)
		s, err := setup.NewSheet(read)
		must(err)
		for _, e := range s.Ends() {
			if e.State == nil {
				continue
			}
			end := e.Axle
			charts := 2
			if e.LeverRatio.Max-e.LeverRatio.Min > 1e-3 {
				charts = 3
			}
			at := `[...document.querySelectorAll("#out-` + string(end) + ` .chart")]`
			if n := int(p.Number(at + `.length`)); n != charts {
				fail("%s %s: %d charts, want %d", name, end, n, charts)
			}
			// The dot lies where the sag is on the axis from the first number to the full travel.
			off := p.Number(fmt.Sprintf(`Math.max(...%s.map(c => { const [, x0, x1] = /^M([\d.]+) [\d.]+V[\d.]+H([\d.]+)$/.exec(c.querySelector(".axis").getAttribute("d")).map(Number);
				return Math.abs((Number(c.querySelector(".dot").getAttribute("cx")) - x0) / (x1 - x0) - %v); }))`, at, e.Rest.Sag))
			if !(off < 1e-3) {
				fail("%s %s: a dot is off by %v of the travel", name, end, off)
			}
			label := p.Text(at + `[0].getAttribute("aria-label")`)
			if part := fmt.Sprintf("At the sag of %.1f mm: %.0f N.", e.Rest.Travel.Millimetres(), e.Load.Newtons()); !strings.Contains(label, part) {
				fail("%s %s: the picture says %q, want %q in it", name, end, label, part)
			}
		}
	}
	p.demo("coil-shock")
	p.choose("units", "customary")
	p.Wait(`[...document.querySelectorAll(".chart")].every(c => c.textContent.includes("Wheel travel, in"))`)
	if p.Yes(`[...document.querySelectorAll(".chart .name")].some(c => /mm|, N/.test(c.textContent))`) {
		fail("customary pictures with metric axes")
	}
}

// pictures takes pictures for people to look at: this check only fails where
// the page does.
func pictures(t *tester, p *page) {
	at := func(name, selector string) {
		p.Eval(`scrollTo(0, 0); document.querySelector(`+quote(selector)+`).scrollIntoView()`, nil)
		p.Shot(t.shots, name, false)
	}
	p.Size(1280, 900, false)
	p.Visit(t.url)
	p.Shot(t.shots, "desktop", false)
	p.Eval(`for (const d of document.querySelectorAll(".fold")) d.open = true`, nil)
	at("desktop-curves", "#out-front .pictures")
	at("desktop-bike", "[data-out=loads]")
	at("desktop-visit", "#visit")
	p.enter("front.air.bore", "37 furlongs")
	p.enter("rear.sag", "30")
	p.Wait(`!document.getElementById("faults").hidden`)
	at("desktop-fault", "#results")
	p.Do("Emulation.setEmulatedMedia", object{"features": []object{{"name": "prefers-color-scheme", "value": "dark"}}})
	p.demo("pivots")
	at("desktop-dark", "#results")
	p.Do("Emulation.setEmulatedMedia", object{"features": []object{}})
	p.Size(360, 740, true)
	p.demo("coil-shock")
	p.Visit(t.url)
	p.Shot(t.shots, "phone", false)
	p.Eval(`for (const d of document.querySelectorAll(".fold, .asked")) d.open = true`, nil)
	at("phone-form", "#in-bike")
	at("phone-air", "#in-front .case:not([hidden]) .caution")
	at("phone-visit", "#visit")
	at("phone-todo", "#visit-results")
	at("phone-table", "#in-rear")
	at("phone-results", "#results")
	at("phone-end", "#out-front")
	at("phone-curves", "#out-front .pictures")
	at("phone-list", "#out-front [data-out='front.choices']")
	at("phone-bike", "[data-out=loads]")
	p.enter("front.air.bore", "37 furlongs")
	p.Wait(`!document.getElementById("faults").hidden`)
	p.Eval(`document.activeElement.scrollIntoView({block: "center"})`, nil)
	p.Shot(t.shots, "phone-fault", false)
	p.Size(1280, 900, false)
	p.demo("coil-shock")
	p.Visit(t.url)
	p.Eval(`for (const d of document.querySelectorAll(".fold")) d.open = true`, nil)
	p.Do("Emulation.setEmulatedMedia", object{"media": "print"})
	p.Size(794, 1123, false) // A4 at 96 dots per inch
	p.Wait(`document.querySelector(".chart").getBoundingClientRect().width < 400`)
	p.Shot(t.shots, "print", true)
}
