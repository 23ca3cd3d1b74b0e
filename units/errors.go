package units

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Classes of bad input, for errors.Is. Every error about a field of an input is a
// [FieldError] and unwraps to one of them, or to a class of the package that
// refused it, such as spring.ErrLaw. Inputs that are good by themselves and do not
// go together give a sentinel of that package alone: spring.ErrBottomedOut is the
// load that a spring does not carry.
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

// FieldError says what is wrong with one field of an input. Constructors
// return one or more of them joined; see [Fields].
type FieldError struct {
	Package string // the package that refused it, such as "spring"
	Field   string // the field's JSON name or path, such as "front.air.bore"; "" where the input as a whole is at fault
	Value   any    // the value refused; nil where none was given
	Want    string // what would be accepted
	Class   error  // one of the sentinels of this package or of Package
}

// Error gives one line such as
//
//	spring: wire_diameter 9500 mm: want more than 0 and less than mean_diameter 50 mm
//
// A value is cut at 64 bytes, a path at 256, and what is wanted at 1024, so that a
// long input makes no long text.
func (e *FieldError) Error() string {
	var b strings.Builder
	if e.Package != "" {
		b.WriteString(e.Package)
		b.WriteString(": ")
	}
	b.WriteString(cut(e.Field, mostPath))
	if e.Field != "" && e.Value != nil {
		b.WriteByte(' ')
	}
	switch v := e.Value.(type) {
	case nil:
	case string:
		b.WriteString(strconv.Quote(cut(v, mostValue)))
	default:
		b.WriteString(cut(fmt.Sprint(v), mostValue))
	}
	if e.Field != "" || e.Value != nil {
		b.WriteString(": ")
	}
	b.WriteString("want ")
	b.WriteString(cut(e.Want, mostWant))
	return b.String()
}

// How many bytes of a fault are told.
const (
	mostValue = 64
	mostPath  = 256
	mostWant  = 1024
	mostText  = 4096 // of all faults of an error together
)

// cut returns text as it is, or its first most bytes and a mark that it went on.
// What is cut is copied, so that it does not keep a long input from being freed.
func cut(text string, most int) string {
	if len(text) <= most {
		return text
	}
	return text[:cutAt(text, most)] + "…"
}

// cutAt is where a text of more than most bytes is cut, not within a character.
func cutAt(text string, most int) int {
	end := most
	for end > most-utf8.UTFMax && !utf8.RuneStart(text[end]) {
		end--
	}
	return end
}

// faults joins errors as errors.Join does, in a text of bounded length.
type faults struct{ list []error }

// join returns errors that are not nil as one, nil where there is none.
func join(list []error) error {
	if len(list) == 0 {
		return nil
	}
	return &faults{list}
}

// Error gives a line for each fault, up to about 4 kB, and then how many more
// there are.
func (f *faults) Error() string {
	var b strings.Builder
	told, all := 0, 0
	f.each(func(err error) {
		all++
		if all > told+1 {
			return
		}
		line := err.Error()
		if told > 0 && b.Len()+len("\n")+len(line) > mostText {
			return
		}
		if told > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(line)
		told++
	})
	if all > told {
		fmt.Fprintf(&b, "\nand %d more", all-told)
	}
	return b.String()
}

// each hands on the errors joined, and those joined in them.
func (f *faults) each(yield func(error)) {
	for _, err := range f.list {
		if inner, ok := err.(*faults); ok {
			inner.each(yield)
		} else {
			yield(err)
		}
	}
}

func (f *faults) Unwrap() []error { return f.list }

// Unwrap returns the error's class, so that errors.Is finds it.
func (e *FieldError) Unwrap() error { return e.Class }

// Name is the last name in Field, without an index: "bore" for
// "front.air.bore", "stroke" for "curve.table.stroke[3]", "a.b" for
// points["a.b"][0]. Where there is none, it is Field itself.
func (e *FieldError) Name() string {
	name, rest := "", e.Field
	for rest != "" {
		switch rest[0] {
		case '.', ']':
			rest = rest[1:]
		case '[':
			rest = rest[1:]
			if quoted, err := strconv.QuotedPrefix(rest); err == nil {
				name, _ = strconv.Unquote(quoted) // no error: it is a quoted prefix
				rest = rest[len(quoted):]
			} else {
				_, rest, _ = strings.Cut(rest, "]")
			}
		default:
			end := strings.IndexAny(rest, ".[")
			if end < 0 {
				end = len(rest)
			}
			name, rest = rest[:end], rest[end:]
		}
	}
	if name == "" {
		return e.Field
	}
	return name
}

// Fields lists every FieldError joined or wrapped in err, in the order they
// were found. It is empty for a nil error and for an error of another kind.
func Fields(err error) []*FieldError {
	if err == nil {
		return nil
	}
	if f, ok := err.(*FieldError); ok {
		return []*FieldError{f}
	}
	var list []*FieldError
	switch w := err.(type) {
	case interface{ Unwrap() []error }:
		for _, e := range w.Unwrap() {
			list = append(list, Fields(e)...)
		}
	case interface{ Unwrap() error }:
		list = Fields(w.Unwrap())
	}
	return list
}

// At puts path before the field of every FieldError in err: a spec nested in
// another reports "bore", its owner "front.air.bore". Joined errors stay
// joined, an error that wraps a FieldError still wraps it and is still found
// by errors.Is and errors.As, and errors of other kinds are kept as they are.
// At(path, nil) is nil.
func At(path string, err error) error {
	if path == "" || len(Fields(err)) == 0 {
		return err
	}
	switch e := err.(type) {
	case *FieldError:
		moved := *e
		switch {
		case e.Field == "":
			moved.Field = path
		case e.Field[0] == '[':
			moved.Field = path + e.Field
		default:
			moved.Field = path + "." + e.Field
		}
		return &moved
	case interface{ Unwrap() []error }:
		list := make([]error, 0, 4)
		for _, inner := range e.Unwrap() {
			list = append(list, At(path, inner))
		}
		return join(list)
	}
	// Having fields, it wraps one error.
	return &placed{path: path, outer: err, inner: At(path, errors.Unwrap(err))}
}

// placed is an error of another kind that wraps FieldErrors, with their fields
// moved: inner holds these, outer is the error as it was.
type placed struct {
	path         string
	outer, inner error
}

func (p *placed) Error() string { return p.path + ": " + p.outer.Error() }

func (p *placed) Unwrap() error { return p.inner }

// Is finds the error as it was, but not what it wraps: that is in inner.
func (p *placed) Is(target error) bool {
	if reflect.TypeOf(p.outer).Comparable() && p.outer == target {
		return true
	}
	is, ok := p.outer.(interface{ Is(error) bool })
	return ok && is.Is(target)
}

// As finds the error as it was, but not what it wraps.
func (p *placed) As(target any) bool {
	if into := reflect.ValueOf(target).Elem(); reflect.TypeOf(p.outer).AssignableTo(into.Type()) {
		into.Set(reflect.ValueOf(p.outer))
		return true
	}
	as, ok := p.outer.(interface{ As(any) bool })
	return ok && as.As(target)
}
