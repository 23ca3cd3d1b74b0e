package strictjson

import (
	"errors"
	"slices"
	"strconv"

	"example.com/wheelrate/units"
)

// Salvaged holds the faults that [Salvage] found.
type Salvaged struct {
	faults error
	data   []byte
	whole  bool // every value at fault became NaN
}

// Salvage decodes like [Unmarshal], but a quantity or a number at fault becomes NaN, which every
// constructor refuses. The constructor can then check the other fields, and [Salvaged.Join] joins
// both errors:
//
//	var spec spring.Linear
//	s, err := strictjson.Salvage("job", data, 0, &spec)
//	if err != nil {
//		return err // no JSON
//	}
//	law, err := spring.NewLinear(spec)
//	if err := s.Join(err); err != nil {
//		return err
//	}
//
// A list of more than longest elements is a fault, and its further elements are not decoded; 0
// stands for no limit.
//
// Salvage returns the error of Unmarshal, and nil, if the text could not be read to its end (it is
// not JSON, is nested too deep, or has a hundred faults), or if the type of v is not supported.
func Salvage(pkg string, data []byte, longest int, v any) (*Salvaged, error) {
	d := decoder{pkg: pkg, data: data, longest: longest, marking: true}
	err := d.whole(v)
	if err != nil && !d.read {
		return nil, err
	}
	return &Salvaged{faults: err, data: data, whole: d.lasting == 0}, nil
}

// Join returns the faults of the text, followed by the complaints of a constructor's error err that
// they do not explain. If the text has no fault, it returns err.
//
// A complaint about a field at fault, or about one around it or in it, is left out. If a fault
// concerns something other than a quantity or a number, such as an unknown field, Join keeps only
// complaints of class [units.ErrRange] about values that were decoded: whether a field is missing
// or contradicts another may depend on what could not be decoded.
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
	value bool              // a number or a string stands there
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

// mark skips the current value and records which of the places in it hold a number or a string.
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
