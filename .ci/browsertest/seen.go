package main

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"example.com/wheelrate/ci/browsertest/amounts"
)

// amount is a number on the page.
type amount = amounts.Amount

// amountIn is what stands in an element.
func (p *page) amountIn(selector string) amount {
	return amountMust(p.Text(fmt.Sprintf(`document.querySelector(%s)?.textContent.trim() ?? "nothing in " + %[1]s`, quote(selector))))
}

func amountMust(text string) amount {
	a, ok := amounts.Of(text)
	if !ok {
		fail("%q, want a number", text)
	}
	return a
}

// pairForm is a number with its unit, and the other system's in parentheses behind it.
var pairForm = regexp.MustCompile(`(` + amounts.NumberForm + ` [^\s(),;]+) \((` + amounts.NumberForm + ` [^\s()]+)\)`)

// bothSystems holds every number that the page shows in two systems of units against itself: the first
// is that of the system chosen where the page says so, and both are the same to their last digits.
func (p *page) bothSystems(customary bool) {
	var cells [][3]string
	p.Eval(`[...document.querySelectorAll("#job .big, #results td")].filter(d => d.checkVisibility() && d.querySelector("small")).map(d =>
		[d.firstChild.textContent.trim(), d.querySelector("small").textContent.trim(), d.closest("[data-out], [id], [data-section]").outerHTML.slice(0, 80)])`, &cells)
	count := 0
	same := func(a, b amount) {
		if a.Quantity == "" || a.Quantity != b.Quantity || a.Customary == b.Customary {
			fail("%q beside %q", a.Text, b.Text)
		}
		if d := math.Abs(a.Value - b.Value); d > 1.01*(a.Half+b.Half) {
			fail("%q is not %q", a.Text, b.Text)
		}
		count++
	}
	for _, c := range cells {
		from := strings.Split(c[0], "–")
		to := strings.Split(c[1], "–")
		for i := range min(len(from), len(to)) { // of a range the last has the unit
			_, unitA, _ := strings.Cut(from[len(from)-1], " ")
			_, unitB, _ := strings.Cut(to[len(to)-1], " ")
			a, okA := amounts.Of(strings.TrimSuffix(from[i], " "+unitA) + " " + unitA)
			b, okB := amounts.Of(strings.TrimSuffix(to[i], " "+unitB) + " " + unitB)
			if !okA || !okB || a.Customary != customary {
				fail("%q beside %q in %s", c[0], c[1], c[2])
			}
			same(a, b)
		}
	}
	text := p.Text(`document.querySelector("#results").textContent + document.querySelector(".cards").textContent`)
	for _, m := range pairForm.FindAllStringSubmatch(text, -1) {
		a, okA := amounts.Of(m[1])
		b, okB := amounts.Of(m[2])
		if okA && okB && a.Quantity != "" && b.Quantity != "" {
			same(a, b)
		}
	}
	if count < 20 {
		fail("%d numbers in both systems", count)
	}
}
