package main

import (
	"bytes"
	"compress/gzip"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// The program that a phone has to fetch and compile stays small: 8.7 MB, 2.4 MB compressed. Of that
// the lessons, the card and a linkage's tolerances are 0.9 MB. Regular expressions would be 0.5 MB more,
// and it would start a fifth later.
func TestProgramIsSmall(t *testing.T) {
	c, err := compile()
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := w.Write(c.wasm); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if len(c.wasm) > 8.8e6 || packed.Len() > 2.4e6 {
		t.Errorf("%d bytes, %d compressed", len(c.wasm), packed.Len())
	}
	list := exec.Command("go", "list", "-deps", wasmProgram)
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	deps, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	for dep := range strings.Lines(string(deps)) {
		dep = strings.TrimSpace(dep)
		if slices.Contains([]string{"regexp", "net", "text/template", "html/template", "time/tzdata", "example.com/wheelrate/refdata"}, dep) {
			t.Errorf("%s is in the program", dep)
		}
	}
}
