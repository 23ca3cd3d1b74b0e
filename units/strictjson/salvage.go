package strictjson

import (
	"cmp"
	"errors"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/wheelrate/units"
)

// Rules say what [Salvage] takes. The zero value is for what people write.
type Rules struct {
	// Longest is the most elements of a list, 0 for any number. More are a fault, and are not decoded.
	Longest int
	// Exact refuses spellings of a unit besides its symbols, see [units.Exact], and a number in per
	// cent, and names no field that may be at fault only because another is. Check cases are read so.
	Exact bool
	// Written is for a text that a program writes: a field unknown is of class [units.ErrNewer].
	Written bool
}

// Salvaged holds the faults that [Salvage] found.
type Salvaged struct {
	units.Opaque[Salvaged]
	faults        error
	data          []byte
	list          []reason
	exact         bool // by the exact rules
	marked, whole bool // some value at fault became NaN; every one did
	strange       bool // of those that did not, each is a field unknown, and there are several
}

// reason is a fault that may explain a complaint of a constructor.
type reason struct {
	path []string
	near string // the name that an unknown one was probably meant to be, or ""
	name string // of the field, as other fields' complaints mention it
	zero bool   // a constructor takes the value for one that was left out
}

// Salvage decodes like [Unmarshal], but a quantity or a number at fault becomes NaN, which every
// constructor refuses. The constructor can then check the other fields, and [Salvaged.Join] joins
// both errors:
//
//	var spec spring.Linear
//	s, err := strictjson.Salvage("job", data, strictjson.Rules{}, &spec)
//	if err != nil {
//		return err // no JSON
//	}
//	law, err := spring.NewLinear(spec)
//	if err := s.Join(err); err != nil {
//		return err
//	}
//
// Salvage returns the error of Unmarshal, and nil, if the text could not be read to its end (it is
// not JSON, is nested too deep, or has a hundred faults), or if the type of v is not supported.
func Salvage(pkg string, data []byte, rules Rules, v any) (*Salvaged, error) {
	d := decoder{pkg: pkg, data: data, rules: rules, marking: true}
	err := d.whole(v)
	if err != nil && !d.read {
		return nil, err
	}
	s := &Salvaged{faults: err, data: data, exact: rules.Exact, whole: true}
	unknown, others := 0, 0
	for _, fault := range d.faults {
		s.marked, s.whole = s.marked || fault.marked, s.whole && fault.marked
		switch {
		case errors.Is(fault.err, units.ErrUnknown):
			unknown++
		case !fault.marked:
			others++
		}
		for _, f := range units.Fields(fault.err) {
			known := !errors.Is(f, units.ErrUnknown)
			s.list = append(s.list, reason{steps(f), fault.near, cmp.Or(fault.near, f.Name()), !fault.marked && (known || fault.near != "")})
		}
	}
	s.strange = unknown > 1 && others == 0
	return s, nil
}

// Join returns the faults of the text, followed by the complaints of a constructor's error err that
// they do not explain. If the text has no fault, it returns err.
//
// A fault explains a complaint about the same field, a field in it or around it, or the field that
// an unknown one was probably meant to be; one that shows a NaN; and one of another class than
// [units.ErrRange] that mentions the field; and one about a field of the same name elsewhere that is
// not given, and might have been taken from it. If the value at fault could not become NaN, it also
// explains such complaints about what is given beside it. Of equal complaints one is kept.
//
// By the exact rules a fault explains only complaints about the same field, in it or around it. If it
// concerns something other than a quantity or a number, such as an unknown field, Join keeps only
// complaints of class ErrRange about values that were decoded: whether a field is missing or
// contradicts another may depend on what could not be decoded. Beside several unknown fields it keeps
// complaints about missing ones too: they can't all be the one that was meant.
func (s *Salvaged) Join(err error) error {
	if s.faults == nil {
		return err
	}
	complaints := units.Fields(err)
	places, wanted := make([]*place, len(complaints)), &place{}
	for i, complaint := range complaints {
		places[i] = wanted.at(steps(complaint))
	}
	if err != nil {
		(&decoder{data: s.data}).mark(wanted)
	}
	c := units.Checker{}
	c.Add("", s.faults)
	type said struct{ field, want string }
	seen := map[said]bool{}
	for i, complaint := range complaints {
		this := said{complaint.Field, complaint.Want.String()}
		if !seen[this] && !s.explains(complaint, this.want, places[i].given) {
			c.Add("", complaint)
		}
		seen[this] = true
	}
	return c.Err()
}

// explains reports whether the faults explain a complaint that wants something, about a field that is
// given in the text or isn't.
func (s *Salvaged) explains(complaint *units.FieldError, want string, given bool) bool {
	path, inRange := steps(complaint), complaint.Class == units.ErrRange
	if s.exact {
		missing := s.strange && (inRange || errors.Is(complaint, units.ErrMissing))
		return !s.whole && !(inRange && given) && !missing || slices.ContainsFunc(s.list, func(r reason) bool { return concerns(path, r.path) })
	}
	if s.marked && (isNaN(complaint.Value) || mentions(want, "NaN")) {
		return true
	}
	return slices.ContainsFunc(s.list, func(r reason) bool {
		return concerns(path, r.path) || r.near != "" && concerns(path, append(r.path[:len(r.path)-1:len(r.path)-1], r.near)) ||
			!given && len(path) > 0 && path[len(path)-1] == r.name ||
			!inRange && (mentions(want, r.name) || r.zero && given && beside(path, r.path))
	})
}

func isNaN(value any) bool {
	v := reflect.ValueOf(value)
	return v.IsValid() && v.CanFloat() && math.IsNaN(v.Float())
}

// mentions reports whether a word stands in a text.
func mentions(text, word string) bool {
	return word != "" && slices.Contains(strings.FieldsFunc(text, func(r rune) bool {
		return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}), word)
}

// beside reports whether a path leads into the object that holds the field at path f.
func beside(path, f []string) bool {
	parent := f[:max(0, len(f)-1)]
	return len(path) > len(parent) && slices.Equal(path[:len(parent)], parent)
}

// concerns reports whether the complaint's path c is the fault's path f, a path within it or around
// it, or its end: a constructor may not know the path of its own spec. A fault of an element
// concerns the list.
func concerns(c, f []string) bool {
	if n := min(len(c), len(f)); slices.Equal(c[:n], f[:n]) {
		return true
	}
	for len(f) > len(c) {
		if slices.Equal(c, f[len(f)-len(c):]) {
			return true
		}
		if _, err := strconv.Atoi(f[len(f)-1]); err != nil {
			return false
		}
		f = f[:len(f)-1]
	}
	return false
}

// steps returns the names and indices of the path of a fault.
func steps(f *units.FieldError) (list []string) {
	for step := range f.Path() {
		list = append(list, step)
	}
	return list
}

// place is a place in a text that a complaint names, or that contains one.
type place struct {
	inner map[string]*place // by name or index
	given bool              // a number or a string stands there
}

// at returns the place of a path within p, and adds it if it is not there.
func (p *place) at(path []string) *place {
	for _, name := range path {
		if p.inner == nil {
			p.inner = map[string]*place{}
		}
		if p.inner[name] == nil {
			p.inner[name] = &place{}
		}
		p = p.inner[name]
	}
	return p
}

// mark skips the current value and records which of the places in it are given.
func (d *decoder) mark(p *place) bool {
	d.space()
	c := d.peek()
	p.given = c == '"' || c == '-' || '0' <= c && c <= '9'
	inside := func(name string) bool {
		if next := p.inner[name]; next != nil {
			return d.mark(next)
		}
		return d.skip()
	}
	switch {
	case c == '{' && p.inner != nil:
		return d.members(inside)
	case c == '[' && p.inner != nil:
		return d.elements(func(i int) bool { return inside(strconv.Itoa(i)) })
	}
	return d.skip()
}
