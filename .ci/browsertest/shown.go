package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.com/wheelrate/ci/browsertest/expected"
)

// agree holds what the page shows against the library's answer for a job.
func (p *page) agree(job []byte) {
	p.Wait(`!document.getElementById("sheet").hidden && !document.getElementById("sheet").classList.contains("old")`)
	p.numbers(job)
}

// unfold opens everything that is folded away, and waits until it is filled in.
func (p *page) unfold() {
	p.Eval(`(async () => {
		for (const d of document.querySelectorAll("#results details")) d.open = true;
		await new Promise(done => setTimeout(done, 0));
	})()`, nil)
}

// numbers holds the sheet, current or not, against the library's answer for a job.
func (p *page) numbers(job []byte) {
	p.unfold()
	var wrong []string
	customary := p.Text(`document.querySelector("input[name=units]:checked").value`) == "customary"
	for key, want := range expected.Of(job) {
		if metric, other, _ := strings.Cut(want, "|"); customary && other != "" {
			want = other + "|" + metric
		}
		if got := p.shown(key); got != want {
			wrong = append(wrong, fmt.Sprintf("%s is %q on the page, %q by the library", key, got, want))
		}
	}
	if wrong != nil {
		fail("%s", strings.Join(wrong, "\n"))
	}
}

// shown is a row's value as the page shows it, "metric|customary" or the other way round as the
// system of units chosen has it, or how long a list is.
func (p *page) shown(key string) string {
	if parts := strings.Split(key, "."); parts[len(parts)-1] == "choices" || len(parts) == 1 {
		return p.Text(`document.querySelectorAll(` + quote(fmt.Sprintf("ul[data-out='%[1]s'] > li, table[data-out='%[1]s'] > tbody > tr", key)) + `).length`)
	}
	i := strings.LastIndexByte(key, '.')
	if key[i+1:] == "pump" {
		return p.Text(fmt.Sprintf(`document.querySelectorAll("[data-out=further] [data-section=pump][data-end=%s] tr").length`, key[:i]))
	}
	return p.Text(fmt.Sprintf(`(() => { const d = document.querySelector("[data-out='%s'] [data-key='%s'] td");
		return d ? d.firstChild.textContent + "|" + (d.querySelector("small")?.textContent ?? "") : "nothing"; })()`, key[:i], key[i+1:]))
}

// demoJob is the text of a demonstration, as the source has it.
func demoJob(name string) []byte {
	text, err := os.ReadFile(filepath.Join(examplesDir(), "webpage", "demo", name+".json"))
	must(err)
	return text
}

var demoNames = []string{"coil-shock", "air-both", "pivots", "gauge"}

// change is a job with one text in place of another, which must be there.
func change(job []byte, pairs ...string) []byte {
	for i := 0; i < len(pairs); i += 2 {
		if !bytes.Contains(job, []byte(pairs[i])) {
			fail("the job has no %s", pairs[i])
		}
		job = bytes.Replace(job, []byte(pairs[i]), []byte(pairs[i+1]), 1)
	}
	return job
}
