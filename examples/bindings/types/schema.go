package main

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"

	"example.com/wheelrate/refdata"
	schemas "example.com/wheelrate/refdata/schema"
)

// schema is a JSON Schema, as far as the dataset's have keywords that a type can say.
type schema struct {
	Description       string             `json:"description"`
	Type              names              `json:"type"`
	Ref               string             `json:"$ref"`
	Const             string             `json:"const"`
	Enum              []string           `json:"enum"`
	Items             *schema            `json:"items"`
	MinItems          int                `json:"minItems"`
	MaxItems          int                `json:"maxItems"`
	Properties        map[string]*schema `json:"properties"`
	Required          []string           `json:"required"`
	PatternProperties map[string]*schema `json:"patternProperties"`
	Defs              map[string]*schema `json:"$defs"`
}

// names are one name or several.
type names []string

func (n *names) UnmarshalJSON(text []byte) error {
	var one string
	if json.Unmarshal(text, &one) == nil {
		*n = names{one}
		return nil
	}
	return json.Unmarshal(text, (*[]string)(n))
}

// file is a file of declarations, each by its name.
type file map[string]string

// declare adds a declaration. A name has one.
func (f file) declare(name, text string) error {
	if old, ok := f[name]; ok && old != text {
		return fmt.Errorf("two types are called %s:\n%s%s", name, old, text)
	}
	f[name] = text
	return nil
}

// declarations returns the text of the file.
func declarations() (string, error) {
	f := file{}
	var computations strings.Builder
	for _, name := range refdata.Computations() {
		s, err := read(schemas.Dataset(), "computations/"+name)
		if err == nil {
			err = f.definitions(s)
		}
		if err != nil {
			return "", err
		}
		given, answer := s.Properties["given"], s.Properties["answer"]
		described, _ := refdata.Describe(name)
		for _, o := range described.Outputs {
			if o.When == "" {
				answer.Required = append(answer.Required, o.Name)
			}
		}
		fmt.Fprintf(&computations, "%s  '%s': {\n    given: %s;\n    answer: %s;\n  };\n",
			comment(s.Description, "  "), name, given.text("    "), answer.text("    "))
	}
	for _, document := range []struct{ file, name string }{
		{"job-1", "Job"}, {"sheet-1", "Sheet"}, {"record-1", "SettingRecord"}, // whose mechanisms are MechanismSpec
		{"faults-1", "Faults"},
	} {
		s, err := read(schemas.Documents(), document.file)
		if err == nil {
			err = f.definitions(s)
		}
		if err == nil {
			err = f.declare(document.name, comment(s.Description, "")+"export interface "+document.name+" "+s.text("")+"\n")
		}
		if err != nil {
			return "", err
		}
	}
	var out strings.Builder
	fmt.Fprintf(&out, head, refdata.Version(), computations.String())
	for _, name := range slices.Sorted(maps.Keys(f)) {
		out.WriteString("\n" + f[name])
	}
	return out.String(), nil
}

const head = `// Types of what is asked and replied, made by "go generate". Version of the dataset: %s.
// A quantity is a text with its unit, such as "9.5 mm".

/** The computations by name: what each is given, and its answer. */
export interface Computations {
%s}

/** The name of a computation. */
export type Computation = keyof Computations;

/** What answers. */
export interface Version {
  library: string;
  dataset: string;
  /** Schema of the jobs that are read. */
  job: string;
  computations: Computation[];
}
`

// read reads a schema.
func read(fsys fs.FS, name string) (s *schema, err error) {
	text, err := fs.ReadFile(fsys, name+".schema.json")
	if err == nil {
		err = json.Unmarshal(text, &s)
	}
	return s, err
}

// definitions declares the types of $defs. A quantity of a job has the name of that of a computation.
func (f file) definitions(s *schema) error {
	for name, def := range s.Defs {
		kind := " " + def.text("")
		text := comment(def.Description, "") + "export interface " + typeName(name) + kind + "\n"
		if def.Properties == nil {
			if old := f[typeName(name)]; strings.HasPrefix(name, "units.") && old != "" {
				continue
			}
			text = comment(def.Description, "") + "export type " + typeName(name) + " =" + kind + ";\n"
		}
		if err := f.declare(typeName(name), text); err != nil {
			return err
		}
	}
	return nil
}

var firstLetter = regexp.MustCompile(`(^|[._])[a-z]`)

// typeName is the name of a definition in TypeScript: FitShelf for fit.Shelf, Length for units.Length, and
// DualRate for dual_rate.
func typeName(name string) string {
	name = firstLetter.ReplaceAllStringFunc(strings.TrimPrefix(name, "units."), func(s string) string {
		return strings.ToUpper(strings.TrimLeft(s, "._"))
	})
	return strings.ReplaceAll(name, ".", "")
}

// text is the type that a schema describes; indent is that of the line it is in.
func (s *schema) text(indent string) string {
	switch {
	case s.Ref != "":
		return typeName(strings.TrimPrefix(s.Ref, "#/$defs/"))
	case s.Const != "":
		return "'" + s.Const + "'"
	case s.Enum != nil:
		return "'" + strings.Join(s.Enum, "' | '") + "'"
	case s.Items != nil && s.MinItems > 0 && s.MinItems == s.MaxItems:
		return "[" + strings.TrimSuffix(strings.Repeat(s.Items.text(indent)+", ", s.MinItems), ", ") + "]"
	case s.Items != nil:
		if element := s.Items.text(indent); !strings.ContainsAny(element, " ") {
			return element + "[]"
		}
		return "Array<" + s.Items.text(indent) + ">"
	case s.PatternProperties != nil:
		for _, of := range s.PatternProperties {
			return "Record<string, " + of.text(indent) + ">"
		}
	case s.Properties != nil:
		var b strings.Builder
		b.WriteString("{\n")
		for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
			of, optional := s.Properties[name], "?"
			if slices.Contains(s.Required, name) {
				optional = ""
			}
			fmt.Fprintf(&b, "%s%s  %s%s: %s;\n", comment(of.Description, indent+"  "), indent, name, optional, of.text(indent+"  "))
		}
		return b.String() + indent + "}"
	}
	if s.Type == nil {
		return "unknown"
	}
	var list []string
	for _, name := range s.Type {
		switch name {
		case "integer":
			name = "number"
		case "object":
			name = "Record<string, unknown>"
		case "array":
			name = "unknown[]"
		}
		list = append(list, name)
	}
	return strings.Join(list, " | ")
}

// comment is a text as a documentation comment, "" for an empty one.
func comment(text, indent string) string {
	if text == "" {
		return ""
	}
	return indent + "/** " + strings.ReplaceAll(text, "*/", "* /") + " */\n"
}
