package setup

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"sync"

	"example.com/wheelrate/units"
)

// Implausible returns a warning for each value of a spec that is far from what such bikes and riders
// have, with code "implausible": a rider of 82 g, a travel of 50 m. Nothing is refused for it, and an
// answer is worked out with the value as it stands.
//
// The spec is a [Job], a part of one, or any other struct whose fields have the JSON names of a job's,
// such as a record of package visit. The path is put before the names of fields. A value of 0 is one
// that is not stated. Of a list of numbers the last is looked at, and of a list of structs no more than
// the first that has an implausible value. Uncertainties are ignored.
//
// The limits are generous, and a choice of this package.
func Implausible(path string, spec any) []units.Warning {
	var w implausible
	at := make([]string, 0, 10)
	if path != "" {
		at = append(at, path)
	}
	w.look(at, "", reflect.ValueOf(spec))
	return w
}

// usual is what a value of a bike or a rider usually is. A least value of 0 stands for none.
type usual struct {
	Names     string          // of fields in JSON, separated by spaces
	Low, High json.RawMessage // as the field is written
	What      string

	low, high reflect.Value // of the field's type, since lengths and plain numbers may share a name
}

//go:embed usual.json
var usualText []byte

// usualTypes are those of the values.
var usualTypes = []reflect.Type{
	reflect.TypeFor[float64](), reflect.TypeFor[units.Mass](), reflect.TypeFor[units.Length](), reflect.TypeFor[units.Volume](), reflect.TypeFor[units.Force](),
	reflect.TypeFor[units.Stiffness](), reflect.TypeFor[units.GaugePressure](), reflect.TypeFor[units.AbsolutePressure](), reflect.TypeFor[units.Angle](),
}

// usuals returns what is usual of the values of a job, by their names.
var usuals = sync.OnceValue(func() map[string][]usual {
	var list []usual
	_ = json.Unmarshal(usualText, &list) // a test reads it
	named := map[string][]usual{}
	for _, u := range list {
		for _, t := range usualTypes {
			low, high := reflect.New(t), reflect.New(t)
			if json.Unmarshal(u.Low, low.Interface()) == nil && json.Unmarshal(u.High, high.Interface()) == nil {
				u.low, u.high = low.Elem(), high.Elem()
			}
		}
		for name := range strings.FieldsSeq(u.Names) {
			named[name] = append(named[name], u)
		}
	}
	return named
})

// both returns a quantity in both systems of units, and a plain number as it is.
func both(v any) string {
	if q, ok := v.(interface{ Both() units.Dual }); ok {
		return q.Both().String()
	}
	return round(v)
}

// implausible is the warnings so far.
type implausible []units.Warning

// look adds the warnings about a value in the field of a name, at the end of a path.
func (w *implausible) look(path []string, name string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			w.look(path, name, v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			switch {
			case !f.IsExported() && !f.Anonymous || tag == "-" || tag == "uncertainty":
			case f.Anonymous && tag == "":
				w.look(path, "", v.Field(i))
			default:
				w.look(append(path, tag), tag, v.Field(i))
			}
		}
	case reflect.Slice:
		first, n, before := 0, v.Len(), len(*w)
		if n > 0 && v.Index(0).Kind() == reflect.Float64 {
			first = n - 1
		}
		for i := first; i < n && len(*w) == before; i++ {
			w.look(append(path, fmt.Sprintf("[%d]", i)), name, v.Index(i))
		}
	case reflect.Float64:
		for _, u := range usuals()[name] {
			low, high, si := u.low, u.high, v.Float()
			if v.Type() != low.Type() || si == 0 || si >= low.Float() && si <= high.Float() {
				continue
			}
			within := func(text func(any) string) string {
				if low.Float() == 0 {
					return "at most " + text(high.Interface())
				}
				return "from " + text(low.Interface()) + " to " + text(high.Interface())
			}
			said := round(v.Interface()) // which may have no digits left in a coarser unit
			if si > high.Float() {
				said = both(v.Interface())
			}
			field := strings.ReplaceAll(strings.Join(path, "."), ".[", "[")
			w.doubt(true, field, v.Interface(), within(round), "%s is stated, where %s is %s: look at the number and its unit.", said, u.What, within(both))
		}
	}
}

// doubt adds a warning about a value if there is a doubt.
func (w *implausible) doubt(doubt bool, field string, value any, limit, format string, args ...any) {
	if doubt {
		*w = append(*w, units.Warning{Code: "implausible", Field: field, Value: round(value), Limit: limit, Text: fmt.Sprintf(format, args...), Source: "a choice of this package"})
	}
}

// round returns a value with six digits and its unit.
func round(v any) string { return fmt.Sprintf("%.6g", v) }
