package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/constant"
	"go/importer"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
)

// list returns the API of the module in a directory. The go command compiles
// it; what the compiler exports is all that there is to list.
func list(dir string) ([]string, error) {
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Name,Export,DepOnly,Module", "./...")
	cmd.Dir = dir
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list in %s: %w\n%s", dir, err, &errs)
	}
	type found struct {
		ImportPath, Name, Export string
		DepOnly                  bool
		Module                   *struct{ Path string }
	}
	exports := map[string]string{}
	var own []found
	for in := json.NewDecoder(bytes.NewReader(out)); ; {
		var p found
		if err := in.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		exports[p.ImportPath] = p.Export
		if !p.DepOnly && p.Name != "main" && !slices.Contains(strings.Split(p.ImportPath, "/"), "internal") {
			own = append(own, p)
		}
	}
	from := importer.ForCompiler(token.NewFileSet(), "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(exports[path])
	})
	var lines []string
	for _, p := range own {
		pkg, err := from.Import(p.ImportPath)
		if err != nil {
			return nil, err
		}
		name := p.ImportPath
		if p.Module != nil {
			if name = strings.TrimPrefix(strings.TrimPrefix(name, p.Module.Path), "/"); name == "" {
				name = "."
			}
		}
		for _, l := range packageLines(pkg) {
			lines = append(lines, "pkg "+name+", "+l)
		}
	}
	slices.Sort(lines)
	return slices.Compact(lines), nil
}

// packageLines lists one package's API.
func packageLines(pkg *types.Package) (lines []string) {
	w := writer{pkg}
	for _, name := range pkg.Scope().Names() {
		switch o := pkg.Scope().Lookup(name).(type) {
		case *types.Const:
			if o.Exported() {
				lines = append(lines, fmt.Sprintf("const %s %s = %s", name, w.typ(o.Type()), value(o.Val())))
			}
		case *types.Var:
			if o.Exported() {
				lines = append(lines, fmt.Sprintf("var %s %s", name, w.typ(o.Type())))
			}
		case *types.Func:
			if o.Exported() {
				lines = append(lines, "func "+name+w.signature(o.Type().(*types.Signature)))
			}
		case *types.TypeName:
			if o.Exported() {
				lines = append(lines, w.named(o)...)
			}
		}
	}
	return lines
}

// value is a constant as Go would have it, with all the digits that it has.
func value(v constant.Value) string {
	if v.Kind() == constant.Float {
		f, _ := constant.Float64Val(v)
		return strconv.FormatFloat(f, 'g', -1, 64)
	}
	return v.ExactString()
}

// writer writes types as seen from a package.
type writer struct{ pkg *types.Package }

func (w writer) typ(t types.Type) string {
	return types.TypeString(t, func(p *types.Package) string {
		if p == w.pkg {
			return ""
		}
		return p.Name()
	})
}

// signature is a function's without the names of what it takes and returns:
// they may change.
func (w writer) signature(s *types.Signature) string {
	out := w.params(s.TypeParams()) + "(" + w.tuple(s.Params(), s.Variadic()) + ")"
	switch results := w.tuple(s.Results(), false); s.Results().Len() {
	case 0:
		return out
	case 1:
		return out + " " + results
	default:
		return out + " (" + results + ")"
	}
}

func (w writer) tuple(list *types.Tuple, variadic bool) string {
	var out []string
	for v := range list.Variables() {
		out = append(out, w.typ(v.Type()))
	}
	if last := len(out) - 1; variadic {
		out[last] = "..." + strings.TrimPrefix(out[last], "[]")
	}
	return strings.Join(out, ", ")
}

func (w writer) params(list *types.TypeParamList) string {
	var out []string
	for p := range list.TypeParams() {
		out = append(out, p.Obj().Name()+" "+w.typ(p.Constraint()))
	}
	if out == nil {
		return ""
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// named lists a type, its fields and its methods.
func (w writer) named(o *types.TypeName) []string {
	if o.IsAlias() {
		return []string{fmt.Sprintf("type %s = %s", o.Name(), w.typ(types.Unalias(o.Type())))}
	}
	t := o.Type().(*types.Named)
	head := "type " + o.Name() + w.params(t.TypeParams())
	var lines []string
	switch under := t.Underlying().(type) {
	case *types.Struct:
		lines = append(lines, head+" struct")
		for i := range under.NumFields() {
			f := under.Field(i)
			if !f.Exported() {
				continue
			}
			line := fmt.Sprintf("%s struct, %s %s", head, f.Name(), w.typ(f.Type()))
			if f.Embedded() {
				line = fmt.Sprintf("%s struct, embedded %s", head, w.typ(f.Type()))
			}
			if tag := under.Tag(i); tag != "" {
				line += " `" + tag + "`"
			}
			lines = append(lines, line)
		}
	case *types.Interface:
		lines = append(lines, head+" interface")
		for m := range under.Methods() {
			line := head + " interface, unexported methods"
			if m.Exported() {
				line = fmt.Sprintf("%s interface, %s%s", head, m.Name(), w.signature(m.Type().(*types.Signature)))
			}
			lines = append(lines, line)
		}
		return lines
	default:
		lines = append(lines, head+" "+w.typ(under))
	}
	byValue := types.NewMethodSet(t)
	for m := range types.NewMethodSet(types.NewPointer(t)).Methods() {
		if !m.Obj().Exported() {
			continue
		}
		on := "*" + o.Name()
		if byValue.Lookup(w.pkg, m.Obj().Name()) != nil {
			on = o.Name()
		}
		lines = append(lines, fmt.Sprintf("method (%s) %s%s", on, m.Obj().Name(), w.signature(m.Type().(*types.Signature))))
	}
	return lines
}
