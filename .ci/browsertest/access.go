package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"example.com/wheelrate/sag/setup"
)

// focused describes what has the focus: its id or what else tells it apart,
// whether it is in view, and how thick the line around it is.
const focused = `(() => {
	const e = document.activeElement;
	const shown = e.type === "radio" ? e.nextElementSibling : e;
	const r = shown.getBoundingClientRect();
	const style = getComputedStyle(shown);
	return {
		ID: e.type === "radio" ? "radio " + e.name : e.id || e.localName + " " + e.textContent.trim().slice(0, 30),
		InView: r.width > 0 && r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth,
		Outline: style.outlineStyle === "none" ? 0 : parseFloat(style.outlineWidth),
	};
})()`

type focus struct {
	ID      string
	InView  bool
	Outline float64
}

func (p *page) focus() (f focus) { p.Eval(focused, &f); return f }

// tabTo presses Tab until something has the focus.
func (p *page) tabTo(id string) {
	for range 200 {
		if p.focus().ID == id {
			return
		}
		p.Press("Tab")
	}
	fail("Tab never comes to %s", id)
}

func keyboard(t *tester, p *page) {
	p.Visit(t.url)
	p.Press("Tab")
	if f := p.focus(); !strings.Contains(f.ID, "Skip to the answers") || !f.InView {
		fail("the first thing is %+v, not the way to the answers", f)
	}
	p.Press("Enter")
	p.Wait(`document.activeElement.id === "main" || location.hash === "#main"`)
	p.Visit(t.url)

	for _, size := range [][2]int{{1280, 900}, {360, 740}} {
		p.Size(size[0], size[1], false)
		p.Visit(t.url)
		p.Eval(`for (const d of document.querySelectorAll("details:not(.find)")) d.open = true`, nil)
		p.Wait(`!document.getElementById("visit-keep").disabled`) // the visit follows the sheet a little later
		// What Tab must come to, in this order: everything to enter or press.
		var want []string
		p.Eval(`(() => { const seen = new Set(); return [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
			.filter(e => e.tabIndex >= 0 && !e.disabled && (e.checkVisibility() || e.type === "radio" && e.checkVisibility()))
			.map(e => e.type === "radio" ? "radio " + e.name : e.id || e.localName + " " + e.textContent.trim().slice(0, 30))
			.filter(id => !id.startsWith("radio ") || !seen.has(id) && seen.add(id)); })()`, &want)
		var got []string
		for range len(want) {
			p.Press("Tab")
			f := p.focus()
			if !f.InView {
				fail("%d pixels wide: %s has the focus out of view", size[0], f.ID)
			}
			if f.Outline < 2 {
				fail("%d pixels wide: nothing shows that %s has the focus", size[0], f.ID)
			}
			got = append(got, f.ID)
		}
		if !slices.Equal(got, want) || len(got) < 40 {
			fail("%d pixels wide: Tab comes to\n%v\nwant\n%v", size[0], got, want)
		}
	}

	p.Visit(t.url)
	p.Eval(`for (const d of document.querySelectorAll("details:not(.find)")) d.open = true`, nil)
	p.tabTo("masses.rider_mass")
	p.Press("SelectAll")
	p.Do("Input.insertText", object{"text": "90 kg"})
	job := change(demoJob("coil-shock"), `"78 kg"`, `"90 kg"`)
	p.agree(job)
	p.Press("Enter") // sends nothing anywhere
	p.agree(job)
	p.tabTo("radio share")
	p.Press("ArrowRight")
	p.Press("ArrowRight")
	p.tabTo("masses.front_scale")
	p.Do("Input.insertText", object{"text": "42 kg"})
	p.Press("Tab")
	p.Do("Input.insertText", object{"text": "64.2 kg"})
	job = change(job, `"rear_share": 0.59`, `"front_scale": "42 kg", "rear_scale": "64.2 kg"`)
	p.agree(job)
	p.Eval(`document.body.focus(); document.activeElement.blur(); scrollTo(0, 0)`, nil)
	p.tabTo("share")
	p.Press("Space")
	p.Wait(`!document.getElementById("shared").hidden`)
	p.tabTo("radio units")
	p.Press("ArrowRight")
	p.Wait(`document.querySelector("#out-front .chart").textContent.includes("lbf")`)
}

// node is an element as a screen reader gets it.
type node struct {
	Ignored    bool
	Role       struct{ Value string }
	Name       struct{ Value string }
	Properties []struct {
		Name  string
		Value struct{ Value any }
	}
	Description struct{ Value string }
}

func (p *page) nodes() []node {
	var tree struct{ Nodes []node }
	p.Get("Accessibility.getFullAXTree", object{}, &tree)
	return slices.DeleteFunc(tree.Nodes, func(n node) bool { return n.Ignored })
}

func screenReader(t *tester, p *page) {
	p.Visit(t.url)
	p.Eval(`for (const d of document.querySelectorAll("details:not(.find)")) d.open = true`, nil)
	count := map[string]int{}
	for _, n := range p.nodes() {
		role := n.Role.Value
		count[role]++
		switch role {
		case "textbox", "radio", "button", "combobox", "link", "image", "img", "table", "group", "region", "form", "columnheader", "rowheader", "status":
			if n.Name.Value == "" && role != "status" && role != "group" {
				fail("a %s without a name: %+v", role, n)
			}
		}
		if role == "textbox" && n.Description.Value == "" && !strings.HasPrefix(n.Name.Value, "Link") {
			fail("%s says nothing of what may be entered", n.Name.Value)
		}
	}
	for role, least := range map[string]int{"textbox": 25, "radio": 15, "main": 1, "banner": 1, "contentinfo": 1, "form": 1, "group": 8, "status": 1, "heading": 10, "table": 10, "rowheader": 40} {
		if count[role] < least {
			fail("%d of %s, want %d at the least; there are %v", count[role], role, least, count)
		}
	}
	if n := count["image"] + count["img"]; n < 5 {
		fail("%d pictures, want 5 at the least: %v", n, count)
	}
	if lang := p.Text(`document.documentElement.lang`); lang != "en" {
		fail("the page is in %q", lang)
	}
	var levels []int
	p.Eval(`[...document.querySelectorAll("h1,h2,h3,h4")].filter(h => h.checkVisibility()).map(h => Number(h.localName[1]))`, &levels)
	for i, l := range levels {
		if i > 0 && l > levels[i-1]+1 || i == 0 && l != 1 {
			fail("headings of levels %v", levels)
		}
	}
	// A change is read out, politely and once.
	p.enter("masses.rider_mass", "85 kg")
	read, err := setup.ReadJob(bytes.NewReader(change(demoJob("coil-shock"), `"78 kg"`, `"85 kg"`)))
	must(err)
	s, err := setup.NewSheet(read)
	must(err)
	fill := s.Front.Air.Options[0].Fill
	p.Wait(fmt.Sprintf(`document.getElementById("status").textContent.includes(%s)`, quote(fmt.Sprintf("%.2f bar (%.1f psi)", fill.Bar(), fill.PSI()))))
	// So is a fault, which also belongs to its field.
	p.enter("front.air.bore", "37 furlongs")
	p.Wait(`document.getElementById("status").textContent.includes("The job has 1 fault. Front, bore: 37 furlongs")`)
	found := false
	for _, n := range p.nodes() {
		if n.Name.Value != "Bore" || n.Role.Value != "textbox" || !strings.Contains(n.Description.Value, "37 furlongs") {
			continue
		}
		for _, property := range n.Properties {
			found = found || property.Name == "invalid" && property.Value.Value == "true"
		}
	}
	if !found {
		fail("the field at fault is not marked as such")
	}
}

// wide lists what reaches out of the window, but for what scrolls by itself.
const wide = `[...document.querySelectorAll("body *")].filter(e => {
	if (!e.checkVisibility() || e.closest(".unseen, .skip, textarea") || e.closest("svg") && e.localName !== "svg") return false;
	const scrolls = e.closest(".wide");
	if (scrolls && scrolls !== e) return false;
	const r = e.getBoundingClientRect();
	return r.width > 0 && (r.right > innerWidth + 0.5 || r.left < -0.5);
}).map(e => e.localName + "#" + e.id + "." + e.className + " " + e.textContent.trim().slice(0, 40)).slice(0, 5)`

// small lists what is too small to touch (24 pixels, WCAG 2.2, 2.5.8) or to read.
const small = `[...document.querySelectorAll("input:not([type=radio]), button, select, textarea, summary, label:has(input[type=radio])")].filter(e => {
	const r = e.getBoundingClientRect();
	return e.checkVisibility() && (r.width < 24 || r.height < 24);
}).map(e => e.localName + " " + e.id).concat([...document.querySelectorAll("body *")].filter(e =>
	e.checkVisibility() && !e.closest(".unseen") && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(e).fontSize) < 11
).map(e => e.localName + " " + e.textContent.slice(0, 30))).slice(0, 5)`

func narrow(t *tester, p *page) {
	for _, width := range []int{360, 320} {
		p.Size(width, 740, true)
		p.Visit(t.url)
		for _, name := range append(demoNames, "fault") {
			if name == "fault" {
				p.enter("front.curve.fork.head_angle", "64 furlongs-of-a-very-long-word-that-does-not-end-before-the-edge-of-the-window")
				p.Wait(`!document.getElementById("faults").hidden`)
			} else {
				p.demo(name)
				p.agree(demoJob(name))
			}
			p.Eval(`for (const d of document.querySelectorAll("details")) d.open = true`, nil)
			if w := p.Number(`document.documentElement.scrollWidth`); int(w) > width {
				fail("%s: %v pixels wide in a window of %d", name, w, width)
			}
			var list []string
			if p.Eval(wide, &list); len(list) > 0 {
				fail("%s: out of a window of %d: %s", name, width, strings.Join(list, "; "))
			}
			if p.Eval(small, &list); len(list) > 0 {
				fail("%s: too small: %s", name, strings.Join(list, "; "))
			}
		}
	}
}

// faint lists the words whose contrast with what is behind them is below 4.5
// (WCAG 2.2, 1.4.3), by the relative luminance defined there.
const faint = `(() => {
	const parse = c => { const m = c.match(/[\d.]+/g).map(Number); return [m[0], m[1], m[2], m[3] ?? 1]; };
	const light = c => { const [r, g, b] = c.map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
	const behind = e => { for (; e; e = e.parentElement) { const c = parse(getComputedStyle(e).backgroundColor); if (c[3] === 1) return c; } return [255, 255, 255, 1]; };
	const list = [];
	for (const e of document.querySelectorAll("body *")) {
		if (!e.checkVisibility() || e.closest(".unseen, option") || !(e.matches("input[type=text], textarea") || [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))) continue;
		const s = getComputedStyle(e), ink = parse(e.closest("svg") ? s.fill : s.color), ground = behind(e);
		const a = light(ink.slice(0, 3)), b = light(ground.slice(0, 3));
		const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
		if (ratio < 4.5) list.push(ratio.toFixed(2) + " " + e.localName + "." + (e.className.baseVal ?? e.className) + " " + (e.textContent || e.value).trim().slice(0, 30));
	}
	return list.slice(0, 8);
})()`

func contrast(t *tester, p *page) {
	p.Visit(t.url)
	for _, scheme := range []string{"light", "dark"} {
		p.Do("Emulation.setEmulatedMedia", object{"features": []object{{"name": "prefers-color-scheme", "value": scheme}}})
		for _, state := range []string{"sheet", "fault"} {
			p.demo("coil-shock")
			p.agree(demoJob("coil-shock"))
			if state == "fault" {
				p.enter("front.air.bore", "37 furlongs")
				p.Wait(`!document.getElementById("faults").hidden`)
			}
			p.Eval(`for (const d of document.querySelectorAll("details")) d.open = true`, nil)
			var list []string
			if p.Eval(faint, &list); len(list) > 0 {
				fail("%s, %s: %s", scheme, state, strings.Join(list, "; "))
			}
		}
	}
}
