package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"example.com/wheelrate/examples/internal/lesson"
	"example.com/wheelrate/examples/internal/picture"
)

// columns is how wide a line of text may be.
const columns = 78

// page collects what is taught. With answers, each question is followed by its
// answer.
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

// lesson writes a lesson with its sliders at their start.
func (p *page) lesson(c *lesson.Content) {
	for _, b := range c.Blocks {
		switch {
		case b.Caution:
			p.say("Caution. " + b.Text)
		case b.Formula != nil:
			p.b.WriteByte('\n')
			for _, line := range b.Formula {
				p.b.WriteString("    " + line + "\n")
			}
		case b.Rows != nil:
			p.table(b)
		default:
			p.say(b.Text)
		}
	}
	for _, q := range c.Questions {
		p.say("To try: " + q.Ask)
		for _, choice := range q.Choices {
			p.b.WriteString("    - " + choice + "\n")
		}
		if p.answers {
			p.say("Answer: " + q.Answer())
		}
	}
}

// say writes a paragraph, its lines broken.
func (p *page) say(text string) {
	p.b.WriteByte('\n')
	line := ""
	for _, word := range strings.Fields(lesson.Plain(text)) {
		if line != "" && len([]rune(line))+1+len([]rune(word)) > columns {
			p.b.WriteString(line + "\n")
			line = ""
		}
		line = strings.TrimSpace(line + " " + word)
	}
	p.b.WriteString(line + "\n")
}

// table writes a table: columns of numbers are aligned to the right, of words to the
// left.
func (p *page) table(b lesson.Block) {
	rows := b.Rows
	if b.Head != nil {
		rows = append([][]string{b.Head}, rows...)
	}
	wide := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	p.b.WriteByte('\n')
	for _, row := range rows {
		line := "  "
		for i, cell := range row {
			room := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell))
			if b.Words(i) {
				cell, room = cell+room, ""
			}
			line += "  " + room + cell
		}
		p.b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

// save draws the curve of a lesson, and its drawing.
func (p *page) save(dir, name string, c *lesson.Content) error {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	panel := picture.Panel{Y: axis(c.Curve.Y)}
	for _, l := range c.Curve.Lines {
		panel.Series = append(panel.Series, picture.Series{Name: l.Name, X: l.X, Y: l.Y})
	}
	paths, err := picture.Save(dir, name, picture.Chart{
		Title: c.Curve.Title, Note: "Invented, as all in these lessons.", X: axis(c.Curve.X), Panels: []picture.Panel{panel},
		Marks: []picture.Mark{{Label: "here", At: c.Curve.Dot[0]}},
	})
	if err != nil {
		return err
	}
	p.b.WriteByte('\n')
	for _, path := range paths {
		fmt.Fprintf(&p.b, "  drawn: %s\n", path)
	}
	return nil
}

func axis(a lesson.Axis) picture.Axis {
	return picture.Axis{Label: a.Label, Unit: a.Unit, Zero: !a.Loose}
}
