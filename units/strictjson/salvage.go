package strictjson

import (
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
	// cent. Check cases are read so.
	Exact bool
}

// Salvaged holds the faults that [Salvage] found.
type Salvaged struct {
	faults error
	list   []reason
	marked bool // a value became NaN
}

// reason is a fault that may explain a complaint of a constructor.
type reason struct {
	path []string
	name string // of the field, as other fields' complaints mention it
	zero bool   // the value is not NaN: a constructor takes it for one that was left out
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
	s := &Salvaged{faults: err}
	for _, fault := range d.faults {
		s.marked = s.marked || fault.marked
		for _, f := range units.Fields(fault.err) {
			path := steps(f)
			if fault.near != "" {
				s.list = append(s.list, reason{path: append(path[:len(path)-1:len(path)-1], fault.near), name: fault.near, zero: true})
			} else {
				s.list = append(s.list, reason{path: path, name: f.Name(), zero: !fault.marked && f.Class != units.ErrUnknown})
			}
		}
	}
	return s, nil
}

// Join returns the faults of the text, followed by the complaints of a constructor's error err that
// they do not explain. If the text has no fault, it returns err.
//
// A fault explains a complaint about the same field, a field in it or around it, or the field that
// an unknown one was probably meant to be; one that shows a NaN; and one of another class than
// [units.ErrRange] that mentions the field. If the value at fault could not become NaN, it also
// explains such complaints about the values beside it, except that one is missing. Of equal
// complaints one is kept.
func (s *Salvaged) Join(err error) error {
	if s.faults == nil {
		return err
	}
	c := units.Checker{}
	c.Add("", s.faults)
	type said struct{ field, want string }
	seen := map[said]bool{}
	for _, complaint := range units.Fields(err) {
		this := said{complaint.Field, complaint.Want}
		if !seen[this] && !s.explain(complaint) {
			c.Add("", complaint)
		}
		seen[this] = true
	}
	return c.Err()
}

func (s *Salvaged) explain(complaint *units.FieldError) bool {
	if s.marked && (isNaN(complaint.Value) || mentions(complaint.Want, "NaN")) {
		return true
	}
	path, inRange := steps(complaint), errors.Is(complaint, units.ErrRange)
	absent := complaint.Value == nil && errors.Is(complaint, units.ErrMissing)
	return slices.ContainsFunc(s.list, func(r reason) bool {
		return concerns(path, r.path) || !inRange && mentions(complaint.Want, r.name) ||
			r.zero && !inRange && !absent && beside(path, r.path)
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
