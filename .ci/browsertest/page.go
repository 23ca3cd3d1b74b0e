package main

import (
	"fmt"

	"example.com/wheelrate/ci/browsertest/devtools"
)

// page is a tab with the page in it.
type page struct{ *devtools.Page }

// open opens an empty tab.
func (t *tester) open() *page { return &page{t.b.Open()} }

// object is a JSON object.
type object = devtools.Object

func fail(format string, args ...any) { devtools.Fail(format, args...) }

func must(err error) { devtools.Must(err) }

func quote(text string) string { return devtools.Quote(text) }

// enter puts a text into a field as if it had been typed there at once, unfolding it first.
func (p *page) enter(id, text string) {
	p.Eval(fmt.Sprintf(`(() => { const i = document.getElementById(%s); for (let d = i.closest("details"); d; d = d.parentElement.closest("details")) d.open = true; i.focus(); i.select(); })()`, quote(id)), nil)
	if text == "" {
		p.Press("Delete")
		return
	}
	p.Do("Input.insertText", object{"text": text})
}

// choose picks one of a switch's cases.
func (p *page) choose(name, value string) {
	p.Eval(fmt.Sprintf(`document.querySelector('input[type=radio][name="%s"][value="%s"]').click()`, name, value), nil)
}

// demo starts from a demonstration.
func (p *page) demo(name string) {
	p.Eval(fmt.Sprintf(`(() => { const d = document.getElementById("demo"); d.value = %s; d.dispatchEvent(new Event("change", {bubbles: true})); })()`, quote(name)), nil)
}
