package main

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

// page is a tab. Its methods panic with a failure, which ends the check that
// is running.
type page struct {
	b       *browser
	session string
	context string // its own cookies, caches and workers
	mu      sync.Mutex
	faults  []string // exceptions and errors of the console
	asked   []string // addresses requested
}

// failure is what ends a check.
type failure string

func fail(format string, args ...any) { panic(failure(fmt.Sprintf(format, args...))) }

func must(err error) {
	if err != nil {
		fail("%v", err)
	}
}

// object is a JSON object, for commands.
type object map[string]any

// open opens an empty tab in a context of its own: nothing kept from others.
func (b *browser) open() *page {
	var context struct{ BrowserContextID string }
	must(b.call("", "Target.createBrowserContext", object{}, &context))
	var target struct{ TargetID string }
	must(b.call("", "Target.createTarget", object{"url": "about:blank", "browserContextId": context.BrowserContextID, "width": 1280, "height": 900}, &target))
	var at struct{ SessionID string }
	must(b.call("", "Target.attachToTarget", object{"targetId": target.TargetID, "flatten": true}, &at))
	p := &page{b: b, session: at.SessionID, context: context.BrowserContextID}
	b.mu.Lock()
	b.pages[p.session] = p
	b.mu.Unlock()
	for _, domain := range []string{"Page", "Runtime", "Log", "Network", "Accessibility", "DOM"} {
		p.do(domain+".enable", object{})
	}
	p.do("Emulation.setFocusEmulationEnabled", object{"enabled": true})
	return p
}

func (p *page) do(method string, params object) { must(p.b.call(p.session, method, params, nil)) }

func (p *page) get(method string, params object, result any) {
	must(p.b.call(p.session, method, params, result))
}

// event takes note of what goes wrong and of what is requested.
func (p *page) event(m message) {
	var e struct {
		Request          struct{ URL string }
		ExceptionDetails struct {
			Text      string
			Exception struct{ Description string }
		}
		Entry struct{ Level, Text, URL string }
		Type  string
		Args  []struct{ Value any }
	}
	json.Unmarshal(m.Params, &e) // what an event lacks stays empty
	p.mu.Lock()
	defer p.mu.Unlock()
	switch m.Method {
	case "Network.requestWillBeSent":
		p.asked = append(p.asked, e.Request.URL)
	case "Runtime.exceptionThrown":
		p.faults = append(p.faults, e.ExceptionDetails.Text+" "+e.ExceptionDetails.Exception.Description)
	case "Log.entryAdded":
		if e.Entry.Level == "error" {
			p.faults = append(p.faults, e.Entry.Text+" "+e.Entry.URL)
		}
	case "Runtime.consoleAPICalled":
		if e.Type == "error" {
			p.faults = append(p.faults, fmt.Sprint(e.Args))
		}
	}
}

// visit loads an address and waits until the page is ready.
func (p *page) visit(url string) {
	p.do("Page.navigate", object{"url": "about:blank"})
	p.do("Page.navigate", object{"url": url})
	p.wait(`document.documentElement?.dataset.ready === "yes"`)
}

// eval runs a script and reads its value into result, if that isn't nil.
func (p *page) eval(script string, result any) {
	var answer struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	p.get("Runtime.evaluate", object{"expression": script, "awaitPromise": true, "returnByValue": true}, &answer)
	if e := answer.ExceptionDetails; e != nil {
		fail("%s %s\nin %s", e.Text, e.Exception.Description, script)
	}
	if result != nil {
		if err := json.Unmarshal(answer.Result.Value, result); err != nil {
			fail("%v\nin %s", err, script)
		}
	}
}

func (p *page) text(script string) (s string) { p.eval("String("+script+")", &s); return s }
func (p *page) yes(script string) (b bool)    { p.eval("Boolean("+script+")", &b); return b }
func (p *page) number(script string) (n float64) {
	p.eval("Number("+script+")", &n)
	return n
}

// wait waits until a script is true.
func (p *page) wait(script string) {
	for limit := time.Now().Add(patience / 2); ; {
		if p.yes(script) {
			return
		}
		if time.Now().After(limit) {
			fail("never came true: %s", script)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// quote is a text as a script has it.
func quote(text string) string {
	s, err := json.Marshal(text)
	must(err)
	return string(s)
}

// enter puts a text into a field as if it had been typed there at once, unfolding it first.
func (p *page) enter(id, text string) {
	p.eval(fmt.Sprintf(`(() => { const i = document.getElementById(%s); for (let d = i.closest("details"); d; d = d.parentElement.closest("details")) d.open = true; i.focus(); i.select(); })()`, quote(id)), nil)
	if text == "" {
		p.press("Delete")
		return
	}
	p.do("Input.insertText", object{"text": text})
}

// choose picks one of a switch's cases.
func (p *page) choose(name, value string) {
	p.eval(fmt.Sprintf(`document.querySelector('input[type=radio][name="%s"][value="%s"]').click()`, name, value), nil)
}

// demo starts from a demonstration.
func (p *page) demo(name string) {
	p.eval(fmt.Sprintf(`(() => { const d = document.getElementById("demo"); d.value = %s; d.dispatchEvent(new Event("change", {bubbles: true})); })()`, quote(name)), nil)
}

// keys are those that checks press, with their codes.
var keys = map[string]int{"Tab": 9, "Enter": 13, "Space": 32, "ArrowLeft": 37, "ArrowRight": 39, "ArrowDown": 40, "Delete": 46}

// press presses a key, with "Shift+" or "Control+" before it if wanted.
func (p *page) press(key string) {
	modifiers := 0
	if rest, ok := strings.CutPrefix(key, "Shift+"); ok {
		key, modifiers = rest, 8
	}
	e := object{"key": key, "code": key, "windowsVirtualKeyCode": keys[key], "modifiers": modifiers}
	switch key {
	case "Enter":
		e["text"] = "\r"
	case "Space":
		e["key"], e["text"] = " ", " "
	case "SelectAll":
		e = object{"key": "a", "code": "KeyA", "windowsVirtualKeyCode": 65, "modifiers": 2, "commands": []string{"selectAll"}}
	}
	e["type"] = "keyDown"
	p.do("Input.dispatchKeyEvent", e)
	e["type"] = "keyUp"
	delete(e, "text")
	p.do("Input.dispatchKeyEvent", e)
}

// size sets the window's size, as a phone has it or not.
func (p *page) size(width, height int, phone bool) {
	p.do("Emulation.setDeviceMetricsOverride", object{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone})
}

// shot writes a picture of the page, whole or what the window shows.
func (p *page) shot(dir, name string, whole bool) {
	if dir == "" {
		return
	}
	var picture struct{ Data string }
	p.get("Page.captureScreenshot", object{"format": "png", "captureBeyondViewport": whole}, &picture)
	data, err := base64.StdEncoding.DecodeString(picture.Data)
	must(err)
	must(os.MkdirAll(dir, 0o755))
	must(os.WriteFile(filepath.Join(dir, name+".png"), data, 0o644))
}

// clean fails where the page had an error of its own.
func (p *page) clean() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.faults) > 0 {
		fail("the page had errors:\n%s", strings.Join(p.faults, "\n"))
	}
}

func (p *page) requests() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.asked...)
}
