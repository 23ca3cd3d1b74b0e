package strictjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"reflect"

	"example.com/wheelrate/units"
)

// Bounds that keep hostile input cheap.
const (
	maxDepth  = 100 // of nested objects and lists
	maxFaults = 100 // listed before decoding stops
	maxQuoted = 64  // bytes of a text or a name in an error
)

// Decode reads one JSON value of at most limit bytes from r into the value
// that v points to. The error joins a [*units.FieldError] for every fault, with
// pkg as its Package; [units.Fields] lists them in the order of the input.
// An error of r itself is wrapped.
//
// On a fault the fields that could be read are set and the others are left as
// they were.
func Decode(pkg string, r io.Reader, limit int64, v any) error {
	if limit < 0 {
		limit = 0
	}
	most := limit
	if most < math.MaxInt64 {
		most++ // one byte over the limit tells that there is more
	}
	data, err := io.ReadAll(io.LimitReader(r, most))
	if err != nil {
		return fmt.Errorf("%s: reading JSON: %w", pkg, err)
	}
	if int64(len(data)) > limit {
		return &units.FieldError{Package: pkg, Want: fmt.Sprintf("at most %d bytes of JSON", limit), Class: units.ErrRange}
	}
	return Unmarshal(pkg, data, v)
}

// Unmarshal is [Decode] for JSON at hand. It keeps no reference to data.
func Unmarshal(pkg string, data []byte, v any) error {
	target := reflect.ValueOf(v)
	if target.Kind() != reflect.Pointer || target.IsNil() {
		return fmt.Errorf("strictjson: can't decode into a %T: want a pointer that is not nil", v)
	}
	p, err := planFor(target.Type().Elem())
	if err != nil {
		return err
	}
	d := decoder{pkg: pkg, data: data}
	if d.value(p, target.Elem()) {
		d.space()
		if d.pos < len(d.data) {
			d.syntax("nothing after the JSON value")
		}
	}
	return errors.Join(d.faults...)
}

// decoder walks the text once. Methods that read return false when reading
// can't go on: the fault is then recorded already.
type decoder struct {
	pkg    string
	data   []byte
	pos    int
	depth  int // of objects and lists around pos
	path   []step
	faults []error
	listed int // fields named in faults
}

// value reads a JSON value into v.
func (d *decoder) value(p *plan, v reflect.Value) bool {
	d.space()
	switch p.kind {
	case asRaw, asJSON:
		return d.raw(p, v)
	case asPointer:
		if d.peek() == 'n' {
			if !d.literal("null") {
				return false
			}
			v.SetZero()
			return true
		}
		if v.IsNil() {
			v.Set(reflect.New(p.elem.typ))
		}
		return d.value(p.elem, v.Elem())
	}
	switch c := d.peek(); {
	case c == '{' && p.kind == asStruct:
		return d.object(p, v)
	case c == '{' && p.kind == asMap:
		return d.entries(p, v)
	case c == '[' && (p.kind == asSlice || p.kind == asArray):
		return d.list(p, v)
	case c == '{' || c == '[':
		found := "an object"
		if c == '[' {
			found = "a list"
		}
		return d.fail(nil, p.want()+", not "+found, units.ErrSyntax) && d.skip()
	case c == '"':
		s, ok := d.text()
		return ok && d.setText(p, v, s)
	case c == '-' || '0' <= c && c <= '9':
		s, ok := d.number()
		return ok && d.setNumber(p, v, s)
	case c == 't':
		return d.literal("true") && d.setBool(p, v, true)
	case c == 'f':
		return d.literal("false") && d.setBool(p, v, false)
	case c == 'n':
		return d.literal("null") && d.fail(nil, p.want()+", not null", units.ErrSyntax)
	}
	return d.syntax(p.want())
}

// object reads a JSON object into a struct.
func (d *decoder) object(p *plan, v reflect.Value) bool {
	seen := make([]bool, len(p.fields))
	return d.members(func(name string) bool {
		i, known := p.byName[name]
		switch {
		case !known:
			return d.fail(nil, p.names, units.ErrUnknown) && d.skip()
		case seen[i]:
			return d.fail(nil, "the field only once", units.ErrConflict) && d.skip()
		}
		seen[i] = true
		return d.value(p.fields[i].plan, p.fields[i].in(v))
	})
}

// entries reads a JSON object into a map, which is made anew.
func (d *decoder) entries(p *plan, v reflect.Value) bool {
	m := reflect.MakeMap(p.typ)
	v.Set(m)
	return d.members(func(name string) bool {
		key := reflect.ValueOf(name).Convert(p.typ.Key())
		if m.MapIndex(key).IsValid() {
			return d.fail(nil, "the field only once", units.ErrConflict) && d.skip()
		}
		element := reflect.New(p.elem.typ).Elem()
		ok := d.value(p.elem, element)
		m.SetMapIndex(key, element)
		return ok
	})
}

// members reads a JSON object; read takes each member's value.
func (d *decoder) members(read func(name string) bool) bool {
	if !d.enter() {
		return false
	}
	if d.space(); d.peek() == '}' {
		return d.leave()
	}
	for {
		d.space()
		if d.peek() != '"' {
			return d.syntax("a name in double quotes")
		}
		name, ok := d.text()
		if !ok {
			return false
		}
		if d.space(); d.peek() != ':' {
			return d.syntax("a colon after the name " + quoted(name))
		}
		d.pos++
		d.path = append(d.path, step{name: name})
		if !read(name) {
			return false
		}
		d.path = d.path[:len(d.path)-1]
		switch d.space(); d.peek() {
		case ',':
			d.pos++
		case '}':
			return d.leave()
		default:
			return d.syntax(`a comma or "}"`)
		}
	}
}

// list reads a JSON list into a slice, which is made anew, or into an array,
// which must be just as long.
func (d *decoder) list(p *plan, v reflect.Value) bool {
	fixed := p.kind == asArray
	if !fixed {
		v.Set(reflect.MakeSlice(p.typ, 0, 0))
	}
	count := 0
	ok := d.elements(func(i int) bool {
		count++
		switch {
		case !fixed:
			v.Grow(1) // by a factor, so that a long list costs linear time
			v.SetLen(i + 1)
		case i >= v.Len():
			return d.skip()
		}
		return d.value(p.elem, v.Index(i))
	})
	if ok && fixed && count != v.Len() {
		return d.fail(nil, fmt.Sprintf("a list of exactly %d, not of %d", v.Len(), count), units.ErrSyntax)
	}
	return ok
}

// elements reads a JSON list; read takes each element.
func (d *decoder) elements(read func(i int) bool) bool {
	if !d.enter() {
		return false
	}
	if d.space(); d.peek() == ']' {
		return d.leave()
	}
	for i := 0; ; i++ {
		d.path = append(d.path, step{index: i, isIndex: true})
		if !read(i) {
			return false
		}
		d.path = d.path[:len(d.path)-1]
		switch d.space(); d.peek() {
		case ',':
			d.pos++
		case ']':
			return d.leave()
		default:
			return d.syntax(`a comma or "]"`)
		}
	}
}

// enter passes an opening bracket, leave the closing one.
func (d *decoder) enter() bool {
	if d.depth == maxDepth {
		d.fail(nil, fmt.Sprintf("objects and lists nested at most %d deep", maxDepth), units.ErrRange)
		return false
	}
	d.depth++
	d.pos++
	return true
}

func (d *decoder) leave() bool {
	d.depth--
	d.pos++
	return true
}

// skip passes over a value of any kind, checking only that it is JSON.
func (d *decoder) skip() bool {
	ok := true
	switch d.space(); d.peek() {
	case '{':
		return d.members(func(string) bool { return d.skip() })
	case '[':
		return d.elements(func(int) bool { return d.skip() })
	case '"':
		_, ok = d.text()
	case '-', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9':
		_, ok = d.number()
	case 't':
		ok = d.literal("true")
	case 'f':
		ok = d.literal("false")
	case 'n':
		ok = d.literal("null")
	default:
		ok = d.syntax("a value")
	}
	return ok
}

// raw hands a value on as it stands, to a json.RawMessage or to the value's
// own UnmarshalJSON.
func (d *decoder) raw(p *plan, v reflect.Value) bool {
	start := d.pos
	if !d.skip() {
		return false
	}
	data := bytes.Clone(d.data[start:d.pos])
	if p.kind == asRaw {
		v.SetBytes(data)
		return true
	}
	return d.refused(v.Addr().Interface().(json.Unmarshaler).UnmarshalJSON(data), nil)
}
