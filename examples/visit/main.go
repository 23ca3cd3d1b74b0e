// Visit says what to do about a bike that comes back to the stand: where its rings
// were to be expected and where they stand, what explains the difference, what the
// ride used of the travel, what to set, and which setting to try next. It writes the
// record for the next visit.
//
//	go -C examples run ./visit                              the built-in demonstration
//	go -C examples run ./visit -example > today.json        a visit to change
//	go -C examples run ./visit -job "$PWD/today.json" -record "$PWD/yesterday.json" -out "$PWD/next.json"
//
// A first visit takes the job of a set-up sheet in place of a record.
package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

//go:embed demo/visit.json
var demo []byte

const usage = `usage: visit [-job FILE] [-record FILE] [-out FILE] [-json] [-example]

Says what to do about a bike that comes back: the rings that were read against
those expected, what the ride used, what to set and what to try next. With no
job it runs a demonstration with invented numbers.

  -job FILE      read the visit from FILE; "-" reads standard input
  -record FILE   take the record of the last visit from FILE, or for a first
                 visit the job of a set-up sheet; the visit then has neither
  -out FILE      write the record for the next visit to FILE, a new one
  -json          print the answer as JSON, with the record for the next visit
  -example       print the demonstration's visit, to copy and change

example:
  go -C examples run ./visit -job "$PWD/today.json" -record "$PWD/last.json" -out "$PWD/next.json"

The exit status is 0 for an answer, 2 for a visit or a call with a fault, 1 where
something can't be written.
`

func main() { os.Exit(newVisit().Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func newVisit() program.Main {
	var from, to string
	return program.Main{
		Name: "visit", Usage: usage, Demo: demo,
		Flags: func(f *flag.FlagSet) {
			f.StringVar(&from, "record", "", "")
			f.StringVar(&to, "out", "", "")
		},
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			record, job, err := start(from)
			if err != nil {
				return err
			}
			v, err := advice.ReadVisit(bytes.NewReader(text), record, job)
			if err != nil {
				return err
			}
			a, err := v.Answer()
			if err != nil {
				return err
			}
			if asJSON {
				err = program.Encode(out, a)
			} else {
				print(out, v, a, to)
			}
			if err == nil && to != "" {
				err = keep(a.Next, to)
			}
			return err
		},
	}
}

// start returns the record or the job in a file, which a visit starts from; neither for no file.
func start(path string) (*visit.Record, *setup.Job, error) {
	if path == "" {
		return nil, nil, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, program.Where(path, err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, program.Limit+1))
	if err != nil {
		return nil, nil, err
	}
	var head struct {
		Schema string `json:"schema"`
	}
	if json.Unmarshal(text, &head) == nil && strings.HasPrefix(head.Schema, "wheelrate/job/") {
		job, err := setup.ReadJob(bytes.NewReader(text))
		return nil, &job, units.At("job", err)
	}
	record, _, err := visit.ReadRecord(bytes.NewReader(text)) // the visit names what is marked
	return &record, nil, units.At("record", err)
}

// keep writes a record to a new file.
func keep(r visit.Record, path string) error {
	var text bytes.Buffer
	if _, err := r.WriteTo(&text); err != nil {
		return err
	}
	return program.WriteNew(path, text.Bytes())
}

// print writes the answer: plain words first, the numbers behind them.
func print(out *bytes.Buffer, v advice.Visit, a *advice.Answer, to string) {
	all := a.Rows()
	program.Heading(out, "VISIT "+v.Date, v.Note)
	sentences := func(section rows.Section, mark string, ends ...sag.Axle) {
		for i, r := range rows.Pick(all, section, ends...) {
			if i == 0 {
				fmt.Fprintf(out, "\n%s\n", strings.TrimSpace(strings.ToUpper(section.Title()+either(len(ends) > 0, ", ", "")+strings.Join(texts(ends), " "))))
			}
			sentence(out, mark, r.Note)
		}
	}
	sentences(rows.Advice, "  - ", sag.Front)
	sentences(rows.Advice, "  - ", sag.Rear)
	sentences(rows.Warnings, "  ! ")
	for _, end := range []sag.Axle{sag.Front, sag.Rear} {
		for _, section := range []rows.Section{rows.Read, rows.Adjust, rows.Ridden, rows.Plan} {
			for i, r := range rows.Pick(all, section, end) {
				if i == 0 {
					fmt.Fprintf(out, "\n%s, %s\n", strings.ToUpper(string(end)), strings.ToUpper(section.Title()))
				}
				row(out, r)
			}
		}
	}
	sentences(rows.Cautions, "  * ")
	fmt.Fprintln(out)
	if to != "" {
		program.Fold(out, "  ", "The record for the next visit is in "+to+".")
	} else {
		program.Fold(out, "  ", "The record for the next visit is written with -out FILE.")
	}
}

// row writes a label, the number in both systems of units, and what belongs to it.
func row(out *bytes.Buffer, r rows.Row) {
	if r.Label == "" {
		sentence(out, "  ", r.Note)
		return
	}
	mark := "  " + pad(either(r.Part, "  ", "")+r.Label, 26) + pad(r.Metric, 16) + pad(r.Customary, 14)
	if r.Note == "" {
		fmt.Fprintln(out, strings.TrimRight(mark, " "))
		return
	}
	if utf8.RuneCountInString(mark)+utf8.RuneCountInString(r.Note) <= 80 {
		fmt.Fprintln(out, mark+r.Note)
		return
	}
	fmt.Fprintln(out, strings.TrimRight(mark, " "))
	program.Fold(out, "      ", r.Note)
}

// sentence writes text behind a mark, in lines of 80 columns.
func sentence(out *bytes.Buffer, mark, text string) {
	var folded bytes.Buffer
	program.Fold(&folded, strings.Repeat(" ", utf8.RuneCountInString(mark)), text)
	out.WriteString(mark + strings.TrimLeft(folded.String(), " "))
}

func pad(text string, width int) string {
	return text + strings.Repeat(" ", max(1, width-utf8.RuneCountInString(text)))
}

func texts(ends []sag.Axle) (list []string) {
	for _, e := range ends {
		list = append(list, string(e))
	}
	return list
}

func either(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}
