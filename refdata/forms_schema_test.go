package refdata_test

import (
	"encoding"
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"log"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// formSchemas returns the JSON Schemas of documents by file, made from the types that hold them and what
// their documentation says of each field.
func formSchemas() map[string][]byte {
	tops, schemas := map[string]any{}, map[string][]byte{}
	asked, names := map[reflect.Type]bool{}, map[string]string{}
	docs, values := readDocs("..", "units", "spring", "airspring", "linkage", "linkage/mechanism",
		"spring/coil", "sag", "sag/law", "sag/fit", "sag/certainty", "sag/setup", "sag/visit")
	for _, form := range []struct {
		file, title, name string
		of                reflect.Type
		answer            bool
	}{
		{"job-1.schema.json", "A set-up job", setup.JobSchema, reflect.TypeFor[setup.Job](), false},
		{"record-1.schema.json", "A setting record", visit.RecordSchema, reflect.TypeFor[visit.Record](), false},
		{"mechanism-1.schema.json", "The pivots of a suspension", "", reflect.TypeFor[mechanism.Spec](), false},
		{"sheet-1.schema.json", "A set-up sheet", setup.SheetSchema, reflect.TypeFor[setup.Sheet](), true},
		{"faults-1.schema.json", "What is wrong with an input", "", reflect.TypeFor[Faults](), true},
	} {
		w := &writer{docs: docs, values: values, defs: map[string]any{}, names: names, asked: asked, answer: form.answer}
		top := w.object(form.of)
		top["$schema"] = "https://json-schema.org/draft/2020-12/schema"
		top["$id"] = "https://example.com/wheelrate/schema/" + form.file
		top["title"] = form.title
		top["description"] = docs[typeName(form.of)]
		if !form.answer {
			top["description"] = docs[typeName(form.of)] + " Which fields are needed, and within which range, is said beside them and checked by the library, which names every one that is wrong."
		}
		if form.name != "" {
			top["properties"].(map[string]any)["schema"] = map[string]any{"const": form.name, "description": "the name and version of this format"}
		}
		top["$defs"] = w.defs
		tops[form.file] = top
	}
	for file, top := range tops {
		rename(top, names)
		text, err := json.Marshal(top)
		if err != nil {
			log.Panic(err)
		}
		schemas[file] = text
	}
	return schemas
}

// writer collects the types that a form is made of.
type writer struct {
	docs   map[string]string
	values map[string][]string // of types of texts
	defs   map[string]any
	names  map[string]string // of fields, as Go has them: their names in JSON, those of the first form that has one

	// answer is whether the library writes the form. It leaves out no field but those that are empty, and
	// writes no number in per cent; types that it also reads, asked, are as they are there.
	answer bool
	asked  map[reflect.Type]bool
	given  bool // whether the struct that is written is asked
}

// required are the fields that the library refuses to do without, whatever else
// is given. Of the descriptions of curves they are all that JSON never leaves out, but
// for a fork's head angle, which a spring known by its gauge does without.
var required = map[string][]string{
	"setup.Job":         {"schema", "masses"},
	"visit.Record":      {"schema", "date", "situation"},
	"setup.EndJob":      {"curve", "sag"},
	"visit.EndRecord":   {"curve", "sag"},
	"fit.Shelf":         {"shelf"},
	"fit.PreloadSpacer": {"thickness"},
	"law.Member":        {"law"},
	"spring.Linear":     {"rate", "travel"},
	"spring.DualRate":   {"soft_rate", "main_rate", "soft_travel", "main_travel"},
	"spring.Group":      {"rate", "gap"},
	"coil.LinearPitch":  {"wire_diameter", "mean_diameter", "active_coils", "shear_modulus"},
	"law.Coil":          {"wire_diameter", "free_length", "shear_modulus"},
	"fit.Chamber":       {"bore", "positive_volume", "exponent", "max_fill"},
	"visit.AirSetting":  {"bore", "positive_volume", "fill", "max_fill"},
	"setup.NamedStance": {"name", "rear_share"},
	"visit.Situation":   {"masses"},
	"visit.Reading":     {"stroke", "error"},
	"visit.Ride":        {"stroke", "error"},
	"visit.Tried":       {"sag"},
}

// oneOf are the fields of which exactly one is given.
var oneOf = map[string][]string{
	"fit.ShelfSpring":   {"rate", "law"},
	"visit.CoilSetting": {"rate", "law"},
	"law.Kinds":         {"linear", "dual_rate", "series", "parallel", "groups", "linear_pitch", "coil", "air"},
}

// said is what the forms say of fields whose comments speak to readers of the
// code, or whose names say enough there.
var said = map[string]string{
	"airspring.Spec.Ambient":                  "the air pressure around the spring, above vacuum; may be left out where the job, or the conditions of a record, give it",
	"airspring.Spec.NegativeVolume":           "volume of the negative chamber at full extension; 0 for none",
	"airspring.Spec.OilVolume":                "oil in the positive chamber",
	"airspring.Spec.SecondVolume":             "volume of the second chamber, behind a free piston on its stop; 0 for none",
	"airspring.Spec.SecondFill":               "fill of the second chamber",
	"airspring.Spec.Fill":                     "fill of the positive chamber at full extension, after slow cycling past the port",
	"airspring.Spec.PositiveVolume":           "volume of the empty positive chamber at full extension, without oil and spacers; what these leave is more than the travel sweeps",
	"airspring.Conditions.Altitude":           "above the sea, by the standard atmosphere; 0 is sea level",
	"linkage.Table.Stroke":                    "strokes of the shock, from 0 at full extension, rising",
	"linkage.Table.Method":                    "how the points become a curve: monotone, which is also meant without it, and smooth go through every point; measured goes near readings that have errors",
	"mechanism.Slot.Point":                    "the point that slides",
	"mechanism.Slot.On":                       "the body that has the line",
	"mechanism.Slot.Along":                    "two points of that body that the line goes through",
	"fit.Spec.Coil":                           "coil springs to choose from; this or air",
	"fit.Spec.Air":                            "an air spring; this or coil",
	"setup.Job.Front":                         "the fork, or whatever is in front",
	"setup.Job.Rear":                          "the rear suspension",
	"setup.NamedStance.Name":                  "what you call it",
	"setup.NamedStance.RearShare":             "the part of the weight on the rear wheel of the level bike, between 0 and 1",
	"fit.ShelfSpring":                         "one spring of the shelf: either its rate, or the law of one whose rate varies",
	"fit.ShelfSpring.Rate":                    "of a spring of constant rate, as marked or measured",
	"fit.ShelfSpring.SolidTravel":             "compression from free to coil-bound; 0 if unknown, which is a finding; a law is solid at the end of its own travel, or here if that is less",
	"visit.CoilSetting":                       "a coil spring as it is fitted: either its rate, or the law of one whose rate varies; without preload_max and spacers the range of the collar is unknown, and up to the stroke of the shock is offered as preload",
	"law.Kinds":                               "a spring, by exactly one of the fields: its kind",
	"law.Coil":                                "a coil spring by its wire, put in with a preload: exactly one of the three diameters and one of the two counts of coils; its free length is needed",
	"fit.Shelf.Springs":                       "the springs to choose from, at least one",
	"certainty.Uncertainty.UnsprungFront":     "that of the unsprung mass, up to the bike's mass",
	"certainty.Uncertainty.UnsprungRear":      "that of the unsprung mass, up to the bike's mass",
	"certainty.Uncertainty.Front":             "that of what is in front",
	"certainty.Uncertainty.Rear":              "that of what is behind",
	"certainty.EndUncertainty.SpacerVolume":   "that of one spacer, and of all alike, up to the volume itself",
	"certainty.EndUncertainty.Bore":           "that of the air spring's bore, up to the bore itself",
	"certainty.EndUncertainty.Shaft":          "that of the air spring's shaft, up to the diameter itself",
	"certainty.EndUncertainty.PositiveVolume": "that of the air spring's positive volume, up to the volume itself",
	"certainty.EndUncertainty.NegativeVolume": "that of the air spring's negative volume, up to the volume itself",
	"certainty.EndUncertainty.PortTravel":     "that of the air spring's port, up to the travel",
	"certainty.EndUncertainty.OilVolume":      "that of the air spring's oil, up to the positive volume",
	"certainty.EndUncertainty.SecondVolume":   "that of the air spring's second volume, up to the volume itself",
	"certainty.EndUncertainty.SecondFill":     "that of the air spring's second fill, up to the fill itself",
	"certainty.EndUncertainty.Exponent":       "that of the air spring's exponent, up to 1",
	"visit.Setting.Coil":                      "a coil spring as it is set; this or air",
	"visit.Setting.Air":                       "an air spring as it is filled; this or coil",
	"visit.Setting.Curve":                     "how far the wheel goes for each stroke of the spring",
	"fit.Spec.Curve":                          "how far the wheel goes for each stroke of the spring",
	"visit.EndRecord.Readings":                "what was read on this end after it was set",
	"visit.EndRecord.Note":                    "for people; not read",
	"visit.Situation.Masses":                  "of rider and bike, and how they stand on the wheels",
	"setup.EndRest.Finding":                   "held_at_top, collapses, or empty",
	"units.Limit.Value":                       "a quantity as text with its unit, or a number; missing for finite",
	"visit.Record.Note":                       "for people; not read",
}

var (
	text = reflect.TypeFor[encoding.TextUnmarshaler]()
	raw  = reflect.TypeFor[json.RawMessage]()
)

// typeName returns the name of a type, without its type arguments.
func typeName(t reflect.Type) string {
	name, _, _ := strings.Cut(t.Name(), "[")
	in := path.Base(t.PkgPath())
	if t.PkgPath() == reflect.TypeFor[Fault]().PkgPath() {
		in = "units" // where it is written
	}
	return in + "." + name
}

// perCent is what a text for a number must match: "20 %".
const perCent = `^\s*[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)\s*%\s*$`

// of returns the schema of a type.
func (w *writer) of(t reflect.Type) map[string]any {
	switch {
	case t == raw:
		return map[string]any{"type": "object", "patternProperties": map[string]any{".*": map[string]any{}}, "additionalProperties": false}
	case reflect.PointerTo(t).Implements(text):
		return w.ref(t, func() map[string]any {
			kind, list := unitsOf(t)
			first, _, _ := strings.Cut(list, ",")
			return map[string]any{"type": "string", "pattern": `^\s*[-+]?[0-9.][^A-Za-z]*([eE][-+]?[0-9]+)?\s*\S+`,
				"description": kind + ": a number with its unit, one of " + list + ", such as 12.5 " + first}
		})
	}
	switch t.Kind() {
	case reflect.Pointer:
		return w.of(t.Elem())
	case reflect.Slice:
		return map[string]any{"type": "array", "items": w.of(t.Elem())}
	case reflect.Array:
		return map[string]any{"type": "array", "items": w.of(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Map:
		return map[string]any{"type": "object", "patternProperties": map[string]any{".*": w.of(t.Elem())}, "additionalProperties": false}
	case reflect.Struct:
		return w.ref(t, func() map[string]any {
			o := w.object(t)
			o["description"] = w.docs[typeName(t)]
			return o
		})
	case reflect.String:
		if list := w.values[typeName(t)]; list != nil {
			return w.ref(t, func() map[string]any {
				if w.asked[t] {
					list = append([]string{""}, list...) // which is one that is left out
				}
				return map[string]any{"type": "string", "enum": list, "description": w.docs[typeName(t)]}
			})
		}
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Interface:
		return map[string]any{"type": []string{"string", "number", "boolean"}}
	case reflect.Int, reflect.Uint64:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		if !w.given {
			return map[string]any{"type": "number"}
		}
		return map[string]any{"type": []string{"number", "string"}, "pattern": perCent}
	}
	log.Panicf("no schema for %v", t)
	return nil
}

// ref names a type among the definitions.
func (w *writer) ref(t reflect.Type, make func() map[string]any) map[string]any {
	name := typeName(t)
	if _, of, generic := strings.Cut(strings.TrimSuffix(t.Name(), "]"), "["); generic {
		name += "." + strings.Replace(of[strings.LastIndexByte(of, '.')+1:], "float64", "Number", 1)
	}
	if !w.answer {
		w.asked[t] = true
	}
	if _, ok := w.defs[name]; !ok {
		w.defs[name] = nil // it may hold itself
		w.defs[name] = make()
	}
	return map[string]any{"$ref": "#/$defs/" + name}
}

// object returns a struct's schema, embedded structs flattened as in JSON.
func (w *writer) object(t reflect.Type) map[string]any {
	properties, names := map[string]any{}, required[typeName(t)]
	var fields func(t reflect.Type, optional bool)
	fields = func(t reflect.Type, optional bool) {
		if !w.answer {
			w.asked[t] = true // also where it is the top, or embedded
		}
		outer := w.given
		w.given = w.asked[t]
		for i := range t.NumField() {
			f := t.Field(i)
			name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
			switch {
			case f.Anonymous && name == "":
				if f.Type.Kind() == reflect.Pointer {
					fields(f.Type.Elem(), true)
				} else {
					fields(f.Type, optional)
				}
			case f.IsExported() && name != "-":
				if options == "" && !optional && name != "head_angle" && (ofACurve(t) || !w.given) {
					names = append(names, name)
				}
				s := w.of(f.Type)
				doc := w.docs[typeName(t)+"."+f.Name]
				for _, kind := range linkage.Kinds() {
					if t == reflect.TypeFor[linkage.Spec]() && name == kind.Key {
						doc = kind.About
					}
				}
				if doc != "" {
					s["description"] = doc
				}
				if _, ok := w.names[f.Name]; !ok {
					w.names[f.Name] = name
				}
				if kind, list := unitsOf(f.Type); list != "" {
					doc, _ := s["description"].(string)
					s["description"] = join(doc, kind+" in "+list)
				}
				properties[name] = s
			}
		}
		w.given = outer
	}
	fields(t, false)
	o := map[string]any{"type": "object", "properties": properties, "additionalProperties": false}
	if list := oneOf[typeName(t)]; list != nil {
		var ways []any
		for _, name := range list {
			ways = append(ways, map[string]any{"required": []string{name}})
		}
		o["oneOf"] = ways
	}
	if names != nil {
		o["required"] = names
	}
	return o
}

// ofACurve reports whether t describes a curve, or a part of one.
func ofACurve(t reflect.Type) bool {
	return strings.Contains(t.PkgPath()+"/", "/linkage/")
}

// rename gives fields in all descriptions the names that they have in JSON.
func rename(v any, names map[string]string) {
	switch v := v.(type) {
	case map[string]any:
		if doc, ok := v["description"].(string); ok {
			doc = word.ReplaceAllStringFunc(doc, func(text string) string {
				if n, ok := names[text]; ok {
					return n
				}
				return text
			})
			v["description"] = inside.ReplaceAllStringFunc(doc, func(text string) string {
				if n, ok := names[text[2:]]; ok {
					return text[:2] + n
				}
				return text
			})
		}
		for _, sub := range v {
			rename(sub, names)
		}
	}
}

var (
	word   = regexp.MustCompile(`\b[A-Z][a-z]+([A-Z][a-z]*)+\b`)
	inside = regexp.MustCompile(`[a-z,;:] [A-Z][a-z]+\b(\.[A-Z])?`) // of a sentence: a word with a capital letter
	// elsewhere is where a comment sends readers of the code, and the example
	// that one leaves out of a line.
	none      = regexp.MustCompile(`\bnil\b`)
	elsewhere = regexp.MustCompile(`[;,] see [\w.]*[A-Z]\w*|As JSON: `)
)

// join adds a sentence, or less, to a description.
func join(doc, more string) string {
	switch {
	case doc == "":
		return more
	case strings.HasSuffix(doc, "."):
		return doc + " " + strings.ToUpper(more[:1]) + more[1:] + "."
	}
	return doc + "; " + more
}

// unitsOf is what a quantity, or a list of it, is and the units that it may have;
// nothing for another type.
func unitsOf(t reflect.Type) (kind, list string) {
	if t.Kind() == reflect.Slice {
		kind, list = unitsOf(t.Elem())
		if strings.HasPrefix(kind, "a") || strings.HasPrefix(kind, "e") {
			return "each an " + kind, list
		}
		return "each a " + kind, list
	}
	if t.Kind() == reflect.Pointer {
		return unitsOf(t.Elem())
	}
	q, ok := reflect.New(t).Interface().(encoding.TextUnmarshaler)
	if !ok {
		return "", ""
	}
	wrong := new(units.ParseError)
	if !errors.As(q.UnmarshalText([]byte("?")), &wrong) {
		log.Panicf("%v does not say its units", t)
	}
	return wrong.Kind, wrong.Want
}

// faultsFile has the form of a fault, which package units writes without a type of that form.
const faultsFile = "faults_schema_test.go"

// readDocs returns what packages say of their types, by "package.Type", and of
// fields, by "package.Type.Field", in one line each, and the constants of types of texts.
func readDocs(root string, packages ...string) (docs map[string]string, values map[string][]string) {
	docs, values = map[string]string{}, map[string][]string{}
	for _, dir := range packages {
		name := path.Base(dir)
		files, err := filepath.Glob(filepath.Join(root, dir, "*.go"))
		if err != nil {
			log.Panic(err)
		}
		if name == "units" {
			files = append(files, faultsFile)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") && file != faultsFile {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
			if err != nil {
				log.Panic(err)
			}
			for _, d := range f.Decls {
				g, ok := d.(*ast.GenDecl)
				if !ok {
					continue
				}
				for _, spec := range g.Specs {
					if c, ok := spec.(*ast.ValueSpec); ok && g.Tok == token.CONST && c.Type != nil {
						if literal, ok := c.Values[0].(*ast.BasicLit); ok && literal.Kind == token.STRING {
							of := types.ExprString(c.Type)
							if !strings.Contains(of, ".") {
								of = name + "." + of
							}
							values[of] = append(values[of], strings.Trim(literal.Value, `"`))
						}
					}
					t, ok := spec.(*ast.TypeSpec)
					if !ok {
						continue
					}
					docs[name+"."+t.Name.Name] = oneLine(g.Doc, t.Doc)
					s, ok := t.Type.(*ast.StructType)
					if !ok {
						continue
					}
					above := "" // the last comment above a field; it may speak of those below too
					for _, field := range s.Fields.List {
						if doc := oneLine(field.Doc); doc != "" {
							above = doc
						}
						for _, id := range field.Names {
							doc := oneLine(field.Doc, field.Comment)
							if doc == "" && strings.Contains(" "+above, " "+id.Name+" ") {
								doc = above
							}
							docs[name+"."+t.Name.Name+"."+id.Name] = doc
						}
					}
				}
			}
		}
	}
	for field, doc := range said {
		if _, ok := docs[field]; !ok {
			log.Panicf("there is no %s to say anything of", field)
		}
		docs[field] = doc
	}
	return docs, values
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
	text := strings.NewReplacer("[", "", "]", "", "Nil ", "Left out ").Replace(strings.Join(words, " "))
	return none.ReplaceAllString(elsewhere.ReplaceAllString(text, ""), "missing")
}
