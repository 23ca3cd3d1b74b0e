package units

import (
	"errors"
	"fmt"
	"strings"
)

// Classes of bad input, for errors.Is. Every error of this library that
// concerns an input unwraps to one of them.
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
//	spring: wire_diameter 9.5 m: want more than 0 and less than mean_diameter 0.05 m
func (e *FieldError) Error() string {
	var b strings.Builder
	if e.Package != "" {
		b.WriteString(e.Package)
		b.WriteString(": ")
	}
	b.WriteString(e.Field)
	switch v := e.Value.(type) {
	case nil:
	case string:
		fmt.Fprintf(&b, " %q", v)
	default:
		fmt.Fprintf(&b, " %v", v)
	}
	if e.Field != "" || e.Value != nil {
		b.WriteString(": ")
	}
	b.WriteString("want ")
	b.WriteString(e.Want)
	return b.String()
}

// Unwrap returns the error's class, so that errors.Is finds it.
func (e *FieldError) Unwrap() error { return e.Class }

// Name is the last element of Field without an index: "bore" for
// "front.air.bore", "stroke" for "curve.table.stroke[3]".
func (e *FieldError) Name() string {
	name := e.Field[strings.LastIndexByte(e.Field, '.')+1:]
	if i := strings.IndexByte(name, '['); i > 0 {
		name = name[:i]
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
// joined, and errors of other kinds are kept as they are. At(path, nil) is nil.
func At(path string, err error) error {
	if err == nil || path == "" {
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
		return errors.Join(list...)
	}
	return err
}
