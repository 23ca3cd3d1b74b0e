// Package licences gathers the licences of all that a built program contains.
package licences

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// Of returns the texts of the licences of all that is in a program: of this project, of Go, whose library
// is in it, and of every module that is compiled in. Env is added to the environment of the go command,
// such as GOOS=js for a program that is built for the browser. Goroot is where Go is.
func Of(program, goroot string, env ...string) ([]byte, error) {
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}} {{.Version}}|{{.Dir}}{{end}}", program)
	list.Env = append(os.Environ(), env...)
	out, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("asking Go what %s contains: %w", program, err)
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
			if filepath.Base(file) != "LICENSE" {
				title += ", " + filepath.Base(file)
			}
			fmt.Fprintf(&text, "%s\n%s\n\n%s\n\n", title, strings.Repeat("=", len(title)), bytes.TrimSpace(licence))
		}
	}
	return text.Bytes(), nil
}
