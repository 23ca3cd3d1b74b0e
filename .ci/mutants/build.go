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

// instrument finds the mutants of a package and writes, under work, an overlay
// in which every one of them is built in and can be switched on. Only the
// files named are changed; none named means all.
func instrument(root, pkg, work string, only []string) ([]mutant, string, error) {
	all, err := goList(root, "-export", "-deps", pkg)
	if err != nil {
		return nil, "", err
	}
	exports := map[string]string{}
	var here listed
	for _, p := range all {
		exports[p.ImportPath] = p.Export
		if !p.DepOnly {
			here = p
		}
	}
	fset := token.NewFileSet()
	sources := map[string][]byte{}
	var files []*ast.File
	for _, name := range here.GoFiles {
		src, err := os.ReadFile(filepath.Join(here.Dir, name))
		if err != nil {
			return nil, "", err
		}
		file, err := parser.ParseFile(fset, name, src, parser.SkipObjectResolution)
		if err != nil {
			return nil, "", err
		}
		sources[name], files = src, append(files, file)
	}
	info := &types.Info{
		Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Defs: map[*ast.Ident]types.Object{},
	}
	look := func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) }
	conf := types.Config{Importer: importer.ForCompiler(fset, "gc", look)}
	checked, err := conf.Check(here.ImportPath, fset, files, info)
	if err != nil {
		return nil, "", err
	}

	var mutants []mutant
	replace := map[string]string{}
	for i, file := range files {
		name := here.GoFiles[i]
		if generated(sources[name]) || len(only) > 0 && !slices.Contains(only, name) {
			continue
		}
		f := &finder{
			fset: fset, info: info, pkg: checked, src: sources[name], file: file, name: name,
			imports: importsOf(file, checked), mutants: &mutants,
		}
		f.find()
		to := filepath.Join(work, name)
		if err := os.WriteFile(to, apply(f.src, f.edits), 0o644); err != nil {
			return nil, "", err
		}
		replace[filepath.Join(here.Dir, name)] = to
	}
	text := strings.ReplaceAll(strings.ReplaceAll(switches, "PACKAGE", here.Name), "COUNT", strconv.Itoa(len(mutants)))
	to := filepath.Join(work, "switches.go")
	if err := os.WriteFile(to, []byte(text), 0o644); err != nil {
		return nil, "", err
	}
	replace[filepath.Join(here.Dir, "mutants_switches.go")] = to
	overlay := filepath.Join(work, "overlay.json")
	data, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return nil, "", err
	}
	return mutants, overlay, os.WriteFile(overlay, data, 0o644)
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
