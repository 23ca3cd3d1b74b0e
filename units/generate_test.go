//go:build !js

package units_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// The text methods of the quantities are those that .ci/quantities writes.
func TestTextMethodsAreCurrent(t *testing.T) {
	want, err := os.ReadFile("text_gen.go")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	// Built for the machine at hand, whatever the test was built for.
	generate := exec.Command("go", "-C", "../.ci", "run", "./quantities", dir)
	generate.Env = append(os.Environ(), "GOOS=", "GOARCH=")
	if out, err := generate.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	got, err := os.ReadFile(filepath.Join(dir, "text_gen.go"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("units/text_gen.go is stale: run .ci/generate")
	}
}
