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
	whole  bool // every value at fault is NaN now
}

// Salvage decodes like [Unmarshal], so that what can be read is checked even
// where something can't: a quantity or a number that was given and could not
// be read becomes NaN, which every constructor refuses, naming its field and
// leaving out what depends on it. Run the constructor then, and let
// [Salvaged.Join] put both errors together:
//
//	var spec spring.Linear
//	s, err := strictjson.Salvage("job", data, &spec)
//	if err != nil {
//		return err // no JSON: there is nothing to go on with
//	}
//	law, err := spring.NewLinear(spec)
//	if err := s.Join(err); err != nil {
//		return err
//	}
//
// The error is that of Unmarshal where the text could not be read to its end, as
// it is no JSON, nests too deep or has a hundred faults, or where v can't be
// decoded into.
func Salvage(pkg string, data []byte, v any) (*Salvaged, error) {
	d := decoder{pkg: pkg, data: data, marking: true}
	err := d.whole(v)
	if err != nil && !d.read {
		return nil, err
	}
	return &Salvaged{faults: err, data: data, whole: d.lasting == 0}, nil
}

// Err is what was wrong with the text; nil for nothing.
func (s *Salvaged) Err() error { return s.faults }

// Join returns the faults of the text, and of a constructor's error what the
// faults don't explain. It is err as it is where the text had no fault.
//
// What concerns a field at fault, or one inside it, is left out: the text's own
// fault says it better. Where something other than a quantity or a number could
// not be read, such as an unknown field or a name of no known kind, only those
// complaints are kept that a value which was read is out of its range: which
// fields are missing, or contradict each other, may hang on what was not read.
func (s *Salvaged) Join(err error) error {
	if s.faults == nil {
		return err
	}
	c := units.Checker{}
	c.Add("", s.faults)
	faults := units.Fields(s.faults)
	var places map[string]int
	if !s.whole && err != nil {
		places = s.places()
	}
	for _, complaint := range units.Fields(err) {
		explained := slices.ContainsFunc(faults, func(fault *units.FieldError) bool { return concerns(complaint.Field, fault.Field) })
		if !explained && (s.whole || errors.Is(complaint, units.ErrRange) && s.given(places, complaint.Field)) {
			c.Add("", complaint)
		}
	}
	return c.Err()
}

// concerns tells whether a complaint's path is the fault's, one inside it, one
// around it, or the end of it: a constructor may not know where it stands. A
// list as a whole is concerned by a fault of an element.
func concerns(complaint, fault string) bool {
	c, f := steps(complaint), steps(fault)
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

// places tells where the values of the outermost object begin.
func (s *Salvaged) places() map[string]int {
	list := map[string]int{}
	d := decoder{data: s.data}
	if d.space(); d.peek() == '{' {
		d.members(func(name string) bool {
			if _, twice := list[name]; !twice {
				list[name] = d.pos
			}
			return d.skip()
		})
	}
	return list
}

// given tells whether the text has a number or a string at path.
func (s *Salvaged) given(places map[string]int, path string) bool {
	names := steps(path)
	if len(names) == 0 {
		return false
	}
	pos, ok := places[names[0]]
	d := decoder{data: s.data, pos: pos}
	return ok && d.has(names[1:])
}

// has tells whether the value at hand has a number or a string at path. It
// reads no further than it must.
func (d *decoder) has(path []string) bool {
	d.space()
	c := d.peek()
	if len(path) == 0 {
		return c == '"' || c == '-' || '0' <= c && c <= '9'
	}
	found := false
	switch c {
	case '{':
		d.members(func(name string) bool {
			if name != path[0] {
				return d.skip()
			}
			found = d.has(path[1:])
			return false
		})
	case '[':
		d.elements(func(i int) bool {
			if strconv.Itoa(i) != path[0] {
				return d.skip()
			}
			found = d.has(path[1:])
			return false
		})
	}
	return found
}
