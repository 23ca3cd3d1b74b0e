package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Checker collects the faults of a spec, so that a constructor can report every invalid field at
// once. Its zero value is ready to use; Package is optional:
//
//	c := units.Checker{Package: "spring"}
//	units.Positive(&c, "rate", spec.Rate)
//	units.NonNegative(&c, "preload", spec.Preload)
//	return units.Checked(&c, Spring{spec})
//
// A part of the spec is checked by a child, which puts the part's name before its fields:
//
//	coil := c.Child("coil")
//	units.Positive(&coil, "rate", spec.Coil.Rate) // "coil.rate"
//
// NaN fails every check.
type Checker struct {
	Package string // put before each error's text
	errs    []error

	// Of a child. The path is put together only where something is found.
	owner *Checker
	name  string
	index int // of an element of a list; below 0 for none
}

// Child returns a checker for the part of the spec with that name. A fault of field f in the part
// is recorded in the child as f and in c as name.f. OK, Bad and Err of the child report the part's
// faults alone.
func (c *Checker) Child(name string) Checker { return c.Element(name, -1) }

// Element returns a checker for element i of the list with that name, as Child does for a part.
func (c *Checker) Element(name string, i int) Checker {
	return Checker{Package: c.Package, owner: c, name: name, index: i}
}

// record adds an error to c and, under the name of the part, to its owner.
func (c *Checker) record(err error) {
	if joined, ok := err.(*faults); ok {
		c.errs = append(c.errs, joined.list...)
	} else {
		c.errs = append(c.errs, err)
	}
	if c.owner == nil {
		return
	}
	name := c.name
	if c.index >= 0 {
		name += "[" + strconv.Itoa(c.index) + "]"
	}
	c.owner.record(At(name, err))
}

// Fail records that the value of a field is not what is wanted: a [Want], or a sentence as a string. A
// nil class stands for [ErrRange]. Texts are cut as in [FieldError.Error].
func (c *Checker) Fail(field string, value, want any, class *Class) {
	if class == nil {
		class = ErrRange
	}
	if text, ok := value.(string); ok {
		value = cut(text, mostValue)
	}
	wanted, ok := want.(Want)
	if !ok {
		wanted.Text = fmt.Sprint(want)
	}
	wanted.Text, wanted.Note = cut(wanted.Text, mostWant), cut(wanted.Note, mostWant)
	c.record(&FieldError{Package: c.Package, Field: cut(field, mostPath), Value: value, Want: wanted, Class: class})
}

// Add records the faults of err, if any, with path put before their fields as by [At].
func (c *Checker) Add(path string, err error) {
	if err != nil {
		c.record(At(path, err))
	}
}

// OK reports whether no fault is recorded.
func (c *Checker) OK() bool { return len(c.errs) == 0 }

// Bad reports whether a fault of that field is recorded. A check that depends on the field is
// skipped then, so that one fault is not reported twice.
func (c *Checker) Bad(field string) bool {
	for _, e := range c.errs {
		for _, f := range Fields(e) {
			if f.Field == field {
				return true
			}
		}
	}
	return false
}

// Err returns all recorded faults as one error, or nil. Its text ends after about 4 kB with the
// number of faults left out. [Fields] returns all of them.
func (c *Checker) Err() error {
	if c.OK() {
		return nil
	}
	return &faults{c.errs}
}

// Checked returns v, or the zero value of its type and the error if c has recorded a fault.
func Checked[V any](c *Checker, v V) (V, error) {
	if !c.OK() {
		var none V
		return none, c.Err()
	}
	return v, nil
}

// refuse records a value that is out of range, and returns false.
func (c *Checker) refuse(field string, value any, want Want) bool {
	c.Fail(field, value, want, ErrRange)
	return false
}

// finite reports whether v is neither NaN nor infinite.
func finite[Q ~float64](v Q) bool { return math.Abs(float64(v)) <= math.MaxFloat64 }

// Positive checks that v is finite and greater than 0, and reports whether it is.
func Positive[Q ~float64](c *Checker, field string, v Q) bool {
	return v > 0 && finite(v) || c.refuse(field, v, limited("finite", nil).And(MoreThan(0)))
}

// NonNegative checks that v is finite and 0 or more, and reports whether it is.
func NonNegative[Q ~float64](c *Checker, field string, v Q) bool {
	return v >= 0 && finite(v) || c.refuse(field, v, limited("finite", nil).And(AtLeast(0)))
}

// Finite checks that v is neither NaN nor infinite, and reports whether it is.
func Finite[Q ~float64](c *Checker, field string, v Q) bool {
	return finite(v) || c.refuse(field, v, limited("finite", nil))
}

// Between checks that lo ≤ v ≤ hi, and reports whether it is so. It fails if any of them is NaN.
func Between[Q ~float64](c *Checker, field string, v, lo, hi Q) bool {
	return v >= lo && v <= hi || c.refuse(field, v, From(lo, hi))
}

// Inside checks that lo < v < hi, and reports whether it is so. It fails if any of them is NaN.
func Inside[Q ~float64](c *Checker, field string, v, lo, hi Q) bool {
	return v > lo && v < hi || c.refuse(field, v, MoreThan(lo).And(LessThan(hi)))
}

// Schema checks that the field schema of a text has the value wanted, such as wheelrate/job/1, and reports
// whether it has. A later number is a fault of class [ErrNewer], any other value one of [ErrUnknown].
func Schema(c *Checker, schema, wanted string) bool {
	if schema == wanted {
		return true
	}
	want, class := OneOf(wanted), ErrUnknown
	if later(schema, wanted) {
		want, class = want.With("or a later version of this program"), ErrNewer
	}
	c.Fail("schema", schema, want, class)
	return false
}

// later reports whether a schema has the name of another one and a later number.
func later(schema, other string) bool {
	name := other[:strings.LastIndexByte(other, '/')+1]
	number, same := strings.CutPrefix(schema, name)
	n, _ := strconv.Atoi(number) // 0 for what is no number
	old, _ := strconv.Atoi(other[len(name):])
	return same && n > old && n < 1e9 && number == strconv.Itoa(n)
}
