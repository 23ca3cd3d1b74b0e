package main

import (
	"bytes"
	"encoding"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/sag"
)

// paths lists what a form's groups hold, with a line of several columns under
// the paths of the job that its columns become.
func paths(groups []group) (list []string) {
	for _, g := range groups {
		for _, f := range g.Fields {
			if f.Kind != lines {
				list = append(list, f.Path)
				continue
			}
			for column := range strings.SplitSeq(f.Columns, ",") {
				name, _, _ := strings.Cut(column, ":")
				list = append(list, f.Path+"."+name)
			}
		}
		list = append(list, paths(g.Groups)...)
		if g.More != nil {
			list = append(list, paths([]group{*g.More})...)
		}
	}
	return list
}

// objects lists the paths of the fields whose text is JSON.
func objects(groups []group) (list []string) {
	for _, g := range groups {
		for _, f := range g.Fields {
			if f.Kind == object {
				list = append(list, f.Path)
			}
		}
		list = append(list, objects(g.Groups)...)
		if g.More != nil {
			list = append(list, objects([]group{*g.More})...)
		}
	}
	return list
}

// leaves lists the paths of all that a type's JSON can hold; of a list, those
// of its elements. What is at a path of asJSON is one.
func leaves(t reflect.Type, path string, asJSON []string) (list []string) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		if reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()) {
			break
		}
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || slices.Contains(asJSON, path) {
		return []string{path}
	}
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "":
			list = append(list, leaves(f.Type, path, asJSON)...)
		case f.IsExported() && name != "-":
			at := name
			if path != "" {
				at = path + "." + name
			}
			list = append(list, leaves(f.Type, at, asJSON)...)
		}
	}
	return list
}

// Everything that a job can say can be entered, and nothing else: a job opened
// in the page loses nothing, and a field added to the job is missed here.
func TestFormIsTheJob(t *testing.T) {
	form := paths(formOf(cautions{}))
	job := leaves(reflect.TypeFor[sag.Job](), "", objects(formOf(cautions{})))
	job = slices.DeleteFunc(job, func(p string) bool { return p == "schema" })
	slices.Sort(form)
	slices.Sort(job)
	for _, p := range job {
		if !slices.Contains(form, p) {
			t.Errorf("no field for %s of the job", p)
		}
	}
	for i, p := range form {
		if !slices.Contains(job, p) {
			t.Errorf("the job has no %s", p)
		}
		if i > 0 && form[i-1] == p {
			t.Errorf("two fields for %s", p)
		}
	}
	if len(job) < 60 {
		t.Errorf("only %d fields found in a job", len(job))
	}
}

// Every field says what it is and what may be entered, and every case of a
// switch has its group.
func TestFormIsWhole(t *testing.T) {
	var walk func(g group)
	walk = func(g group) {
		for _, f := range g.Fields {
			if f.Label == "" || f.Hint == "" && f.Kind != pick || f.Kind == "" {
				t.Errorf("%s lacks words", f.Path)
			}
			if (f.Kind == lines) != (f.Columns != "") || (f.Kind == lines) != (f.Shape == "rows" || f.Shape == "columns") || (f.Kind == pick) != (f.Choices != nil) {
				t.Errorf("%s: a %s with columns %q, shape %q, %d choices", f.Path, f.Kind, f.Columns, f.Shape, len(f.Choices))
			}
		}
		var cases, groups []string
		if g.Switch != nil {
			for _, c := range g.Switch.Cases {
				cases = append(cases, c.Value)
			}
		}
		for _, inner := range g.Groups {
			if inner.Case != "" {
				groups = append(groups, inner.Case)
			}
			walk(inner)
		}
		if !slices.Equal(cases, groups) {
			t.Errorf("%s: cases %v, groups %v", g.ID, cases, groups)
		}
		if g.More != nil {
			walk(*g.More)
		}
	}
	for _, g := range formOf(cautions{}) {
		walk(g)
	}
}

func TestDemonstrations(t *testing.T) {
	for _, d := range demonstrations {
		text, err := demos.ReadFile("demo/" + d.name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		job, err := sag.ReadJob(bytes.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", d.name, err)
		}
		if _, err := sag.NewSheet(job); err != nil {
			t.Errorf("%s: %v", d.name, err)
		}
		if !strings.Contains(job.Note, "Invented") || !strings.Contains(d.title, "invented") {
			t.Errorf("%s does not say that it is invented", d.name)
		}
		if !json.Valid(text) {
			t.Errorf("%s is no JSON", d.name)
		}
	}
}
