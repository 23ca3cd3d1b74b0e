package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"example.com/wheelrate/sag/setup"
)

// want is what the library says of a job, worked out here, outside the
// browser, and put into words in this program's own way.
func want(job []byte) map[string]string {
	read, err := setup.ReadJob(bytes.NewReader(job))
	must(err)
	s, err := setup.NewSheet(read)
	must(err)
	w := map[string]string{
		"loads.share": fmt.Sprintf("%.1f %%|", s.Loads.RearShare*100),
		"riders":      fmt.Sprint(len(s.Riders)),
		"left-out":    fmt.Sprint(len(s.LeftOut)),
		"warnings":    fmt.Sprint(len(s.Warnings)),
		"cautions":    fmt.Sprint(len(s.Cautions)),
	}
	if s.Front != nil {
		w["loads.front_spring"] = fmt.Sprintf("%.0f N|%.1f lbf", s.Loads.Front.Newtons(), s.Loads.Front.PoundsForce())
	}
	if s.Rear != nil {
		w["loads.rear_wheel"] = fmt.Sprintf("%.0f N|%.1f lbf", s.Loads.RearWheel.Newtons(), s.Loads.RearWheel.PoundsForce())
	}
	if s.FrequencyRatio > 0 {
		w["both.frequency_ratio"] = fmt.Sprintf("%.2f|", s.FrequencyRatio)
	}
	for _, e := range s.Ends() {
		name := string(e.Axle)
		w[name+".measure.wheel"] = fmt.Sprintf("%.1f mm|%.2f in", e.Measure[1].Expected.Millimetres(), e.Measure[1].Expected.Inches())
		if e.Pump != nil {
			w[name+".pump"] = fmt.Sprint(len(e.Pump.Steps))
		}
		if e.Gauge != nil {
			w[name+".fit.fill"] = fmt.Sprintf("%.2f bar|%.1f psi", e.Gauge.Fill.Bar(), e.Gauge.Fill.PSI())
		}
		if e.State == nil { // its readings don't tell the spring
			w[name+".expect.sag"], w[name+".choices"] = "nothing", "0"
			if r := e.Settled(); r != nil {
				w[name+".expect.sag"] = fmt.Sprintf("%.1f mm|%.2f in", r.Travel.Millimetres(), r.Travel.Inches())
			}
			continue
		}
		w[name+".expect.sag"] = fmt.Sprintf("%.1f mm|%.2f in", e.Rest.Travel.Millimetres(), e.Rest.Travel.Inches())
		w[name+".expect.shock_sag"] = fmt.Sprintf("%.1f mm|%.2f in", e.Rest.Stroke.Millimetres(), e.Rest.Stroke.Inches())
		w[name+".expect.wheel_rate"] = fmt.Sprintf("%.2f N/mm|%.0f lbf/in", e.Rest.WheelRate.NewtonsPerMillimetre(), e.Rest.WheelRate.PoundsForcePerInch())
		w[name+".expect.lever_ratio"] = fmt.Sprintf("%.3f|", e.Rest.LeverRatio)
		w[name+".full.full_force"] = fmt.Sprintf("%.0f N|%.1f lbf", e.Reserve.FullForce.Newtons(), e.Reserve.FullForce.PoundsForce())
		if e.Coil != nil {
			best := e.Coil.Candidates[0]
			w[name+".fit.rate"] = fmt.Sprintf("%.2f N/mm|%.0f lbf/in", best.Rate.NewtonsPerMillimetre(), best.Rate.PoundsForcePerInch())
			w[name+".fit.preload"] = fmt.Sprintf("%.1f mm|%.2f in", best.Preload.Millimetres(), best.Preload.Inches())
			w[name+".choices"] = fmt.Sprint(len(e.Coil.Candidates))
			continue
		}
		if e.Air == nil {
			continue
		}
		best := e.Air.Options[0]
		w[name+".fit.fill"] = fmt.Sprintf("%.2f bar|%.1f psi", best.Fill.Bar(), best.Fill.PSI())
		w[name+".fit.spacers"] = fmt.Sprintf("%d|", best.Spacers)
		w[name+".choices"] = fmt.Sprint(len(e.Air.Options))
	}
	return w
}

// agree holds what the page shows against the library's answer for a job.
func (p *page) agree(job []byte) {
	p.wait(`!document.getElementById("sheet").hidden && !document.getElementById("sheet").classList.contains("old")`)
	p.numbers(job)
}

// unfold opens everything that is folded away, and waits until it is filled in.
func (p *page) unfold() {
	p.eval(`(async () => {
		for (const d of document.querySelectorAll("#results details")) d.open = true;
		await new Promise(done => setTimeout(done, 0));
	})()`, nil)
}

// numbers holds the sheet, current or not, against the library's answer for a job.
func (p *page) numbers(job []byte) {
	p.unfold()
	var wrong []string
	customary := p.text(`document.querySelector("input[name=units]:checked").value`) == "customary"
	for key, want := range want(job) {
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
		return p.text(`document.querySelectorAll(` + quote(fmt.Sprintf("ul[data-out='%[1]s'] > li, table[data-out='%[1]s'] > tbody > tr", key)) + `).length`)
	}
	i := strings.LastIndexByte(key, '.')
	if key[i+1:] == "pump" {
		return p.text(fmt.Sprintf(`document.querySelectorAll("[data-out=further] [data-section=pump][data-end=%s] tr").length`, key[:i]))
	}
	return p.text(fmt.Sprintf(`(() => { const d = document.querySelector("[data-out='%s'] [data-key='%s'] td");
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
