// Setup prints a set-up sheet that a technician can take to the stand: what
// stands on each wheel; at each end the spring with its preload, or the fill
// with its spacers; the sag to expect at wheel and shock; what is left for the
// ride; what to measure; warnings and cautions.
//
//	go -C examples run ./setup                        the built-in demonstration
//	go -C examples run ./setup -example > my-job.json a job to change
//	go -C examples run ./setup -job "$PWD/my-job.json"
//	go -C examples run ./setup -json -job - < my-job.json
//
// A job with a fault prints no sheet: every field at fault is named on
// standard error with its value and what is wanted, and the exit status is 2.
package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
)

//go:embed demo/job.json
var demo []byte

const usage = `usage: setup [-job FILE] [-json | -html] [-explain] [-example]

Prints a set-up sheet for a job: rider, bike, and the springs or chambers at
each end. With no job it runs a demonstration with invented numbers.

  -job FILE   read the job from FILE; "-" reads standard input
  -json       print the answer as JSON
  -html       print it as one page of HTML with pictures, for A4 paper
  -explain    also show the working of what to set: formulas, sources, numbers
  -example    print the demonstration's job, to copy and change

example:
  go -C examples run ./setup -job "$PWD/my-job.json"
  go -C examples run ./setup -html > sheet.html

The exit status is 0 for a sheet, 2 for a job or a call with a fault.
`

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is main with its surroundings passed in; it returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("setup", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, usage) }
	path := flags.String("job", "", "")
	asJSON := flags.Bool("json", false, "")
	asHTML := flags.Bool("html", false, "")
	explained := flags.Bool("explain", false, "")
	example := flags.Bool("example", false, "")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "setup: unexpected %q\n%s", flags.Arg(0), usage)
		return 2
	case *asJSON && *asHTML:
		fmt.Fprintf(stderr, "setup: either -json or -html\n%s", usage)
		return 2
	}

	var out bytes.Buffer // nothing is printed before all of it is known
	if *example {
		out.Write(demo)
	} else if err := answer(&out, *path, *asJSON, *asHTML, *explained, stdin); err != nil {
		program.Faults(stderr, "setup", "sheet", "job", err)
		return 2
	}
	if _, err := stdout.Write(out.Bytes()); err != nil {
		fmt.Fprintf(stderr, "setup: %v\n", err)
		return 1
	}
	return 0
}

// answer reads the job, works it out and writes the sheet.
func answer(out *bytes.Buffer, path string, asJSON, asHTML, explained bool, stdin io.Reader) error {
	var in io.Reader = bytes.NewReader(demo)
	switch path {
	case "":
	case "-":
		in = stdin
	default:
		f, err := os.Open(path)
		if err != nil {
			if here, e := os.Getwd(); e == nil && !filepath.IsAbs(path) {
				return fmt.Errorf("%w (looked in %s; \"go -C examples\" starts there, so give a full path)", err, here)
			}
			return err
		}
		defer f.Close()
		in = f
	}
	job, err := setup.ReadJob(in)
	if err != nil {
		return err
	}
	sheet, err := setup.NewSheet(job)
	if err != nil {
		return err
	}
	if asHTML {
		return writeHTML(out, job, sheet)
	}
	if !asJSON {
		printSheet(out, job, sheet)
		if explained {
			for _, end := range []sag.Axle{sag.Front, sag.Rear} {
				fmt.Fprintf(out, "\nTHE WORKING, %s\n", strings.ToUpper(string(end)))
				program.Working(out, append(sheet.Working(end), sheet.RestWorking(end)...))
			}
		}
		return nil
	}
	enc := json.NewEncoder(out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(sheet)
}
