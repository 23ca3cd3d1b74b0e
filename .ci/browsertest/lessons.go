package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// lessonNames returns the names of the lessons, by the links of the page.
func (p *page) lessonNames() (names []string) {
	p.Eval(`[...document.querySelectorAll(".contents a")].map(a => a.hash.slice(1))`, &names)
	if len(names) != 10 {
		fail("%d lessons: %v", len(names), names)
	}
	return names
}

// lessonShown waits until one lesson is shown and no other.
func (p *page) lessonShown(name string) {
	p.Eval("location.hash = "+quote(name), nil)
	p.Wait(fmt.Sprintf(`[...document.querySelectorAll(".lesson")].every(l => l.checkVisibility() === (l.id === %s))`, quote(name)))
}

// touchedLessons: each slider moves drawing, curve and text, by keys as well, and says its
// position; questions check themselves.
func touchedLessons(t *tester, p *page) {
	p.Visit(t.url + "lessons.html")
	names := p.lessonNames()
	for _, name := range names {
		p.lessonShown(name)
		at := func(selector string) string { return `document.querySelector("#` + name + ` ` + selector + `")` }
		if !p.Yes(`document.activeElement === ` + at("h2")) {
			fail("%s: the heading does not have the focus", name)
		}
		var sliders []string
		p.Eval(`[...document.querySelectorAll("#`+name+` [data-slider]")].map(s => s.id)`, &sliders)
		moved := map[string]bool{}
		for _, id := range sliders {
			outs := []string{"drawing", "curve", "now", "text"}
			was := map[string]string{}
			for _, out := range outs {
				was[out] = p.Text(at(`[data-out=`+out+`]`) + `.innerHTML`)
			}
			p.tabTo(id)
			spoken := p.Text(`document.activeElement.getAttribute("aria-valuetext")`)
			for range 6 {
				p.Press("ArrowLeft")
			}
			for range 3 {
				p.Press("ArrowRight")
			}
			if now := p.Text(`document.activeElement.getAttribute("aria-valuetext")`); now == spoken && p.Yes(`document.activeElement.value !== document.activeElement.min`) || now != p.Text(`document.activeElement.previousElementSibling.textContent`) {
				fail("%s: the slider %s stays at %q", name, id, now)
			}
			for _, out := range outs {
				moved[out] = moved[out] || p.Text(at(`[data-out=`+out+`]`)+`.innerHTML`) != was[out]
			}
		}
		for _, out := range []string{"drawing", "curve", "now", "text"} {
			if !moved[out] {
				fail("%s: %s does not follow a slider", name, out)
			}
		}
		p.Wait(`document.getElementById("status").textContent === ` + at(`[data-out=now]`) + `.textContent.replaceAll("\u00a0", " ").replaceAll("−", "-")`)
		// The quickest of many: others may use the machine as well.
		if step := p.Number(`(() => {
			const s = ` + at("[data-slider]") + `, times = [];
			for (let i = 0; i < 40; i++) {
				const start = performance.now();
				s.value = i % 2 ? s.min : s.max;
				s.dispatchEvent(new Event("input", {bubbles: true}));
				times.push(performance.now() - start);
			}
			return Math.min(...times);
		})()`); step > 16 {
			fail("%s: %.1f ms for a step of a slider", name, step)
		}
	}
	p.lessonShown("sag")
	p.Eval(`(() => { const s = document.getElementById("sag-rider"); s.value = 100; s.dispatchEvent(new Event("input", {bubbles: true})); })()`, nil)
	// Of 116 kg 0.6 less the unsprung 3 kg, on 90 N/mm behind a lever ratio of 2.5.
	load := (0.6*116 - 3) * 9.80665
	sag := load / (p.Number(`document.getElementById("sag-rate").value`) / 6.25)
	for _, want := range []string{fmt.Sprintf("%.0f N stand", load), fmt.Sprintf("%.1f mm of wheel travel, %.1f %%", sag, sag/1.5)} {
		if said := p.Text(`document.querySelector("#sag .now").textContent.replaceAll("\u00a0", " ")`); !strings.Contains(said, want) {
			fail("%q lacks %q", said, want)
		}
	}
	measured := p.Number(`(() => { const m = [...document.querySelectorAll("#sag .drawing .measure")][1].querySelector("path").getBBox(); return m.height; })()`)
	if math.Abs(measured-sag) > 0.1 {
		fail("the drawing sags %v, want %v", measured, sag)
	}
	question := `document.querySelector("#sag .question")`
	answer := func(text, want string) {
		p.Eval(question+`.querySelector("input").focus(); `+question+`.querySelector("input").select()`, nil)
		p.Do("Input.insertText", object{"text": text})
		p.Press("Enter")
		p.Wait(question + `.querySelector(".verdict").textContent.startsWith(` + quote(want) + `)`)
	}
	answer("1", "Not 1: the answer is larger.")
	answer(fmt.Sprintf("%.1f N/mm", load/42*6.25), "Right.")
	p.Eval(question+`.querySelector("[data-show]").click()`, nil)
	p.Wait(question + `.querySelector(".verdict").textContent.startsWith("` + fmt.Sprintf("%.1f", load/42*6.25) + `\u00a0N/mm")`)
	p.lessonShown("gas")
	for value, want := range []string{"No.", "Right.", "No."} {
		p.choose("gas-0", fmt.Sprint(value))
		p.Eval(`document.querySelector("#gas .question button").click()`, nil)
		p.Wait(`document.querySelector("#gas .verdict").textContent.startsWith(` + quote(want) + `)`)
	}
	p.Eval(`history.back()`, nil)
	p.Wait(`document.getElementById("sag").checkVisibility()`)
}

// readLessons: names for a screen reader, contrast, and room on a phone.
func readLessons(t *tester, p *page) {
	p.Size(360, 740, true)
	p.Visit(t.url + "lessons.html")
	for _, name := range append([]string{"lessons"}, p.lessonNames()...) {
		p.lessonShown(name)
		for _, scheme := range []string{"dark", "light"} {
			p.Do("Emulation.setEmulatedMedia", object{"features": []object{{"name": "prefers-color-scheme", "value": scheme}}})
			var list []string
			if p.Eval(faint, &list); len(list) > 0 {
				fail("%s, %s: %s", name, scheme, strings.Join(list, "; "))
			}
		}
		var list []string
		if p.Eval(wide, &list); len(list) > 0 {
			fail("%s: out of the window: %s", name, strings.Join(list, "; "))
		}
		if p.Eval(small, &list); len(list) > 0 {
			fail("%s: too small: %s", name, strings.Join(list, "; "))
		}
		for _, n := range p.nodes() {
			if slices.Contains([]string{"slider", "textbox", "radio", "button", "link", "image", "img", "radiogroup", "region", "article"}, n.Role.Value) && n.Name.Value == "" {
				fail("%s: a %s without a name", name, n.Role.Value)
			}
		}
	}
}

// lessonPictures takes pictures of the lessons to look at.
func lessonPictures(t *tester, p *page) {
	for _, window := range []struct {
		name, scheme  string
		width, height int
	}{{"phone", "light", 390, 844}, {"phone-dark", "dark", 390, 844}, {"desktop", "light", 1100, 900}, {"desktop-dark", "dark", 1100, 900}} {
		p.Size(window.width, window.height, window.width < 500)
		p.Do("Emulation.setEmulatedMedia", object{"features": []object{{"name": "prefers-color-scheme", "value": window.scheme}}})
		p.Visit(t.url + "lessons.html")
		for _, name := range append([]string{"lessons"}, p.lessonNames()...) {
			p.lessonShown(name)
			p.Shot(t.shots, "lesson-"+name+"-"+window.name, window.width < 500)
		}
	}
}
