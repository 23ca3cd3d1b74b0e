package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.com/wheelrate/ci/browsertest/devtools"
	"example.com/wheelrate/examples/webpage/answer"
)

// answered is what the page should say of a visit, worked out here.
func answered(v map[string]any) *answer.Visit {
	text, err := json.Marshal(v)
	must(err)
	a := answer.WorkVisit(text)
	if len(a.Faults) > 0 {
		fail("%v", a.Faults)
	}
	return a
}

// told holds what the page says of a visit against that: every sentence and every number of it.
func (p *page) told(a *answer.Visit) {
	p.Wait(`!document.getElementById("visit-answer").hidden && !document.getElementById("visit-answer").classList.contains("old")`)
	var got []string
	p.Eval(`[...document.querySelectorAll("#visit-answer li, #visit-answer td")].map(e => e.localName === "li" ? e.textContent : e.firstChild.textContent + "|" + (e.querySelector("small")?.textContent ?? ""))`, &got)
	var want []string
	for _, s := range a.Sections {
		want = append(want, s.Says...)
		for _, r := range s.Rows {
			want = append(want, r.Metric+"|"+r.Customary)
		}
	}
	for _, text := range want {
		if plain := strings.NewReplacer("−", "-").Replace(strings.Join(got, "\n")); !strings.Contains(plain, strings.ReplaceAll(text, "−", "-")) {
			fail("the page does not say %q; it says\n%s", text, plain)
		}
	}
	if len(got) != len(want) {
		fail("%d sentences and numbers, want %d", len(got), len(want))
	}
}

// visits: a record kept in the browser, rings read on it, what to do, the record for next time; and
// the same after the page is opened again.
func visits(t *tester, p *page) {
	p.Visit(t.url)
	var job map[string]any
	must(json.Unmarshal(demoJob("coil-shock"), &job))
	first := map[string]any{"schema": "wheelrate/visit/1", "date": "2026-11-25", "job": job, "conditions": object{"temperature": "12 °C", "altitude": "300 m"}}
	p.enter("visit.date", "2026-11-25")
	p.enter("visit.conditions.temperature", "12 °C")
	p.enter("visit.conditions.altitude", "300 m")
	a := answered(first)
	p.told(a)
	p.Eval(`document.getElementById("visit-keep").click()`, nil)
	p.Wait(`document.getElementById("visit-from").value === "0"`)
	p.Wait(`document.getElementById("status").textContent.includes("kept in this browser")`)

	// The next day, on the page opened anew.
	p.Visit(t.url)
	var record map[string]any
	must(json.Unmarshal(a.Next, &record))
	p.enter("visit.date", "2026-11-26")
	p.enter("visit.conditions.temperature", "80 °F")
	p.enter("visit.conditions.altitude", "1200 m")
	p.enter("visit.front.readings", "36 mm, 1 mm\n35.5 mm; 1 mm")
	p.enter("visit.front.fill", "84 psi")
	p.enter("visit.rear.ride.stroke", "58 mm")
	p.enter("visit.rear.ride.error", "1 mm")
	p.Eval(`(() => { const f = document.getElementById("visit.rear.felt"); f.value = "too_soft"; f.dispatchEvent(new Event("input", {bubbles: true})); })()`, nil)
	second := map[string]any{
		"schema": "wheelrate/visit/1", "date": "2026-11-26", "record": record, "conditions": object{"temperature": "80 °F", "altitude": "1200 m"},
		"front": object{"fill": "84 psi", "readings": []object{{"stroke": "36 mm", "error": "1 mm"}, {"stroke": "35.5 mm", "error": "1 mm"}}},
		"rear":  object{"ride": object{"stroke": "58 mm", "error": "1 mm"}, "felt": "too_soft"},
	}
	a = answered(second)
	p.told(a)
	advice := 0
	for _, s := range a.Sections {
		if s.Key == "advice" {
			advice += len(s.Says)
		}
	}
	if got := int(p.Number(`document.querySelectorAll("#visit-answer ol > li").length`)); got != advice || got == 0 {
		fail("%d lines of advice, want %d", got, advice)
	}

	// The next step of each end that was read stands in its card.
	if got := p.Text(`document.querySelector("[data-out='front.next']").textContent`); got != a.Steps["front"] || got == "" {
		fail("next in the card is %q, want %q", got, a.Steps["front"])
	}

	// A fault stands beside its field, and the answer before it stays.
	p.enter("visit.front.readings", "36 mm, 1 mm\n35.5 mm, 300 mm")
	p.Wait(`document.getElementById("visit.front.readings-fault").textContent.startsWith("Line 2, error: 300 mm")`)
	if !p.Yes(`document.getElementById("visit-answer").classList.contains("old") && document.getElementById("visit-keep").disabled`) {
		fail("the answer before the fault is not marked, or can be kept")
	}
	p.enter("visit.front.readings", "36 mm, 1 mm\n35.5 mm, 1 mm")
	p.told(a)

	// The record for next time, saved and opened elsewhere.
	p.Eval(`document.getElementById("visit-keep").click()`, nil)
	p.Wait(`document.getElementById("visit-from").options.length === 3 && document.getElementById("visit.front.readings").value === ""`)
	must(t.b.Call("", "Browser.setDownloadBehavior", object{"behavior": "allow", "downloadPath": t.dir, "browserContextId": p.Context}, nil))
	p.Eval(`document.getElementById("visit-save").click()`, nil)
	saved := filepath.Join(t.dir, "record-2026-11-26.json")
	var text []byte
	devtools.WaitFor("the saved record", func() bool { text, _ = os.ReadFile(saved); return len(text) > 0 && text[len(text)-1] == '\n' })
	if canonical(text) != canonical(a.Next) {
		fail("kept\n%s\nsaved\n%s", canonical(a.Next), canonical(text))
	}
	other := t.open()
	other.Visit(t.url)
	other.file(saved)
	other.Wait(`document.getElementById("visit-from").value === "0"`)
	other.enter("visit.date", "2026-11-27")
	var again map[string]any
	must(json.Unmarshal(text, &again))
	other.told(answered(map[string]any{"schema": "wheelrate/visit/1", "date": "2026-11-27", "record": again}))
	// The sag over the visits, once there are several with a reading.
	other.enter("visit.front.readings", "34 mm, 1 mm")
	other.Wait(`document.querySelector("#visit-history svg")`)
	want := answered(map[string]any{"schema": "wheelrate/visit/1", "date": "2026-11-27", "record": again, "front": object{"readings": []object{{"stroke": "34 mm", "error": "1 mm"}}}})
	if got := other.Text(`document.querySelector("#visit-history figcaption").textContent`); got != want.History.Title+". "+want.History.Caption {
		fail("the history says %q, want %q", got, want.History.Caption)
	}
	other.Shot(t.shots, "history", false)
	other.enter("visit.front.readings", "")
	// A file that only claims to be a record changes nothing.
	bad := filepath.Join(t.dir, "bad-record.json")
	must(os.WriteFile(bad, bytes.Replace(text, []byte(`"mm"`), []byte(`mm`), 1)[:len(text)/2], 0o600))
	other.file(bad)
	other.Wait(`!document.getElementById("trouble").hidden`)
	must(os.WriteFile(bad, []byte(`{"schema": "wheelrate/record/1", "date": "2026-11-27"}`), 0o600))
	other.file(bad)
	other.Wait(`document.getElementById("visit-trouble").textContent.includes("no record that can be read")`)
	if n := int(other.Number(`document.getElementById("visit-from").options.length`)); n != 2 {
		fail("%d ways to start after a bad record", n)
	}
	other.Eval(`document.getElementById("visit-forget").click()`, nil)
	other.Wait(`document.getElementById("visit-from").options.length === 1 && document.getElementById("visit-forget").disabled`)
	other.Clean()

	// One end alone has nothing of the other to say.
	p.Eval(`(() => { const f = document.getElementById("visit-from"); f.value = ""; f.dispatchEvent(new Event("input", {bubbles: true})); })()`, nil)
	p.choose("rear", "none")
	p.Wait(`document.getElementById("in-rear-found").hidden && !document.querySelector("#visit-answer [data-end=rear]")`)
	if fmt.Sprint(p.Text(`document.querySelectorAll("#visit-answer [data-end=front]").length`)) == "0" {
		fail("nothing is said of the front")
	}
}
