package devtools

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

// Page is a tab.
type Page struct {
	b       *Browser
	session string
	Context string // its own cookies, caches and workers
	mu      sync.Mutex
	faults  []string // exceptions and errors of the console
	asked   []string // addresses requested
}

// Failure is what ends a check.
type Failure string

// Fail ends the check.
func Fail(format string, args ...any) { panic(Failure(fmt.Sprintf(format, args...))) }

// Must ends the check where there is an error.
func Must(err error) {
	if err != nil {
		Fail("%v", err)
	}
}

// Object is a JSON object, for commands.
type Object map[string]any

// Open opens an empty tab in a context of its own: nothing kept from others.
func (b *Browser) Open() *Page {
	var context struct{ BrowserContextID string }
	Must(b.Call("", "Target.createBrowserContext", Object{}, &context))
	var target struct{ TargetID string }
	Must(b.Call("", "Target.createTarget", Object{"url": "about:blank", "browserContextId": context.BrowserContextID, "width": 1280, "height": 900}, &target))
	var at struct{ SessionID string }
	Must(b.Call("", "Target.attachToTarget", Object{"targetId": target.TargetID, "flatten": true}, &at))
	p := &Page{b: b, session: at.SessionID, Context: context.BrowserContextID}
	b.mu.Lock()
	b.pages[p.session] = p
	b.mu.Unlock()
	for _, domain := range []string{"Page", "Runtime", "Log", "Network", "Accessibility", "DOM"} {
		p.Do(domain+".enable", Object{})
	}
	p.Do("Emulation.setFocusEmulationEnabled", Object{"enabled": true})
	return p
}

// Do sends the page a command.
func (p *Page) Do(method string, params Object) { Must(p.b.Call(p.session, method, params, nil)) }

// Get sends the page a command, and reads its answer.
func (p *Page) Get(method string, params Object, result any) {
	Must(p.b.Call(p.session, method, params, result))
}

// event takes note of what goes wrong and of what is requested.
func (p *Page) event(m message) {
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

// Visit loads an address and waits until the page is ready.
func (p *Page) Visit(url string) {
	p.Do("Page.navigate", Object{"url": "about:blank"})
	p.Do("Page.navigate", Object{"url": url})
	p.Wait(`document.documentElement?.dataset.ready === "yes"`)
}

// Eval runs a script and reads its value into result, if that isn't nil.
func (p *Page) Eval(script string, result any) {
	var answer struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	p.Get("Runtime.evaluate", Object{"expression": script, "awaitPromise": true, "returnByValue": true}, &answer)
	if e := answer.ExceptionDetails; e != nil {
		Fail("%s %s\nin %s", e.Text, e.Exception.Description, script)
	}
	if result != nil {
		if err := json.Unmarshal(answer.Result.Value, result); err != nil {
			Fail("%v\nin %s", err, script)
		}
	}
}

// Text returns the value of a script as a text.
func (p *Page) Text(script string) (s string) { p.Eval("String("+script+")", &s); return s }

// Yes reports whether a script is true.
func (p *Page) Yes(script string) (b bool) { p.Eval("Boolean("+script+")", &b); return b }

// Number returns the value of a script as a number.
func (p *Page) Number(script string) (n float64) { p.Eval("Number("+script+")", &n); return n }

// Wait waits until a script is true.
func (p *Page) Wait(script string) {
	for limit := time.Now().Add(Patience / 2); ; {
		if p.Yes(script) {
			return
		}
		if time.Now().After(limit) {
			Fail("never came true: %s", script)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// Quote is a text as a script has it.
func Quote(text string) string {
	s, err := json.Marshal(text)
	Must(err)
	return string(s)
}

// keys are those that checks press, with their codes.
var keys = map[string]int{"Tab": 9, "Enter": 13, "Space": 32, "ArrowLeft": 37, "ArrowRight": 39, "ArrowDown": 40, "Delete": 46}

// Press presses a key, with "Shift+" or "Control+" before it if wanted.
func (p *Page) Press(key string) {
	modifiers := 0
	if rest, ok := strings.CutPrefix(key, "Shift+"); ok {
		key, modifiers = rest, 8
	}
	e := Object{"key": key, "code": key, "windowsVirtualKeyCode": keys[key], "modifiers": modifiers}
	switch key {
	case "Enter":
		e["text"] = "\r"
	case "Space":
		e["key"], e["text"] = " ", " "
	case "SelectAll":
		e = Object{"key": "a", "code": "KeyA", "windowsVirtualKeyCode": 65, "modifiers": 2, "commands": []string{"selectAll"}}
	}
	e["type"] = "keyDown"
	p.Do("Input.dispatchKeyEvent", e)
	e["type"] = "keyUp"
	delete(e, "text")
	p.Do("Input.dispatchKeyEvent", e)
}

// Size sets the window's size, as a phone has it or not.
func (p *Page) Size(width, height int, phone bool) {
	p.Do("Emulation.setDeviceMetricsOverride", Object{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone})
}

// Shot writes a picture of the page, whole or what the window shows.
func (p *Page) Shot(dir, name string, whole bool) {
	if dir == "" {
		return
	}
	var picture struct{ Data string }
	p.Get("Page.captureScreenshot", Object{"format": "png", "captureBeyondViewport": whole}, &picture)
	data, err := base64.StdEncoding.DecodeString(picture.Data)
	Must(err)
	Must(os.MkdirAll(dir, 0o755))
	Must(os.WriteFile(filepath.Join(dir, name+".png"), data, 0o644))
}

// Clean fails where the page had an error of its own.
func (p *Page) Clean() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.faults) > 0 {
		Fail("the page had errors:\n%s", strings.Join(p.faults, "\n"))
	}
}

// Requests returns the addresses that were asked for.
func (p *Page) Requests() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.asked...)
}

// WaitFor waits for something outside the page.
func WaitFor(what string, ready func() bool) {
	for limit := time.Now().Add(Patience / 2); !ready(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(limit) {
			Fail("never came: %s", what)
		}
	}
}
