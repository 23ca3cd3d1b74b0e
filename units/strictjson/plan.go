package strictjson

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
)

// shape is how values of a Go type are read.
type shape int

const (
	asText   shape = iota // UnmarshalText
	asJSON                // UnmarshalJSON
	asRaw                 // json.RawMessage
	asStruct              // the rest by reflect.Kind
	asPointer
	asSlice
	asArray
	asMap
	asString
	asBool
	asInt // or unsigned
	asFloat
)

// plan is how values of one Go type are read. It is made once and never changes.
type plan struct {
	typ    reflect.Type
	kind   shape
	elem   *plan          // of a pointer, slice, array or map
	fields []field        // of a struct
	byName map[string]int // into fields
	names  string         // of the fields, for an error
}

// field is one field of a struct, or of a struct embedded in it.
type field struct {
	name  string
	index []int // as reflect.Value.FieldByIndex takes it
	named bool  // by its tag
	plan  *plan
}

var (
	textUnmarshaler = reflect.TypeFor[encoding.TextUnmarshaler]()
	jsonUnmarshaler = reflect.TypeFor[json.Unmarshaler]()
	rawMessage      = reflect.TypeFor[json.RawMessage]()
)

// plans caches the plan of each type that was ever decoded into, or what is
// wrong with the type: to make one takes longer than to read a page of JSON.
var plans sync.Map // from reflect.Type to func() (*plan, error)

// planFor returns how to read a type and all that it holds.
func planFor(t reflect.Type) (*plan, error) {
	cached, ok := plans.Load(t)
	if !ok {
		cached, _ = plans.LoadOrStore(t, sync.OnceValues(func() (*plan, error) { return planner{}.plan(t, t.String()) }))
	}
	return cached.(func() (*plan, error))()
}

// planner holds the plans made so far, so that a type may hold itself.
type planner map[reflect.Type]*plan

// plan makes the plan of t, which stands at path in the outermost type.
func (made planner) plan(t reflect.Type, path string) (*plan, error) {
	if p := made[t]; p != nil {
		return p, nil
	}
	p := &plan{typ: t}
	made[t] = p
	var err error
	switch pointer := reflect.PointerTo(t); {
	case t == rawMessage:
		p.kind = asRaw
		return p, nil
	case t.Kind() == reflect.Pointer:
		p.kind = asPointer
		p.elem, err = made.plan(t.Elem(), path)
		return p, err
	case t.Kind() == reflect.Interface:
		return nil, unsupported(path, t)
	case pointer.Implements(jsonUnmarshaler):
		p.kind = asJSON
		return p, nil
	case pointer.Implements(textUnmarshaler):
		p.kind = asText
		return p, nil
	}
	switch t.Kind() {
	case reflect.Struct:
		p.kind = asStruct
		err = made.structure(p, path)
	case reflect.Slice, reflect.Array:
		p.kind = asSlice
		if t.Kind() == reflect.Array {
			p.kind = asArray
		}
		p.elem, err = made.plan(t.Elem(), path+"[]")
	case reflect.Map:
		if t.Key().Kind() != reflect.String || reflect.PointerTo(t.Key()).Implements(textUnmarshaler) {
			return nil, unsupported(path, t)
		}
		p.kind = asMap
		p.elem, err = made.plan(t.Elem(), path+"[]")
	case reflect.String:
		p.kind = asString
	case reflect.Bool:
		p.kind = asBool
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		p.kind = asInt
	case reflect.Float32, reflect.Float64:
		p.kind = asFloat
	default:
		err = unsupported(path, t)
	}
	return p, err
}

func unsupported(path string, t reflect.Type) error {
	return fmt.Errorf("strictjson: %s: the Go type %v is not supported", path, t)
}

// structure gathers the fields of a struct. Of fields with the same name the
// least deeply embedded counts, among these the one named by its tag, as in
// encoding/json; two that are left are a mistake.
func (made planner) structure(p *plan, path string) error {
	all, err := gather(p.typ, nil, path, nil)
	if err != nil {
		return err
	}
	p.byName = make(map[string]int, len(all))
	tied := map[string]bool{}
	var names []string
	for _, f := range all {
		i, met := p.byName[f.name]
		if !met {
			p.byName[f.name] = len(p.fields)
			p.fields, names = append(p.fields, f), append(names, f.name)
			continue
		}
		best := &p.fields[i]
		deeper := len(f.index) - len(best.index)
		switch {
		case deeper < 0 || deeper == 0 && f.named && !best.named:
			*best, tied[f.name] = f, false
		case deeper == 0 && f.named == best.named:
			tied[f.name] = true
		}
	}
	for i := range p.fields {
		f := &p.fields[i]
		if tied[f.name] {
			return fmt.Errorf("strictjson: %s: more than one field is named %q", path, f.name)
		}
		if f.plan, err = made.plan(p.typ.FieldByIndex(f.index).Type, path+"."+f.name); err != nil {
			return err
		}
	}
	switch len(names) {
	case 0:
		p.names = "no field here"
	case 1:
		p.names = "no other field than " + names[0]
	default:
		p.names = "one of " + strings.Join(names, ", ")
	}
	return nil
}

// gather lists the fields of a struct and of those embedded in it. Inside are
// the structs around it.
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
		named := name != ""
		if !named {
			name = f.Name
		}
		list = append(list, field{name: name, index: at, named: named})
	}
	return list, nil
}

// in returns the field of the struct v, making embedded structs on the way.
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
