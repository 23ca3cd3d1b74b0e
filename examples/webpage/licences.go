package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// licencesOf returns the licences of all that the site contains: of this project, of Go, whose library
// and loader are in it, and of every module that is compiled in.
func licencesOf(goroot string) ([]byte, error) {
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}} {{.Version}}|{{.Dir}}{{end}}", wasmProgram)
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("asking Go what the page contains: %w", err)
	}
	parts := [][2]string{{"Go: its library and wasm_exec.js", goroot}}
	for _, line := range slices.Compact(slices.Sorted(strings.Lines(string(out)))) {
		if name, dir, ok := strings.Cut(strings.TrimSpace(line), "|"); ok && !strings.HasPrefix(name, "example.com/wheelrate/") {
			parts = append(parts, [2]string{strings.TrimSpace(name), dir})
		}
	}
	var text bytes.Buffer
	for _, p := range parts {
		files, err := filepath.Glob(filepath.Join(p[1], "THIRD_PARTY_LICENSES", "*"))
		if err != nil {
			return nil, err
		}
		for _, file := range append([]string{filepath.Join(p[1], "LICENSE")}, files...) {
			licence, err := os.ReadFile(file)
			if err != nil {
				return nil, fmt.Errorf("the licence of %s: %w", p[0], err)
			}
			title := p[0]
			if len(files) > 0 && filepath.Base(file) != "LICENSE" {
				title += ", " + filepath.Base(file)
			}
			fmt.Fprintf(&text, "%s\n%s\n\n%s\n\n", title, strings.Repeat("=", len(title)), bytes.TrimSpace(licence))
		}
	}
	return text.Bytes(), nil
}
