// Package program is what the example programs have in common: a job read
// strictly from a file or from standard input, an embedded demonstration,
// output that is complete or not there, and faults told field by field.
package program

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Limit is the largest job that is read, in bytes.
const Limit = 1 << 20

// Main is a program. Usage is what -h prints, Demo the job that it runs
// without another and that -example prints.
type Main struct {
	Name  string
	Usage string
	Demo  []byte
	Gives string // what there is none of for a job with faults; "answer" if empty
	// Flags declares flags beside -job, -json and -example; may be nil.
	Flags func(*flag.FlagSet)
	// Answer reads the job and writes the answer. An error with fields is a
	// fault of the job.
	Answer func(job []byte, asJSON bool, out *bytes.Buffer) error
	// Job returns a job to decode into. Its implausible values are told on standard error, beside the
	// answer. Nil for a program whose answer has them.
	Job func() any
}

// Run is the program with its surroundings passed in. It returns the exit
// status: 0 for an answer, 2 for a job or a call with a fault, 1 where the
// answer, a picture or a file can't be written.
func (m Main) Run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet(m.Name, flag.ContinueOnError)
	path := flags.String("job", "", "")
	asJSON := flags.Bool("json", false, "")
	example := flags.Bool("example", false, "")
	if m.Flags != nil {
		m.Flags(flags)
	}
	if status, done := Parse(flags, m.Usage, 0, args, stderr); done {
		return status
	}
	var out bytes.Buffer // nothing is printed before all of it is known
	if *example {
		out.Write(m.Demo)
	} else {
		job, err := m.read(*path, stdin)
		if err == nil {
			err = m.Answer(job, *asJSON, &out)
		}
		if err != nil {
			Faults(stderr, m.Name, cmp.Or(m.Gives, "answer"), "job", err)
			return Status(err)
		}
		m.doubts(job, Printer{W: stderr})
	}
	if _, err := (Printer{stdout, *asJSON}).Write(out.Bytes()); err != nil {
		fmt.Fprintf(stderr, "%s: %v\n", m.Name, err)
		return 1
	}
	return 0
}

// doubts names the implausible values of a job that has an answer, a line each.
func (m Main) doubts(job []byte, w io.Writer) {
	if m.Job == nil {
		return
	}
	into := m.Job()
	if err := strictjson.Unmarshal(m.Name, job, into); err != nil {
		return // what the program itself took differently
	}
	for _, one := range setup.Implausible("", into) {
		fmt.Fprintf(w, "%s: warning: %s: %s\n", m.Name, one.Field, one.Text)
	}
}

// Parse parses the arguments of a program, of which at most a few may stand behind
// the flags, or any number where most is below 0. It reports that the program is
// done, with its exit status, after -h and after a call with a fault.
func Parse(flags *flag.FlagSet, usage string, most int, args []string, stderr io.Writer) (status int, done bool) {
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, usage) }
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0, true
	case err != nil:
		return 2, true
	case most >= 0 && flags.NArg() > most:
		fmt.Fprintf(stderr, "%s: unexpected %q\n%s", flags.Name(), flags.Arg(most), usage)
		return 2, true
	}
	return 0, false
}

// Where adds to the error of a path that is not absolute where it was looked for.
func Where(path string, err error) error {
	if here, e := os.Getwd(); e == nil && !filepath.IsAbs(path) {
		return fmt.Errorf("%w (looked in %s; \"go -C examples\" starts there, so give a full path)", err, here)
	}
	return err
}

// read returns the job: the demonstration, standard input for "-", or a file.
func (m Main) read(path string, stdin io.Reader) ([]byte, error) {
	in := stdin
	switch path {
	case "":
		return m.Demo, nil
	case "-":
	default:
		f, err := os.Open(path)
		if err != nil {
			return nil, Where(path, err)
		}
		defer f.Close()
		in = f
	}
	text, err := io.ReadAll(io.LimitReader(in, Limit+1))
	if err == nil && len(text) > Limit {
		err = &units.FieldError{Package: m.Name, Want: units.AtMost(Limit).Count("bytes"), Class: units.ErrRange}
	}
	return text, err
}

// Work reads a job strictly and works it out. One error names every field that is
// unknown, repeated, of a wrong type or without its unit, and what solve finds besides;
// solve is called with what could be read.
func Work(name string, job []byte, into any, solve func() error) error {
	read, err := strictjson.Salvage(name, job, strictjson.Rules{}, into)
	if err != nil {
		return err
	}
	return read.Join(solve())
}

// Encode writes an answer as indented JSON.
func Encode(out io.Writer, answer any) error {
	enc := json.NewEncoder(out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(answer)
}

// Faults names every field at fault, a line each, behind the program's name and
// what there is not for them: "answer" or "sheet", of a "job" or of "input". Of
// more than 120 it says how many more there are.
func Faults(w io.Writer, program, answer, of string, err error) {
	w = Printer{W: w}
	fields := units.Fields(err)
	if len(fields) == 0 {
		fmt.Fprintf(w, "%s: %v\n", program, err)
		return
	}
	plural := "s"
	if len(fields) == 1 {
		plural = ""
	}
	fmt.Fprintf(w, "%s: no %s, the %s has %d fault%s:\n", program, answer, of, len(fields), plural)
	for i, f := range fields {
		if i == mostFaults {
			fmt.Fprintf(w, "  and %d more\n", len(fields)-i)
			return
		}
		field := clipped(f.Field, 256)
		if field == "" {
			field = "the " + of + " as a whole"
		}
		value, want := f.Texts()
		if _, given := f.Value.(string); given {
			value = strconv.Quote(value)
		}
		if value != "" {
			field += " is " + value
		}
		fmt.Fprintln(w, "  "+Line(field+": want "+want))
	}
}

// mostFaults is how many faults are told, a line each. A job may have one in
// every line.
const mostFaults = 120

// clipped cuts a text that may have come from the input.
func clipped(text string, most int) string {
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}

// Title returns text with its first letter as a capital.
func Title[Text ~string](text Text) string {
	first, size := utf8.DecodeRuneInString(string(text))
	return string(unicode.ToUpper(first)) + string(text[size:])
}

// Working writes the steps of a calculation, numbered, in lines of 80 columns: its name, the formula, its
// source, the given values, and the result. A longer word or value is not broken.
func Working(out io.Writer, steps []units.Step) {
	for i, s := range steps {
		fmt.Fprintf(out, "  %2d. %s\n", i+1, s.Name)
		wrap(out, "        ", "          ", strings.Fields(s.Formula), " ")
		wrap(out, "        [", "         ", strings.Fields(s.Source+"]"), " ")
		given := make([]string, len(s.Given))
		for i, v := range s.Given {
			given[i] = v.String()
		}
		wrap(out, "          ", "          ", given, "; ")
		fmt.Fprintf(out, "        → %s\n", s.Result)
	}
}

// wrap writes pieces, separated by between, in lines of 80 columns. The first line begins with first, the
// others with rest.
func wrap(out io.Writer, first, rest string, pieces []string, between string) {
	if len(pieces) == 0 {
		return
	}
	end := strings.TrimSpace(between)
	line := first + pieces[0]
	for _, piece := range pieces[1:] {
		if utf8.RuneCountInString(line+between+piece+end) > 80 {
			fmt.Fprintln(out, line+end)
			line = rest + piece
		} else {
			line += between + piece
		}
	}
	fmt.Fprintln(out, line)
}

// Heading writes what the answer is, and the note of its job if it has one.
func Heading(out io.Writer, title, note string) {
	fmt.Fprintln(out, title)
	if note != "" {
		Fold(out, "  ", note)
	}
}

// Fold writes text in lines of 80 columns, broken at spaces, each of them
// indented.
func Fold(out io.Writer, indent, text string) {
	for _, line := range Lines(text, 80-utf8.RuneCountInString(indent)) {
		fmt.Fprintln(out, indent+line)
	}
}

// Lines breaks a text at spaces into lines of at most so many characters, but not
// behind a number, which keeps its unit. A longer word has a line of its own. An
// empty text is one empty line.
func Lines(text string, most int) (list []string) {
	line, word := "", ""
	for _, next := range append(strings.Fields(text), "") {
		if last, _ := utf8.DecodeLastRuneInString(word); unicode.IsDigit(last) && next != "" {
			word += " " + next
			continue
		}
		if line != "" && utf8.RuneCountInString(line+" "+word) > most {
			list = append(list, line)
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
		word = next
	}
	return append(list, line)
}
