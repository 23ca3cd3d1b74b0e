//go:build !js

package units_test

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// Every example of the library is executed. One whose last comment does not begin with "Output:" is
// only compiled.
func TestExamplesAreExecuted(t *testing.T) {
	examples := 0
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && (entry.Name() == "examples" || strings.HasPrefix(entry.Name(), ".") && path != root):
			return filepath.SkipDir
		case !strings.HasSuffix(path, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		for _, e := range doc.Examples([]*ast.File{file}...) {
			if examples++; e.Output == "" && !e.EmptyOutput {
				t.Errorf("%s: Example%s is not executed", path, e.Name)
			}
		}
		return nil
	})
	if err != nil || examples < 100 {
		t.Errorf("%d examples, %v", examples, err)
	}
}
