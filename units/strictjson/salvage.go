package strictjson

import (
	"errors"
	"slices"
	"strconv"

	"example.com/wheelrate/units"
)

// Salvaged is what [Salvage] found wrong with a text.
type Salvaged struct {
	faults error
	data   []byte
	whole  bool // every value at fault became NaN
}

// Salvage decodes like [Unmarshal], but so that what can be read is checked even where something
// can't be: a quantity or a number at fault becomes NaN, which every constructor refuses. Run the
// constructor, and let [Salvaged.Join] put both errors together:
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
// A list of more than longest elements is a fault too, and the elements beyond are not decoded, so
// that a short text can't ask for long work; 0 allows any number.
//
// The error is that of Unmarshal where the text could not be read to its end, as it is no JSON,
// nests too deep or has a hundred faults, or where v can't be decoded into.
func Salvage(pkg string, data []byte, longest int, v any) (*Salvaged, error) {
	d := decoder{pkg: pkg, data: data, longest: longest, marking: true}
	err := d.whole(v)
	if err != nil && !d.read {
		return nil, err
	}
	return &Salvaged{faults: err, data: data, whole: d.lasting == 0}, nil
}

// Join returns the faults of the text together with those of a constructor's error that they don't
// explain. Where the text had no fault it returns err.
//
// A complaint about a field at fault, or one inside it, is left out: the text's own fault is more
// exact. Where something other than a quantity or a number could not be read, such as an unknown
// field or a name of no known kind, only those complaints are kept that a value which was read is
// out of its range. Whether a field is missing, or contradicts another, may depend on what was not
// read.
func (s *Salvaged) Join(err error) error {
	if s.faults == nil {
		return err
	}
	var faults [][]string
	for _, fault := range units.Fields(s.faults) {
		faults = append(faults, steps(fault))
	}
	complaints := units.Fields(err)
	places, wanted := make([]*place, len(complaints)), &place{}
	for i, complaint := range complaints {
		places[i] = wanted.at(steps(complaint))
	}
	if !s.whole && err != nil {
		(&decoder{data: s.data}).mark(wanted)
	}
	c := units.Checker{}
	c.Add("", s.faults)
	for i, complaint := range complaints {
		path := steps(complaint)
		explained := slices.ContainsFunc(faults, func(fault []string) bool { return concerns(path, fault) })
		if !explained && (s.whole || errors.Is(complaint, units.ErrRange) && places[i].value) {
			c.Add("", complaint)
		}
	}
	return c.Err()
}

// concerns reports whether a complaint's path c is the fault's path f, one inside it, one around
// it, or the end of it: a constructor may not know where its spec stands. A fault of an element
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

// steps returns the names and indices of a fault's path.
func steps(f *units.FieldError) (list []string) {
	for step := range f.Path() {
		list = append(list, step)
	}
	return list
}

// place is a place in a text that a complaint names, or one around it.
type place struct {
	inner map[string]*place // by name or index
	value bool              // a number or a string stands there
}

// at returns the place of a path within p, made where it was not there.
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

// mark passes over the value at hand and notes what stands at the places in it, in one walk.
func (d *decoder) mark(p *place) bool {
	d.space()
	c := d.peek()
	p.value = c == '"' || c == '-' || '0' <= c && c <= '9'
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
