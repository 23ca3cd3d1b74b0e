package refdata_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"path"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/schema"
)

// validator judges JSON by a JSON Schema of draft 2020-12, as far as the
// schemas of this package use it. A keyword that it does not know is an error:
// nothing in a schema may go unchecked.
type validator struct {
	defs   map[string]any
	faults []string
}

func (v *validator) fault(at, format string, args ...any) {
	v.faults = append(v.faults, at+": "+fmt.Sprintf(format, args...))
}

// fits reports whether value meets schema, without recording why not.
func (v *validator) fits(schema, value any) bool {
	inner := &validator{defs: v.defs}
	inner.check("", schema, value)
	return len(inner.faults) == 0
}

func (v *validator) check(at string, schema, value any) {
	s, ok := schema.(map[string]any)
	if !ok {
		v.fault(at, "schema %v is no object", schema)
		return
	}
	object, _ := value.(map[string]any)
	list, isList := value.([]any)
	text, isText := value.(string)
	number, isNumber := value.(float64)
	for _, keyword := range slices.Sorted(maps.Keys(s)) {
		arg := s[keyword]
		switch keyword {
		case "$schema", "$id", "title", "description", "$defs", "then", "additionalProperties":
		case "$ref":
			v.check(at, v.defs[strings.TrimPrefix(arg.(string), "#/$defs/")], value)
		case "type":
			types, ok := arg.([]any)
			if !ok {
				types = []any{arg}
			}
			if !slices.ContainsFunc(types, func(t any) bool { return isType(t.(string), value) }) {
				v.fault(at, "%v is no %v", value, arg)
			}
		case "const":
			if !reflect.DeepEqual(arg, value) {
				v.fault(at, "%v is not %v", value, arg)
			}
		case "enum":
			if !slices.ContainsFunc(arg.([]any), func(e any) bool { return reflect.DeepEqual(e, value) }) {
				v.fault(at, "%v is none of %v", value, arg)
			}
		case "minimum":
			if isNumber && number < arg.(float64) {
				v.fault(at, "%v is less than %v", number, arg)
			}
		case "exclusiveMinimum":
			if isNumber && number <= arg.(float64) {
				v.fault(at, "%v is not more than %v", number, arg)
			}
		case "maximum":
			if isNumber && number > arg.(float64) {
				v.fault(at, "%v is more than %v", number, arg)
			}
		case "exclusiveMaximum":
			if isNumber && number >= arg.(float64) {
				v.fault(at, "%v is not less than %v", number, arg)
			}
		case "maxItems":
			if isList && len(list) > int(arg.(float64)) {
				v.fault(at, "has %d elements, wants at most %v", len(list), arg)
			}
		case "minLength":
			if isText && utf8.RuneCountInString(text) < int(arg.(float64)) {
				v.fault(at, "%q is too short", text)
			}
		case "pattern":
			if isText && !regexp.MustCompile(arg.(string)).MatchString(text) {
				v.fault(at, "%q does not match %s", text, arg)
			}
		case "minItems":
			if isList && len(list) < int(arg.(float64)) {
				v.fault(at, "has %d elements, wants %v", len(list), arg)
			}
		case "uniqueItems":
			for i := range list {
				if slices.ContainsFunc(list[:i], func(e any) bool { return reflect.DeepEqual(e, list[i]) }) {
					v.fault(at, "%v comes twice", list[i])
				}
			}
		case "items":
			for i, item := range list {
				v.check(fmt.Sprintf("%s[%d]", at, i), arg, item)
			}
		case "minProperties":
			if object != nil && len(object) < int(arg.(float64)) {
				v.fault(at, "has %d fields, wants %v", len(object), arg)
			}
		case "required":
			for _, name := range arg.([]any) {
				if _, ok := object[name.(string)]; object != nil && !ok {
					v.fault(at, "%s is missing", name)
				}
			}
		case "properties", "patternProperties":
			// below, with additionalProperties
		case "allOf":
			for _, sub := range arg.([]any) {
				v.check(at, sub, value)
			}
		case "oneOf":
			n := 0
			for _, sub := range arg.([]any) {
				if v.fits(sub, value) {
					n++
				}
			}
			if n != 1 {
				v.fault(at, "meets %d of the alternatives, wants 1", n)
			}
		case "if":
			if v.fits(arg, value) {
				v.check(at, s["then"], value)
			}
		default:
			v.fault(at, "schema has an unknown keyword %s", keyword)
		}
	}
	properties, _ := s["properties"].(map[string]any)
	patterns, _ := s["patternProperties"].(map[string]any)
	for name, field := range object {
		known := false
		if sub, ok := properties[name]; ok {
			known = true
			v.check(at+"."+name, sub, field)
		}
		for pattern, sub := range patterns {
			if regexp.MustCompile(pattern).MatchString(name) {
				known = true
				v.check(at+"."+name, sub, field)
			}
		}
		if more, ok := s["additionalProperties"].(bool); ok && !more && !known {
			v.fault(at, "%s is no field", name)
		}
	}
}

func isType(name string, value any) bool {
	switch v := value.(type) {
	case nil:
		return name == "null"
	case bool:
		return name == "boolean"
	case string:
		return name == "string"
	case float64:
		return name == "number" || name == "integer" && v == math.Trunc(v)
	case []any:
		return name == "array"
	}
	return name == "object"
}

// readSchema reads one of the embedded schemas.
func readSchema(t *testing.T, file string) (parsed map[string]any) {
	t.Helper()
	fsys := schema.Dataset()
	if strings.Contains(file, "-") {
		fsys = schema.Documents()
	}
	text, err := fs.ReadFile(fsys, file)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &parsed))
	return parsed
}

// schemaFaults says how data offends against one of the embedded schemas.
func schemaFaults(t *testing.T, name string, data []byte) []string {
	t.Helper()
	schema := readSchema(t, name+".schema.json")
	var value any
	require.NoError(t, json.Unmarshal(data, &value))
	v := &validator{}
	v.defs, _ = schema["$defs"].(map[string]any)
	v.check("", schema, value)
	return v.faults
}

// Every file of the dataset meets its schema, and has one.
func TestSchemas(t *testing.T) {
	require.NoError(t, fs.WalkDir(refdata.Data(), ".", func(file string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(file) == ".md" {
			return err
		}
		name := strings.TrimSuffix(file, ".json")
		if path.Dir(file) != "." {
			name = path.Dir(file)
		}
		data, err := fs.ReadFile(refdata.Data(), file)
		require.NoError(t, err)
		for i, f := range schemaFaults(t, name, data) {
			if i < 5 {
				t.Errorf("%s%s", file, f)
			}
		}
		return nil
	}))
}

// Objects of the dataset's own formats name all their fields: a schema that
// permits anything validates nothing. Only what a computation is given is
// left to the computation.
func TestSchemasAreClosed(t *testing.T) {
	var walk func(at string, v any)
	walk = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			if _, ok := v["properties"]; ok && v["type"] == "object" || v["patternProperties"] != nil {
				if v["additionalProperties"] != false {
					t.Errorf("%s is open", at)
				}
			}
			if v["type"] == "object" && v["properties"] == nil && v["patternProperties"] == nil && !strings.HasSuffix(at, ".given") {
				t.Errorf("%s permits anything", at)
			}
			for name, sub := range v {
				walk(at+"."+name, sub)
			}
		case []any:
			for i, sub := range v {
				walk(fmt.Sprintf("%s[%d]", at, i), sub)
			}
		}
	}
	files, err := filepath.Glob("schema/*.json")
	require.NoError(t, err)
	for _, file := range files {
		parsed := readSchema(t, filepath.Base(file))
		if parsed["$schema"] != "https://json-schema.org/draft/2020-12/schema" {
			t.Errorf("%s: $schema is %v", file, parsed["$schema"])
		}
		walk(file, parsed)
	}
}

// Schema and loader take the same files; TestMalformedFiles has those that both
// refuse.
func TestSchemaTakesWhatTheLoaderTakes(t *testing.T) {
	x := func(fields string) string {
		return file(group(`{"id":"x","computes":"units.convert","given":{}` + fields + `}`))
	}
	for _, text := range []string{
		file(group(aCase("a"))), x(`,"error":["kind"]`), x(`,"error":["kind"],"tolerance":{"*":0,"value":"0 mm"}`), x(`,"expect":{"value":[1,["1 mm"]]}`),
		file(`{"source":{"title":"T"},"standing":"computed","cases":[` + aCase("a") + `]}`),
	} {
		_, err := load(fstest.MapFS{"f.json": {Data: []byte(text)}})
		if faults := schemaFaults(t, "cases", []byte(text)); err != nil || len(faults) > 0 {
			t.Errorf("%s\nloader: %v\nschema: %v", text, err, faults)
		}
	}
}

// The schemas name the very fields that a record and a sheet have, wherever they are: one
// that was not written anew after a field was added lies.
func TestSchemasListFields(t *testing.T) {
	for name, full := range map[string]any{"record-1": new(visit.Record), "sheet-1": new(setup.Sheet)} {
		fill(reflect.ValueOf(full).Elem())
		data, err := json.Marshal(full)
		require.NoError(t, err)
		for _, f := range schemaFaults(t, name, data) {
			if strings.HasSuffix(f, "is no field") || strings.HasSuffix(f, "is missing") {
				t.Errorf("%s%s", name, f)
			}
		}
		schema := readSchema(t, name+".schema.json")
		for _, def := range append(slices.Collect(maps.Values(schema["$defs"].(map[string]any))), schema) {
			fields, _ := def.(map[string]any)["properties"].(map[string]any)
			for field := range fields {
				if !strings.Contains(string(data), `"`+field+`":`) {
					t.Errorf("%s: %s is no field", name, field)
				}
			}
		}
	}
}

// fill gives every field in v something to show. A type inside itself is filled once.
func fill(v reflect.Value, inside ...reflect.Type) {
	if v.Kind() == reflect.Struct {
		if slices.Contains(inside, v.Type()) {
			return
		}
		inside = append(slices.Clip(inside), v.Type())
	}
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat(1)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		v.SetInt(1)
	case reflect.Uint64:
		v.SetUint(1)
	case reflect.String:
		v.SetString("x")
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), inside...)
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() && f.Tag.Get("json") != "-" {
				fill(v.Field(i), inside...)
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			fill(v.Index(i), inside...)
		}
	case reflect.Slice:
		if v.Type() == reflect.TypeFor[json.RawMessage]() {
			v.SetBytes([]byte(`{}`))
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0), inside...)
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		element := reflect.New(v.Type().Elem()).Elem()
		fill(element, inside...)
		v.SetMapIndex(reflect.ValueOf("a point"), element)
	}
}
