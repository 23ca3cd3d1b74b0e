package main

import (
	"encoding/json"
	"fmt"
	"strings"
)

// own makes a bike of one's own and enters a fork that is known by its gauge and its ring, in seven
// entries. It returns the job that they come to.
func (p *page) own() []byte {
	p.Eval(`document.getElementById("bike-new").click()`, nil)
	p.enter("masses.rider_mass", "82")
	p.choose("front", "gauge")
	p.enter("front.curve.fork.travel", "160")
	p.cell("front.gauge.readings", 0, 0, "62 psi")
	p.cell("front.gauge.readings", 0, 1, "43")
	p.enter("front.gauge.max_fill", "10")
	p.choose("front.gauge", "self_filling")
	p.Eval(`document.activeElement.blur()`, nil)
	return []byte(`{"schema": "wheelrate/job/1", "masses": {"rider_mass": "82 kg"}, "front": {"curve": {"fork": {"travel": "160 mm"}}, "sag": 0.2,
		"gauge": {"negative_chamber": "self_filling", "max_fill": "10 bar", "readings": [{"fill": "62 psi", "stroke": "43 mm"}]}}}`)
}

// cell enters a text into a cell of a field of lines, as typed there at once.
func (p *page) cell(field string, line, column int, text string) {
	p.Eval(fmt.Sprintf(`(() => { const i = document.getElementById(%s).closest(".field").querySelectorAll(".cells .line:not([aria-hidden])")[%d].querySelectorAll("input")[%d];
		for (let d = i.closest("details"); d; d = d.parentElement.closest("details")) d.open = true; i.focus(); i.select(); })()`, quote(field), line, column), nil)
	p.Do("Input.insertText", object{"text": text})
}

// ownBike: from nothing to the library's answer in seven entries, with the units written down, and what
// was taken for granted told with its way to the field.
func ownBike(t *tester, p *page) {
	p.Size(390, 844, true)
	p.Visit(t.url)
	job := p.own()
	p.agree(job)
	if got := canonical(p.job()); got != canonical(job) {
		fail("the link carries\n%s\nwant\n%s", got, canonical(job))
	}
	for id, want := range map[string]string{"masses.rider_mass": "82 kg", "front.curve.fork.travel": "160 mm", "front.gauge.readings": "62 psi, 43 mm", "front.gauge.max_fill": "10 bar", "front.sag": ""} {
		if got := p.Text(`document.getElementById(` + quote(id) + `).value`); got != want {
			fail("%s holds %q, want %q", id, got, want)
		}
	}
	// The sag is the page's own to take; with another value the fill is another, and the link leads there.
	p.Wait(`document.querySelector("[data-out='front.card'] [data-taken='front.sag'] span").textContent.startsWith(": with 25 % the exact fill is ")`)
	p.Eval(`(() => { const d = document.querySelector("[data-out='front.card'] .granted"); d.open = true; d.querySelector("[data-taken='front.sag'] a").click(); })()`, nil)
	if got := p.Text(`document.activeElement.id`); got != "front.sag" {
		fail("what was taken leads to %q", got)
	}
	// A coil behind, of which only the travel is known: everything else is taken for granted, and told.
	p.choose("rear", "coil")
	p.enter("rear.curve.travel", "150")
	p.Wait(`document.querySelector("[data-out='rear.card'] .big") && !document.getElementById("sheet").classList.contains("old")`)
	p.agree(p.job())
	for _, path := range []string{"masses.bike_mass", "masses.unsprung_rear", "masses.rear_share", "rear.curve.constant", "rear.coil.shelf", "rear.sag"} {
		if !p.Yes(`document.querySelector("[data-out='rear.card'] [data-taken='` + path + `'] a")`) {
			fail("nothing is said of %s, which was taken for granted", path)
		}
	}
	// Half an entry leaves the answers where they are, and the one without a fault follows.
	was := p.Text(`document.querySelector("[data-out='rear.card'] .big").textContent`)
	p.enter("rear.curve.travel", "150 furlongs")
	p.Wait(`document.querySelector("[data-out='rear.card']").classList.contains("old") && document.querySelector("[data-out='rear.card'] .before").checkVisibility()`)
	if got := p.Text(`document.querySelector("[data-out='rear.card'] .big").textContent`); got != was {
		fail("the answer before the fault was %q, and is %q now", was, got)
	}
	if p.Yes(`document.querySelector("[data-out='front.card']").classList.contains("old")`) {
		fail("a fault of the rear marks the front")
	}
	// Taken for granted again by a press.
	p.enter("rear.curve.travel", "150 mm")
	p.enter("rear.curve.constant", "3")
	p.agree(p.job())
	p.Eval(`document.querySelector("[data-take='rear.curve.constant']").click()`, nil)
	p.Wait(`document.getElementById("rear.curve.constant").value === "" && document.getElementById("rear.curve.constant").placeholder === "2.6 (taken)"`)
	p.agree(p.job())
	if !strings.Contains(canonical(p.job()), `"constant": 2.6`) {
		fail("taken for granted, and not in the job")
	}
}

// shelfCells: a comma in a number and a third part of a line are told beside the cells.
func shelfCells(t *tester, p *page) {
	p.Visit(t.url)
	p.cell("rear.coil.shelf", 2, 1, "78,8")
	p.Eval(`document.activeElement.blur()`, nil)
	p.Wait(`document.getElementById("rear.coil.shelf-fault").textContent.startsWith("Line 3, solid travel: 78,8")`)
	if !p.Yes(`document.querySelectorAll("#in-rear .cells .line:not([aria-hidden])")[2].querySelectorAll("input")[1].getAttribute("aria-invalid") === "true" && document.querySelectorAll("#in-rear .cells [aria-invalid]").length === 1`) {
		fail("the cell at fault is not marked, or another is")
	}
	p.cell("rear.coil.shelf", 2, 1, "78.8")
	p.Eval(`document.activeElement.blur()`, nil)
	p.agree(change(demoJob("coil-shock"), `{"rate": "425 lbf/in", "solid_travel": "69 mm"}`, `{"rate": "425 lbf/in", "solid_travel": "78.8 mm"}`))
	p.cell("rear.coil.shelf", 2, 1, "69 mm, red")
	p.Eval(`document.activeElement.blur()`, nil)
	p.Wait(`document.getElementById("rear.coil.shelf-fault").textContent.startsWith("Line 3, solid travel: 69 mm, red")`)
	// An empty line is ignored, and one more comes below the last.
	for _, column := range []int{0, 1} {
		p.cell("rear.coil.shelf", 2, column, " ")
	}
	p.cell("rear.coil.shelf", 6, 0, "525 lbf/in")
	p.Eval(`document.activeElement.blur()`, nil)
	p.agree(change(demoJob("coil-shock"), `{"rate": "425 lbf/in", "solid_travel": "69 mm"},`, ``, `{"rate": "500 lbf/in", "solid_travel": "67 mm"}`, `{"rate": "500 lbf/in", "solid_travel": "67 mm"}, {"rate": "525 lbf/in"}`))
}

// keptBikes: several bikes by name, kept with their faults over a reload; undone; and a store that is
// spoiled, of another version, or full.
func keptBikes(t *tester, p *page) {
	p.Visit(t.url)
	job := p.own()
	p.agree(job)
	p.enter("bike-name", "The red one")
	p.Eval(`document.activeElement.blur()`, nil)
	p.enter("masses.rider_mass", "90 kg")
	p.Eval(`document.activeElement.blur()`, nil)
	p.agree(change(job, "82 kg", "90 kg"))
	p.Eval(`document.getElementById("undo").click()`, nil)
	p.agree(job)
	p.enter("front.gauge.max_fill", "ten")
	p.Visit(t.url)
	p.Wait(`document.getElementById("front.gauge.max_fill").value === "ten" && document.getElementById("front.gauge.max_fill-fault").textContent.includes("want a gauge pressure")`)
	p.enter("front.gauge.max_fill", "10 bar")
	p.agree(job)
	names := func() (list []string) {
		p.Eval(`[...document.getElementById("bike").options].map(o => o.textContent)`, &list)
		return list
	}
	if got := names(); len(got) != 2 || got[1] != "The red one" {
		fail("bikes %q", got)
	}
	p.Eval(`(() => { const b = document.getElementById("bike"); b.value = b.options[0].value; b.dispatchEvent(new Event("change", {bubbles: true})); })()`, nil)
	p.agree(demoJob("coil-shock"))
	p.Eval(`document.getElementById("bike-forget").click()`, nil)
	p.agree(job)
	if got := names(); len(got) != 1 {
		fail("bikes %q after one is forgotten", got)
	}
	// Units are kept, and a number alone takes them.
	p.choose("units", "customary")
	p.Visit(t.url)
	p.enter("masses.rider_mass", "200")
	p.Eval(`document.activeElement.blur()`, nil)
	p.Wait(`document.getElementById("masses.rider_mass").value === "200 lb" && document.querySelector("[data-out='front.card'] .big").firstChild.textContent.endsWith(" psi")`)
	for name, spoil := range map[string]string{
		"no JSON":         `localStorage.setItem("wheelrate-bikes", "{what")`,
		"another version": `localStorage.setItem("wheelrate-bikes", JSON.stringify({schema: "wheelrate/bikes/99", bikes: []}))`,
		"no form":         `localStorage.setItem("wheelrate-bikes", JSON.stringify({schema: "wheelrate/bikes/1", bikes: [{id: "1", name: "one", records: []}]}))`,
	} {
		p.Eval(spoil, nil)
		p.Visit(t.url)
		p.Wait(`!document.getElementById("trouble").hidden`)
		if got := p.Text(`document.getElementById("trouble").textContent`); !strings.Contains(got, "can't be read") || !p.Yes(`localStorage.getItem("wheelrate-bikes-unread")`) {
			fail("%s: told %q", name, got)
		}
		p.Wait(`document.querySelector("[data-out='front.card'] .big")`)
	}
	// No room left: told, and the page goes on.
	p.Eval(`Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); }`, nil)
	p.enter("masses.rider_mass", "80 kg")
	p.Eval(`document.activeElement.blur()`, nil)
	p.Wait(`document.getElementById("trouble").textContent.includes("no room left")`)
	p.Wait(`!document.getElementById("sheet").classList.contains("old")`)
	var told struct {
		Masses struct {
			RiderMass string `json:"rider_mass"`
		}
	}
	must(json.Unmarshal(p.job(), &told))
	if told.Masses.RiderMass != "80 kg" {
		fail("with no room left the job has %q", told.Masses.RiderMass)
	}
}
