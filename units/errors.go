package units

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Classes of bad input, for errors.Is. Every error about a field of an input is a [FieldError] and
// unwraps to one of them, or to a class of the package that refused it, such as spring.ErrLaw.
// Inputs that are good by themselves and do not go together give a sentinel of that package alone:
// spring.ErrBottomedOut is the load that a spring does not carry.
var (
	// ErrRange: the value is a number of the right kind but outside what is permitted.
	ErrRange = errors.New("out of range")
	// ErrUnit: the unit is missing, unknown, or of another quantity.
	ErrUnit = errors.New("missing or unknown unit")
	// ErrSyntax: the text is not a number, or not of the form wanted.
	ErrSyntax = errors.New("malformed")
	// ErrMissing: a value that is needed was not given.
	ErrMissing = errors.New("missing")
	// ErrConflict: two values contradict each other or must not be given together.
	ErrConflict = errors.New("contradictory")
	// ErrUnknown: a field or a name that is not known.
	ErrUnknown = errors.New("unknown")
)

// FieldError says what is wrong with one field of an input. Constructors return one or more of them
// joined; see [Fields].
type FieldError struct {
	Package string // the package that refused it, such as "spring"
	Field   string // the field's JSON name or path, such as "front.air.bore"; "" where the input as a whole is at fault
	Value   any    // the value refused; nil where none was given
	Want    string // what would be accepted
	Class   error  // one of the sentinels of this package or of Package
}

// Error returns one line such as
//
//	spring: wire_diameter 9500 mm: want more than 0 and less than mean_diameter 50 mm
//
// A value is cut at 64 bytes, a path at 256, and what is wanted at 1024, so that a long input makes
// no long text.
func (e *FieldError) Error() string {
	text := cut(e.Field, mostPath)
	if e.Field != "" && e.Value != nil {
		text += " "
	}
	switch v := e.Value.(type) {
	case nil:
	case string:
		text += strconv.Quote(cut(v, mostValue))
	default:
		text += cut(fmt.Sprint(v), mostValue)
	}
	if text != "" {
		text += ": "
	}
	if e.Package != "" {
		text = e.Package + ": " + text
	}
	return text + "want " + cut(e.Want, mostWant)
}

// Unwrap returns the error's class, so that errors.Is finds it.
func (e *FieldError) Unwrap() error { return e.Class }

// Path yields the names in Field and, with true, the indices: front, air and bore for
// "front.air.bore", points, a.b and the index 0 for points["a.b"][0].
func (e *FieldError) Path() iter.Seq2[string, bool] {
	return func(yield func(string, bool) bool) {
		for rest := e.Field; rest != ""; {
			if rest[0] == '.' || rest[0] == ']' {
				rest = rest[1:]
				continue
			}
			name, end, index := "", ".[", false
			if rest, index = strings.CutPrefix(rest, "["); index {
				end = "]"
			}
			if quoted, err := strconv.QuotedPrefix(rest); index && err == nil {
				name, _ = strconv.Unquote(quoted) // no error: it is a quoted prefix
				rest, index = rest[len(quoted):], false
			} else {
				length := strings.IndexAny(rest, end)
				if length < 0 {
					length = len(rest)
				}
				name, rest = rest[:length], rest[length:]
			}
			if !yield(name, index) {
				return
			}
		}
	}
}

// Name returns the last name in Field: "bore" for "front.air.bore", "stroke" for
// "curve.table.stroke[3]". Where there is none, it is Field itself.
func (e *FieldError) Name() string {
	last := ""
	for name, index := range e.Path() {
		if !index {
			last = name
		}
	}
	return cmp.Or(last, e.Field)
}

// How many bytes of a fault are kept.
const (
	mostValue = 64
	mostPath  = 256
	mostWant  = 1024
	mostText  = 4096 // of all faults of an error together
)

// cut returns text as it is, or its first bytes, at most so many and no part of a character, and a
// mark that it went on.
func cut(text string, most int) string {
	if len(text) <= most {
		return text
	}
	end := most
	for end > most-utf8.UTFMax && !utf8.RuneStart(text[end]) {
		end--
	}
	return text[:end] + "…"
}

// Clip returns a copy of a text of the input for an error: all of it up to 64 bytes, or the first
// 64 and "…". The copy does not keep a long input from being freed.
func Clip(text string) string { return strings.Clone(cut(text, mostValue)) }

// faults joins errors as errors.Join does, in a text of bounded length. None of them is joined
// faults itself.
type faults struct{ list []error }

// Error returns a line for each fault, up to about 4 kB, and then how many more there are.
func (f *faults) Error() string {
	var b strings.Builder
	for i, err := range f.list {
		line := err.Error()
		if i > 0 && b.Len()+len("\n")+len(line) > mostText {
			fmt.Fprintf(&b, "\nand %d more", len(f.list)-i)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(line)
	}
	return b.String()
}

func (f *faults) Unwrap() []error { return f.list }

// Fields lists every FieldError joined or wrapped in err, in the order they were found. It is empty
// for a nil error and for an error of another kind.
func Fields(err error) []*FieldError {
	switch e := err.(type) {
	case *FieldError:
		return []*FieldError{e}
	case interface{ Unwrap() []error }:
		var list []*FieldError
		for _, inner := range e.Unwrap() {
			list = append(list, Fields(inner)...)
		}
		return list
	case interface{ Unwrap() error }:
		return Fields(e.Unwrap())
	}
	return nil
}

// At puts path before the field of every FieldError in err: a spec nested in another reports
// "bore", its owner "front.air.bore". Joined errors stay joined, an error that wraps a FieldError
// still wraps it and is still found by errors.Is and errors.As, and errors of other kinds are kept
// as they are. At(path, nil) is nil.
func At(path string, err error) error {
	if path == "" || len(Fields(err)) == 0 {
		return err
	}
	switch e := err.(type) {
	case *FieldError:
		moved := *e
		if e.Field == "" || e.Field[0] == '[' {
			moved.Field = path + e.Field
		} else {
			moved.Field = path + "." + e.Field
		}
		return &moved
	case interface{ Unwrap() []error }:
		c := Checker{}
		for _, inner := range e.Unwrap() {
			c.Add(path, inner)
		}
		return c.Err()
	}
	// Having fields, it wraps one error.
	return &placed{path: path, outer: err, inner: At(path, errors.Unwrap(err))}
}

// placed is an error of another kind that wraps FieldErrors, with their fields moved: inner holds
// these, outer is the error as it was.
type placed struct {
	path         string
	outer, inner error
}

func (p *placed) Error() string { return p.path + ": " + p.outer.Error() }

func (p *placed) Unwrap() error { return p.inner }

func (p *placed) Is(target error) bool { return errors.Is(p.outer, target) }

// As finds what it finds in the error as it was, but a FieldError only where it was moved to.
func (p *placed) As(target any) bool {
	_, field := target.(**FieldError)
	return !field && errors.As(p.outer, target)
}
