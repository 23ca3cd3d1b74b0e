package main

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// movedPoints: a point of the linkage is dragged, and then moved by the arrow keys. Curve and text follow,
// each step in less than a picture of the screen takes, and a linkage that locks is told.
func movedPoints(t *tester, p *page) {
	p.Visit(t.url)
	p.demo("pivots")
	p.agree(demoJob("pivots"))
	p.Visit(t.url + "linkage.html")
	grip := `[...document.querySelectorAll(".grip")].find(g => g.getAttribute("aria-label").startsWith("Point lower eye"))`
	says := func() string { return p.Text(`document.querySelector(".linkage-says").textContent`) }
	was := says()
	// The pointer goes 20 pixels to the right.
	p.Eval(`(() => {
		const g = `+grip+`, b = g.getBoundingClientRect(), x = b.x + b.width / 2, y = b.y + b.height / 2;
		const send = (type, dx) => g.dispatchEvent(new PointerEvent(type, {bubbles: true, cancelable: true, pointerId: 1, clientX: x + dx, clientY: y}));
		g.setPointerCapture = () => {};
		send("pointerdown", 0);
		for (let i = 1; i <= 20; i++) send("pointermove", i);
	})()`, nil)
	p.Wait(`document.querySelector(".linkage-says").textContent !== ` + quote(was))
	p.Eval(grip+`.dispatchEvent(new PointerEvent("lostpointercapture", {pointerId: 1}))`, nil)
	var spec mechanism.Spec
	must(json.Unmarshal([]byte(p.Text(`document.getElementById("mechanism").value`)), &spec))
	at := spec.Points["lower eye"]
	if x := at[0].Millimetres(); !(x > -85) || at[1].Millimetres() != 232 {
		fail("dragged to %v", at)
	}
	if x := p.Number(grip + `.getAttribute("transform").match(/translate\(([-.\d]+)/)[1]`); math.Abs(x-at[0].Millimetres()) > 1e-9 {
		fail("drawn at %v, and typed at %v", x, at)
	}
	m, err := mechanism.New(spec)
	must(err)
	if want := fmt.Sprintf("Travel %.1f mm. Lever ratio %.3f", m.Pose(m.Stroke()).Travel.Millimetres(), m.Pose(0).LeverRatio); !strings.HasPrefix(says(), want) {
		fail("told %q, want %q", says(), want)
	}
	// By the keys, back again by as much.
	p.Eval(grip+`.focus()`, nil)
	p.Press("ArrowLeft")
	p.Wait(grip + `.getAttribute("aria-label").includes("x ` + tenths(at[0].Millimetres()-1) + ` mm")`)
	p.Wait(`document.getElementById("mechanism").value.includes("` + tenths(at[0].Millimetres()-1) + ` mm")`)
	// Typed, with a fault that is told, and without.
	good := p.Text(`document.getElementById("mechanism").value`)
	p.enter("mechanism", strings.Replace(good, "62 mm", "62 furlongs", 1))
	p.Wait(`document.getElementById("mechanism-fault").textContent.includes("62 furlongs")`)
	p.enter("mechanism", good)
	p.Wait(`document.getElementById("mechanism-fault").textContent === ""`)
	// A point's place typed, in the unit that is chosen, and the band of a tolerance.
	p.Eval(`(() => { const i = document.querySelector("#places [data-point=axle] input"); i.value = "-440"; i.dispatchEvent(new Event("change", {bubbles: true})); })()`, nil)
	p.Wait(`document.getElementById("mechanism").value.includes("-440 mm")`)
	p.enter("within", "0.2")
	must(json.Unmarshal([]byte(p.Text(`document.getElementById("mechanism").value`)), &spec))
	m, err = mechanism.New(spec)
	must(err)
	tolerance, err := mechanism.NewTolerance(m, mechanism.Tolerances{Every: 0.2 * units.Millimetre})
	must(err)
	p.Wait(`document.querySelector(".linkage-chart .tolerance")`)
	last := fmt.Sprintf("%.1f|%.3f|%.3f", m.Pose(m.Stroke()).Travel.Millimetres(), m.Pose(m.Stroke()).LeverRatio, tolerance.Spread(m.PoseGradient(m.Stroke()).LeverRatio).WorstCase)
	if got := p.Text(`[...document.querySelectorAll("#curve tbody tr:last-child > *")].map(c => c.textContent).join("|")`); got != last {
		fail("the curve ends at %s, want %s", got, last)
	}
	p.enter("within", "")
	p.enter("mechanism", good)
	// One step of the pointer, and all that is drawn for it.
	const n = 60
	step := p.least(3, func(int) {
		p.Eval(fmt.Sprintf(`(() => {
			const text = document.getElementById("mechanism").value;
			for (let i = 0; i < %d; i++) JSON.parse(wheelrateLinkage(text, ""));
		})()`, n), nil)
	})
	if !(step < n*16) {
		fail("a step takes %.1f ms", step/n)
	}
	if t.shots != "" {
		p.Shot(t.shots, "linkage-desktop", false)
		p.Size(390, 844, true)
		p.Shot(t.shots, "linkage-phone", false)
	}
	// The set-up's own linkage, and back to it.
	p.Eval(`document.getElementById("to-job").click()`, nil)
	p.Visit(t.url)
	var job struct {
		Rear struct {
			Curve struct{ Mechanism json.RawMessage }
		}
	}
	must(json.Unmarshal(p.job(), &job))
	if canonical(job.Rear.Curve.Mechanism) != canonical([]byte(good)) {
		fail("the set-up has the linkage\n%s\nwant\n%s", job.Rear.Curve.Mechanism, good)
	}
	p.agree(p.job())
}

// tenths is a number to a tenth.
func tenths(v float64) string {
	text, _ := json.Marshal(math.Round(v*10) / 10)
	return string(text)
}
