package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"example.com/wheelrate/examples/internal/licences"
)

// wasmProgram is what runs in the page.
const wasmProgram = "example.com/wheelrate/examples/webpage/wasm"

// compiled is what the toolchain makes and brings along.
type compiled struct {
	wasm []byte
	exec []byte // wasm_exec.js, which starts it and must be of the same Go
	// licences are those of all that the site contains.
	licences []byte
}

// compile builds the library for the browser in a temporary directory.
func compile() (c compiled, err error) {
	dir, err := os.MkdirTemp("", "wheelrate-page-")
	if err != nil {
		return c, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	wasm := filepath.Join(dir, "wheelrate.wasm")
	build := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", wasm, wasmProgram)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if text, err := build.CombinedOutput(); err != nil {
		return c, fmt.Errorf("compiling %s: %w; it wants the Go toolchain, and to be started within the examples module\n%s", wasmProgram, err, text)
	}
	if c.wasm, err = os.ReadFile(wasm); err != nil {
		return c, err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return c, fmt.Errorf("asking Go where it is: %w", err)
	}
	goroot := strings.TrimSpace(string(root))
	if c.licences, err = licences.Of(wasmProgram, goroot, "GOOS=js", "GOARCH=wasm"); err != nil {
		return c, err
	}
	c.exec, err = os.ReadFile(filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"))
	return c, err
}
