// Conformance runs check cases against this library and says which agree:
// the embedded reference cases, or a file or directory of cases in the same
// format that nobody has seen before.
//
//	go -C examples run ./conformance
//	go -C examples run ./conformance -example > my-cases.json
//	go -C examples run ./conformance -job "$PWD/my-cases.json"
//	go -C examples run ./conformance -json - -job - < my-cases.json
//	go -C examples run ./conformance -v -json report.json -html report.html
//
//	go -C examples run ./conformance -export "$PWD/dataset"
//	go -C examples run ./conformance -describe
//	go -C examples run ./conformance -results "$PWD/their-results.json"
//	go -C examples run ./conformance -with "python3 their/program.py"
//
// With -results or -with another program is judged instead of this library: by a
// file of its answers, or by asking it. The description, which -describe prints
// and -export writes, has the format of both.
//
// It prints a line for each case, with -v also every value compared; for a
// failure what was expected, what came out, the tolerance and the source; then
// a report for reviewers, and at last "N passed, N failed", and of another program
// "N not attempted" besides. The report has for
// each computation and each source the cases, the values compared, the worst
// deviation in units of its tolerance and where it was, and the digits that
// agree; -json and -html hold the same. Its job is a file or a directory of cases;
// the flag -cases is -job by another name. The exit status is 0 if all passed, 1 if any failed,
// and 2 if a case file is malformed, in which case file, case and field are
// named on standard error.
//
// A relative path starts where the program runs: "go -C examples" makes that
// the directory examples. Give a full path, as above with $PWD, for a file
// that is elsewhere. The format is in the documentation of package refdata.
package main

import (
	"cmp"
	_ "embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"time"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/refdata"
)

const usage = `usage: conformance [-job FILE_OR_DIR] [-results FILE | -with COMMAND]
                   [-json FILE] [-html FILE] [-v]
       conformance -describe | -export DIR | -example

Runs check cases against the library. With no job it runs the embedded ones.

  -job FILE_OR_DIR    run the cases of a file, of all *.json files below a
                      directory, or with "-" of standard input
  -cases FILE_OR_DIR  the same
  -json FILE          write the outcome of every case as JSON; with "-" to
                      standard output, in place of the text
  -html FILE          write a page to read or print
  -v                  print every comparison, not only those that failed
  -example            print a file of two cases, to copy and change
  -results FILE       judge the answers in a file instead of this library
  -with COMMAND       start a program, ask it and judge its answers instead; the
                      command is split at spaces
  -limit DURATION     how long the program may take for an answer, 10s if left out
  -describe           print what the computations are given and give, what is
                      refused, and how answers are judged
  -export DIR         write cases, their SI form, schemas, description, licence
                      and checksums into a new directory that stands alone

example:
  go -C examples run ./conformance -job "$PWD/my-cases.json" -html "$PWD/report.html"

A relative path starts where the program runs, which for "go -C examples" is
the directory examples. The exit status is 0 if all cases passed, 1 if any
failed or something can't be written, 2 for a malformed case file or a call
with a fault.
`

//go:embed example.json
var exampleFile string

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is main with its surroundings passed in; it returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("conformance", flag.ContinueOnError)
	job := flags.String("job", "", "")
	cases := flags.String("cases", "", "")
	jsonPath := flags.String("json", "", "")
	htmlPath := flags.String("html", "", "")
	verbose := flags.Bool("v", false, "")
	example := flags.Bool("example", false, "")
	resultsPath := flags.String("results", "", "")
	with := flags.String("with", "", "")
	limit := flags.Duration("limit", 10*time.Second, "")
	describe := flags.Bool("describe", false, "")
	exportDir := flags.String("export", "", "")
	if status, done := program.Parse(flags, usage, 0, args, stderr); done {
		return status
	}
	stderr = program.Printer{W: stderr}
	asJSON := *jsonPath == "-"
	stdout = program.Printer{W: stdout, JSON: asJSON}
	fault := func(err error) int {
		fmt.Fprintf(stderr, "conformance: %v\n", err)
		return program.Status(err)
	}
	switch {
	case *example:
		if _, err := io.WriteString(stdout, exampleFile); err != nil {
			return fault(&program.Unwritten{Err: err})
		}
		return 0
	case *describe:
		text, err := fs.ReadFile(refdata.Data(), "DESCRIPTION.md")
		if err == nil {
			_, err = stdout.Write(text)
		}
		if err != nil {
			return fault(&program.Unwritten{Err: err})
		}
		return 0
	case *exportDir != "":
		if err := export(*exportDir); err != nil {
			return fault(err)
		}
		return 0
	case *resultsPath != "" && *with != "":
		return fault(errors.New("-results and -with judge two programs: want one of them"))
	case !(*limit > 0):
		return fault(errors.New("-limit wants a duration of more than 0, such as 10s"))
	case *job != "" && *cases != "":
		return fault(errors.New("-job and -cases are one flag by two names: want one of them"))
	}
	path := cmp.Or(*job, *cases)

	var of judge = library{}
	switch {
	case *resultsPath != "":
		r, err := readResults(*resultsPath)
		if err != nil {
			return fault(err)
		}
		of = r
	case *with != "":
		p, err := startPartner(*with, *limit)
		if err != nil {
			return fault(err)
		}
		of = p
	}
	notes := notes(path, of)
	reports := []report{&textReport{w: stdout, verbose: *verbose, notes: notes}}
	if asJSON {
		reports[0], *jsonPath = &jsonReport{w: stdout, notes: notes}, ""
	}
	for _, r := range []struct {
		path string
		make func(io.Writer, []string) (report, error)
	}{{*jsonPath, newJSONReport}, {*htmlPath, newHTMLReport}} {
		if r.path == "" {
			continue
		}
		f, err := create(r.path, r.make, notes)
		if err != nil {
			for _, other := range reports[1:] {
				other.(*fileReport).f.Discard()
			}
			return fault(err)
		}
		reports = append(reports, f)
	}

	var sum summary
	err := each(path, stdin, func(c refdata.Case) error {
		o, attempted := of.judge(c)
		if !attempted {
			sum.skip(c)
			return nil
		}
		sum.add(o)
		var errs []error
		for _, r := range reports {
			errs = append(errs, r.add(o))
		}
		if err := errors.Join(errs...); err != nil {
			return &program.Unwritten{Err: err}
		}
		return nil
	})
	if end := of.end(); err == nil {
		err = end
	}
	for _, r := range reports {
		err = errors.Join(err, r.end(&sum, err))
	}
	switch {
	case err != nil:
		return fault(err)
	case sum.failed > 0:
		return 1
	}
	return 0
}

// notes says of the embedded cases which set they are, and what they were held
// against besides this library, and whose answers are judged.
func notes(path string, of judge) (list []string) {
	if of.name() != "" {
		list = append(list, "Judged are the answers of "+of.name()+".")
	}
	if path != "" {
		return list
	}
	list = append(list, "These are the reference cases of the library, version "+refdata.Version()+" of the dataset.")
	for _, a := range refdata.Authorities() {
		list = append(list, fmt.Sprintf("Held against %s %s (%s): %s", a.Name, a.Version, strings.Join(a.Confirms, ", "), a.How))
	}
	return list
}

// each calls judge for the cases of a file, a directory, standard input, or this library.
func each(path string, stdin io.Reader, judge func(refdata.Case) error) error {
	cases := refdata.Cases(refdata.CaseFiles())
	if path == "-" {
		cases = refdata.CasesFrom("standard input", stdin)
	} else if path != "" {
		info, err := os.Stat(path)
		if err != nil {
			return program.Where(path, err)
		}
		cases = refdata.Cases(os.DirFS(path))
		if !info.IsDir() {
			f, err := os.Open(path)
			if err != nil {
				return err
			}
			defer f.Close()
			cases = refdata.CasesFrom(path, f)
		}
	}
	for c, err := range cases {
		if err == nil {
			err = judge(c)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
