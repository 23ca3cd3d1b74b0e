package main

import (
	"fmt"
	"math"
	"regexp"
)

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

// amountAt returns the amount that a form finds in a text, or 0 if the text has no such amount.
func amountAt(form *regexp.Regexp, text string) float64 {
	m := form.FindStringSubmatch(text)
	if m == nil {
		return 0
	}
	return amountMust(m[1]).value
}
