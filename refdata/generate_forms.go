//go:build ignore

// Generate_forms writes the JSON Schemas of jobs and records from the types of
// package sag and what their documentation says of each field. Run it with go
// generate.
package main

import (
	"encoding"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"log"
	"os"
	"path/filepath"
	"reflect"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/sag"
)

func main() {
	log.SetFlags(0)
	docs := readDocs("..", "units", "spring", "airspring", "linkage", "sag")
	for _, form := range []struct {
		file, title, name string
		of                reflect.Type
	}{
		{"job-1.schema.json", "A set-up job", sag.JobSchema, reflect.TypeFor[sag.Job]()},
		{"record-1.schema.json", "A setting record", sag.RecordSchema, reflect.TypeFor[sag.Record]()},
	} {
		w := &writer{docs: docs, defs: map[string]any{}}
		top := w.object(form.of)
		top["$schema"] = "https://json-schema.org/draft/2020-12/schema"
		top["$id"] = "https://example.com/wheelrate/schema/" + form.file
		top["title"] = form.title
		top["description"] = docs[typeName(form.of)] + " Which fields are needed, and within which range, is said beside them and checked by the library, which names every one that is wrong."
		top["properties"].(map[string]any)["schema"] = map[string]any{"const": form.name, "description": "the name and version of this format"}
		top["required"] = []string{"schema"}
		top["$defs"] = w.defs
		text, err := json.Marshal(top)
		if err != nil {
			log.Fatal(err)
		}
		if text, err = refdata.Format(text); err != nil {
			log.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join("schema", form.file), text, 0o644); err != nil {
			log.Fatal(err)
		}
	}
}

// writer collects the types that a form is made of.
type writer struct {
	docs map[string]string
	defs map[string]any
}

var (
	text = reflect.TypeFor[encoding.TextUnmarshaler]()
	raw  = reflect.TypeFor[json.RawMessage]()
)

func typeName(t reflect.Type) string {
	return t.PkgPath()[strings.LastIndexByte(t.PkgPath(), '/')+1:] + "." + t.Name()
}

// of returns the schema of a type.
func (w *writer) of(t reflect.Type) map[string]any {
	switch {
	case t == raw:
		return map[string]any{"type": "object", "patternProperties": map[string]any{"": map[string]any{}}, "additionalProperties": false}
	case reflect.PointerTo(t).Implements(text):
		return w.ref(t, func() map[string]any {
			return map[string]any{"type": "string", "pattern": `^\s*[-+]?[0-9.][^A-Za-z]*([eE][-+]?[0-9]+)?\s*\S+`,
				"description": "a number and its unit, such as " + example(t)}
		})
	}
	switch t.Kind() {
	case reflect.Pointer:
		return w.of(t.Elem())
	case reflect.Slice:
		return map[string]any{"type": "array", "items": w.of(t.Elem())}
	case reflect.Array:
		return map[string]any{"type": "array", "items": w.of(t.Elem()), "minItems": t.Len()}
	case reflect.Map:
		return map[string]any{"type": "object", "patternProperties": map[string]any{"": w.of(t.Elem())}, "additionalProperties": false}
	case reflect.Struct:
		return w.ref(t, func() map[string]any {
			o := w.object(t)
			o["description"] = w.docs[typeName(t)]
			return o
		})
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	}
	log.Fatalf("no schema for %v", t)
	return nil
}

// ref names a type among the definitions.
func (w *writer) ref(t reflect.Type, make func() map[string]any) map[string]any {
	name := typeName(t)
	if _, ok := w.defs[name]; !ok {
		w.defs[name] = nil // it may hold itself
		w.defs[name] = make()
	}
	return map[string]any{"$ref": "#/$defs/" + name}
}

// object returns a struct's schema, embedded structs flattened as in JSON.
func (w *writer) object(t reflect.Type) map[string]any {
	properties := map[string]any{}
	var fields func(t reflect.Type)
	fields = func(t reflect.Type) {
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			switch {
			case f.Anonymous && name == "":
				inner := f.Type
				if inner.Kind() == reflect.Pointer {
					inner = inner.Elem()
				}
				fields(inner)
			case f.IsExported() && name != "-":
				s := w.of(f.Type)
				if doc := w.docs[typeName(t)+"."+f.Name]; doc != "" {
					s["description"] = doc
				}
				properties[name] = s
			}
		}
	}
	fields(t)
	return map[string]any{"type": "object", "properties": properties, "additionalProperties": false}
}

// example is a quantity of a type as text.
func example(t reflect.Type) string {
	v := reflect.New(t)
	v.Elem().SetFloat(1)
	out, err := v.Interface().(encoding.TextMarshaler).MarshalText()
	if err != nil {
		log.Fatal(err)
	}
	return string(out)
}

// readDocs returns what packages say of their types, by "package.Type", and of
// fields, by "package.Type.Field", in one line each.
func readDocs(root string, packages ...string) map[string]string {
	docs := map[string]string{}
	for _, name := range packages {
		files, err := filepath.Glob(filepath.Join(root, name, "*.go"))
		if err != nil {
			log.Fatal(err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
			if err != nil {
				log.Fatal(err)
			}
			for _, d := range f.Decls {
				g, ok := d.(*ast.GenDecl)
				if !ok || g.Tok != token.TYPE {
					continue
				}
				for _, spec := range g.Specs {
					t := spec.(*ast.TypeSpec)
					docs[name+"."+t.Name.Name] = oneLine(g.Doc, t.Doc)
					s, ok := t.Type.(*ast.StructType)
					if !ok {
						continue
					}
					for _, field := range s.Fields.List {
						for _, id := range field.Names {
							docs[name+"."+t.Name.Name+"."+id.Name] = oneLine(field.Doc, field.Comment)
						}
					}
				}
			}
		}
	}
	return docs
}

// oneLine joins comments, without the brackets of links and without what is
// indented, code and formulas.
func oneLine(groups ...*ast.CommentGroup) string {
	var words []string
	for _, g := range groups {
		if g == nil {
			continue
		}
		for _, line := range strings.Split(g.Text(), "\n") {
			if !strings.HasPrefix(line, "\t") {
				words = append(words, strings.Fields(line)...)
			}
		}
	}
	return strings.NewReplacer("[", "", "]", "").Replace(strings.Join(words, " "))
}
