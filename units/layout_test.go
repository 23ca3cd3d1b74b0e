//go:build !js

package units_test

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// root is the repository, seen from this package's tests.
const root = ".."

// rooms lists the packages of the root module, and which of each other they
// may import. Imports go down only.
var rooms = map[string][]string{
	"units":                          {},
	"units/strictjson":               {"units"},
	"units/unitstest":                {"units"},
	"spring/root":                    {},
	"spring/leastsquares":            {},
	"spring":                         {"units", "spring/root"},
	"spring/springtest":              {"units", "spring"},
	"spring/coil":                    {"units", "spring"},
	"airspring":                      {"units", "spring", "spring/root", "airspring/gas", "airspring/internal/calibration"},
	"airspring/internal/calibration": {"spring/leastsquares"},
	"airspring/gas":                  {"units"},
	"linkage/internal/hermite":       {},
	"linkage/mechanism":              {"units", "spring/root", "linkage/internal/hermite"},
	"linkage/drivetrain":             {"units", "linkage/mechanism"},
	"linkage/pivots":                 {"units", "spring/leastsquares", "linkage/mechanism", "linkage/drivetrain"},
	"linkage/internal/linkagetest":   {"units", "linkage/mechanism"},
	"linkage":                        {"units", "spring", "spring/root", "spring/leastsquares", "linkage/internal/hermite", "linkage/mechanism"},
	"sag/motion":                     {"units", "spring", "spring/root", "linkage"},
	"sag":                            {"units", "spring", "spring/root", "airspring", "airspring/gas", "linkage", "sag/motion"},
	"sag/law":                        {"units", "spring", "spring/coil", "airspring"},
	"sag/fit":                        {"units", "spring", "spring/root", "airspring", "airspring/gas", "linkage", "sag", "sag/law"},
	"sag/certainty":                  {"units", "spring", "spring/root", "airspring", "linkage", "sag", "sag/fit"},
	"sag/setup":                      {"units", "units/strictjson", "spring", "airspring", "linkage", "sag", "sag/fit", "sag/certainty"},
	"sag/internal/sagtest":           {"units", "units/unitstest", "spring", "linkage", "sag/setup"},
	"sag/visit":                      {"units", "units/strictjson", "spring", "spring/root", "airspring", "airspring/gas", "linkage", "sag", "sag/law", "sag/fit", "sag/setup"},
	"refdata/schema":                 {},
	"refdata":                        {"units", "units/strictjson", "spring/coil", "airspring/gas"},
	"refdata/evaluate": {"units", "units/strictjson", "spring", "spring/coil", "airspring", "airspring/gas",
		"linkage", "linkage/mechanism", "linkage/drivetrain", "linkage/pivots", "sag", "sag/law", "sag/motion", "refdata"},
}

// forTests lists the packages that only tests import.
var forTests = []string{"units/unitstest", "spring/springtest", "linkage/internal/linkagetest", "sag/internal/sagtest"}

// topLevel is all that the repository's root holds.
var topLevel = []string{
	".api", ".ci", ".git", ".github", ".gitignore", "DEVELOPERS.md", "LICENSE", "README.md", "go.mod", "go.sum",
	"airspring", "examples", "linkage", "refdata", "sag", "spring", "units",
}

// notInLibrary is what the library does without: logging, the network, files, the
// environment, other programs, and ways round the type system.
var notInLibrary = []string{
	"C", "expvar", "flag", "io/ioutil", "log", "log/slog", "net", "os", "plugin", "runtime", "runtime/debug", "syscall", "testing", "unsafe",
}

// source is one Go file's imports.
type source struct {
	dir, name string // dir from the root, with slashes
	test      bool
	imports   []string
}

// sources reads the imports of all Go files below the root, save those that no
// build takes: in testdata, in hidden directories, or tagged "ignore".
func sources(t *testing.T) []source {
	t.Helper()
	var list []source
	tree := os.DirFS(root)
	err := fs.WalkDir(tree, ".", func(at string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := e.Name()
		hidden := at != "." && (strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_"))
		switch {
		case e.IsDir() && (hidden || name == "testdata"):
			return fs.SkipDir
		case e.IsDir() || hidden || path.Ext(name) != ".go":
			return nil
		}
		text, err := fs.ReadFile(tree, at)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), at, text, parser.ImportsOnly|parser.ParseComments)
		if err != nil {
			return err
		}
		if ignored(f) {
			return nil
		}
		s := source{dir: path.Dir(at), name: at, test: strings.HasSuffix(name, "_test.go")}
		for _, i := range f.Imports {
			p, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			s.imports = append(s.imports, p)
		}
		list = append(list, s)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func ignored(f *ast.File) bool {
	for _, group := range f.Comments {
		for _, c := range group.List {
			if c.Pos() < f.Package && c.Text == "//go:build ignore" {
				return true
			}
		}
	}
	return false
}

// within reports whether p is the package or module of, or lies below it.
func within(p, of string) bool { return p == of || strings.HasPrefix(p, of+"/") }

// wrong returns what is wrong with an import, or "". Module is the root module's path.
func wrong(module string, s source, imported string) string {
	if within(s.dir, "examples") {
		return "" // a module of its own, at the top
	}
	room, known := rooms[s.dir]
	own, ours := strings.CutPrefix(imported, module+"/")
	first, _, _ := strings.Cut(imported, "/")
	switch {
	case !known:
		return "is imported by a package that has no room in the house"
	case imported == module || ours && within(own, "examples"):
		return "is not the library's to import"
	case ours && !s.test && !slices.Contains(room, own):
		return "is not below " + s.dir
	case ours && s.test && rooms[own] == nil:
		return "is no package of this module"
	case ours:
		return ""
	case !strings.Contains(first, "."): // the standard library
		for _, bad := range notInLibrary {
			helps := bad == "testing" && slices.Contains(forTests, s.dir) ||
				(bad == "flag" || bad == "runtime") && s.dir == "units/unitstest"
			if !s.test && !helps && (imported == bad || bad == "net" && within(imported, "net") || bad == "os" && within(imported, "os")) {
				return "is not for a library of formulas"
			}
		}
		return ""
	case within(imported, "gonum.org/v1/gonum") && s.dir != "units" && !strings.HasPrefix(s.dir, "units/"):
		return ""
	case within(imported, "github.com/google/go-cmp") && (s.test || s.dir == "units/unitstest"):
		return ""
	case s.test && (within(imported, "github.com/stretchr/testify") || within(imported, "gonum.org/v1/gonum")):
		return ""
	}
	return "is not among the modules this may use"
}

func TestImportsGoDownOnly(t *testing.T) {
	module := moduleIn(t, "").Module.Path
	count := map[string]int{}
	for _, s := range sources(t) {
		if !s.test {
			count[s.dir]++
		}
		for _, p := range s.imports {
			if w := wrong(module, s, p); w != "" {
				t.Errorf("%s: %s %s", s.name, p, w)
			}
			if within(p, "gonum.org/v1/plot") && !within(s.dir, "examples") {
				t.Errorf("%s: only examples plot", s.name)
			}
		}
	}
	for room := range rooms {
		if count[room] == 0 {
			t.Errorf("%s holds no Go file", room)
		}
	}
}

// Asking for a material is cheap: the dataset links neither the set-up of a bike
// nor the optimiser, which only the evaluator needs.
func TestDatasetLinksNoOptimiser(t *testing.T) {
	module := moduleIn(t, "").Module.Path
	imports := map[string][]string{} // by directory
	for _, s := range sources(t) {
		if !s.test {
			imports[s.dir] = append(imports[s.dir], s.imports...)
		}
	}
	linked := map[string]bool{}
	var link func(dir string)
	link = func(dir string) {
		for _, p := range imports[dir] {
			if linked[p] {
				continue
			}
			linked[p] = true
			if own, ours := strings.CutPrefix(p, module+"/"); ours {
				link(own)
			}
		}
	}
	link("refdata")
	if !linked[module+"/units"] || !linked["embed"] {
		t.Fatalf("refdata links %v", linked)
	}
	for p := range linked {
		for _, heavy := range []string{"gonum.org/v1/gonum/optimize", module + "/sag", module + "/linkage", module + "/refdata/evaluate"} {
			if within(p, heavy) {
				t.Errorf("refdata links %s", p)
			}
		}
	}
}

// The rule itself is tested: each of these imports must be judged as it says.
func TestWrongImportsAreFound(t *testing.T) {
	for _, test := range []struct {
		file, imported string
		ok             bool
	}{
		{"units/force.go", "m/spring", false},
		{"units/force.go", "gonum.org/v1/gonum/floats", false},
		{"units/force.go", "math", true},
		{"units/force_test.go", "gonum.org/v1/gonum/floats", true},
		{"units/force_test.go", "m/units/unitstest", true},
		{"units/unitstest/near.go", "testing", true},
		{"units/unitstest/refusal.go", "flag", true},
		{"units/unitstest/near.go", "github.com/google/go-cmp/cmp", true},
		{"units/unitstest/near.go", "github.com/stretchr/testify/require", false},
		{"spring/law.go", "m/units", true},
		{"spring/law.go", "m/airspring", false},
		{"spring/law.go", "m/units/unitstest", false},
		{"spring/law.go", "testing", false},
		{"spring/law.go", "gonum.org/v1/gonum/stat", true},
		{"spring/law.go", "gonum.org/v1/plot", false},
		{"spring/law.go", "github.com/google/go-cmp/cmp", false},
		{"spring/law.go", "github.com/stretchr/testify/require", false},
		{"spring/law_test.go", "github.com/stretchr/testify/require", true},
		{"spring/law_test.go", "m/unknown", false},
		{"spring/law_test.go", "golang.org/x/exp/rand", false},
		{"linkage/wheel.go", "m/linkage/internal/linkagetest", false},
		{"linkage/wheel_test.go", "m/linkage/internal/linkagetest", true},
		{"linkage/internal/linkagetest/checks.go", "testing", true},
		{"sag/job.go", "net/http", false},
		{"sag/job.go", "os/exec", false},
		{"sag/job.go", "log/slog", false},
		{"refdata/load.go", "m/sag", false},
		{"refdata/evaluate/sag.go", "m/sag", true},
		{"refdata/load.go", "m/examples/setup", false},
		{"refdata/load.go", "os", false},
		{"sag/inner/x.go", "m/units", false},
		{"examples/webpage/main.go", "gonum.org/v1/plot", true},
	} {
		s := source{dir: path.Dir(test.file), name: test.file, test: strings.HasSuffix(test.file, "_test.go")}
		if w := wrong("m", s, test.imported); (w == "") != test.ok {
			t.Errorf("%s imports %s: %q", test.file, test.imported, w)
		}
	}
}

// module is what a go.mod says, as "go mod edit -json" prints it.
type module struct {
	Module  struct{ Path string }
	Require []struct {
		Path     string
		Indirect bool
	}
	Replace []struct{ Old, New struct{ Path string } }
	Others  map[string]json.RawMessage `json:"-"`
}

// moduleIn reads the go.mod of a directory of the repository.
func moduleIn(t *testing.T, dir string) (m module) {
	t.Helper()
	edit := exec.Command("go", "mod", "edit", "-json")
	edit.Dir = path.Join(root, dir)
	text, err := edit.Output()
	if err == nil {
		err = errors.Join(json.Unmarshal(text, &m), json.Unmarshal(text, &m.Others))
	}
	if err != nil || m.Module.Path == "" {
		t.Fatalf("go.mod of %q: %v", dir, err)
	}
	return m
}

// direct lists the modules required directly.
func (m module) direct() (list []string) {
	for _, r := range m.Require {
		if !r.Indirect {
			list = append(list, r.Path)
		}
	}
	slices.Sort(list)
	return list
}

func TestRequirements(t *testing.T) {
	library := moduleIn(t, "")
	want := []string{"github.com/google/go-cmp", "github.com/stretchr/testify", "gonum.org/v1/gonum"}
	if diff := cmp.Diff(want, library.direct()); diff != "" {
		t.Errorf("go.mod requires directly (-want +got):\n%s", diff)
	}
	for directive, value := range library.Others {
		if !slices.Contains([]string{"Module", "Go", "Require"}, directive) && string(value) != "null" {
			t.Errorf("go.mod: %s is not for a library", directive)
		}
	}

	// The two modules beside the library's see the checkout they lie in.
	own := library.Module.Path
	for _, beside := range []struct {
		dir, path string
		ours      map[string]string // module of ours → where it lies
		others    []string
	}{
		{"examples", own + "/examples", map[string]string{own: "../"}, append(want, "gonum.org/v1/plot")},
		{".ci", own + "/ci", map[string]string{own: "../", own + "/examples": "../examples"}, want},
	} {
		m := moduleIn(t, beside.dir)
		if m.Module.Path != beside.path {
			t.Errorf("%s: the module is %s, want %s", beside.dir, m.Module.Path, beside.path)
		}
		replaced := map[string]string{}
		for _, r := range m.Replace {
			replaced[r.Old.Path] = r.New.Path
		}
		if diff := cmp.Diff(beside.ours, replaced); diff != "" {
			t.Errorf("%s replaces (-want +got):\n%s", beside.dir, diff)
		}
		for _, path := range m.direct() {
			if beside.ours[path] == "" && !slices.Contains(beside.others, path) {
				t.Errorf("%s requires %s", beside.dir, path)
			}
		}
	}
}

func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, e := range entries {
		name := e.Name()
		found[name] = true
		if !slices.Contains(topLevel, name) && !leftBehind(name) {
			t.Errorf("%s does not belong at the top level", name)
		}
	}
	for _, name := range topLevel {
		if !found[name] && name != ".git" { // an archive has none
			t.Errorf("%s is missing at the top level", name)
		}
	}
}

// leftBehind reports whether builds, tests, editors or the README's commands leave a
// file of that name; .gitignore lists the same.
func leftBehind(name string) bool {
	if strings.HasPrefix(name, "my-") {
		return true
	}
	switch path.Ext(name) {
	case ".test", ".out", ".prof", ".wasm":
		return true
	}
	return slices.Contains([]string{".DS_Store", ".idea", ".vscode"}, name)
}

// DEVELOPERS.md has a line for every package.
func TestMapHasEveryRoom(t *testing.T) {
	text, err := os.ReadFile(path.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	for room := range rooms {
		if !strings.Contains(string(text), "`"+room+"`") {
			t.Errorf("DEVELOPERS.md lacks %s", room)
		}
	}
}

// Every package says at its top what it does not model.
func TestPackagesSayWhatTheyDoNotModel(t *testing.T) {
	for room := range rooms {
		files, err := fs.Glob(os.DirFS(root), path.Join(room, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		var comments []string
		for _, file := range files {
			f, err := parser.ParseFile(token.NewFileSet(), path.Join(root, file), nil, parser.PackageClauseOnly|parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			if text := f.Doc.Text(); text != "" {
				comments = append(comments, text)
			}
		}
		if len(comments) != 1 || !strings.HasPrefix(comments[0], "Package "+path.Base(room)+" ") || !strings.Contains(comments[0], "Not modelled") {
			t.Errorf("%s: no package comment, several, or one without its name or what is not modelled", room)
		}
	}
}
