package main

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/json"
	"io"
	"os/exec"
	"strings"
	"sync"
)

// examplesDir is the directory of the module of the examples.
var examplesDir = sync.OnceValue(func() string {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "example.com/wheelrate/examples").Output()
	must(err)
	return strings.TrimSpace(string(out))
})

// link asks the page for a link to its job, and returns it.
func (p *page) link() string {
	p.Eval(`document.getElementById("shared").hidden = true; document.getElementById("share").click()`, nil)
	p.Wait(`!document.getElementById("shared").hidden`)
	return p.Text(`document.getElementById("link").value`)
}

// job is the job that the page's link carries, taken apart here.
func (p *page) job() []byte {
	_, text, found := strings.Cut(p.link(), "#job=")
	if !found {
		fail("the link has no job")
	}
	packed, err := base64.RawURLEncoding.DecodeString(text)
	must(err)
	job, err := io.ReadAll(flate.NewReader(bytes.NewReader(packed)))
	must(err)
	return job
}

// deflated is a text as links carry it.
func deflated(text string) string {
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	must(err)
	_, err = w.Write([]byte(text))
	must(err)
	must(w.Close())
	return base64.RawURLEncoding.EncodeToString(b.Bytes())
}

// canonical is JSON with its names in order, so that texts can be compared.
func canonical(text []byte) string {
	var v any
	must(json.Unmarshal(text, &v))
	out, err := json.MarshalIndent(v, "", " ")
	must(err)
	return string(out)
}

func note(job []byte) string {
	var v struct{ Note string }
	must(json.Unmarshal(job, &v))
	return v.Note
}

// file gives the page a job file, as a person who picks it does.
func (p *page) file(path string) {
	var root struct{ Root struct{ NodeID int } }
	p.Get("DOM.getDocument", object{}, &root)
	var node struct{ NodeID int }
	p.Get("DOM.querySelector", object{"nodeId": root.Root.NodeID, "selector": "#file"}, &node)
	p.Do("DOM.setFileInputFiles", object{"files": []string{path}, "nodeId": node.NodeID})
}
