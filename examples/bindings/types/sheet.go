package main

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"strings"

	"example.com/wheelrate/sag/setup"
)

var (
	sheetType = reflect.TypeFor[setup.Sheet]()
	marshaled = reflect.TypeFor[encoding.TextMarshaler]()
	asJSON    = reflect.TypeFor[json.Marshaler]()
)

// structure declares the type of a struct as package encoding/json writes it, and of all structs in it.
// One that is declared already is kept: the spring of an answer is described as that of a job.
func (f file) structure(t reflect.Type, name string) error {
	if _, ok := f[name]; ok {
		return nil
	}
	f[name] = "" // a struct may hold its own type
	var b strings.Builder
	fmt.Fprintf(&b, "export interface %s {\n", name)
	if err := f.fields(&b, t, ""); err != nil {
		return err
	}
	f[name] = b.String() + "}\n"
	return nil
}

// fields writes the fields of a struct, with those of the structs embedded in it. All of a struct behind a
// pointer may be missing.
func (f file) fields(b *strings.Builder, t reflect.Type, mark string) error {
	for i := range t.NumField() {
		field := t.Field(i)
		name, options, _ := strings.Cut(field.Tag.Get("json"), ",")
		inner, optional := field.Type, mark
		if inner.Kind() == reflect.Pointer {
			inner = inner.Elem()
		}
		if strings.Contains(options, "omit") || field.Anonymous && inner != field.Type {
			optional = "?"
		}
		switch {
		case field.Anonymous && name == "":
			if err := f.fields(b, inner, optional); err != nil {
				return err
			}
		case field.IsExported() && name != "-":
			kind, err := f.kind(inner)
			if err != nil {
				return fmt.Errorf("%v.%s: %w", t, field.Name, err)
			}
			fmt.Fprintf(b, "  %s%s: %s;\n", name, optional, kind)
		}
	}
	return nil
}

var path = regexp.MustCompile(`[a-z.]+/|[][]|units\.`)

// kind is a Go type in TypeScript.
func (f file) kind(t reflect.Type) (string, error) {
	name := typeName(strings.ReplaceAll(path.ReplaceAllString(t.String(), ""), "float64", "Number"))
	switch {
	case t.Implements(marshaled) && f[name] != "": // a quantity
		return name, nil
	case t.Implements(marshaled) || t.Implements(asJSON):
		return "", fmt.Errorf("%v writes its own JSON", t)
	}
	switch t.Kind() {
	case reflect.Bool:
		return "boolean", nil
	case reflect.String:
		return "string", nil
	case reflect.Int, reflect.Uint64, reflect.Float64:
		return "number", nil
	case reflect.Pointer:
		return f.kind(t.Elem())
	case reflect.Slice:
		element, err := f.kind(t.Elem())
		return element + "[]", err
	case reflect.Struct:
		return name, f.structure(t, name)
	}
	return "", fmt.Errorf("no type is known of a %v", t.Kind())
}
