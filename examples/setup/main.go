// Setup prints a set-up sheet that a technician can take to the stand: what
// stands on each wheel; at each end the spring with its preload, or the fill
// with its spacers; the sag to expect at wheel and shock; what is left for the
// ride; what to measure; warnings and cautions.
//
//	go -C examples run ./setup                        the built-in demonstration
//	go -C examples run ./setup -example > my-job.json a job to change
//	go -C examples run ./setup -job "$PWD/my-job.json"
//	go -C examples run ./setup -json -job - < my-job.json
//	go -C examples run ./setup -job "$PWD/my-job.json" -rear-curve "$PWD/curve.csv"
//
// A job with a fault prints no sheet: every field at fault is named on
// standard error with its value and what is wanted, and the exit status is 2.
package main

import (
	"bytes"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"example.com/wheelrate/examples/internal/card"
	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: setup [-job FILE] [-json | -html | -card | -svg] [-explain] [-example]
             [-front-curve FILE] [-rear-curve FILE]
             [-read FILL,RING]... [-out FILE]

Prints a set-up sheet for a job: rider, bike, and the springs or chambers at
each end. With no job it runs a demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -html       print it as one page of HTML with pictures, for A4 paper
  -card       print a card for the workshop as a page of HTML: what to set, and the
              steps of the work to tick off; two fit on a sheet of A4
  -svg        print a picture of it: what to set, and the spring at each wheel
  -read A,B   add a reading to a spring known by its gauge: fill and ring, such as
              "86 psi,33 mm"; with two such springs front or rear stands before
              them; may be repeated
  -front-curve, -rear-curve FILE
              how the wheel moves the spring, in place of the job's curve: CSV
              as a spreadsheet writes it, with the header "stroke (mm),travel (mm)",
              or "lever ratio" in place of one of the two; the points are taken
              by the method of a table in the job
  -out FILE   write the job, with these readings and curves, to a new file
  -explain    also show the working of what to set: formulas, sources, numbers
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./setup -job "$PWD/my-job.json"
  go -C examples run ./setup -html > sheet.html

The exit status is 0 for a sheet, 2 for a job or a call with a fault, 1 where
something can't be written.
`

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is main with its surroundings passed in; it returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var asHTML, asCard, asSVG, explained bool
	var more readings
	var front, rear, to string
	return program.Main{
		Name: "setup", Usage: usage, Demo: demo, Gives: "sheet",
		Flags: func(f *flag.FlagSet) {
			f.BoolVar(&asHTML, "html", false, "")
			f.BoolVar(&asCard, "card", false, "")
			f.BoolVar(&asSVG, "svg", false, "")
			f.BoolVar(&explained, "explain", false, "")
			f.Var(&more, "read", "")
			f.StringVar(&front, "front-curve", "", "")
			f.StringVar(&rear, "rear-curve", "", "")
			f.StringVar(&to, "out", "", "")
		},
		Answer: func(text []byte, asJSON bool, out *bytes.Buffer) error {
			forms := []bool{asJSON, asHTML, asCard, asSVG}
			if len(slices.DeleteFunc(forms, func(asked bool) bool { return !asked })) > 1 {
				return errors.New("want one of -json, -html, -card and -svg")
			}
			job, err := setup.ReadJob(bytes.NewReader(text))
			if err == nil {
				err = errors.Join(curve(job.Front, sag.Front, front), curve(job.Rear, sag.Rear, rear))
			}
			if err != nil {
				return err
			}
			if job, err = more.into(job); err != nil {
				return err
			}
			sheet, err := setup.NewSheet(job)
			if err == nil && to != "" {
				err = keep(job, to)
			}
			switch {
			case err != nil:
				return err
			case asJSON:
				return program.Encode(out, sheet)
			case asHTML:
				return writeHTML(out, job, sheet)
			case asSVG:
				return writeSVG(out, job, sheet)
			case asCard:
				out.WriteString(card.Page(sheet))
				return nil
			}
			printSheet(out, sheet)
			if explained {
				for _, end := range sheet.Ends() {
					fmt.Fprintf(out, "\nTHE WORKING, %s\n", strings.ToUpper(string(end.Axle)))
					program.Working(out, append(sheet.Working(end.Axle), sheet.RestWorking(end.Axle)...))
				}
			}
			return nil
		},
	}.Run(args, stdin, stdout, stderr)
}
