package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.com/wheelrate/examples/internal/picture"
)

// columns is how wide a line of text may be.
const columns = 78

// page collects what is taught. With answers, each question is followed by what
// comes out.
type page struct {
	b       strings.Builder
	answers bool
}

func (p *page) heading(text string) {
	if p.b.Len() > 0 {
		p.b.WriteString("\n\n")
	}
	fmt.Fprintf(&p.b, "%s\n%s\n", text, strings.Repeat("=", len([]rune(text))))
}

// say writes a paragraph, its lines broken.
func (p *page) say(format string, args ...any) {
	p.b.WriteByte('\n')
	line := ""
	for _, word := range strings.Fields(fmt.Sprintf(format, args...)) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > columns {
			p.b.WriteString(line + "\n")
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	p.b.WriteString(line + "\n")
}

// ask writes a question. The answer's format and arguments follow.
func (p *page) ask(question, format string, args ...any) {
	p.say("To try: %s", question)
	if p.answers {
		p.say("What comes out: "+format, args...)
	}
}

// show writes a line of a formula or of a table as it is; without a text it is
// an empty one.
func (p *page) show(format string, args ...any) {
	if format != "" {
		format = "    " + format
	}
	fmt.Fprintf(&p.b, format+"\n", args...)
}

func (p *page) save(dir, name string, drawn picture.Picture) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	paths, err := picture.Save(dir, name, drawn)
	for i, path := range paths {
		if i == 0 {
			p.b.WriteByte('\n')
		}
		fmt.Fprintf(&p.b, "  drawn: %s\n", path)
	}
	return err
}

// line makes the points of a line from lo to hi.
func line(name string, lo, hi float64, y func(x float64) float64) picture.Series {
	const n = 160
	s := picture.Series{Name: name}
	for i := 0; i <= n; i++ {
		x := lo + (hi-lo)*float64(i)/n
		s.X, s.Y = append(s.X, x), append(s.Y, y(x))
	}
	return s
}
