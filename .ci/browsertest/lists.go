package main

import (
	"fmt"
	"math"
	"regexp"

	"example.com/wheelrate/ci/browsertest/amounts"
	"example.com/wheelrate/ci/browsertest/statics"
)

// table is the texts of a table's body.
func (p *page) table(selector string) (rows [][]string) {
	p.Eval(fmt.Sprintf(`[...document.querySelectorAll(%s)].map(r => [...r.cells].map(c => c.textContent))`, quote(selector+" tbody tr")), &rows)
	return rows
}

// tables holds every number in the lists of other springs, riders and stances, and of the curves, against
// the same: each says what to set, and which sag that gives.
func (e end) tables(p *page, what func(string) string, customary bool, set statics.Setting) {
	sag := func(of string, e end, set statics.Setting, percent amount) {
		rest := e.Rest(set, 0)
		near(what(of), percent, e.Wheel(rest)/e.Wheel(e.Stroke), 1e-3)
	}
	number := func(text string, si float64) float64 {
		return amountMust(text).Value * si
	}
	choices := p.table(fmt.Sprintf("[data-out='%s.choices']", e.Axle))
	if len(choices) < 4 {
		fail("%s", what(fmt.Sprintf("%d choices", len(choices))))
	}
	for _, c := range choices {
		one := statics.Setting{Rate: number(c[1], 1e3), Preload: number(c[2], 1e-3)}
		other := one.Rate / amounts.Units["lbf/in"].SI
		if set.Fill > 0 {
			one = statics.Setting{Spacers: number(c[0], 1), Fill: number(c[2], amounts.PSI)}
			other = one.Fill / 1e5
		}
		if shown := number(c[map[bool]int{true: 1, false: 0}[set.Fill > 0]], 1); !(math.Abs(shown-other) <= 0.005*other) {
			fail("%s", what(fmt.Sprintf("a choice of %q", c)))
		}
		percent, _ := amounts.Of(c[3])
		sag("a choice's sag", e, one, percent)
	}
	column := map[string]int{"front": 1, "rear": 2}[e.Axle]
	riders := p.table("[data-out=riders]")
	if len(riders) < 5 {
		fail("%s", what(fmt.Sprintf("%d riders", len(riders))))
	}
	for _, r := range riders {
		rider, one, cell := e, statics.Setting{}, r[column]
		rider.Mass = e.Bike + amountAt(massForm, r[0])
		one.Fill, one.Rate = amountAt(fillForm, cell), amountAt(rateForm, cell)
		one.Spacers, one.Preload = amountAt(spacersForm, cell), amountAt(preloadForm, cell)
		percent, _ := amounts.Of(sagForm.FindStringSubmatch(cell)[1])
		sag("the sag of a rider of "+r[0], rider, one, percent)
	}
	for _, r := range p.table("[data-out=standing]") {
		stance, share := e, shareForm.FindStringSubmatch(r[1])
		switch {
		case share == nil && r[0] != "As set up, each end by itself", r[0] == "With nobody on":
			continue // both ends together, which statics of one end can't tell
		case share != nil:
			rear, _ := amounts.Of(share[1])
			stance.Share = map[string]float64{"front": 1 - rear.Value, "rear": rear.Value}[e.Axle]
		}
		percent, _ := amounts.Of(sagForm.FindStringSubmatch(r[column])[1])
		sag(r[0], stance, set, percent)
		near(what(r[0]), amountMust(r[column]), stance.Wheel(stance.Rest(set, 0)), 2e-4)
	}
	// The curves as numbers: travel, stroke, lever ratio, force, rate.
	length, force, rate := amounts.Units["mm"].SI, 1., amounts.Units["N/mm"].SI
	if customary {
		length, force, rate = amounts.Units["in"].SI, amounts.Units["lbf"].SI, amounts.Units["lbf/in"].SI
	}
	points := p.table(fmt.Sprintf("[data-out='%s.points']", e.Axle))
	for _, r := range points[1 : len(points)-2] {
		s := statics.Zero(func(s float64) float64 { return e.Wheel(s) - number(r[0], length) }, 0, e.Stroke)
		for i, of := range []struct{ value, scale float64 }{{s, length}, {e.Lever(s), 1}, {e.Force(set, s), force}, {e.Rate(set, s), rate}} {
			if got := amountMust(r[i+1]); !(math.Abs(got.Value*of.scale-of.value) <= got.Half*of.scale+0.012*of.value) {
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
	return amountMust(m[1]).Value
}
