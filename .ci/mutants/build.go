package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"strings"
)

//go:embed switches.go.txt
var switches string

// listed is what `go list -json` prints of a package.
type listed struct {
	ImportPath, Dir, Name, Export string
	GoFiles                       []string
	DepOnly                       bool
}

func goList(root string, args ...string) ([]listed, error) {
	cmd := exec.Command("go", append([]string{"list", "-json=ImportPath,Dir,Name,Export,GoFiles,DepOnly"}, args...)...)
	cmd.Dir = root
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w\n%s", err, complaint.String())
	}
	var all []listed
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listed
		switch err := d.Decode(&p); err {
		case nil:
			all = append(all, p)
		case io.EOF:
			return all, nil
		default:
			return nil, err
		}
	}
}

// generated reports whether a file says of itself that a program wrote it.
func generated(src []byte) bool {
	return bytes.HasPrefix(src, []byte("// Code generated "))
}

// A checked package is one that is read, with its types.
type checked struct {
	listed
	fset    *token.FileSet
	files   []*ast.File // one for each of GoFiles
	sources map[string][]byte
	info    *types.Info
	types   *types.Package
}

// read reads packages, in the order in which they import each other.
func read(root string, pkgs ...string) ([]checked, error) {
	all, err := goList(root, append([]string{"-export", "-deps"}, pkgs...)...)
	if err != nil {
		return nil, err
	}
	exports := map[string]string{}
	for _, p := range all {
		exports[p.ImportPath] = p.Export
	}
	var list []checked
	for _, p := range all {
		if p.DepOnly {
			continue
		}
		here := checked{listed: p, fset: token.NewFileSet(), sources: map[string][]byte{}}
		if err := here.check(exports); err != nil {
			return nil, err
		}
		list = append(list, here)
	}
	return list, nil
}

func (c *checked) check(exports map[string]string) error {
	for _, name := range c.GoFiles {
		src, err := os.ReadFile(filepath.Join(c.Dir, name))
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(c.fset, name, src, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		c.sources[name], c.files = src, append(c.files, file)
	}
	c.info = &types.Info{
		Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{},
	}
	look := func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) }
	conf := types.Config{Importer: importer.ForCompiler(c.fset, "gc", look)}
	var err error
	c.types, err = conf.Check(c.ImportPath, c.fset, c.files, c.info)
	return err
}

// finder returns what collects the mutants of a file.
func (c *checked) finder(i int, mutants *[]mutant) *finder {
	name := c.GoFiles[i]
	return &finder{
		fset: c.fset, info: c.info, pkg: c.types, src: c.sources[name], file: c.files[i], name: name,
		imports: importsOf(c.files[i], c.types), mutants: mutants,
	}
}

// An overlay says what files a build reads in place of others.
type overlay struct {
	Replace map[string]string
	work    string
}

// put has a build read a text in place of a file, which need not exist.
func (o overlay) put(file string, text []byte) error {
	to := filepath.Join(o.work, fmt.Sprintf("%d-%s", len(o.Replace), filepath.Base(file)))
	o.Replace[file] = to
	return os.WriteFile(to, text, 0o644)
}

// write writes the overlay itself and returns its name.
func (o overlay) write() (string, error) {
	name := filepath.Join(o.work, "overlay.json")
	data, err := json.Marshal(o)
	if err != nil {
		return "", err
	}
	return name, os.WriteFile(name, data, 0o644)
}

// instrument finds the mutants of a package and writes, under work, an overlay
// in which every one of them is built in and can be switched on. Only the
// files named are changed; none named means all.
func instrument(root, pkg, work string, only []string) ([]mutant, string, error) {
	list, err := read(root, pkg)
	if err != nil {
		return nil, "", err
	}
	here := list[0]
	var mutants []mutant
	o := overlay{map[string]string{}, work}
	for i, name := range here.GoFiles {
		if generated(here.sources[name]) || len(only) > 0 && !slices.Contains(only, name) {
			continue
		}
		f := here.finder(i, &mutants)
		f.find()
		if err := o.put(filepath.Join(here.Dir, name), apply(f.src, f.edits)); err != nil {
			return nil, "", err
		}
	}
	text := strings.ReplaceAll(strings.ReplaceAll(switches, "PACKAGE", here.Name), "COUNT", strconv.Itoa(len(mutants)))
	if err := o.put(filepath.Join(here.Dir, "mutants_switches.go"), []byte(text)); err != nil {
		return nil, "", err
	}
	name, err := o.write()
	return mutants, name, err
}

// importsOf returns the name under which a file knows each package it imports.
func importsOf(file *ast.File, pkg *types.Package) map[string]string {
	known := map[string]string{}
	for _, i := range file.Imports {
		path, _ := strconv.Unquote(i.Path.Value)
		switch {
		case i.Name != nil:
			known[path] = i.Name.Name
		default:
			known[path] = path[strings.LastIndex(path, "/")+1:]
			for _, p := range pkg.Imports() {
				if p.Path() == path {
					known[path] = p.Name()
				}
			}
		}
	}
	return known
}

// apply carries out the edits of one file.
func apply(src []byte, edits []edit) []byte {
	sort.SliceStable(edits, func(i, j int) bool {
		a, b := edits[i], edits[j]
		switch {
		case a.from != b.from:
			return a.from < b.from
		case a.closing != b.closing:
			return a.closing
		case a.closing:
			return a.span < b.span
		}
		return a.span > b.span
	})
	var out bytes.Buffer
	at := 0
	for _, e := range edits {
		out.Write(src[at:e.from])
		out.WriteString(e.text)
		at = e.to
	}
	out.Write(src[at:])
	return out.Bytes()
}

// compile builds the test program of a package with the overlay.
func compile(root, overlay, pkg, to string) error {
	cmd := exec.Command("go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", to, pkg)
	cmd.Dir = root
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("go test -c %s: %w\n%s", pkg, err, out)
	}
	return nil
}
