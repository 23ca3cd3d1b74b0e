package main

// checks are all there is to check, in the order of the page's use.
var checks = []struct {
	name string
	run  func(*tester, *page)
}{
	{"pictures to look at", pictures},
}

// pictures takes pictures for people to look at: this check only fails where
// the page does.
func pictures(t *tester, p *page) {
	at := func(name, selector string) {
		p.eval(`scrollTo(0, 0); document.querySelector(`+quote(selector)+`).scrollIntoView()`, nil)
		p.shot(t.shots, name, false)
	}
	p.size(1280, 900, false)
	p.visit(t.url)
	p.shot(t.shots, "desktop", false)
	at("desktop-curves", "#out-front .pictures")
	p.size(360, 740, true)
	p.visit(t.url)
	p.shot(t.shots, "phone", false)
	at("phone-form", "#in-masses")
	at("phone-air", "#in-front .case:not([hidden]) .caution")
	at("phone-table", "#in-rear")
	at("phone-results", "#results")
	at("phone-end", "#out-front")
	at("phone-curves", "#out-front .pictures")
	at("phone-list", "#out-front [data-out='front.choices']")
	at("phone-bike", "[data-out=loads]")
}
