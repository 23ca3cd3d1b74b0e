// Leverage is the frame engineer's bench: what a rear suspension's geometry does. It
// shows how far the wheel moves for the shock's stroke and by which path, what a spring
// feels like at the wheel, and what chain and brake do to it; it sweeps the gears, lays
// the bike out at all its travels, sets two frames side by side, says what tolerances and
// loads do, looks for better pivots and shows the linkage in motion. It prints tables, and
// draws them for a printer.
//
//	go -C examples run ./leverage                                 the built-in demonstration
//	go -C examples run ./leverage -example > my-bike.json         a geometry to change
//	go -C examples run ./leverage -out /tmp/pictures -job "$PWD/my-bike.json"
//	go -C examples run ./leverage gears -job "$PWD/my-bike.json"
//	go -C examples run ./leverage geometry -job "$PWD/my-bike.json"
//	go -C examples run ./leverage compare -job "$PWD/my-bike.json" -with "$PWD/next-year.json"
//	go -C examples run ./leverage -csv -n 101 -job "$PWD/my-bike.json" > poses.csv
//	go -C examples run ./leverage -rate "450 lbf/in" -job "$PWD/readings.csv"
//
// What goes in is JSON as -example prints it, with a mechanism of pivots or
// another curve of package linkage, such as a table of strokes and travels; or CSV
// with a header line such as
//
//	stroke (mm),travel (mm)
//
// or one with a lever ratio in place of either; see package csvcurve for what is
// read of spreadsheets, and of points taken off a picture.
//
// Input with a fault gives no output: every field at fault is named on
// standard error with its value and what is wanted, and the exit status is 2.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

const usage = `usage: leverage [COMMAND] [-job FILE] [-csv | -json] [-out DIR] [-n POSES]
                [-rate RATE [-preload LENGTH]] [-method METHOD]
                [-demo NAME] [-example]

Prints what a suspension's geometry does. With no job it runs a demonstration
with invented numbers.

commands:
%s
  -job FILE       read the job from FILE: JSON with a mechanism, a table or
                  another curve in it, or CSV with the header
                  "stroke (mm),travel (mm)", or "lever ratio" in place of
                  one of the two; "-" reads standard input; FILE alone,
                  behind the flags, is the same
  -out DIR        also draw it: SVG and PNG files in DIR, which is created
  -n POSES        how many poses to list, 2 to 10000; 11 if not given
  -csv, -json     print the table as CSV, or all of it as JSON, with all digits
  -rate RATE      put in a spring of this constant rate, such as "450 lbf/in"
  -preload LENGTH compress that spring so much at full extension
  -method METHOD  go through a table's points as "monotone" or "smooth", or
                  take them for readings with errors: "measured"
  -demo NAME      which demonstration: four-bar or single-pivot
  -example        print the demonstration's job, to copy and change

of one command alone:
  -chainrings, -sprockets LIST   gears: teeth such as 30,32,34
  -with FILE      compare: the other frame, read as -job is
  -within LENGTH  tolerance: how far every hole may be from its place
  -wheel FORCE    forces: up on the wheel; the spring's where it is left out
  -forward FORCE  forces: by the chain, or less than 0 by the rear brake

example:
  go -C examples run ./leverage -out /tmp/pictures -job "$PWD/my-bike.json"

The exit status is 0 for an answer, 2 for input or a call with a fault, 1 where
the answer can't be written.
`

// command is what the program can be asked for.
type command struct {
	name, says string
	flags      []string // those that no other command takes
	answer     func(*options, *bench) (*result, error)
}

// commands are all of them; the first is run if none is named.
func commands() []command {
	return []command{
		{"table", "motion, spring, chain and brake over the stroke; without a command too", nil, (*options).table},
		{"gears", "chainrings × sprockets: anti-squat, kickback and chain growth", []string{"chainrings", "sprockets"}, (*options).gears},
		{"geometry", "wheelbase, head angle, trail and bottom bracket as both ends sink", nil, (*options).geometry},
		{"compare", "two frames, sizes or years side by side, and the differences in words", []string{"with"}, (*options).compare},
		{"tolerance", "what holes off their places do", []string{"within"}, (*options).tolerance},
		{"forces", "in every pivot, link and at the shock, and how far bearings turn", []string{"wheel", "forward"}, (*options).forces},
		{"pivots", "where pivots must be for what the job's search asks", nil, (*options).pivots},
		{"motion", "every point over the stroke; with -out, the linkage in motion as SVG", nil, (*options).motion},
	}
}

// result is the answer to a command in each of its forms.
type result struct {
	text     func(page) // for people
	data     any        // as JSON
	heads    []string   // as CSV, with the units
	rows     [][]string
	pictures []named
}

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// options are what the flags say.
type options struct {
	command
	out                  string
	n                    int
	csv, json            bool
	rate, preload        string
	method               string
	demo                 string
	example              bool
	file, with           string
	chainrings, sprocket string
	within               string
	wheel, forward       string
	given                []string // the flags that were given
}

// parse reads a call.
func (o *options) parse(args []string, stderr io.Writer) (status int, done bool, err error) {
	all, lines := commands(), ""
	for _, c := range all {
		lines += "  " + left(c.name, 14) + c.says + "\n"
	}
	o.command = all[0]
	if len(args) > 0 {
		if i := slices.IndexFunc(all, func(c command) bool { return c.name == args[0] }); i >= 0 {
			o.command, args = all[i], args[1:]
		}
	}
	flags := flag.NewFlagSet("leverage", flag.ContinueOnError)
	flags.StringVar(&o.file, "job", "", "")
	flags.StringVar(&o.out, "out", "", "")
	flags.IntVar(&o.n, "n", 11, "")
	flags.BoolVar(&o.csv, "csv", false, "")
	flags.BoolVar(&o.json, "json", false, "")
	flags.StringVar(&o.rate, "rate", "", "")
	flags.StringVar(&o.preload, "preload", "", "")
	flags.StringVar(&o.method, "method", "", "")
	flags.StringVar(&o.demo, "demo", demos[0], "")
	flags.BoolVar(&o.example, "example", false, "")
	flags.StringVar(&o.with, "with", "", "")
	flags.StringVar(&o.chainrings, "chainrings", "", "")
	flags.StringVar(&o.sprocket, "sprockets", "", "")
	flags.StringVar(&o.within, "within", "", "")
	flags.StringVar(&o.wheel, "wheel", "", "")
	flags.StringVar(&o.forward, "forward", "", "")
	if status, done := program.Parse(flags, fmt.Sprintf(usage, lines), -1, args, stderr); done {
		return status, true, nil
	}
	flags.Visit(func(f *flag.Flag) { o.given = append(o.given, f.Name) })
	return 0, false, o.check(flags.Args())
}

// run is main with its surroundings passed in; it returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o options
	status, done, err := o.parse(args, stderr)
	if done {
		return status
	}
	stderr = program.Printer{W: stderr}
	var out, said bytes.Buffer // nothing is printed before all of it is known
	if err == nil {
		err = o.say(&out, &said, stdin)
	}
	if err != nil {
		explain(stderr, err)
		return program.Status(err)
	}
	if _, err := (program.Printer{W: stdout, JSON: o.json}).Write(out.Bytes()); err != nil {
		fmt.Fprintf(stderr, "leverage: %v\n", err)
		return 1
	}
	if _, err := stderr.Write(said.Bytes()); err != nil {
		return 1
	}
	return 0
}

// check says what is wrong with the call itself. The one argument that may stand behind the flags is
// the job's file.
func (o *options) check(arguments []string) error {
	c := units.Checker{}
	switch n := len(arguments); {
	case n > 1:
		c.Fail("arguments", n, "at most one FILE, after the flags", units.ErrConflict)
	case n == 1 && o.file != "":
		c.Fail("-job", o.file, "no other FILE beside it", units.ErrConflict)
	case n == 1:
		o.file = arguments[0]
	}
	for _, other := range commands() {
		for _, f := range other.flags {
			if other.name != o.name && slices.Contains(o.given, f) {
				c.Fail("-"+f, nil, "the command "+other.name+" in front of it", units.ErrConflict)
			}
		}
	}
	if o.n < 2 || o.n > 10000 {
		c.Fail("-n", o.n, units.From(2, 10000).Count("poses"), nil)
	}
	if o.csv && o.json {
		c.Fail("-csv", nil, "one of -csv and -json", units.ErrConflict)
	}
	if o.preload != "" && o.rate == "" {
		c.Fail("-preload", o.preload, "a -rate beside it", units.ErrMissing)
	}
	if _, err := demoFile(o.demo); err != nil {
		c.Fail("-demo", o.demo, units.OneOf(demos...), units.ErrUnknown)
	}
	return c.Err()
}

// say reads what is given, works it out and writes the answer; said gets
// what is not for a program that reads the answer.
func (o *options) say(out, said *bytes.Buffer, stdin io.Reader) error {
	if o.example {
		data, err := demoFile(o.demo)
		out.Write(data)
		return err
	}
	b, err := o.read(o.file, stdin)
	if err != nil {
		return err
	}
	r, err := o.answer(o, b)
	if err != nil {
		return err
	}
	talk := said
	switch {
	case o.csv:
		err = printCSV(out, r)
	case o.json:
		err = program.Encode(out, inOneUnit(r.data))
	default:
		talk = out
		r.text(page{out})
	}
	if err != nil {
		return err
	}
	if o.file == "" {
		fmt.Fprintf(talk, "\nThis is the built-in demonstration %q: no -job was given.\n", o.demo)
	}
	if o.out == "" {
		return nil
	}
	paths, err := draw(o.out, r.pictures)
	if len(paths) > 0 {
		fmt.Fprintf(talk, "\nPictures:\n")
	}
	for _, p := range paths {
		fmt.Fprintf(talk, "  %s\n", p)
	}
	return err
}

// explain names every field at fault, a line each.
func explain(w io.Writer, err error) {
	program.Faults(w, "leverage", "answer", "job", err)
	if errors.Is(err, mechanism.ErrLocks) {
		fmt.Fprintln(w, "A mechanism that locks inside the stroke can't be ridden: check the points, or shorten the stroke.")
	}
}
