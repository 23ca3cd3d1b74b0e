package refdata_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
)

// described is a file of data/description.
type described struct {
	Title    string `json:"title"`
	Sections []struct {
		Name, Title string
		Text        []string
	} `json:"sections"`
	Quantities []struct {
		Kind, SI, About string
		Least           *float64
		Units           []struct {
			Symbols      []string
			Factor, Zero string
		}
	} `json:"quantities"`
	Forms        []refdata.Description `json:"forms"`
	Computations []refdata.Description `json:"computations"`
}

// descriptions returns the files by name, and their names in the order in which one reads them.
func descriptions(t *testing.T) (map[string]described, []string) {
	t.Helper()
	files := map[string]described{}
	names := []string{"format.json", "units.json", "spring.json", "airspring.json", "linkage.json", "sag.json", "forms.json"}
	require.NoError(t, fs.WalkDir(refdata.Data(), "description", func(file string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := fs.ReadFile(refdata.Data(), file)
		require.NoError(t, err)
		var d described
		require.NoError(t, json.Unmarshal(text, &d))
		if files[entry.Name()] = d; !slices.Contains(names, entry.Name()) {
			names = append(names, entry.Name())
		}
		return nil
	}))
	return files, names
}

// page is the description to read.
type page struct{ strings.Builder }

func (p *page) line(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

func (p *page) list(title string, items []string) {
	if len(items) > 0 {
		p.line("\n%s:\n", title)
		for _, item := range items {
			p.line("- %s", item)
		}
	}
}

// cell is a text in a table.
func cell(text string) string { return strings.ReplaceAll(text, "|", `\|`) }

// number prints a bound.
func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// rangeOf is a range as an interval.
func rangeOf(r *refdata.Interval) string {
	if r == nil {
		return ""
	}
	low, high := "(−∞", "∞)"
	switch {
	case r.From != nil:
		low = "[" + number(*r.From)
	case r.Over != nil:
		low = "(" + number(*r.Over)
	}
	switch {
	case r.To != nil:
		high = number(*r.To) + "]"
	case r.Below != nil:
		high = number(*r.Below) + ")"
	}
	return low + ", " + high
}

// kindOf is the kind of a field in words.
func kindOf(f refdata.Field) string {
	kind := f.Kind
	if _, form := refdata.Forms()[kind]; form {
		kind = "[" + kind + "](#form-" + kind + ")"
	}
	if f.Count > 0 {
		kind = fmt.Sprintf("%d × %s", f.Count, kind)
	}
	if f.List {
		kind = "list of " + kind
	}
	if f.Least > 0 {
		kind += fmt.Sprintf(", at least %d", f.Least)
	}
	if f.Map {
		kind = "by name: " + kind
	}
	return kind
}

func (p *page) describe(d refdata.Description) {
	p.line("\n%s", d.About)
	if len(d.Includes) > 0 {
		p.line("\nIncludes the fields of the form %s.", strings.Join(d.Includes, ", "))
	}
	if len(d.Inputs) > 0 {
		p.line("\n| input | kind | range, SI | meaning | if left out |\n|---|---|---|---|---|")
	}
	for _, f := range d.Inputs {
		about, left := f.About, f.LeftOut
		if len(f.Choices) > 0 {
			about += ": " + strings.Join(f.Choices, ", ")
		}
		if f.NeededWith != "" {
			left += "; needed with " + f.NeededWith
		}
		if len(f.NeededWithout) > 0 {
			left += "; needed without " + strings.Join(f.NeededWithout, " or ")
		}
		if f.ZeroIsNone {
			left += "; 0 counts as left out"
		}
		if left == "" {
			left = "needed"
		}
		p.line("| %s | %s | %s | %s | %s |", f.Name, kindOf(f), rangeOf(f.Range), cell(about), cell(left))
	}
	for _, one := range d.OneOf {
		none := "The object itself"
		if one.None != "" {
			none = one.None
		}
		p.line("\nExactly one of %s. %s is named where none is given. %s", strings.Join(one.Of, ", "), none, one.About)
	}
	if len(d.Outputs) > 0 {
		p.line("\n| output | kind | meaning | formula | given |\n|---|---|---|---|---|")
	}
	for _, f := range d.Outputs {
		when := f.When
		if when == "" {
			when = "always"
		}
		p.line("| %s | %s | %s | %s | %s |", f.Name, kindOf(f), cell(f.About), cell(f.Formula), cell(when))
	}
	p.list("Method", d.Method)
	p.list("Conventions", d.Conventions)
	p.list("Refusals", d.Refusals)
	p.list("Sources", d.Sources)
	var tables []struct {
		Title   string
		Columns []string
		Rows    [][]any
	}
	_ = json.Unmarshal(d.Tables, &tables) // nothing where there are none
	for _, table := range tables {
		p.line("\n%s\n\n| %s |\n|%s", table.Title, strings.Join(table.Columns, " | "), strings.Repeat("---|", len(table.Columns)))
		for _, row := range table.Rows {
			cells := make([]string, len(row))
			for i, v := range row {
				cells[i] = fmt.Sprint(v)
			}
			p.line("| %s |", strings.Join(cells, " | "))
		}
	}
}

// Data/DESCRIPTION.md says what the files in data/description say.
func TestDescriptionPage(t *testing.T) {
	files, names := descriptions(t)
	var p page
	p.line("# Description of the reference cases\n\nMade of description/*.json by go generate. A program in any language can be written from it, and judged by the cases.")
	for _, name := range names {
		file := files[name]
		p.line("\n## %s", file.Title)
		for _, s := range file.Sections {
			p.line("\n### %s", s.Title)
			for _, text := range s.Text {
				p.line("\n%s", text)
			}
		}
		if len(file.Quantities) > 0 {
			p.line("\n### Kinds of quantity\n\n| kind | SI unit | what | units: symbols = factor to SI |\n|---|---|---|---|")
		}
		for _, q := range file.Quantities {
			var units []string
			for _, u := range q.Units {
				zero := ""
				if u.Zero != "" {
					zero = " after adding " + u.Zero
				}
				units = append(units, strings.Join(u.Symbols, ", ")+" = "+u.Factor+zero)
			}
			about := q.About
			if q.Least != nil {
				about += "; not less than " + number(*q.Least)
			}
			p.line("| %s | %s | %s | %s |", q.Kind, q.SI, about, strings.Join(units, "; "))
		}
		for _, d := range file.Computations {
			p.line("\n### %s", d.Name)
			p.describe(d)
		}
		for _, d := range file.Forms {
			p.line("\n### Form %s", d.Name)
			p.describe(d)
		}
	}
	current(t, "data/DESCRIPTION.md", []byte(p.String()), false)
}

// fieldSchema is the JSON Schema of a field, text form.
func fieldSchema(f refdata.Field) map[string]any {
	s := map[string]any{}
	switch f.Kind {
	case "number":
		s["type"] = "number"
		if r := f.Range; r != nil {
			for keyword, bound := range map[string]*float64{"minimum": r.From, "exclusiveMinimum": r.Over, "maximum": r.To, "exclusiveMaximum": r.Below} {
				if bound != nil && !(f.ZeroIsNone && *bound >= 0 && strings.HasSuffix(keyword, "inimum")) {
					s[keyword] = *bound
				}
			}
		}
	case "integer":
		s["type"] = "integer"
	case "flag":
		s["type"] = "boolean"
	case "text", "quantity":
		if s["type"] = "string"; len(f.Choices) > 0 {
			s["enum"] = f.Choices
		}
	default:
		s["$ref"] = "#/$defs/" + f.Kind
	}
	if f.Count > 0 {
		s = map[string]any{"type": "array", "minItems": f.Count, "maxItems": f.Count, "items": s}
	}
	if f.List {
		s = map[string]any{"type": "array", "items": s}
		if f.Least > 0 {
			s["minItems"] = f.Least
		}
	}
	if f.Map {
		s = map[string]any{"type": "object", "patternProperties": map[string]any{".*": s}, "additionalProperties": false}
	}
	about := f.About
	if r := rangeOf(f.Range); r != "" && f.Kind != "number" {
		about = strings.TrimPrefix(about+"; in SI in the range "+r, "; ")
	}
	if f.LeftOut != "" {
		about += "; if left out: " + f.LeftOut
	}
	if about != "" {
		s["description"] = about
	}
	return s
}

// objectSchema is the schema of an object of fields, of which the needed ones are required.
func objectSchema(about string, fields []refdata.Field, outputs bool) map[string]any {
	properties, required := map[string]any{}, []string{}
	for _, f := range fields {
		properties[f.Name] = fieldSchema(f)
		if _, form := refdata.Forms()[f.Kind]; !outputs && f.LeftOut == "" && !(form && !f.List) && f.Name != "at" {
			required = append(required, f.Name)
		}
	}
	s := map[string]any{"type": "object", "additionalProperties": false, "properties": properties}
	if about != "" {
		s["description"] = about
	}
	if len(required) > 0 {
		s["required"] = required
	}
	return s
}

// definitions adds what a schema refers to, and what that refers to.
func definitions(t *testing.T, schema any, defs map[string]any) {
	switch v := schema.(type) {
	case map[string]any:
		if ref, ok := v["$ref"].(string); ok {
			name := strings.TrimPrefix(ref, "#/$defs/")
			if defs[name] != nil {
				return
			}
			if form, ok := refdata.Forms()[name]; ok {
				s := objectSchema(form.About, form.Fields(), false)
				defs[name] = s
				for _, one := range form.OneOf {
					if one.None == "" { // exactly one kind
						var ways []any
						for _, field := range one.Of {
							ways = append(ways, map[string]any{"required": []string{field}})
						}
						s["oneOf"] = ways
					}
				}
				definitions(t, s, defs)
				return
			}
			defs[name] = quantitySchema(t, name)
			return
		}
		for _, sub := range v {
			definitions(t, sub, defs)
		}
	}
}

// quantitySchema is that of a quantity's text: its pattern has every symbol.
func quantitySchema(t *testing.T, kind string) map[string]any {
	files, _ := descriptions(t)
	for _, q := range files["format.json"].Quantities {
		if q.Kind != kind {
			continue
		}
		var symbols []string
		for _, u := range q.Units {
			for _, s := range u.Symbols {
				symbols = append(symbols, regexp.QuoteMeta(s))
			}
		}
		return map[string]any{"type": "string", "description": q.About,
			"pattern": `^\s*[-+]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?\s*(` + strings.Join(symbols, "|") + `)\s*$`}
	}
	t.Errorf("the quantity %s is not described", kind)
	return nil
}

// Every computation has a schema, of what is given and of an answer, made of its description. Accepted cases
// meet it.
func TestComputationSchemas(t *testing.T) {
	schemas := map[string]map[string]any{}
	for _, name := range evaluate.Computations() {
		d, ok := refdata.Describe(name)
		require.True(t, ok, name)
		s := map[string]any{
			"title": name, "$schema": "https://json-schema.org/draft/2020-12/schema",
			"$id": "https://example.com/wheelrate/schema/computations/" + name + ".schema.json", "description": d.About,
			"type": "object", "additionalProperties": false, "required": []string{"given"},
			"properties": map[string]any{"given": objectSchema("", d.Fields(), false), "answer": objectSchema("", d.Outputs, true)},
		}
		defs := map[string]any{}
		definitions(t, s, defs)
		if len(defs) > 0 {
			s["$defs"] = defs
		}
		text, err := json.Marshal(s)
		require.NoError(t, err)
		text, err = format(text)
		require.NoError(t, err)
		current(t, "schema/computations/"+name+".schema.json", text, false)
		parsed := map[string]any{}
		require.NoError(t, json.Unmarshal(text, &parsed))
		schemas[name] = parsed
	}
	faulty, refused := 0, 0
	for c, err := range refdata.Cases(refdata.CaseFiles()) {
		require.NoError(t, err)
		var given any
		require.NoError(t, json.Unmarshal(c.Given, &given))
		v := &validator{}
		schema := schemas[c.Computes]
		v.defs, _ = schema["$defs"].(map[string]any)
		properties := schema["properties"].(map[string]any)
		v.check("", properties["given"], given)
		switch {
		case c.Error != nil:
			if refused++; len(v.faults) > 0 {
				faulty++
			}
		case len(v.faults) > 0:
			t.Errorf("%s: given %v", c.ID, v.faults)
		default:
			v.check("", properties["answer"], map[string]any(c.Expect))
			if len(v.faults) > 0 {
				t.Errorf("%s: expected %v", c.ID, v.faults)
			}
		}
	}
	if faulty < refused/4 {
		t.Errorf("of %d inputs that are refused the schemas refuse only %d", refused, faulty)
	}
}

// exact is a factor as the description writes it.
func exact(t *testing.T, text string) float64 {
	t.Helper()
	above, below, fraction := strings.Cut(text, "/")
	if above == "pi" {
		d, err := strconv.ParseFloat(below, 64)
		require.NoError(t, err)
		return math.Pi / d
	}
	r, ok := new(big.Rat).SetString(above)
	require.True(t, ok, text)
	if fraction {
		d, ok := new(big.Rat).SetString(below)
		require.True(t, ok, text)
		r.Quo(r, d)
	}
	x, _ := r.Float64()
	return x
}

// The described kinds of quantity are those that are read, with the symbols and factors described.
func TestUnitsAreDescribed(t *testing.T) {
	files, _ := descriptions(t)
	described, kinds := files["format.json"].Quantities, []string{}
	all := map[string]bool{"µm": true, "km": true, "mile": true, "torr": true, "bara": true, "N/mm²": true, "turn": true, "kg/mm": true, "C": true, "min": true}
	for _, q := range described {
		for _, u := range q.Units {
			for _, s := range u.Symbols {
				all[s] = true
			}
		}
	}
	for _, q := range refdata.Quantities() {
		kinds = append(kinds, q.Kind)
		own := map[string]bool{}
		for _, d := range described {
			if d.Kind != q.Kind {
				continue
			}
			for _, u := range d.Units {
				zero := 0.0
				if u.Zero != "" {
					zero = exact(t, u.Zero)
				}
				for _, symbol := range u.Symbols {
					own[symbol] = true
					for _, x := range []float64{1, 37.5} {
						got, ok := q.Value(number(x) + " " + symbol)
						if want := (x + zero) * exact(t, u.Factor); !ok || math.Abs(got-want) > 4e-16*want {
							t.Errorf("1 %s as %s is %v, want %v", symbol, q.Kind, got, want)
						}
					}
				}
			}
			if _, ok := q.Value("-1e9 " + d.Units[0].Symbols[0]); ok != (d.Least == nil) {
				t.Errorf("%s: least is %v, and −1e9 %s is read: %v", q.Kind, d.Least, d.Units[0].Symbols[0], ok)
			}
		}
		for symbol := range all {
			if _, ok := q.Value("1 " + symbol); ok != own[symbol] {
				t.Errorf("%s: %q is read: %v", q.Kind, symbol, ok)
			}
		}
	}
	var names []string
	for _, d := range described {
		names = append(names, d.Kind)
	}
	require.ElementsMatch(t, kinds, names)
	convert, _ := refdata.Describe("units.convert")
	require.ElementsMatch(t, kinds, convert.Inputs[0].Choices)
}
