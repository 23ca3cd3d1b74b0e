package units_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// However long an input is and however much is wrong with it, the error's text
// is short, and still has the first faults and how many there are.
func TestErrorTextIsBounded(t *testing.T) {
	long := strings.Repeat("é", 1<<20)
	one := &units.FieldError{Package: "job", Field: long, Value: long, Want: long, Class: units.ErrRange}
	if text := one.Error(); len(text) > 1600 || !utf8.ValidString(text) {
		t.Errorf("%d bytes: %.2000q", len(text), text)
	}
	one.Value = []string{long}
	if n := len(one.Error()); n > 1600 {
		t.Errorf("%d bytes of a list", n)
	}

	c := units.Checker{Package: "job"}
	c.Fail(long, long, long, nil)
	f := units.Fields(c.Err())[0]
	if v, _ := f.Value.(string); len(v) > 70 || len(f.Field) > 260 || len(f.Want) > 1030 {
		t.Errorf("a Checker keeps %d, %d and %d bytes", len(v), len(f.Field), len(f.Want))
	}
	for i := range 20 {
		inner := units.Checker{Package: "job"}
		for k := range 500 {
			inner.Fail(fmt.Sprintf("[%d]", k), k, "none", units.ErrConflict)
		}
		c.Add(fmt.Sprintf("list[%d]", i), inner.Err())
	}
	err := units.At("rear", c.Err())
	text := err.Error()
	lines := strings.Split(text, "\n")
	if len(text) > 4200 || len(lines) < 20 {
		t.Errorf("%d bytes in %d lines", len(text), len(lines))
	}
	if want := fmt.Sprintf("and %d more", 10_001-len(lines)+1); lines[len(lines)-1] != want {
		t.Errorf("it ends with %q, want %q", lines[len(lines)-1], want)
	}
	if n := len(units.Fields(err)); n != 10_001 {
		t.Errorf("%d fields", n)
	}
	if !errors.Is(err, units.ErrConflict) || !errors.Is(err, units.ErrRange) {
		t.Error("a class is lost")
	}
}

// What fits is told in full, as errors.Join would.
func TestShortErrorTextIsWhole(t *testing.T) {
	c := units.Checker{Package: "job"}
	var all []error
	for i := range 30 {
		c.Fail(fmt.Sprintf("list[%d]", i), "v", "another", units.ErrUnknown)
		all = append(all, units.Fields(c.Err())[i])
	}
	if got, want := c.Err().Error(), errors.Join(all...).Error(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if c.Err() == c.Err() { // comparing must not panic
		t.Error("two errors made apart are one")
	}
}
