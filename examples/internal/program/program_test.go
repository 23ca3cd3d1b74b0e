package program

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

// echo answers with the length that a job names.
func echo() Main {
	loud := false
	return Main{
		Name: "echo", Usage: "usage: echo\n", Demo: []byte(`{"length": "5 mm"}`),
		Flags: func(f *flag.FlagSet) { f.BoolVar(&loud, "loud", false, "") },
		Answer: func(job []byte, asJSON bool, out *bytes.Buffer) error {
			var in struct {
				Length units.Length `json:"length"`
			}
			err := Work("echo", job, &in, func() error {
				if !(in.Length > 0) {
					return errors.Join(
						&units.FieldError{Package: "echo", Field: "length", Value: in.Length, Want: units.Want{Text: "more than 0"}, Class: units.ErrRange},
						&units.FieldError{Package: "echo", Want: units.Want{Text: "sense"}, Class: units.ErrConflict})
				}
				return nil
			})
			if err != nil {
				return err
			}
			if asJSON {
				return Encode(out, in)
			}
			out.WriteString(in.Length.String())
			if loud {
				out.WriteString("!")
			}
			return nil
		},
	}
}

func TestRun(t *testing.T) {
	file := filepath.Join(t.TempDir(), "job.json")
	if err := os.WriteFile(file, []byte(`{"length": "1 in"}`), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		args, stdin, out, errs string
		status                 int
	}{
		{"", "", "5 mm", "", 0},
		{"-loud", "", "5 mm!", "", 0},
		{"-json", "", "{\n  \"length\": \"5 mm\"\n}\n", "", 0},
		{"-example", "", `{"length": "5 mm"}`, "", 0},
		{"-job -", `{"length": "7 mm"}`, "7 mm", "", 0},
		{"-job " + file, "", "25.4 mm", "", 0},
		{"-job no-such-file", "", "", "give a full path", 2},
		{"-job /no/such/file", "", "", "/no/such/file", 2},
		{"-job -", `{"length": "7"}`, "", `1 fault:` + "\n" + `  length is "7": want a unit: 7 mm or 7 in?`, 2},
		{"-job -", `{"length": "-1 mm"}`, "", "2 faults:\n  length is -1 mm: want more than 0\n  the job as a whole: want sense\n", 2},
		{"-job -", strings.Repeat(" ", Limit+1), "", "at most 1048576 bytes", 2},
		{"-h", "", "", "usage: echo", 0},
		{"-what", "", "", "usage: echo", 2},
		{"more", "", "", `unexpected "more"`, 2},
	} {
		var out, errs bytes.Buffer
		status := echo().Run(strings.Fields(test.args), strings.NewReader(test.stdin), &out, &errs)
		if status != test.status || out.String() != test.out || !strings.Contains(errs.String(), test.errs) || (test.errs == "") != (errs.Len() == 0) {
			t.Errorf("%q: status %d, %q, %q", test.args, status, out.String(), errs.String())
		}
	}
	var errs bytes.Buffer
	if status := echo().Run(nil, nil, full{}, &errs); status != 1 || !strings.Contains(errs.String(), "closed pipe") {
		t.Errorf("a full disk: status %d, %q", status, errs.String())
	}
}

// Faults have the digits that a message needs, and nothing that steers a terminal.
func TestFaults(t *testing.T) {
	c := units.Checker{Package: "p"}
	c.Fail("volume", 0.117926031610361*units.CubicMetre, units.LessThan(0.1179254321*units.CubicMetre), nil)
	c.Fail("points[\"\x1b\"]", "1.23456789 mm\x1b", "a name", nil)
	c.Fail("name", "", "a \u202e name", nil)
	var out bytes.Buffer
	Faults(&out, "p", "answer", "job", c.Err())
	const want = `p: no answer, the job has 3 faults:
  volume is 117926 cm³: want less than 117925 cm³
  points["[U+001B]"] is "1.23456789 mm\x1b": want a name
  name is "": want a [U+202E] name
`
	if out.String() != want {
		t.Errorf("got\n%swant\n%s", out.String(), want)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestWorking(t *testing.T) {
	var out bytes.Buffer
	Working(&out, []units.Step{{
		Name: "force", Formula: "F = k·s", Source: strings.Repeat("long words ", 10),
		Given:  []units.Value{{Symbol: "k", Quantity: 80 * units.NewtonPerMillimetre}, {Symbol: "s", Quantity: 12.5 * units.Millimetre}},
		Result: units.Value{Symbol: "F", Quantity: 1000 * units.Newton},
	}})
	for _, want := range []string{"   1. force\n", "        F = k·s\n", "          k = 80 N/mm; s = 12.5 mm\n", "        → F = 1000 N\n"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("lacks %q in\n%s", want, out.String())
		}
	}
	for _, line := range strings.Split(out.String(), "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("a line of %d columns: %q", len([]rune(line)), line)
		}
	}
}

// working returns how a step is written.
func working(s units.Step) string {
	var out bytes.Buffer
	Working(&out, []units.Step{s})
	return out.String()
}

// Long steps are broken between words and between values, never within a value,
// and nothing is lost.
func TestStepWraps(t *testing.T) {
	s := units.Step{Name: "force", Formula: "F = " + strings.Repeat("k·s + ", 20) + "0", Source: strings.Repeat("long words ", 20) + "end", Result: units.Value{Symbol: "F", Quantity: 1.0}}
	for range 12 {
		s.Given = append(s.Given, units.Value{Symbol: "k", Quantity: 80.25 * units.NewtonPerMillimetre})
	}
	text := working(s)
	for _, line := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(line); n > 80 {
			t.Errorf("%d columns: %q", n, line)
		}
	}
	for what, want := range map[string]int{"k = 80.25 N/mm": 12, "; ": 12 - 1 - 2, ";\n": 2, "k·s": 20, "long": 20, "words": 20, "[": 1, "end]\n": 1} {
		if got := strings.Count(text, what); got != want {
			t.Errorf("%q stands there %d times, want %d, in\n%s", what, got, want, text)
		}
	}
	if got := working(units.Step{}); !strings.HasSuffix(got, "→  = <nil>\n") {
		t.Errorf("the zero step is %q", got)
	}
}

// A line of 80 columns is kept, with what separates it from the next; a word
// more makes a new line.
func TestStepFillsItsLines(t *testing.T) {
	for length := 10; length <= 80; length++ {
		value := units.Value{Symbol: strings.Repeat("k", length), Quantity: 1.5}
		s := units.Step{Name: "n", Formula: "f", Source: "s", Given: []units.Value{value, value}, Result: value}
		one := 10 + length + len(" = 1.5")
		both := one + len("; ") + length + len(" = 1.5")
		// Further values may follow, so that room for ";" is kept in every line.
		if got, want := strings.Contains(working(s), "1.5; k"), both+1 <= 80; got != want {
			t.Errorf("two values of %d columns, %d in all, on one line: %v, want %v", length, both, got, want)
		}
	}
	for length := 60; length <= 80; length++ {
		word := strings.Repeat("w", length)
		s := units.Step{Name: "n", Formula: "f", Source: word + " s"}
		if got, want := strings.Contains(working(s), "["+word+" s]"), 8+1+length+3 <= 80; got != want {
			t.Errorf("a word of %d columns and two more on one line: %v, want %v", length, got, want)
		}
	}
}

func TestFold(t *testing.T) {
	var out bytes.Buffer
	Heading(&out, "TITLE", "")
	Heading(&out, "TITLE", "one\ntwo "+strings.Repeat("x", 70)+" three")
	if want := "TITLE\nTITLE\n  one two " + strings.Repeat("x", 70) + "\n  three\n"; out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
	out.Reset()
	Fold(&out, "  ", strings.Repeat("né ", 40)+strings.Repeat("x", 90))
	want := "  " + strings.TrimSpace(strings.Repeat("né ", 26)) + "\n  " + strings.TrimSpace(strings.Repeat("né ", 14)) + "\n  " + strings.Repeat("x", 90) + "\n"
	if out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
}

// Implausible values of a job that has an answer are told beside it; of one with a fault, the faults alone are.
func TestImplausibleValuesAreTold(t *testing.T) {
	type job struct {
		Bore units.Length `json:"bore"`
	}
	m := Main{
		Name: "bore", Demo: []byte(`{"bore": "36 mm"}`), Job: func() any { return new(job) },
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			var in job
			err := Work("bore", text, &in, func() error { return nil })
			out.WriteString(in.Bore.String())
			return err
		},
	}
	for stdin, want := range map[string][2]string{
		`{"bore": "36 mm"}`: {"36 mm", ""},
		`{"bore": "36 cm"}`: {"360 mm", "bore: warning: bore: 360.0 mm (14.17 in) is stated, where the bore of an air spring is from 10.0 mm (0.39 in) to 80.0 mm (3.15 in): look at the number and its unit.\n"},
	} {
		var out, errs bytes.Buffer
		if status := m.Run([]string{"-job", "-"}, strings.NewReader(stdin), &out, &errs); status != 0 || out.String() != want[0] || errs.String() != want[1] {
			t.Errorf("%s: status %d, %q, %q", stdin, status, out.String(), errs.String())
		}
	}
	var out, errs bytes.Buffer
	if status := m.Run([]string{"-job", "-"}, strings.NewReader(`{"bore": 36}`), &out, &errs); status != 2 || strings.Contains(errs.String(), "warning") {
		t.Errorf("status %d, %q", status, errs.String())
	}
}

// A note with escapes for a terminal, or marks that turn the direction of writing, prints as text; as
// JSON it is the same note.
func TestPrintableSteersNoTerminal(t *testing.T) {
	const note = "a\x1b[2Jb\x00c\u009bd\u202ee\u2066f\né\t"
	if got, want := string(Printable([]byte(note), false)), "a[U+001B][2Jb[U+0000]c[U+009B]d[U+202E]e[U+2066]f\né\t"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := Line("a\nb\tc\u2028\u061c\x1b é"), "a[U+000A]b[U+0009]c[U+2028][U+061C][U+001B] é"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for most, want := range map[int]string{9: "an é[U+0…", 12: "an é[U+001B]", 13: "an é[U+001B]"} {
		if got := Short(" an\n  é\x1b", most); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	var out bytes.Buffer
	if err := Encode(&out, note); err != nil {
		t.Fatal(err)
	}
	var back string
	text := Printable(out.Bytes(), true)
	if err := json.Unmarshal(text, &back); err != nil || back != note || bytes.ContainsAny(text, "\u009b\u202e\u2066") {
		t.Errorf("%q, %v", text, err)
	}
}

func TestLinesKeepNumbersAndUnitsTogether(t *testing.T) {
	for _, row := range []struct {
		text string
		most int
		want []string
	}{
		{"", 10, []string{""}},
		{"  one  two ", 10, []string{"one two"}},
		{"one two three", 7, []string{"one two", "three"}},
		{"one two three", 6, []string{"one", "two", "three"}},
		{"extraordinary is long", 7, []string{"extraordinary", "is long"}},
		{"it sags 28.8 % there", 12, []string{"it sags", "28.8 % there"}},
		{"preload of 0.2 mm (0.01 in), or more", 18, []string{"preload of 0.2 mm", "(0.01 in), or more"}},
		{"the fill is 5", 12, []string{"the fill is", "5"}},
	} {
		if got := Lines(row.text, row.most); !slices.Equal(got, row.want) {
			t.Errorf("%q in %d: %q, want %q", row.text, row.most, got, row.want)
		}
	}
}
