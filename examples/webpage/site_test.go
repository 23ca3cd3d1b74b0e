package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

func testSite(t *testing.T) site {
	t.Helper()
	s, err := newSite(compiled{wasm: []byte("\x00asm program"), exec: []byte("// starts it")})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// all finds the first group of every match.
func all(pattern, text string) (list []string) {
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
		list = append(list, m[1])
	}
	return list
}

func TestPage(t *testing.T) {
	s := testSite(t)
	page := string(s["index.html"])
	ids := all(` id="([^"]+)"`, page)
	slices.Sort(ids)
	for i, id := range ids {
		if i > 0 && ids[i-1] == id {
			t.Errorf("the id %s twice", id)
		}
	}
	has := func(id string) bool { _, found := slices.BinarySearch(ids, id); return found }
	labelled := all(`<label for="([^"]+)"`, page)
	for _, path := range all(`<(?:input|select|textarea) id="([^"]+)" data-path="`, page) {
		if !has(path) || !slices.Contains(labelled, path) {
			t.Errorf("%s has no label", path)
		}
	}
	for _, list := range all(`aria-(?:describedby|labelledby)="([^"]+)"`, page) {
		for _, id := range strings.Fields(list) {
			if !has(id) {
				t.Errorf("no %s, that something is described by", id)
			}
		}
	}
	if n := strings.Count(page, "<fieldset"); n != strings.Count(page, "<legend") || n < 9 {
		t.Errorf("%d fieldsets, %d legends", n, strings.Count(page, "<legend"))
	}
	// The library's own cautions stand in both ends' groups, not folded away: of air for both ways to
	// know such a spring.
	for words, want := range map[string]int{"Air under pressure: let all of it out": 4, "A compressed spring stores enough energy": 2} {
		if n := strings.Count(page, `<p class="caution"><strong>Caution.</strong> `+words); n != want {
			t.Errorf("%d times %q", n, words)
		}
	}
	for _, d := range demonstrations {
		text := all(`id="demo-`+d.name+`">([^\n]+)</script>`, page)
		if len(text) != 1 || !json.Valid([]byte(text[0])) || !strings.Contains(text[0], "wheelrate/job/1") {
			t.Errorf("the demonstration %s is not in the page as JSON: %.80q", d.name, text)
		}
	}
}

// The page needs nothing from elsewhere, and its own files all are there, in
// one version, and all are kept for use offline.
func TestSelfContained(t *testing.T) {
	s := testSite(t)
	var asked []string
	for _, name := range s.names() {
		if name == "wheelrate.wasm" || name == "licences.txt" || name == "wasm_exec.js" {
			continue
		}
		text := string(s[name])
		for _, address := range all(`((?:https?:)?//[a-z0-9.-]+\.[a-z]{2,}[^"'\s]*)`, text) {
			if !strings.HasPrefix(address, "http://www.w3.org/2000/svg") {
				t.Errorf("%s speaks of %s", name, address)
			}
		}
		if strings.Contains(text, "{{") {
			t.Errorf("%s still has a place to fill in", name)
		}
		asked = append(asked, all(`(?:src|href|from|fetch\()\s*=?\s*"(?:\./)?([a-z_]+\.[a-z]+\?v=[0-9a-f]*)"`, text)...)
	}
	version := all(`const kept = "wheelrate-([0-9a-f]{16})"`, string(s["sw.js"]))
	if len(version) != 1 {
		t.Fatalf("versions %v", version)
	}
	kept := all(`"([^" ]+)", `, string(s["sw.js"]))
	for _, a := range asked {
		name, v, _ := strings.Cut(a, "?v=")
		if s[name] == nil || v != version[0] || !slices.Contains(kept, a) {
			t.Errorf("%s: there %v, kept %v", a, s[name] != nil, kept)
		}
	}
	slices.Sort(asked)
	asked = slices.Compact(asked)
	for _, name := range s.names() {
		if ext := filepath.Ext(name); ext != ".html" && ext != ".txt" && name != "sw.js" && !slices.ContainsFunc(asked, func(a string) bool { return strings.HasPrefix(a, name+"?") }) {
			t.Errorf("no page asks for %s", name)
		}
	}
	other, err := newSite(compiled{wasm: []byte("\x00asm another"), exec: s["wasm_exec.js"]})
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(other["sw.js"], []byte(version[0])) {
		t.Error("another program, the same version")
	}
	if again := testSite(t); !bytes.Equal(again["index.html"], s["index.html"]) || !bytes.Equal(again["sw.js"], s["sw.js"]) {
		t.Error("the same program, another page")
	}
}

func TestServeHTTP(t *testing.T) {
	s := testSite(t)
	for _, test := range []struct {
		method, path string
		status       int
		kind         string
	}{
		{"GET", "/", 200, "text/html; charset=utf-8"},
		{"HEAD", "/", 200, "text/html; charset=utf-8"},
		{"GET", "/wheelrate.wasm?v=1", 200, "application/wasm"},
		{"GET", "/app.js", 200, "text/javascript; charset=utf-8"},
		{"GET", "/icon.svg", 200, "image/svg+xml"},
		{"GET", "/style.css", 200, "text/css; charset=utf-8"},
		{"GET", "/nothing", 404, ""},
		{"GET", "/../main.go", 404, ""},
		{"POST", "/", 405, ""},
	} {
		w := httptest.NewRecorder()
		s.ServeHTTP(w, httptest.NewRequest(test.method, test.path, nil))
		if w.Code != test.status || test.kind != "" && w.Header().Get("Content-Type") != test.kind {
			t.Errorf("%s %s: %d, %s", test.method, test.path, w.Code, w.Header().Get("Content-Type"))
		}
		if (test.method == "GET" && test.status == 200) != (w.Body.Len() > 0 && test.status == 200) {
			t.Errorf("%s %s: %d bytes", test.method, test.path, w.Body.Len())
		}
	}
}

// The whole program: it compiles the page, serves it until interrupted, and
// writes the same files.
func TestRun(t *testing.T) {
	out, in := io.Pipe()
	stop := make(chan os.Signal, 1)
	ended := make(chan int, 1)
	var errs bytes.Buffer
	go func() {
		ended <- run([]string{"-addr", "127.0.0.1:0"}, in, &errs, stop)
		in.Close()
	}()
	var said strings.Builder
	buffer := make([]byte, 1000)
	var url []string
	for len(url) == 0 {
		n, err := out.Read(buffer)
		said.Write(buffer[:n])
		if err != nil {
			t.Fatalf("%v: %s %s", err, said.String(), errs.String())
		}
		url = all(`(http://127\.0\.0\.1:\d+/) until`, said.String())
	}
	go io.Copy(io.Discard, out)
	served := map[string][]byte{}
	client := http.Client{Timeout: time.Minute}
	for _, name := range []string{"", "wheelrate.wasm", "wasm_exec.js", "app.js", "linkage.html", "licences.txt"} {
		answer, err := client.Get(url[0] + name)
		if err != nil {
			t.Fatal(err)
		}
		served[name], err = io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || answer.StatusCode != 200 {
			t.Fatalf("%s: %s, %v", name, answer.Status, err)
		}
	}
	stop <- os.Interrupt
	if status := <-ended; status != 0 || errs.Len() > 0 {
		t.Errorf("status %d, %s", status, errs.String())
	}
	if !bytes.HasPrefix(served["wheelrate.wasm"], []byte("\x00asm")) || !bytes.Contains(served["wasm_exec.js"], []byte("globalThis.Go = class")) {
		t.Error("the program or what starts it is not what it should be")
	}

	for _, words := range []string{"Go: its library and wasm_exec.js\n", "\nexample.com/wheelrate ", "\ngonum.org/v1/gonum v", "Redistributions in binary form must reproduce"} {
		if !bytes.Contains(served["licences.txt"], []byte(words)) {
			t.Errorf("the licences lack %q", words)
		}
	}

	dir := filepath.Join(t.TempDir(), "site")
	var wrote bytes.Buffer
	if status := run([]string{"-out", dir}, &wrote, &errs, nil); status != 0 || !strings.Contains(wrote.String(), dir) {
		t.Fatalf("status %d, %s %s", status, wrote.String(), errs.String())
	}
	served["index.html"] = served[""]
	delete(served, "")
	for name, want := range served {
		if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s as written is not as served: %v", name, err)
		}
	}
}

func TestCalls(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		name   string
		args   []string
		status int
		stderr string
	}{
		{"help", []string{"-h"}, 0, "usage"},
		{"an unknown flag", []string{"-port", "1"}, 2, "usage"},
		{"a stray word", []string{"here"}, 2, "unexpected"},
		{"no address", []string{"-addr", "nowhere:x"}, 1, "webpage:"},
	} {
		var out, errs bytes.Buffer
		if status := run(test.args, &out, &errs, nil); status != test.status || !strings.Contains(errs.String(), test.stderr) {
			t.Errorf("%s: status %d, %q, %q", test.name, status, out.String(), errs.String())
		}
	}
	var out, errs bytes.Buffer
	if status := run([]string{"-out", filepath.Join(file, "below")}, &out, &errs, nil); status != 1 || out.Len() > 0 || !strings.Contains(errs.String(), file) {
		t.Errorf("a site below a file: status %d, %q, %q", status, out.String(), errs.String())
	}
	errs.Reset()
	if status := run([]string{"-out", t.TempDir()}, full{}, &errs, nil); status != 1 || !strings.Contains(errs.String(), "full") {
		t.Errorf("nowhere to print: status %d, %q", status, errs.String())
	}
}

// full is a writer with no room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }
