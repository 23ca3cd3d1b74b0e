package strictjson

import (
	"cmp"
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"

	"example.com/wheelrate/units"
)

// shape is the way in which values of a Go type are decoded.
type shape int

const (
	notAtAll  shape = iota
	asText          // UnmarshalText
	asJSON          // UnmarshalJSON, as of json.RawMessage
	asPointer       // the rest by reflect.Kind
	asStruct
	asSlice
	asArray
	asMap
	asString
	asBool
	asInt // or unsigned
	asFloat
)

var shapes = map[reflect.Kind]shape{
	reflect.Struct: asStruct, reflect.Slice: asSlice, reflect.Array: asArray, reflect.Map: asMap,
	reflect.String: asString, reflect.Bool: asBool, reflect.Float32: asFloat, reflect.Float64: asFloat,
	reflect.Int: asInt, reflect.Int8: asInt, reflect.Int16: asInt, reflect.Int32: asInt, reflect.Int64: asInt,
	reflect.Uint: asInt, reflect.Uint8: asInt, reflect.Uint16: asInt, reflect.Uint32: asInt, reflect.Uint64: asInt,
}

// shapeOf returns the shape of a type.
func shapeOf(t reflect.Type) shape {
	switch pointer := reflect.PointerTo(t); {
	case t.Kind() == reflect.Pointer:
		return asPointer
	case t.Kind() == reflect.Interface:
		return notAtAll
	case pointer.Implements(jsonUnmarshaler):
		return asJSON
	case pointer.Implements(textUnmarshaler):
		return asText
	case t.Kind() == reflect.Map && (t.Key().Kind() != reflect.String || reflect.PointerTo(t.Key()).Implements(textUnmarshaler)):
		return notAtAll
	}
	return shapes[t.Kind()]
}

// plan is how values of one Go type are read. It is made once and never changes.
type plan struct {
	typ    reflect.Type
	kind   shape
	elem   *plan          // of a pointer, slice, array or map
	fields []field        // of a struct
	byName map[string]int // into fields
}

// field is one field of a struct, or of a struct embedded in it.
type field struct {
	name  string
	index []int // as reflect.Value.FieldByIndex takes it
	rank  int   // by depth, and less where a tag names it; the least of one name counts
	tied  bool  // with another of its name and rank
	plan  *plan
}

var (
	textUnmarshaler = reflect.TypeFor[encoding.TextUnmarshaler]()
	jsonUnmarshaler = reflect.TypeFor[json.Unmarshaler]()
)

// plans caches, by type, the plan of each type that was decoded into, or the error of a type that
// is not supported. Making a plan takes longer than decoding a page of JSON.
var plans sync.Map // from reflect.Type to func() (*plan, error)

// planFor returns the plan of a type.
func planFor(t reflect.Type) (*plan, error) {
	cached, ok := plans.Load(t)
	if !ok {
		cached, _ = plans.LoadOrStore(t, sync.OnceValues(func() (*plan, error) { return planner{}.plan(t, t.String()) }))
	}
	return cached.(func() (*plan, error))()
}

// planner holds the plans made so far, so that a type may contain itself.
type planner map[reflect.Type]*plan

// plan returns the plan of t, which is at path in the outermost type.
func (made planner) plan(t reflect.Type, path string) (*plan, error) {
	if p := made[t]; p != nil {
		return p, nil
	}
	p := &plan{typ: t, kind: shapeOf(t)}
	made[t] = p
	var err error
	switch p.kind {
	case notAtAll:
		err = fmt.Errorf("strictjson: %s: the Go type %v is not supported", path, t)
	case asPointer:
		p.elem, err = made.plan(t.Elem(), path)
	case asStruct:
		err = made.structure(p, path)
	case asSlice, asArray, asMap:
		p.elem, err = made.plan(t.Elem(), path+"[]")
	}
	return p, err
}

// structure adds the fields of a struct to its plan. Of several fields with the same name the least
// deeply embedded is used, and among those the one named by its tag, as in encoding/json. It is an
// error if two are left.
func (made planner) structure(p *plan, path string) error {
	all, err := gather(p.typ, nil, path, nil)
	if err != nil {
		return err
	}
	p.byName = make(map[string]int, len(all))
	for _, f := range all {
		i, met := p.byName[f.name]
		switch {
		case !met:
			p.byName[f.name] = len(p.fields)
			p.fields = append(p.fields, f)
		case f.rank < p.fields[i].rank:
			p.fields[i] = f
		case f.rank == p.fields[i].rank:
			p.fields[i].tied = true
		}
	}
	for i := range p.fields {
		f := &p.fields[i]
		if f.tied {
			return fmt.Errorf("strictjson: %s: more than one field is named %q", path, f.name)
		}
		if f.plan, err = made.plan(p.typ.FieldByIndex(f.index).Type, path+"."+f.name); err != nil {
			return err
		}
	}
	return nil
}

// names returns what is wanted in place of an unknown field.
func (p *plan) names() units.Want {
	want := units.Want{}
	for _, f := range p.fields {
		want.OneOf = append(want.OneOf, f.name)
	}
	switch len(want.OneOf) {
	case 0:
		want.Text = "no field here"
	case 1:
		want.Text = "no other field than " + want.OneOf[0]
	}
	return want
}

// gather returns the fields of a struct and of its embedded structs. Inside are the structs it is
// embedded in.
func gather(t reflect.Type, index []int, path string, inside []reflect.Type) ([]field, error) {
	if slices.Contains(inside, t) {
		return nil, nil // embedded in itself, through a pointer
	}
	inside = append(slices.Clone(inside), t)
	var list []field
	for i := range t.NumField() {
		f := t.Field(i)
		tag := f.Tag.Get("json")
		if tag == "-" {
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		at := append(slices.Clone(index), i)
		inner := f.Type
		if inner.Kind() == reflect.Pointer {
			inner = inner.Elem()
		}
		switch {
		case f.Anonymous && name == "" && inner.Kind() == reflect.Struct:
			if !f.IsExported() && f.Type.Kind() == reflect.Pointer {
				return nil, fmt.Errorf("strictjson: %s: an embedded pointer to the unexported %v can't be set", path, inner)
			}
			embedded, err := gather(inner, at, path, inside)
			if err != nil {
				return nil, err
			}
			list = append(list, embedded...)
			continue
		case !f.IsExported():
			continue
		case slices.Contains(strings.Split(options, ","), "string"):
			return nil, fmt.Errorf(`strictjson: %s.%s: the option "string" of its tag is not supported`, path, f.Name)
		}
		rank := 2 * len(at)
		if name != "" {
			rank--
		}
		list = append(list, field{name: cmp.Or(name, f.Name), index: at, rank: rank})
	}
	return list, nil
}

// in returns the field of the struct v. It allocates embedded structs that are nil.
func (f *field) in(v reflect.Value) reflect.Value {
	for _, i := range f.index {
		if v.Kind() == reflect.Pointer {
			if v.IsNil() {
				v.Set(reflect.New(v.Type().Elem()))
			}
			v = v.Elem()
		}
		v = v.Field(i)
	}
	return v
}
