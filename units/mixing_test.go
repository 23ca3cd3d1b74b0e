//go:build !js

package units_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"strings"
	"testing"
)

// packages hands the type checker this package, and empty ones in place of
// the standard library, which no signature of a constant or a getter needs.
type packages map[string]*types.Package

func (p packages) Import(path string) (*types.Package, error) {
	if p[path] == nil {
		p[path] = types.NewPackage(path, path[strings.LastIndexByte(path, '/')+1:])
		p[path].MarkComplete()
	}
	return p[path], nil
}

// checked returns this package as the type checker sees it.
func checked(t *testing.T, fset *token.FileSet) *types.Package {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, e := range entries {
		if name := e.Name(); strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") && name != "generate.go" {
			f, err := parser.ParseFile(fset, name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, f)
		}
	}
	// Errors are expected: the standard library is empty.
	config := types.Config{Importer: packages{}, IgnoreFuncBodies: true, Error: func(error) {}}
	p, _ := config.Check("example.com/wheelrate/units", fset, files, nil)
	return p
}

func TestKindsDoNotMix(t *testing.T) {
	fset := token.NewFileSet()
	self := checked(t, fset)
	for _, test := range []struct {
		statement string
		wrong     string // what the compiler says; "" where it is right
	}{
		{"_ = units.PSIGauge(72).Absolute(units.StandardAtmosphere)", ""},
		{"_ = units.PSIGauge(72) + units.BarGauge(1)", ""},
		{"_ = 450 * units.PoundForcePerInch", ""},
		{"var k units.Stiffness = 80 * units.NewtonPerMillimetre; _ = k.Times(2 * units.Inch)", ""},
		{"_ = units.PSIGauge(72) + units.PSIAbsolute", "mismatched types"},
		{"_ = units.PSIGauge(72) < units.StandardAtmosphere", "mismatched types"},
		{"_ = units.PSIGauge(72).Absolute(units.BarGauge(1))", "cannot use"},
		{"var p units.AbsolutePressure = units.KilopascalGauge(1); _ = p", "cannot use"},
		{"_ = units.PoundForcePerSquareInch + units.PSIAbsolute", "mismatched types"},
		{"_ = units.Pound + units.PoundForce", "mismatched types"},
		{"var f units.Force = 82 * units.Kilogram; _ = f", "cannot use"},
		{"_ = units.NewtonMetre + units.Joule", "mismatched types"},
		{"_ = units.NewtonPerMetre.Times(units.Newton)", "cannot use"},
		{"x := 1.5; _ = x * units.Inch", "mismatched types"},
	} {
		source := "package p\nimport \"example.com/wheelrate/units\"\nfunc f() { " + test.statement + " }"
		f, err := parser.ParseFile(fset, "p.go", source, 0)
		if err != nil {
			t.Fatal(err)
		}
		config := types.Config{Importer: packages{"example.com/wheelrate/units": self}}
		_, err = config.Check("p", fset, []*ast.File{f}, nil)
		switch {
		case test.wrong == "" && err != nil:
			t.Errorf("%s: %v", test.statement, err)
		case test.wrong != "" && (err == nil || !strings.Contains(err.Error(), test.wrong)):
			t.Errorf("%s: the compiler says %v, want %q", test.statement, err, test.wrong)
		}
	}
}
