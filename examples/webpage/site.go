package main

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/json"
	"fmt"
	"html/template"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	texttemplate "text/template"

	"example.com/wheelrate/examples/internal/card"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/sag/fit"
)

//go:embed site
var source embed.FS

//go:embed demo/*.json
var demos embed.FS

// demonstrations are the jobs to start from, the first one shown at once.
var demonstrations = []struct{ name, title string }{
	{"coil-shock", "Air fork, coil shock (invented)"},
	{"air-both", "Air at both ends, on scales (invented)"},
	{"pivots", "Coil at both ends, by its pivots (invented)"},
	{"gauge", "A fork by its gauge and its ring (invented)"},
}

// site is the page's files by their names.
type site map[string][]byte

// types are the content types of the files; a browser refuses scripts and
// programs of another.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".svg": "image/svg+xml", ".wasm": "application/wasm", ".txt": "text/plain; charset=utf-8",
}

// cautions are the library's own, for the places where they belong.
type cautions struct{ air, coil string }

// demo is a demonstration as the page carries it.
type demo struct {
	Name, Title string
	JSON        template.JS
}

// newSite fills the pages in.
func newSite(c compiled) (site, error) {
	s := site{"wheelrate.wasm": c.wasm, "wasm_exec.js": c.exec, "licences.txt": c.licences, "card.css": []byte(card.CSS)}
	for _, name := range []string{"style.css", "lessons.css", "icon.svg"} {
		text, err := source.ReadFile("site/" + name)
		if err != nil {
			return nil, err
		}
		s[name] = text
	}
	pages, err := template.ParseFS(source, "site/*.html.tmpl")
	if err != nil {
		return nil, err
	}
	scripts, err := texttemplate.ParseFS(source, "site/*.js")
	if err != nil {
		return nil, err
	}
	data, err := filled()
	if err != nil {
		return nil, err
	}
	if data["Lessons"], err = lessons(); err != nil {
		return nil, err
	}
	if err := s.render(pages, scripts, data); err != nil { // once without a version, to find it
		return nil, err
	}
	version := s.version()
	data["Version"] = version
	if err := s.render(pages, scripts, data); err != nil {
		return nil, err
	}
	var kept []string
	for _, name := range s.names() {
		switch {
		case name == "index.html":
			kept = append(kept, "./")
		case path.Ext(name) == ".html" || path.Ext(name) == ".txt":
			kept = append(kept, name)
		default:
			kept = append(kept, name+"?v="+version)
		}
	}
	data["Kept"] = kept
	var worker bytes.Buffer
	if err := scripts.ExecuteTemplate(&worker, "sw.js", data); err != nil {
		return nil, err
	}
	s["sw.js"] = worker.Bytes()
	return s, nil
}

// filled returns what the templates are filled in with, but for what tells one version from another.
func filled() (map[string]any, error) {
	var list []demo
	var mechanism template.JS
	for _, d := range demonstrations {
		text, err := demos.ReadFile("demo/" + d.name + ".json")
		if err != nil {
			return nil, err
		}
		var small bytes.Buffer
		if err := json.Compact(&small, text); err != nil {
			return nil, fmt.Errorf("demonstration %s: %w", d.name, err)
		}
		list = append(list, demo{d.name, d.title, template.JS(small.String())})
		var job struct {
			Rear struct {
				Curve struct{ Mechanism json.RawMessage }
			}
		}
		if err := json.Unmarshal(text, &job); err != nil {
			return nil, fmt.Errorf("demonstration %s: %w", d.name, err)
		}
		if m := job.Rear.Curve.Mechanism; m != nil {
			mechanism = template.JS(m)
		}
	}
	return map[string]any{
		"Form": formOf(cautionsOf()), "Visit": visitForm(), "Demos": list, "First": list[0].Name, "Mechanism": mechanism,
		"Version": "", "Kept": []string(nil),
	}, nil
}

// render fills in every page and every script but the worker, which has to know all others.
func (s site) render(pages *template.Template, scripts *texttemplate.Template, data map[string]any) error {
	for _, t := range pages.Templates() {
		page, ok := strings.CutSuffix(t.Name(), ".html.tmpl")
		if !ok || page == "shared" {
			continue
		}
		data["Page"] = page
		var html bytes.Buffer
		if err := t.Execute(&html, data); err != nil {
			return err
		}
		s[page+".html"] = html.Bytes()
	}
	for _, t := range scripts.Templates() {
		if path.Ext(t.Name()) != ".js" || t.Name() == "sw.js" {
			continue
		}
		var module bytes.Buffer
		if err := t.Execute(&module, data); err != nil {
			return err
		}
		s[t.Name()] = module.Bytes()
	}
	return nil
}

// cautionsOf returns them.
func cautionsOf() (c cautions) {
	for _, one := range fit.Cautions(true, true) {
		switch one.Code {
		case "air_pressure":
			c.air = one.Text
		case "compressed_spring":
			c.coil = one.Text
		}
	}
	return c
}

func (s site) names() []string {
	names := make([]string, 0, len(s))
	for name := range s {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// version tells one content of the page from another.
func (s site) version() string {
	sum := sha256.New()
	for _, name := range s.names() {
		fmt.Fprintf(sum, "%s %d\n", name, len(s[name]))
		sum.Write(s[name])
	}
	return fmt.Sprintf("%x", sum.Sum(nil)[:8])
}

// ServeHTTP serves the files.
func (s site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = "index.html"
	}
	text, ok := s[name]
	switch {
	case !ok:
		http.NotFound(w, r)
		return
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "only to be read", http.StatusMethodNotAllowed)
		return
	}
	w.Header().Set("Content-Type", types[path.Ext(name)])
	w.Header().Set("Content-Length", fmt.Sprint(len(text)))
	w.Header().Set("Cache-Control", "no-cache")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	if r.Method == http.MethodGet {
		w.Write(text) // nobody is left to tell of an error
	}
}

// write puts the files into a directory, which is made.
func (s site) write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, name := range s.names() {
		if err := program.WriteFile(filepath.Join(dir, name), s[name]); err != nil {
			return err
		}
	}
	return nil
}
