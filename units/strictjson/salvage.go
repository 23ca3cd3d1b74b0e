package strictjson

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// Salvaged is what [Salvage] found wrong with a text.
type Salvaged struct {
	faults error
	data   []byte
	whole  bool // every value at fault became NaN
}

// Salvage decodes like [Unmarshal], but so that what can be read is checked even
// where something can't be: a quantity or a number at fault becomes NaN, which
// every constructor refuses. Run the constructor, and let [Salvaged.Join] put
// both errors together:
//
//	var spec spring.Linear
//	s, err := strictjson.Salvage("job", data, 0, &spec)
//	if err != nil {
//		return err // no JSON: there is nothing to go on with
//	}
//	law, err := spring.NewLinear(spec)
//	if err := s.Join(err); err != nil {
//		return err
//	}
//
// A list of more than longest elements is a fault too, and the elements beyond
// are not decoded, so that a short text can't ask for long work; 0 allows any
// number.
//
// The error is that of Unmarshal where the text could not be read to its end, as
// it is no JSON, nests too deep or has a hundred faults, or where v can't be
// decoded into.
func Salvage(pkg string, data []byte, longest int, v any) (*Salvaged, error) {
	d := decoder{pkg: pkg, data: data, longest: longest, marking: true}
	err := d.whole(v)
	if err != nil && !d.read {
		return nil, err
	}
	return &Salvaged{faults: err, data: data, whole: d.lasting == 0}, nil
}

// Join returns the faults of the text together with those of a constructor's
// error that they don't explain. Where the text had no fault it returns err.
//
// A complaint about a field at fault, or one inside it, is left out: the text's
// own fault is more exact. Where something other than a quantity or a number
// could not be read, such as an unknown field or a name of no known kind, only
// those complaints are kept by which a value that was read is out of its range:
// whether a field is missing, or contradicts another, may depend on what was
// not read.
func (s *Salvaged) Join(err error) error {
	if s.faults == nil {
		return err
	}
	c := units.Checker{}
	c.Add("", s.faults)
	var faults [][]string
	for _, fault := range units.Fields(s.faults) {
		faults = append(faults, steps(fault.Field))
	}
	complaints := units.Fields(err)
	places := make([][]string, len(complaints))
	wanted := &place{}
	for i, complaint := range complaints {
		places[i] = steps(complaint.Field)
		wanted.add(places[i])
	}
	if !s.whole && err != nil {
		d := decoder{data: s.data}
		d.mark(wanted)
	}
	for i, complaint := range complaints {
		explained := slices.ContainsFunc(faults, func(fault []string) bool { return concerns(places[i], fault) })
		if !explained && (s.whole || errors.Is(complaint, units.ErrRange) && wanted.given(places[i])) {
			c.Add("", complaint)
		}
	}
	return c.Err()
}

// concerns reports whether a complaint's path c is the fault's path f, one inside
// it, one around it, or the end of it: a constructor may not know where its spec
// stands. A fault of an element concerns the list.
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

// steps splits a path into names and indices: front, air, bore; a.b, 0 for
// ["a.b"][0].
func steps(path string) []string {
	var list []string
	for path != "" {
		switch path[0] {
		case '.', '[', ']':
			path = path[1:]
		case '"':
			if quoted, err := strconv.QuotedPrefix(path); err == nil {
				name, _ := strconv.Unquote(quoted) // no error: it is a quoted prefix
				list, path = append(list, name), path[len(quoted):]
				continue
			}
			fallthrough
		default:
			end := strings.IndexAny(path, ".[]")
			if end < 0 {
				end = len(path)
			}
			list, path = append(list, path[:end]), path[end:]
		}
	}
	return list
}

// place is a place in a text that a complaint names, or one around it.
type place struct {
	inner map[string]*place // by name or index
	met   bool
	value bool // a number or a string stands there
}

// add makes the places on the way to a path.
func (p *place) add(path []string) {
	for _, name := range path {
		next := p.inner[name]
		if next == nil {
			if p.inner == nil {
				p.inner = map[string]*place{}
			}
			next = &place{}
			p.inner[name] = next
		}
		p = next
	}
}

// given reports whether a number or a string was found at a path that was added.
func (p *place) given(path []string) bool {
	for _, name := range path {
		p = p.inner[name]
	}
	return p.value && len(path) > 0
}

// mark passes over the value at hand and notes what stands at the places in it, in
// one walk. Of a name that comes twice the first counts.
func (d *decoder) mark(p *place) bool {
	d.space()
	c := d.peek()
	p.met, p.value = true, c == '"' || c == '-' || '0' <= c && c <= '9'
	inside := func(name string) bool {
		if next := p.inner[name]; next != nil && !next.met {
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
