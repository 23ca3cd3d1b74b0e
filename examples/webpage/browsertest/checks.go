package main

// checks are all there is to check, in the order of the page's use.
var checks = []struct {
	name string
	run  func(*tester, *page)
}{
	{"pictures to look at", pictures},
}

func pictures(t *tester, p *page) {
	p.size(1280, 900, false)
	p.visit(t.url)
	p.shot(t.shots, "desktop", false)
	p.shot(t.shots, "desktop-whole", true)
	p.size(360, 740, true)
	p.visit(t.url)
	p.shot(t.shots, "phone", false)
	p.shot(t.shots, "phone-whole", true)
}
