// Lessons are five short lessons on suspension, each with its numbers worked
// out by the library as it is read, and a picture.
//
//	go -C examples run ./lessons                      all five
//	go -C examples run ./lessons 3                    the third
//	go -C examples run ./lessons -out /tmp/pictures   with the pictures
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
)

const usage = `usage: lessons [-out DIR] [1-5 ...]

Prints five short lessons, or those named: 1 why four powers of wire, 2 where the
gas's curve comes from, 3 what the chain of levers does to a rate, 4 why two
chambers, 5 how sure can you be. All numbers in them are worked out while you
read, from springs and bikes that are invented.

  -out DIR    also draw a picture for each: SVG and PNG files in DIR

example:
  go -C examples run ./lessons -out /tmp/pictures 1 2
`

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// lesson is one of the five. Teach writes it and returns its picture.
type lesson struct {
	title string
	teach func(w *page) (picture.Picture, error)
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
	flags.SetOutput(stderr)
	flags.Usage = func() { fmt.Fprint(stderr, usage) }
	dir := flags.String("out", "", "")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	}
	wanted := flags.Args()
	if len(wanted) == 0 {
		wanted = []string{"1", "2", "3", "4", "5"}
	}
	p := &page{}
	for _, text := range wanted {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > len(lessons) {
			fmt.Fprintf(stderr, "lessons: there is no lesson %q\n%s", text, usage)
			return 2
		}
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
	if _, err := io.WriteString(stdout, p.b.String()); err != nil {
		fmt.Fprintf(stderr, "lessons: %v\n", err)
		return 1
	}
	return 0
}

// page collects what is taught.
type page struct{ b strings.Builder }

func (p *page) heading(text string) {
	if p.b.Len() > 0 {
		p.b.WriteString("\n\n")
	}
	fmt.Fprintf(&p.b, "%s\n%s\n", text, strings.Repeat("=", len([]rune(text))))
}

// say writes a paragraph, wrapped at 78 columns.
func (p *page) say(format string, args ...any) {
	p.b.WriteByte('\n')
	line := ""
	for _, word := range strings.Fields(fmt.Sprintf(format, args...)) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > 78 {
			p.b.WriteString(line + "\n")
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	p.b.WriteString(line + "\n")
}

// show writes a line of a formula or a table as it is.
func (p *page) show(format string, args ...any) { fmt.Fprintf(&p.b, "    "+format+"\n", args...) }

func (p *page) gap() { p.b.WriteByte('\n') }

func (p *page) save(dir, name string, drawn picture.Picture) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	paths, err := picture.Save(dir, name, drawn)
	for _, path := range paths {
		fmt.Fprintf(&p.b, "  drawn: %s\n", path)
	}
	return err
}
