package main

import (
	"encoding/json"
	"math"
	"strings"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag/setup"
)

// movedPoints: a point of the linkage is dragged, and then moved by the arrow keys. Curve, form and sheet
// follow, each step in less than a picture of the screen takes, and a linkage that locks is told.
func movedPoints(t *tester, p *page) {
	p.visit(t.url)
	if p.yes(`!document.getElementById("linkage").hidden`) {
		fail("a linkage for a curve without pivots")
	}
	p.demo("pivots")
	p.wait(`!document.getElementById("linkage").hidden`)
	grip := `[...document.querySelectorAll(".grip")].find(g => g.getAttribute("aria-label").startsWith("Point lower eye"))`
	says := func() string { return p.text(`document.querySelector(".linkage-says").textContent`) }
	was := says()
	// The pointer goes 20 pixels to the right.
	p.eval(`(() => {
		const g = `+grip+`, b = g.getBoundingClientRect(), x = b.x + b.width / 2, y = b.y + b.height / 2;
		const send = (type, dx) => g.dispatchEvent(new PointerEvent(type, {bubbles: true, cancelable: true, pointerId: 1, clientX: x + dx, clientY: y}));
		g.setPointerCapture = () => {};
		send("pointerdown", 0);
		for (let i = 1; i <= 20; i++) send("pointermove", i);
	})()`, nil)
	p.wait(`document.querySelector(".linkage-says").textContent !== ` + quote(was))
	p.eval(grip+`.dispatchEvent(new PointerEvent("lostpointercapture", {pointerId: 1}))`, nil)
	p.wait(`document.getElementById("sheet").classList.contains("old") === false`)
	var job struct {
		Rear struct {
			Curve struct{ Mechanism mechanism.Spec }
		}
	}
	must(json.Unmarshal(p.job(), &job))
	at := job.Rear.Curve.Mechanism.Points["lower eye"]
	if x := at[0].Millimetres(); !(x > -85) || at[1].Millimetres() != 232 {
		fail("dragged to %v", at)
	}
	if x := p.number(grip + `.getAttribute("transform").match(/translate\(([-.\d]+)/)[1]`); math.Abs(x-at[0].Millimetres()) > 1e-9 {
		fail("drawn at %v, and in the job at %v", x, at)
	}
	p.agree(p.job())
	// By the keys, back again by as much.
	p.eval(grip+`.focus()`, nil)
	p.press("ArrowLeft")
	p.wait(grip + `.getAttribute("aria-label").includes("x ` + tenths(at[0].Millimetres()-1) + ` mm")`)
	p.wait(`document.querySelector('[data-path="rear.curve.mechanism"]').value.includes("` + tenths(at[0].Millimetres()-1) + ` mm")`)
	p.agree(p.job())
	// One step of the pointer, and all that is drawn for it.
	step := p.number(`(() => {
		const text = document.querySelector('[data-path="rear.curve.mechanism"]').value, n = 60, start = performance.now();
		for (let i = 0; i < n; i++) JSON.parse(wheelrateLinkage(text));
		return (performance.now() - start) / n;
	})()`)
	if !(step < 16) {
		fail("a step takes %.1f ms", step)
	}
	if _, err := setup.ReadJob(strings.NewReader(string(p.job()))); err != nil {
		fail("%v", err)
	}
	if t.shots != "" {
		p.eval(`document.getElementById("linkage").scrollIntoView()`, nil)
		p.shot(t.shots, "linkage-desktop", false)
		p.size(390, 844, true)
		p.demo("pivots")
		p.eval(`document.getElementById("linkage").scrollIntoView()`, nil)
		p.shot(t.shots, "linkage-phone", false)
	}
	p.clean()
}

// tenths is a number to a tenth.
func tenths(v float64) string {
	text, _ := json.Marshal(math.Round(v*10) / 10)
	return string(text)
}
