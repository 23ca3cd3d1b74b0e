package units

// Class is what is wrong with a value: a sentinel for errors.Is, with a code for programs that don't
// read English. A code is a promise: it is never renamed, and never used for something else.
type Class struct {
	Opaque[Class]
	code, text string
	of         *Class
}

// NewClass returns a class with a code in snake_case, such as "topped_out", the text of its Error, and
// the class that it is a kind of, or nil.
func NewClass(code, text string, of *Class) *Class {
	return &Class{code: code, text: text, of: of}
}

// Code returns the code, and "other" for nil.
func (c *Class) Code() string {
	if c == nil {
		return "other"
	}
	return c.code
}

// Error returns the text.
func (c *Class) Error() string { return c.text }

// Is reports whether target is a Class with the same code, as that of a decoded fault is.
func (c *Class) Is(target error) bool {
	other, ok := target.(*Class)
	return ok && c.Code() == other.Code()
}

// Unwrap returns the class that c is a kind of, or nil.
func (c *Class) Unwrap() error {
	if c == nil || c.of == nil {
		return nil
	}
	return c.of
}

// root returns the most general class that c is a kind of.
func (c *Class) root() *Class {
	for c != nil && c.of != nil {
		c = c.of
	}
	return c
}

// Classes of invalid input, with the codes range, unit, syntax, missing, conflict and unknown. Every
// error about a field of an input is a [FieldError] of one of these classes, or of one that its package
// declares, such as spring.ErrBottomedOut.
var (
	// ErrRange reports a number outside the permitted range.
	ErrRange = NewClass("range", "out of range", nil)
	// ErrUnit reports a unit that is missing, unknown, or of another quantity.
	ErrUnit = NewClass("unit", "missing or unknown unit", nil)
	// ErrSyntax reports a text that is not a number, or does not have the wanted form.
	ErrSyntax = NewClass("syntax", "malformed", nil)
	// ErrMissing reports that a required value was not given.
	ErrMissing = NewClass("missing", "missing", nil)
	// ErrConflict reports two values that contradict each other or must not be given together.
	ErrConflict = NewClass("conflict", "contradictory", nil)
	// ErrUnknown reports a field or a name that is not known.
	ErrUnknown = NewClass("unknown", "unknown", nil)
	// ErrNewer reports a schema with a later number, or a field that is not known of a text that programs
	// write: a newer version wrote it. It is an ErrUnknown too, with the code newer.
	ErrNewer = NewClass("newer", "written by a newer version", ErrUnknown)
)
