package strictjson

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"reflect"

	"example.com/wheelrate/units"
)

// Limits for hostile input.
const (
	maxDepth  = 100 // of nested objects and lists
	maxFaults = 100 // listed before decoding stops
	maxPath   = 1 << 10
)

// Decode reads one JSON value of at most limit bytes from r and decodes it into the value that v
// points to. It returns an error with a [*units.FieldError] for every fault, in the order of the
// input; see [units.Fields]. Their Package is pkg. An error of r is wrapped. A limit below 0 counts
// as 0.
//
// If there are faults, the fields without one are set, and the others are unchanged.
func Decode(pkg string, r io.Reader, limit int64, v any) error {
	data, err := ReadAll(pkg, r, limit)
	if err != nil {
		return err
	}
	return Unmarshal(pkg, data, v)
}

// ReadAll reads r to its end and returns the text, or an error as that of [Decode] if r has more than
// limit bytes or can't be read.
func ReadAll(pkg string, r io.Reader, limit int64) ([]byte, error) {
	limit = max(0, min(limit, math.MaxInt64-1))
	data, err := io.ReadAll(io.LimitReader(r, limit+1)) // one byte more shows that the limit is exceeded
	if err != nil {
		return nil, fmt.Errorf("%s: reading JSON: %w", pkg, err)
	}
	if int64(len(data)) > limit {
		return nil, &units.FieldError{Package: pkg, Want: units.AtMost(limit).Count("bytes of JSON"), Class: units.ErrRange}
	}
	return data, nil
}

// Unmarshal is [Decode] for JSON in memory. It keeps no reference to data.
func Unmarshal(pkg string, data []byte, v any) error {
	return (&decoder{pkg: pkg, data: data}).whole(v)
}

// whole decodes the text into the value that v points to.
func (d *decoder) whole(v any) error {
	target := reflect.ValueOf(v)
	if target.Kind() != reflect.Pointer || target.IsNil() {
		return fmt.Errorf("strictjson: can't decode into a %T: want a pointer that is not nil", v)
	}
	p, err := planFor(target.Type().Elem())
	if err != nil {
		return err
	}
	if d.read = d.value(p, target.Elem()); d.read {
		d.space()
		if d.pos < len(d.data) {
			d.read = d.syntax("nothing after the JSON value")
		}
	}
	c := units.Checker{}
	for _, f := range d.faults {
		c.Add("", f.err)
	}
	return c.Err()
}

// decoder decodes the text in one pass. A method that reads reports false if reading can't go on;
// the fault is recorded then.
type decoder struct {
	pkg    string
	data   []byte
	pos    int
	depth  int // of objects and lists around pos
	path   []step
	faults []fault
	listed int // fields named in faults

	read    bool // to the end of the text
	rules   Rules
	marking bool // a float at fault becomes NaN
}

// value decodes a JSON value into v. If d.marking is set, a float at fault becomes NaN.
func (d *decoder) value(p *plan, v reflect.Value) bool {
	if !d.marking {
		return d.into(p, v)
	}
	before := len(d.faults)
	ok := d.into(p, v)
	if ok && len(d.faults) > before && v.CanFloat() {
		v.SetFloat(math.NaN())
		d.faults[before].marked = true
	}
	return ok
}

// into decodes a JSON value into v.
func (d *decoder) into(p *plan, v reflect.Value) bool {
	d.space()
	switch p.kind {
	case asJSON:
		start := d.pos
		if !d.skip() {
			return false
		}
		err := v.Addr().Interface().(json.Unmarshaler).UnmarshalJSON(d.data[start:d.pos])
		return err == nil || d.refused(err, nil)
	case asPointer:
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
	case c == '{':
		return d.fail(nil, sentence(p.want()+", not an object"), units.ErrSyntax) && d.skip()
	case c == '[':
		return d.fail(nil, sentence(p.want()+", not a list"), units.ErrSyntax) && d.skip()
	}
	kind, text, ok := d.scalar()
	if kind == 0 {
		return d.syntax(p.want())
	}
	return ok && d.set(p, v, kind, text)
}

// skip skips a value of any kind and reports whether it is valid JSON.
func (d *decoder) skip() bool {
	switch d.space(); d.peek() {
	case '{':
		return d.members(func(string) bool { return d.skip() })
	case '[':
		return d.elements(func(int) bool { return d.skip() })
	}
	kind, _, ok := d.scalar()
	if kind == 0 {
		return d.syntax("a value")
	}
	return ok
}
