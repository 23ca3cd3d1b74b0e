package main

import (
	"fmt"
	"math"

	"example.com/wheelrate/ci/browsertest/amounts"
	"example.com/wheelrate/ci/browsertest/statics"
)

// end is one end of a demonstration, against which the page is held.
type end struct{ statics.End }

// drawn is a picture's line, dot and band as numbers: those of its axes, read off the numbers beside
// them as a person does.
type drawn struct {
	Line           [][2]float64 // the first one, standing still
	Dot            *[2]float64
	Band           *[2]float64
	Along, Upright string // what the axes say of themselves
}

// reading takes a picture apart.
const reading = `(c => {
	const number = t => Number(t.textContent.replace("−", "-"));
	const scale = marks => { const [a, b] = [marks[0], marks[marks.length - 1]]; return v => a[1] + (v - a[0]) * (b[1] - a[1]) / (b[0] - a[0]); };
	const x = scale([...c.querySelectorAll(".tick")].map(t => [Number(/^M([\d.]+) /.exec(t.getAttribute("d"))[1]), number(t.nextElementSibling)]));
	const y = scale([...c.querySelectorAll(".grid")].map(t => [Number(/^M[\d.]+ ([\d.]+)H/.exec(t.getAttribute("d"))[1]), number(t.nextElementSibling)]));
	const line = [...c.querySelectorAll(".line")].find(l => l.getAttribute("d").includes("L") && !l.hasAttribute("stroke-dasharray"));
	const dot = c.querySelector(".dot"), band = c.querySelector(".band"), names = [...c.querySelectorAll(".name")].map(n => n.textContent);
	const at = (e, name) => Number(e.getAttribute(name));
	return {
		Line: line.getAttribute("d").slice(1).split("L").map(p => p.split(" ").map(Number)).map(([a, b]) => [x(a), y(b)]),
		Dot: dot && [x(at(dot, "cx")), y(at(dot, "cy"))],
		Band: band && [x(at(band, "x")), x(at(band, "x") + at(band, "width"))],
		Along: names[1], Upright: names[0],
	};
})`

// balance holds what the page shows of each end against statics, in both systems of units: with what it
// says to set, the end rests where it says, and its bar and its curves show that.
func balance(t *tester, p *page) {
	p.Visit(t.url)
	for _, system := range []string{"metric", "customary"} {
		p.choose("units", system)
		for _, name := range demoNames {
			p.demo(name)
			p.agree(demoJob(name))
			p.bothSystems(system == "customary")
			for _, e := range statics.Ends {
				if e.Demo == name {
					end{e}.holds(p, system == "customary")
				}
			}
		}
	}
}

// near fails where a number shown differs from what it should be by more than its last digit and what
// the digits of the setting leave open.
func near(what string, got amount, want, open float64) {
	if !(math.Abs(got.Value-want) <= got.Half+open) {
		fail("%s is %s on the page, %.6g by statics, in units of the SI", what, got.Text, want)
	}
}

func (e end) holds(p *page, customary bool) {
	what := func(of string) string { return fmt.Sprintf("%s, %s: %s", e.Demo, e.Axle, of) }
	card := fmt.Sprintf("[data-out='%s.card'] ", e.Axle)
	row := func(list, key string) amount {
		return p.amountIn(fmt.Sprintf("[data-out='%s.%s'] [data-key=%s] td", e.Axle, list, key))
	}
	// What to set: as the card says it in large type, and small beside it.
	big, small := p.amountIn(card+".big"), p.amountIn(card+".big small")
	if big.Customary != customary || small.Customary == customary || math.Abs(big.Value-small.Value) > 1.01*(big.Half+small.Half) {
		fail("%s", what(big.Text+" beside "+small.Text))
	}
	set := statics.Setting{}
	vague := set // as much as the digits leave open
	switch big.Quantity {
	case "pressure":
		set.Fill, set.Spacers, vague.Fill = big.Value, row("fit", "spacers").Value, big.Half
	case "rate":
		preload := row("fit", "preload")
		set.Rate, set.Preload, vague.Rate, vague.Preload = big.Value, preload.Value, big.Half, preload.Half
	default:
		fail("%s", what("the card says "+big.Text))
	}
	rest := e.Rest(set, 0)
	open := math.Abs(e.Rest(statics.Setting{Fill: set.Fill + vague.Fill, Spacers: set.Spacers, Rate: set.Rate + vague.Rate, Preload: set.Preload + vague.Preload}, 0)-rest) + 2e-5
	travel, lever := e.Wheel(e.Stroke), e.Lever(rest)
	wheel := lever * open

	// Sag, on the card and in the rows; where the ring stands.
	near(what("sag on the card"), p.amountIn(card+".sag b"), e.Wheel(rest)/travel, wheel/travel)
	near(what("ring"), row("measure", "stroke"), rest, open)
	near(what("ring on the card"), p.amountIn(card+".sag b:nth-of-type(2)"), rest, open)
	near(what("sag along the stroke"), row("expect", "shock_sag"), rest, open)
	near(what("sag"), row("expect", "sag"), e.Wheel(rest), wheel)
	near(what("height of the axle"), row("measure", "wheel"), e.Wheel(rest), wheel)
	near(what("lever ratio"), row("expect", "lever_ratio"), lever, math.Abs(e.Lever(rest+open)-lever)+2e-3)
	near(what("wheel rate"), row("expect", "wheel_rate"), e.Rate(set, rest), 0.01*e.Rate(set, rest))
	near(what("spring rate"), row("expect", "spring_rate"), (e.Push(set, rest+1e-5)-e.Push(set, rest-1e-5))/2e-5, 0.01*e.Rate(set, rest)*lever*lever)
	near(what("load on the spring"), p.amountIn(fmt.Sprintf("[data-out=loads] [data-key=%s_spring] td", e.Axle)), e.Load(), 0)
	near(what("travel left"), row("full", "travel_left"), travel-e.Wheel(rest), wheel)
	if set.Rate > 0 {
		near(what("force at full travel"), row("full", "full_force"), e.Force(set, e.Stroke), 0.005*e.Force(set, e.Stroke))
	}
	low, high := e.Rest(set, -e.Friction), e.Rest(set, e.Friction)
	next := p.Text(fmt.Sprintf(`document.querySelector(%s).textContent`, quote(card+".next")))
	stands := ringForm.FindStringSubmatch(next)
	if stands == nil || stands[2] == "" && e.Friction > 0 {
		fail("%s", what("next: "+next))
	}
	if stands[2] == "" {
		stands[2] = stands[1]
	}
	near(what("the least that is right"), amountMust(stands[1]+" mm"), low, open)
	near(what("the most that is right"), amountMust(stands[2]+" mm"), high, open)
	e.bar(p, card, what, e.Wheel(rest)/travel, e.Wheel(low)/travel, e.Wheel(high)/travel)
	e.curves(p, what, customary, set, rest, low, high)
	e.tables(p, what, customary, set)
	e.workshop(p, what, []amount{big, small}, rest, open)
}

// workshop holds the card for the workshop against the same.
func (e end) workshop(p *page, what func(string) string, set []amount, rest, open float64) {
	p.Eval(`document.getElementById("workshop-show").click()`, nil)
	p.Wait(`document.getElementById("workshop").open`)
	texts := func(selector string) (list []string) {
		p.Eval(fmt.Sprintf(`[...document.querySelectorAll("#workshop-card .workcard-end")].find(e => e.querySelector("h3").textContent.toLowerCase().startsWith(%s)).querySelector(%s).childNodes.values().map(n => n.textContent.trim()).filter(t => /\d/.test(t)).toArray()`, quote(e.Axle), quote(selector)), &list)
		return list
	}
	for _, text := range texts(".workcard-number") {
		a := amountMust(text)
		near(what("set, on the card for the workshop"), a, set[0].Value, max(set[0].Half, set[1].Half))
	}
	ring := texts(".workcard-ring")
	if len(ring) != 2 {
		fail("%s", what(fmt.Sprintf("the ring on the card for the workshop: %q", ring)))
	}
	for _, text := range ring {
		near(what("ring, on the card for the workshop"), amountMust(text), rest, open)
	}
	p.Eval(`document.getElementById("workshop-close").click()`, nil)
}

// bar holds the widths of the bar's parts, in pixels, against what they should be of the whole.
func (e end) bar(p *page, card string, what func(string) string, sag, low, high float64) {
	width := func(part string) (box struct{ X, Width float64 }) {
		p.Eval(fmt.Sprintf(`(() => { const r = document.querySelector(%s)?.getBoundingClientRect(); return r ? {X: r.x, Width: r.width} : {}; })()`, quote(card+part)), &box)
		return box
	}
	all := width(".g-all")
	if !(all.Width > 100) {
		fail("%s", what(fmt.Sprintf("a bar %v pixels wide", all.Width)))
	}
	check := func(of string, pixels, want float64) {
		if !(math.Abs(pixels/all.Width-want) <= 0.003+1/all.Width) {
			fail("%s", what(fmt.Sprintf("the bar's %s is at %.4f of the travel, %.4f by statics", of, pixels/all.Width, want)))
		}
	}
	check("sag", width(".g-sag").Width, sag)
	check("target", width(".g-target").X-all.X, e.Target)
	if band := width(".g-band"); e.Friction > 0 {
		check("low end of the band", band.X-all.X, low)
		check("high end of the band", band.X+band.Width-all.X, high)
	} else if band.Width != 0 {
		fail("%s", what("a band without friction"))
	}
}

// curves holds the lines of the pictures, the dot on each and the band behind, against the same.
func (e end) curves(p *page, what func(string) string, customary bool, set statics.Setting, rest, low, high float64) {
	var list []drawn
	p.Eval(fmt.Sprintf(`[...document.querySelectorAll("#out-%s .chart")].map(%s)`, e.Axle, reading), &list)
	if len(list) < 2 {
		fail("%s", what(fmt.Sprintf("%d pictures", len(list))))
	}
	length, force, rate := "mm", "N", "N/mm"
	if customary {
		length, force, rate = "in", "lbf", "lbf/in"
	}
	full := e.Wheel(e.Stroke)
	for i, of := range []struct {
		name  string
		scale float64
		value func(float64) float64
	}{
		{"Wheel force, " + force, amounts.Units[force].SI, func(s float64) float64 { return e.Force(set, s) }},
		{"Wheel rate, " + rate, amounts.Units[rate].SI, func(s float64) float64 { return e.Rate(set, s) }},
		{"Lever ratio", 1, e.Lever},
	}[:len(list)] {
		c, along := list[i], amounts.Units[length].SI
		if c.Along != "Wheel travel, "+length || c.Upright != of.name {
			fail("%s", what(fmt.Sprintf("a picture of %s over %s, want %s", c.Upright, c.Along, of.name)))
		}
		if c.Dot == nil || (e.Friction > 0) != (c.Band != nil) || len(c.Line) < 50 {
			fail("%s", what(of.name+": no dot, no band, or no line"))
		}
		check := func(part string, got, want, within float64) {
			if !(math.Abs(got-want) <= within) {
				fail("%s", what(fmt.Sprintf("%s: %s at %.5g, %.5g by statics", of.name, part, got, want)))
			}
		}
		largest := 0.0
		for _, at := range c.Line {
			largest = max(largest, math.Abs(at[1]))
		}
		check("the dot along", c.Dot[0]*along, e.Wheel(rest), 0.004*full)
		check("the dot", c.Dot[1], of.value(rest)/of.scale, 0.006*largest)
		if c.Band != nil {
			check("the band's start", c.Band[0]*along, e.Wheel(low), 0.004*full)
			check("the band's end", c.Band[1]*along, e.Wheel(high), 0.004*full)
		}
		for k := 8; k < len(c.Line)*4/5; k += 8 { // through points, the end has a curvature of its own
			s := statics.Zero(func(s float64) float64 { return e.Wheel(s) - c.Line[k][0]*along }, 0, e.Stroke)
			check(fmt.Sprintf("point %d", k), c.Line[k][1], of.value(s)/of.scale, 0.012*largest)
		}
	}
}
