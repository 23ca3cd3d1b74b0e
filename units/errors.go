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

// FieldError reports that one field of an input is invalid. Constructors return one for each
// invalid field, joined; see [Fields].
type FieldError struct {
	Package string // the package that refused it, such as "spring"
	Field   string // the field's JSON name or path, such as "front.air.bore"; "" where the input as a whole is at fault
	Value   any    // the value refused; nil where none was given
	Want    Want   // what would be accepted
	Class   *Class // one of this package or of Package
}

// Error returns one line such as
//
//	spring: wire_diameter 9500 mm: want more than 0 and less than mean_diameter 50 mm
//
// A value is cut after 64 bytes, a path after 256, and what is wanted after 1024. Numbers are rounded
// as in [FieldError.Texts].
func (e *FieldError) Error() string {
	text := cut(e.Field, mostPath)
	if e.Field != "" && e.Value != nil {
		text += " "
	}
	value, want := e.Texts()
	if _, given := e.Value.(string); given {
		value = strconv.Quote(value)
	}
	text += value
	if text != "" {
		text += ": "
	}
	if e.Package != "" {
		text = e.Package + ": " + text
	}
	return text + "want " + want
}

// Unwrap returns the error's class, so that errors.Is finds it.
func (e *FieldError) Unwrap() error {
	if e.Class == nil {
		return nil
	}
	return e.Class
}

// Path yields the names and the indices in Field, and whether each is an index: front, air and bore
// for "front.air.bore"; points, a.b and the index 0 for points["a.b"][0].
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
// "curve.table.stroke[3]". It returns Field itself if that has no name.
func (e *FieldError) Name() string {
	last := ""
	for name, index := range e.Path() {
		if !index {
			last = name
		}
	}
	return cmp.Or(last, e.Field)
}

// Limits in bytes of what an error quotes.
const (
	mostValue = 64
	mostPath  = 256
	mostWant  = 1024
	mostText  = 4096 // of all faults of an error together
)

// cut returns text, or at most so many bytes of it and "…", cut between two characters.
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

// Clip returns a copy of a text for an error: the text itself up to 64 bytes, otherwise at most 64
// bytes of it and "…". As a copy it does not keep a long input in memory.
func Clip(text string) string { return strings.Clone(cut(text, mostValue)) }

// faults joins errors as errors.Join does, with a text of bounded length. Its list has no faults in
// it.
type faults struct{ list []error }

// Error returns a line for each fault, up to about 4 kB, and the number of those left out.
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

// Faults returns what is wrong, for a reply: the [Fields] of err, and for each part of it that names no
// field a FieldError with its text and, where it is of a [Class], with that. It returns none for nil.
func Faults(err error) []*FieldError {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		var list []*FieldError
		for _, inner := range joined.Unwrap() {
			list = append(list, Faults(inner)...)
		}
		return list
	}
	list := Fields(err)
	if err != nil && list == nil {
		class, _ := errors.AsType[*Class](err)
		list = append(list, &FieldError{Want: Want{Text: cut(err.Error(), mostWant)}, Class: class})
	}
	return list
}

// Fields returns every FieldError that err joins or wraps, in their order. It returns none for nil
// and for an error of another kind.
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

// At returns err with path put before the field of each of its FieldErrors: "bore" becomes
// "front.air.bore" at "front.air". Joined errors stay joined, an error with a method
// Under(path string) error is what that returns, of an error of another kind the
// FieldErrors that it wraps are left, and one that wraps none is unchanged. At(path, nil) is nil.
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
	case interface{ Under(path string) error }:
		return e.Under(path)
	case interface{ Unwrap() []error }:
		c := Checker{}
		for _, inner := range e.Unwrap() {
			c.Add(path, inner)
		}
		return c.Err()
	}
	return At(path, errors.Unwrap(err)) // having fields, it wraps one error
}
