package strictjson

import (
	"cmp"
	"fmt"
	"math"
	"reflect"

	"example.com/wheelrate/units"
)

// object decodes a JSON object into a struct.
func (d *decoder) object(p *plan, v reflect.Value) bool {
	seen := make([]bool, len(p.fields))
	var unknown []int // indices of faults
	ok := d.members(func(name string) bool {
		i, known := p.byName[name]
		switch {
		case !known:
			unknown = append(unknown, len(d.faults))
			want, class := p.names(), units.ErrUnknown
			if d.rules.Written {
				want, class = want.With("or a later version of this program"), units.ErrNewer
			}
			return d.fail(nil, want, class) && d.skip()
		case seen[i]:
			return d.fail(nil, sentence("the field only once"), units.ErrConflict) && d.skip()
		}
		seen[i] = true
		return d.value(p.fields[i].plan, p.fields[i].in(v))
	})
	if unknown != nil {
		d.suggest(p, seen, unknown)
	}
	return ok
}

// suggest adds to faults of unknown fields the name that was probably meant, of those not given.
func (d *decoder) suggest(p *plan, seen []bool, unknown []int) {
	var free []string
	for i, f := range p.fields {
		if !seen[i] {
			free = append(free, f.name)
		}
	}
	for _, i := range unknown {
		f := d.faults[i].err.(*units.FieldError) // as fail records it
		if near, ok := units.Nearest(f.Name(), free); ok {
			d.faults[i].near = near
			f.Want.Meant = []string{near}
		}
	}
}

// entries decodes a JSON object into a new map.
func (d *decoder) entries(p *plan, v reflect.Value) bool {
	m := reflect.MakeMap(p.typ)
	v.Set(m)
	return d.members(func(name string) bool {
		key := reflect.ValueOf(name).Convert(p.typ.Key())
		if m.MapIndex(key).IsValid() {
			return d.fail(nil, sentence("the field only once"), units.ErrConflict) && d.skip()
		}
		element := reflect.New(p.elem.typ).Elem()
		ok := d.value(p.elem, element)
		m.SetMapIndex(key, element)
		return ok
	})
}

// members reads a JSON object and calls read for each member.
func (d *decoder) members(read func(name string) bool) bool {
	return d.sequence('}', func(int) bool {
		if d.space(); d.peek() != '"' {
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
		return d.back(read(name))
	})
}

// list decodes a JSON list into a new slice, or into an array, which must have the same length.
func (d *decoder) list(p *plan, v reflect.Value) bool {
	fixed := p.kind == asArray
	if !fixed {
		v.Set(reflect.MakeSlice(p.typ, 0, min(d.likely(), cmp.Or(d.rules.Longest, math.MaxInt))))
	}
	count := 0
	ok := d.elements(func(i int) bool {
		count++
		switch {
		case fixed && i >= v.Len(), !fixed && d.rules.Longest > 0 && i >= d.rules.Longest:
			return d.skip()
		case !fixed:
			v.Grow(1) // by a factor, so that a long list costs linear time
			v.SetLen(i + 1)
		}
		return d.value(p.elem, v.Index(i))
	})
	switch {
	case ok && fixed && count != v.Len():
		return d.fail(count, units.Exactly(v.Len()).Count("values"), units.ErrSyntax)
	case ok && !fixed && count > v.Len():
		return d.fail(count, units.AtMost(v.Len()).Count("values"), units.ErrRange)
	}
	return ok
}

// likely returns how many elements of two bytes or more the list at d.pos has if it is JSON. With room
// for them it does not grow, which would take several times their memory.
func (d *decoder) likely() (n int) {
	quoted, last := false, d.pos
	for i, depth := d.pos, 0; i < len(d.data); i++ {
		c := d.data[i]
		switch {
		case c == '"':
			quoted = !quoted
		case quoted && c == '\\':
			i++
		case quoted:
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			depth--
		}
		if depth == 0 || depth == 1 && c == ',' && !quoted {
			if i > last+2 {
				n++
			}
			last = i
		}
		if depth == 0 {
			break
		}
	}
	return n
}

// elements reads a JSON list and calls read for each element.
func (d *decoder) elements(read func(i int) bool) bool {
	return d.sequence(']', func(i int) bool {
		d.path = append(d.path, step{index: i, isIndex: true})
		return d.back(read(i))
	})
}

// back removes the last step of the path if ok is true, and returns ok. Otherwise the path stays
// where reading ended.
func (d *decoder) back(ok bool) bool {
	if ok {
		d.path = d.path[:len(d.path)-1]
	}
	return ok
}

// sequence reads from an opening bracket to the closing one, and calls read for each of the items
// between commas.
func (d *decoder) sequence(closing byte, read func(i int) bool) bool {
	if d.depth == maxDepth {
		d.fail(nil, sentence(fmt.Sprintf("objects and lists nested at most %d deep", maxDepth)), units.ErrRange)
		return false
	}
	d.depth++
	d.pos++
	d.space()
	for i := 0; i > 0 || d.peek() != closing; i++ {
		if !read(i) {
			return false
		}
		d.space()
		if d.peek() == closing {
			break
		}
		if d.peek() != ',' {
			return d.syntax(fmt.Sprintf(`a comma or "%c"`, closing))
		}
		d.pos++
	}
	d.depth--
	d.pos++
	return true
}
