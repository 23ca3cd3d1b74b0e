package main

import (
	"fmt"
	"math"
	"regexp"
)

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
	p.visit(t.url)
	for _, system := range []string{"metric", "customary"} {
		p.choose("units", system)
		for _, name := range demoNames {
			p.demo(name)
			p.agree(demoJob(name))
			p.bothSystems(system == "customary")
			for _, e := range statics {
				if e.demo == name {
					e.holds(p, system == "customary")
				}
			}
		}
	}
}

// near fails where a number shown differs from what it should be by more than its last digit and what
// the digits of the setting leave open.
func near(what string, got amount, want, open float64) {
	if !(math.Abs(got.value-want) <= got.half+open) {
		fail("%s is %s on the page, %.6g by statics, in units of the SI", what, got.text, want)
	}
}

func (e end) holds(p *page, customary bool) {
	what := func(of string) string { return fmt.Sprintf("%s, %s: %s", e.demo, e.axle, of) }
	card := fmt.Sprintf("[data-out='%s.card'] ", e.axle)
	row := func(list, key string) amount {
		return p.amountIn(fmt.Sprintf("[data-out='%s.%s'] [data-key=%s] td", e.axle, list, key))
	}
	// What to set: as the card says it in large type, and small beside it.
	big, small := p.amountIn(card+".big"), p.amountIn(card+".big small")
	if big.customary != customary || small.customary == customary || math.Abs(big.value-small.value) > 1.01*(big.half+small.half) {
		fail("%s", what(big.text+" beside "+small.text))
	}
	set := setting{}
	vague := set // as much as the digits leave open
	switch big.quantity {
	case "pressure":
		set.fill, set.spacers, vague.fill = big.value, row("fit", "spacers").value, big.half
	case "rate":
		preload := row("fit", "preload")
		set.rate, set.preload, vague.rate, vague.preload = big.value, preload.value, big.half, preload.half
	default:
		fail("%s", what("the card says "+big.text))
	}
	rest := e.rest(set, 0)
	open := math.Abs(e.rest(setting{set.fill + vague.fill, set.spacers, set.rate + vague.rate, set.preload + vague.preload}, 0)-rest) + 2e-5
	travel, lever := e.wheel(e.stroke), e.lever(rest)
	wheel := lever * open

	// Sag, on the card and in the rows; where the ring stands.
	near(what("sag on the card"), p.amountIn(card+".sag b"), e.wheel(rest)/travel, wheel/travel)
	near(what("ring"), row("measure", "stroke"), rest, open)
	near(what("ring on the card"), p.amountIn(card+".sag b:nth-of-type(2)"), rest, open)
	near(what("sag along the stroke"), row("expect", "shock_sag"), rest, open)
	near(what("sag"), row("expect", "sag"), e.wheel(rest), wheel)
	near(what("height of the axle"), row("measure", "wheel"), e.wheel(rest), wheel)
	near(what("lever ratio"), row("expect", "lever_ratio"), lever, math.Abs(e.lever(rest+open)-lever)+2e-3)
	near(what("wheel rate"), row("expect", "wheel_rate"), e.rate(set, rest), 0.01*e.rate(set, rest))
	near(what("spring rate"), row("expect", "spring_rate"), (e.push(set, rest+1e-5)-e.push(set, rest-1e-5))/2e-5, 0.01*e.rate(set, rest)*lever*lever)
	near(what("load on the spring"), p.amountIn(fmt.Sprintf("[data-out=loads] [data-key=%s_spring] td", e.axle)), e.load(), 0)
	near(what("travel left"), row("full", "travel_left"), travel-e.wheel(rest), wheel)
	if set.rate > 0 {
		near(what("force at full travel"), row("full", "full_force"), e.force(set, e.stroke), 0.005*e.force(set, e.stroke))
	}
	low, high := e.rest(set, -e.friction), e.rest(set, e.friction)
	next := p.text(fmt.Sprintf(`document.querySelector(%s).textContent`, quote(card+".next")))
	stands := ringForm.FindStringSubmatch(next)
	if stands == nil || stands[2] == "" && e.friction > 0 {
		fail("%s", what("next: "+next))
	}
	if stands[2] == "" {
		stands[2] = stands[1]
	}
	near(what("the least that is right"), amountMust(stands[1]+" mm"), low, open)
	near(what("the most that is right"), amountMust(stands[2]+" mm"), high, open)
	e.bar(p, card, what, e.wheel(rest)/travel, e.wheel(low)/travel, e.wheel(high)/travel)
	e.curves(p, what, customary, set, rest, low, high)
	e.tables(p, what, customary, set)
	e.workshop(p, what, []amount{big, small}, rest, open)
}

// workshop holds the card for the workshop against the same.
func (e end) workshop(p *page, what func(string) string, set []amount, rest, open float64) {
	p.eval(`document.getElementById("workshop-show").click()`, nil)
	p.wait(`document.getElementById("workshop").open`)
	texts := func(selector string) (list []string) {
		p.eval(fmt.Sprintf(`[...document.querySelectorAll("#workshop-card .workcard-end")].find(e => e.querySelector("h3").textContent.toLowerCase().startsWith(%s)).querySelector(%s).childNodes.values().map(n => n.textContent.trim()).filter(t => /\d/.test(t)).toArray()`, quote(e.axle), quote(selector)), &list)
		return list
	}
	for _, text := range texts(".workcard-number") {
		a := amountMust(text)
		near(what("set, on the card for the workshop"), a, set[0].value, max(set[0].half, set[1].half))
	}
	ring := texts(".workcard-ring")
	if len(ring) != 2 {
		fail("%s", what(fmt.Sprintf("the ring on the card for the workshop: %q", ring)))
	}
	for _, text := range ring {
		near(what("ring, on the card for the workshop"), amountMust(text), rest, open)
	}
	p.eval(`document.getElementById("workshop-close").click()`, nil)
}

// bar holds the widths of the bar's parts, in pixels, against what they should be of the whole.
func (e end) bar(p *page, card string, what func(string) string, sag, low, high float64) {
	width := func(part string) (box struct{ X, Width float64 }) {
		p.eval(fmt.Sprintf(`(() => { const r = document.querySelector(%s)?.getBoundingClientRect(); return r ? {X: r.x, Width: r.width} : {}; })()`, quote(card+part)), &box)
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
	check("target", width(".g-target").X-all.X, e.target)
	if band := width(".g-band"); e.friction > 0 {
		check("low end of the band", band.X-all.X, low)
		check("high end of the band", band.X+band.Width-all.X, high)
	} else if band.Width != 0 {
		fail("%s", what("a band without friction"))
	}
}

// table is the texts of a table's body.
func (p *page) table(selector string) (rows [][]string) {
	p.eval(fmt.Sprintf(`[...document.querySelectorAll(%s)].map(r => [...r.cells].map(c => c.textContent))`, quote(selector+" tbody tr")), &rows)
	return rows
}

// tables holds every number in the lists of other springs, riders and stances, and of the curves, against
// the same: each says what to set, and which sag that gives.
func (e end) tables(p *page, what func(string) string, customary bool, set setting) {
	sag := func(of string, e end, set setting, percent amount) {
		rest := e.rest(set, 0)
		near(what(of), percent, e.wheel(rest)/e.wheel(e.stroke), 1e-3)
	}
	number := func(text string, si float64) float64 {
		return amountMust(text).value * si
	}
	choices := p.table(fmt.Sprintf("[data-out='%s.choices']", e.axle))
	if len(choices) < 4 {
		fail("%s", what(fmt.Sprintf("%d choices", len(choices))))
	}
	for _, c := range choices {
		one := setting{rate: number(c[1], 1e3), preload: number(c[2], 1e-3)}
		other := one.rate / pageUnits["lbf/in"].si
		if set.fill > 0 {
			one = setting{spacers: number(c[0], 1), fill: number(c[2], psi)}
			other = one.fill / 1e5
		}
		if shown := number(c[map[bool]int{true: 1, false: 0}[set.fill > 0]], 1); !(math.Abs(shown-other) <= 0.005*other) {
			fail("%s", what(fmt.Sprintf("a choice of %q", c)))
		}
		percent, _ := amountOf(c[3])
		sag("a choice's sag", e, one, percent)
	}
	column := map[string]int{"front": 1, "rear": 2}[e.axle]
	riders := p.table("[data-out=riders]")
	if len(riders) < 5 {
		fail("%s", what(fmt.Sprintf("%d riders", len(riders))))
	}
	for _, r := range riders {
		rider, one, cell := e, setting{}, r[column]
		rider.mass = e.bike + amountAt(massForm, r[0])
		one.fill, one.rate = amountAt(fillForm, cell), amountAt(rateForm, cell)
		one.spacers, one.preload = amountAt(spacersForm, cell), amountAt(preloadForm, cell)
		percent, _ := amountOf(sagForm.FindStringSubmatch(cell)[1])
		sag("the sag of a rider of "+r[0], rider, one, percent)
	}
	for _, r := range p.table("[data-out=standing]") {
		stance, share := e, shareForm.FindStringSubmatch(r[1])
		switch {
		case share == nil && r[0] != "As set up, each end by itself", r[0] == "With nobody on":
			continue // both ends together, which statics of one end can't tell
		case share != nil:
			rear, _ := amountOf(share[1])
			stance.part = map[string]float64{"front": 1 - rear.value, "rear": rear.value}[e.axle]
		}
		percent, _ := amountOf(sagForm.FindStringSubmatch(r[column])[1])
		sag(r[0], stance, set, percent)
		near(what(r[0]), amountMust(r[column]), stance.wheel(stance.rest(set, 0)), 2e-4)
	}
	// The curves as numbers: travel, stroke, lever ratio, force, rate.
	length, force, rate := pageUnits["mm"].si, 1., pageUnits["N/mm"].si
	if customary {
		length, force, rate = pageUnits["in"].si, pageUnits["lbf"].si, pageUnits["lbf/in"].si
	}
	points := p.table(fmt.Sprintf("[data-out='%s.points']", e.axle))
	for _, r := range points[1 : len(points)-2] {
		s := zero(func(s float64) float64 { return e.wheel(s) - number(r[0], length) }, 0, e.stroke)
		for i, of := range []struct{ value, scale float64 }{{s, length}, {e.lever(s), 1}, {e.force(set, s), force}, {e.rate(set, s), rate}} {
			if got := amountMust(r[i+1]); !(math.Abs(got.value*of.scale-of.value) <= got.half*of.scale+0.012*of.value) {
				fail("%s", what(fmt.Sprintf("a point of the curves of %q, %.5g by statics", r, of.value/of.scale)))
			}
		}
	}
}

// Where the numbers of a cell with several stand.
var (
	massForm    = regexp.MustCompile(`([\d.]+ kg)`)
	fillForm    = regexp.MustCompile(`([\d.]+ bar)`)
	rateForm    = regexp.MustCompile(`([\d.]+ N/mm)`)
	spacersForm = regexp.MustCompile(`(\d+) spacers?`)
	preloadForm = regexp.MustCompile(`([\d.]+ mm) of preload`)
	sagForm     = regexp.MustCompile(`(?:sag )?([\d.]+ %)`)
	ringForm    = regexp.MustCompile(`([\d.]+)(?:–([\d.]+))? mm \(`)
	shareForm   = regexp.MustCompile(`([\d.]+ %) on the rear`)
)

// amountAt is the amount that a form finds in a text, 0 where there is none.
func amountAt(form *regexp.Regexp, text string) float64 {
	m := form.FindStringSubmatch(text)
	if m == nil {
		return 0
	}
	return amountMust(m[1]).value
}

// curves holds the lines of the pictures, the dot on each and the band behind, against the same.
func (e end) curves(p *page, what func(string) string, customary bool, set setting, rest, low, high float64) {
	var list []drawn
	p.eval(fmt.Sprintf(`[...document.querySelectorAll("#out-%s .chart")].map(%s)`, e.axle, reading), &list)
	if len(list) < 2 {
		fail("%s", what(fmt.Sprintf("%d pictures", len(list))))
	}
	length, force, rate := "mm", "N", "N/mm"
	if customary {
		length, force, rate = "in", "lbf", "lbf/in"
	}
	full := e.wheel(e.stroke)
	for i, of := range []struct {
		name  string
		scale float64
		value func(float64) float64
	}{
		{"Wheel force, " + force, pageUnits[force].si, func(s float64) float64 { return e.force(set, s) }},
		{"Wheel rate, " + rate, pageUnits[rate].si, func(s float64) float64 { return e.rate(set, s) }},
		{"Lever ratio", 1, e.lever},
	}[:len(list)] {
		c, along := list[i], pageUnits[length].si
		if c.Along != "Wheel travel, "+length || c.Upright != of.name {
			fail("%s", what(fmt.Sprintf("a picture of %s over %s, want %s", c.Upright, c.Along, of.name)))
		}
		if c.Dot == nil || (e.friction > 0) != (c.Band != nil) || len(c.Line) < 50 {
			fail("%s", what(of.name+": no dot, no band, or no line"))
		}
		check := func(part string, got, want, scale float64) {
			if !(math.Abs(got-want) <= 0.012*scale) {
				fail("%s", what(fmt.Sprintf("%s: %s at %.5g, %.5g by statics", of.name, part, got, want)))
			}
		}
		largest := 0.0
		for _, at := range c.Line {
			largest = max(largest, math.Abs(at[1]))
		}
		check("the dot along", c.Dot[0]*along, e.wheel(rest), full)
		check("the dot", c.Dot[1], of.value(rest)/of.scale, largest)
		if c.Band != nil {
			check("the band's start", c.Band[0]*along, e.wheel(low), full)
			check("the band's end", c.Band[1]*along, e.wheel(high), full)
		}
		for k := 8; k < len(c.Line)*4/5; k += 8 { // through points, the end has a curvature of its own
			s := zero(func(s float64) float64 { return e.wheel(s) - c.Line[k][0]*along }, 0, e.stroke)
			check(fmt.Sprintf("point %d", k), c.Line[k][1], of.value(s)/of.scale, largest)
		}
	}
}
