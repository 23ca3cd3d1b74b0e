// Lessons are five short lessons on suspension, each with its numbers worked
// out by the library as it is read, questions to try, and a picture.
//
//	go -C examples run ./lessons                      all five
//	go -C examples run ./lessons 3                    the third
//	go -C examples run ./lessons -answers 3           and what comes out of its questions
//	go -C examples run ./lessons -out /tmp/pictures   with the pictures
//
// Every spring, fork and bike in them is invented.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program"
)

const usage = `usage: lessons [-answers] [-out DIR] [1-5 ...]

Prints five short lessons, or those named: 1 why four powers of wire, 2 where the
gas's curve comes from, 3 what the chain of levers does to a rate, 4 why two
chambers, 5 how sure can you be. All numbers in them are worked out while you
read, from springs and bikes that are invented.

  -answers    also say what comes out of the questions
  -out DIR    also draw a picture for each: SVG and PNG files in DIR

example:
  go -C examples run ./lessons -out /tmp/pictures 1 2

The exit status is 0 for lessons, 1 where they or a picture can't be written, 2
for a call with a fault.
`

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// lesson is one of the five. Teach writes it and returns its picture.
type lesson struct {
	title string
	teach func(p *page) (picture.Picture, error)
}

var lessons = []lesson{
	{"Why four powers of wire", wire},
	{"Where the gas's curve comes from", gas},
	{"What the chain of levers does to a rate", levers},
	{"Why two chambers", chambers},
	{"How sure can you be?", sure},
}

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("lessons", flag.ContinueOnError)
	dir := flags.String("out", "", "")
	answers := flags.Bool("answers", false, "")
	if status, done := program.Parse(flags, usage, -1, args, stderr); done {
		return status
	}
	var wanted []int
	for _, text := range flags.Args() {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > len(lessons) {
			fmt.Fprintf(stderr, "lessons: there is no lesson %q\n%s", text, usage)
			return 2
		}
		wanted = append(wanted, n)
	}
	if wanted == nil {
		wanted = []int{1, 2, 3, 4, 5}
	}
	stderr = program.Printer{W: stderr}
	p := &page{answers: *answers}
	for _, n := range wanted {
		l := lessons[n-1]
		p.heading(fmt.Sprintf("%d. %s", n, l.title))
		drawn, err := l.teach(p)
		if err == nil && *dir != "" {
			err = p.save(*dir, fmt.Sprintf("lesson-%d", n), drawn)
		}
		if err != nil {
			fmt.Fprintf(stderr, "lessons: %v\n", err)
			return 1
		}
	}
	if _, err := io.WriteString(program.Printer{W: stdout}, p.b.String()); err != nil {
		fmt.Fprintf(stderr, "lessons: %v\n", err)
		return 1
	}
	return 0
}
