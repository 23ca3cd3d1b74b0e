// Lessons are ten short lessons on suspension, each with its numbers worked
// out by the library as it is read, questions to try, and a picture. The page
// of examples/webpage has the same lessons, with sliders that change the numbers.
//
//	go -C examples run ./lessons                      all ten
//	go -C examples run ./lessons 3                    the third
//	go -C examples run ./lessons -answers 3           and the answers to its questions
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
	"strings"

	"example.com/wheelrate/examples/internal/lesson"
	"example.com/wheelrate/examples/internal/program"
)

const usageFormat = `usage: lessons [-answers] [-out DIR] [NUMBER ...]

Prints ten short lessons, or those named:
%s
All numbers in them are worked out while you read, from springs and bikes that
are invented.

  -answers    also give the answers to the questions
  -out DIR    also draw a picture for each: SVG and PNG files in DIR

example:
  go -C examples run ./lessons -out /tmp/pictures 1 2

The exit status is 0 for lessons, 1 where they or a picture can't be written, 2
for a call with a fault.
`

// usage lists the lessons.
func usage() string {
	var list strings.Builder
	for i, l := range lesson.All() {
		fmt.Fprintf(&list, "\n  %2d  %s", i+1, l.Title)
	}
	return fmt.Sprintf(usageFormat, list.String()+"\n")
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("lessons", flag.ContinueOnError)
	dir := flags.String("out", "", "")
	answers := flags.Bool("answers", false, "")
	if status, done := program.Parse(flags, usage(), -1, args, stderr); done {
		return status
	}
	all := lesson.All()
	var wanted []int
	for _, text := range flags.Args() {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > len(all) {
			fmt.Fprintf(stderr, "lessons: there is no lesson %q\n%s", text, usage())
			return 2
		}
		wanted = append(wanted, n)
	}
	if wanted == nil {
		for i := range all {
			wanted = append(wanted, i+1)
		}
	}
	stderr = program.Printer{W: stderr}
	p := &page{answers: *answers}
	for _, n := range wanted {
		l := all[n-1]
		p.heading(fmt.Sprintf("%d. %s", n, l.Title))
		c, err := l.At(nil)
		if err == nil {
			p.lesson(c)
			if *dir != "" {
				err = p.save(*dir, fmt.Sprintf("lesson-%d", n), c)
			}
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
