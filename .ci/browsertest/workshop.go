package main

import (
	"strings"

	"example.com/wheelrate/examples/webpage/answer"
)

// workshopCard: the card shows what the library's has, and closes again.
func workshopCard(t *tester, p *page) {
	p.Visit(t.url)
	for _, name := range demoNames {
		p.demo(name)
		p.agree(demoJob(name))
		p.Eval(`document.getElementById("workshop-show").click()`, nil)
		p.Wait(`document.getElementById("workshop").open`)
		got := p.Text(`document.getElementById("workshop-card").innerHTML`)
		want := answer.WorkCard(demoJob(name)).HTML
		if p.Eval(`(() => { const t = document.createElement("template"); t.innerHTML = `+quote(want)+`; return t.innerHTML; })()`, &want); got != want || !strings.Contains(got, "workcard") {
			fail("%s: the card is\n%s\nwant\n%s", name, got, want)
		}
		if name == demoNames[0] {
			p.Shot(t.shots, "workshop-desktop", false)
			p.Size(390, 844, true)
			p.Shot(t.shots, "workshop-phone", false)
			if w := p.Number(`document.documentElement.scrollWidth`); w > 390 {
				fail("the card is %v pixels wide on a phone of 390", w)
			}
			p.Size(1280, 900, false)
		}
		p.Eval(`document.getElementById("workshop-close").click()`, nil)
		p.Wait(`!document.getElementById("workshop").open`)
	}
}
