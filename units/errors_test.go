package units_test

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/units"
)

var sentinels = []*units.Class{units.ErrRange, units.ErrUnit, units.ErrSyntax, units.ErrMissing, units.ErrConflict, units.ErrUnknown}

func TestFieldErrorText(t *testing.T) {
	for _, test := range []struct {
		err  units.FieldError
		want string
	}{
		{units.FieldError{Package: "spring", Field: "wire_diameter", Value: 9.5 * units.Metre, Want: units.Want{Text: "more than 0 and less than mean_diameter 50 mm"}},
			"spring: wire_diameter 9500 mm: want more than 0 and less than mean_diameter 50 mm"},
		{units.FieldError{Package: "sag", Field: "sag", Value: 1.29, Want: units.Want{Text: "less than 1"}}, "sag: sag 1.29: want less than 1"},
		{units.FieldError{Package: "job", Field: "bore", Value: "36\n", Want: units.Want{Text: "a length"}}, `job: bore "36\n": want a length`},
		{units.FieldError{Package: "job", Field: "bore", Want: units.Want{Text: "a length"}}, "job: bore: want a length"},
		{units.FieldError{Field: "bore", Value: 3, Want: units.Want{Text: "a length"}}, "bore 3: want a length"},
		{units.FieldError{Package: "job", Want: units.Want{Text: "an object"}}, "job: want an object"},
		{units.FieldError{Package: "job", Value: "x", Want: units.Want{Text: "an object"}}, `job: "x": want an object`},
		{units.FieldError{Want: units.Want{Text: "an object"}}, "want an object"},
		{units.FieldError{Package: "spring", Field: "rate", Value: units.Stiffness(math.NaN()), Want: units.Want{Text: "a finite value, more than 0"}},
			"spring: rate NaN N/mm: want a finite value, more than 0"},
	} {
		if got := test.err.Error(); got != test.want {
			t.Errorf("got %q, want %q", got, test.want)
		}
	}
}

func TestFieldErrorClass(t *testing.T) {
	for i, class := range sentinels {
		err := error(&units.FieldError{Field: "bore", Class: class})
		for j, other := range sentinels {
			if errors.Is(err, other) != (i == j) {
				t.Errorf("a fault of class %v is %v: %v", class, other, errors.Is(err, other))
			}
		}
	}
	if err := error(&units.FieldError{Field: "bore"}); errors.Is(err, units.ErrRange) {
		t.Error("a fault of no class has one")
	}
}

func TestFieldErrorName(t *testing.T) {
	for field, want := range map[string]string{
		"bore": "bore", "front.air.bore": "bore", "curve.table.stroke[3]": "stroke", "points.A[0]": "A", "shelf[2].rate": "rate",
		"shelf[2]": "shelf", "[3]": "[3]", "": "", `points["a.b"]`: "a.b", `points["a.b"][0]`: "a.b", `points["a]\"["].x`: "x", `["a.b"].c.d[1][2]`: "d",
		"a..b": "b", "a.": "a", ".a": "a", "a[": "a", "a]": "a]", `a["x`: "a", "[": "[", `["x"`: "x", "...": "...",
	} {
		if got := (&units.FieldError{Field: field}).Name(); got != want {
			t.Errorf("the name of %q is %q, want %q", field, got, want)
		}
	}
}

func bad(field string) *units.FieldError {
	return &units.FieldError{Package: "spring", Field: field, Want: units.Want{Text: "something else"}, Class: units.ErrRange}
}

// several is an error of elsewhere that wraps two.
type several struct{ a, b error }

func (s several) Error() string   { return "several" }
func (s several) Unwrap() []error { return []error{s.a, nil, s.b} }

func fieldsOf(err error) []string {
	var list []string
	for _, f := range units.Fields(err) {
		list = append(list, f.Field)
	}
	return list
}

func TestFieldsFindsWhatIsWrapped(t *testing.T) {
	for _, test := range []struct {
		name string
		err  error
		want []string
	}{
		{"nil", nil, nil},
		{"another kind", io.EOF, nil},
		{"a sentinel", units.ErrRange, nil},
		{"another kind, wrapped", fmt.Errorf("x: %w", io.EOF), nil},
		{"one", bad("a"), []string{"a"}},
		{"wrapped", fmt.Errorf("x: %w", bad("a")), []string{"a"}},
		{"joined", errors.Join(bad("a"), io.EOF, bad("b")), []string{"a", "b"}},
		{"joined, wrapped and joined", errors.Join(bad("a"), fmt.Errorf("x: %w", errors.Join(bad("b"), bad("c"))), bad("d")), []string{"a", "b", "c", "d"}},
		{"wrapped twice in one", fmt.Errorf("%w and %w", bad("b"), bad("a")), []string{"b", "a"}},
		{"of elsewhere", several{bad("a"), bad("b")}, []string{"a", "b"}},
		{"the same twice", errors.Join(bad("a"), bad("a")), []string{"a", "a"}},
	} {
		if diff := cmp.Diff(test.want, fieldsOf(test.err)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

func TestAtPutsThePathFirst(t *testing.T) {
	one := bad("bore")
	for _, test := range []struct {
		name string
		path string
		err  error
		want []string
	}{
		{"one", "front.air", one, []string{"front.air.bore"}},
		{"no field", "front", bad(""), []string{"front"}},
		{"an index", "points.A", bad("[0]"), []string{"points.A[0]"}},
		{"below an index", "shelf[2]", bad("rate"), []string{"shelf[2].rate"}},
		{"no path", "", one, []string{"bore"}},
		{"joined", "front", errors.Join(bad("a"), io.EOF, bad("b")), []string{"front.a", "front.b"}},
		{"wrapped", "front", fmt.Errorf("x: %w", bad("a")), []string{"front.a"}},
		{"wrapped, joined and wrapped", "front", fmt.Errorf("x: %w", errors.Join(bad("a"), fmt.Errorf("y: %w", bad("b")))), []string{"front.a", "front.b"}},
		{"of elsewhere", "front", several{bad("a"), bad("b")}, []string{"front.a", "front.b"}},
		{"twice", "job", units.At("front", errors.Join(bad("a"), fmt.Errorf("x: %w", bad("b")))), []string{"job.front.a", "job.front.b"}},
	} {
		got := units.At(test.path, test.err)
		if diff := cmp.Diff(test.want, fieldsOf(got)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
		if !errors.Is(got, units.ErrRange) {
			t.Errorf("%s: the class is lost", test.name)
		}
	}
	if one.Field != "bore" {
		t.Errorf("At changed the error it was given: %v", one)
	}
	if got := units.At("front", nil); got != nil {
		t.Errorf("At of nil is %v", got)
	}
	moved, ok := units.At("front", one).(*units.FieldError)
	if want := (units.FieldError{Package: "spring", Field: "front.bore", Want: units.Want{Text: "something else"}, Class: units.ErrRange}); !ok || !reflect.DeepEqual(*moved, want) {
		t.Errorf("moved to %+v", moved)
	}
}

// Errors of other kinds are found, with and without a path.
func TestAtKeepsOtherErrors(t *testing.T) {
	if got := units.At("front", io.EOF); got != io.EOF {
		t.Errorf("an error with no field became %v", got)
	}
	other := several{io.EOF, io.ErrClosedPipe}
	if got := units.At("front", other); got != error(other) {
		t.Errorf("an error with no fields became %v", got)
	}
	if got := units.At("front", errors.Join(bad("a"), io.EOF)); !errors.Is(got, io.EOF) {
		t.Errorf("joined: %v is not found", io.EOF)
	}

	// Of an error that wraps others, the others are left.
	path := &fs.PathError{Op: "read", Path: "job.json", Err: errors.Join(bad("a"), io.EOF)}
	got := units.At("rear", units.At("front", path))
	if want := "spring: rear.front.a: want something else\nEOF"; got.Error() != want {
		t.Errorf("text %q, want %q", got, want)
	}
	if !errors.Is(got, io.EOF) || !errors.Is(got, units.ErrRange) || errors.Is(got, io.ErrClosedPipe) {
		t.Error("errors.Is does not find what is wrapped, or finds what isn't")
	}
}

// An input of 64 bytes is told whole, one of 65 is cut.
func TestErrorsCutLongTexts(t *testing.T) {
	for _, n := range []int{64, 65} {
		text := strings.Repeat("x", n)
		want := text
		if n > 64 {
			want = text[:64] + "…"
		}
		var e *units.ParseError
		if _, err := quantityNamed(t, "Length").parse(text); !errors.As(err, &e) || e.Input != want {
			t.Errorf("%d bytes are told as %q", n, e.Input)
		}
	}
	for more := range 2 {
		of := func(n int) (text, want string) {
			text = strings.Repeat("x", n+more)
			return text, text[:n] + strings.Repeat("…", more)
		}
		field, path := of(256)
		value, shown := of(64)
		want, wanted := of(1024)
		line := fmt.Sprintf("job: %s %q: want %s", path, shown, wanted)
		if got := (&units.FieldError{Package: "job", Field: field, Value: value, Want: units.Want{Text: want}}).Error(); got != line {
			t.Errorf("got %s\nwant %s", got, line)
		}
		c := units.Checker{Package: "job"}
		c.Fail(field, value, want, nil)
		f := units.Fields(c.Err())[0]
		if f.Field != path || f.Value != shown || f.Want.String() != wanted {
			t.Errorf("a Checker keeps %v", f)
		}
	}
	// A character of two, three or four bytes is kept whole or left out.
	for _, c := range []string{"é", "€", "😀"} {
		for from := 60; from <= 64; from++ {
			want := strings.Repeat("x", from)
			if from+len(c) <= 64 {
				want += c
			}
			text := strings.Repeat("x", from) + c + strings.Repeat("y", 9)
			var e *units.ParseError
			_, err := quantityNamed(t, "Length").parse(text)
			if !errors.As(err, &e) {
				t.Fatal(err)
			}
			got := strings.TrimRight(strings.TrimSuffix(e.Input, "…"), "y")
			if got != want || len(strings.TrimSuffix(e.Input, "…")) > 64 {
				t.Errorf("%q at %d is cut to %q", c, from, e.Input)
			}
		}
	}
}

// Lines are told up to 4096 bytes, the first of them always, and none once one
// was left out.
func TestErrorTextStopsAt4096Bytes(t *testing.T) {
	for _, row := range []struct {
		lines []int // bytes in each
		told  int
	}{
		{[]int{2000, 2095}, 2}, // with the end of a line between them, 4096
		{[]int{2000, 2096}, 1},
		{[]int{2000, 2096, 1}, 1},
		{[]int{4094, 1, 1}, 2},
		{[]int{5000}, 1},
		{[]int{5000, 1}, 1},
		{[]int{1, 5000, 1, 1}, 1},
		{[]int{100, 100, 3000, 2000, 100}, 3},
	} {
		c := units.Checker{}
		var want []string
		for i, n := range row.lines {
			line := strings.Repeat(strconv.Itoa(i), n)
			c.Add("", errors.New(line))
			if i < row.told {
				want = append(want, line)
			}
		}
		if left := len(row.lines) - row.told; left > 0 {
			want = append(want, fmt.Sprintf("and %d more", left))
		}
		if got := c.Err().Error(); got != strings.Join(want, "\n") {
			t.Errorf("lines of %v bytes: %d bytes, ending in %q", row.lines, len(got), got[max(len(got)-20, 0):])
		}
	}
}

// However long an input is and however much is wrong with it, the error's text
// is short, and still has the first faults and how many there are.
func TestErrorTextIsBounded(t *testing.T) {
	long := strings.Repeat("é", 1<<20)
	c := units.Checker{Package: "job"}
	c.Fail(long, long, long, nil)
	list := &units.FieldError{Package: "job", Field: long, Value: []string{long}, Want: units.Want{Text: long}}
	if text := list.Error(); len(text) > 1600 || !utf8.ValidString(text) {
		t.Errorf("%d bytes of a list", len(text))
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
