package sag

import (
	"os"
	"strings"
	"testing"
)

// The README's embedding code is the body of the package's Example, so it
// compiles, runs and prints what it should.
func TestReadmeCodeIsTheExample(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, code, ok := strings.Cut(string(readme), "```go\n")
	code, _, end := strings.Cut(code, "```")
	if !ok || !end {
		t.Fatal("the README has no Go code")
	}
	example, err := os.ReadFile("example_test.go")
	if err != nil {
		t.Fatal(err)
	}
	var indented strings.Builder
	for _, line := range strings.SplitAfter(code, "\n") {
		if line != "" {
			indented.WriteString("\t" + line)
		}
	}
	if !strings.Contains(string(example), indented.String()) {
		t.Errorf("this is not in example_test.go as it stands in the README:\n%s", code)
	}
}
