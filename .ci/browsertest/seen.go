package main

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

const (
	pound = 0.45359237                        // kg, international yard and pound agreement of 1959, from memory
	psi   = pound * gravity / 0.0254 / 0.0254 // Pa
)

// unit is one that the page writes: of which system, and how much it is in the SI.
type unit struct {
	customary bool
	si        float64
	quantity  string
}

var pageUnits = map[string]unit{
	"bar": {false, 1e5, "pressure"}, "psi": {true, psi, "pressure"}, "kPa(a)": {false, 1e3, "absolute"}, "psia": {true, psi, "absolute"},
	"mm": {false, 1e-3, "length"}, "m": {false, 1, "length"}, "in": {true, 0.0254, "length"}, "ft": {true, 0.3048, "length"},
	"N": {false, 1, "force"}, "lbf": {true, pound * gravity, "force"}, "kg": {false, 1, "mass"}, "lb": {true, pound, "mass"},
	"N/mm": {false, 1e3, "rate"}, "lbf/in": {true, pound * gravity / 0.0254, "rate"}, "J": {false, 1, "energy"}, "ft·lbf": {true, pound * gravity * 0.3048, "energy"},
	"Hz": {false, 1, "frequency"}, "per min": {true, 1. / 60, "frequency"},
}

// amount is a number as the page writes it, and the unit behind it.
type amount struct {
	text  string
	value float64 // in the SI
	half  float64 // half of the last digit shown, in the SI
	unit
}

const numberForm = `[-−+]?\d+(?:\.\d+)?`

var amountForm = regexp.MustCompile(`^(` + numberForm + `) ?(bar|psia|psi|kPa\(a\)|mm|N/mm|N|lbf/in|lbf|ft·lbf|in|ft|kg|lb|Hz|per min|J|m|%)?`)

// amountOf reads the number that a text starts with.
func amountOf(text string) (a amount, ok bool) {
	m := amountForm.FindStringSubmatch(text)
	if m == nil {
		return a, false
	}
	a = amount{text: m[0], unit: unit{si: 1}}
	switch u, known := pageUnits[m[2]]; {
	case known:
		a.unit = u
	case m[2] == "%":
		a.unit = unit{si: 0.01}
	}
	v, err := strconv.ParseFloat(strings.Replace(m[1], "−", "-", 1), 64)
	must(err)
	_, decimals, _ := strings.Cut(m[1], ".")
	a.value, a.half = v*a.si, 0.5*math.Pow(10, -float64(len(decimals)))*a.si
	return a, true
}

// amountIn is what stands in an element.
func (p *page) amountIn(selector string) amount {
	return amountMust(p.text(fmt.Sprintf(`document.querySelector(%s)?.textContent.trim() ?? "nothing in " + %[1]s`, quote(selector))))
}

func amountMust(text string) amount {
	a, ok := amountOf(text)
	if !ok {
		fail("%q, want a number", text)
	}
	return a
}

// pairForm is a number with its unit, and the other system's in parentheses behind it.
var pairForm = regexp.MustCompile(`(` + numberForm + ` [^\s(),;]+) \((` + numberForm + ` [^\s()]+)\)`)

// bothSystems holds every number that the page shows in two systems of units against itself: the first
// is that of the system chosen where the page says so, and both are the same to their last digits.
func (p *page) bothSystems(customary bool) {
	var cells [][3]string
	p.eval(`[...document.querySelectorAll("#job .big, #results td")].filter(d => d.checkVisibility() && d.querySelector("small")).map(d =>
		[d.firstChild.textContent.trim(), d.querySelector("small").textContent.trim(), d.closest("[data-out], [id], [data-section]").outerHTML.slice(0, 80)])`, &cells)
	count := 0
	same := func(a, b amount) {
		if a.quantity == "" || a.quantity != b.quantity || a.customary == b.customary {
			fail("%q beside %q", a.text, b.text)
		}
		if d := math.Abs(a.value - b.value); d > 1.01*(a.half+b.half) {
			fail("%q is not %q", a.text, b.text)
		}
		count++
	}
	for _, c := range cells {
		from := strings.Split(c[0], "–")
		to := strings.Split(c[1], "–")
		for i := range min(len(from), len(to)) { // of a range the last has the unit
			_, unitA, _ := strings.Cut(from[len(from)-1], " ")
			_, unitB, _ := strings.Cut(to[len(to)-1], " ")
			a, okA := amountOf(strings.TrimSuffix(from[i], " "+unitA) + " " + unitA)
			b, okB := amountOf(strings.TrimSuffix(to[i], " "+unitB) + " " + unitB)
			if !okA || !okB || a.customary != customary {
				fail("%q beside %q in %s", c[0], c[1], c[2])
			}
			same(a, b)
		}
	}
	text := p.text(`document.querySelector("#results").textContent + document.querySelector(".cards").textContent`)
	for _, m := range pairForm.FindAllStringSubmatch(text, -1) {
		a, okA := amountOf(m[1])
		b, okB := amountOf(m[2])
		if okA && okB && a.quantity != "" && b.quantity != "" {
			same(a, b)
		}
	}
	if count < 20 {
		fail("%d numbers in both systems", count)
	}
}
