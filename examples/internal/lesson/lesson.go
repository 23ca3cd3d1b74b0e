// Package lesson holds ten short lessons on suspension: text, a drawing, a curve
// and questions, all of them worked out by the library at the positions of a
// few sliders.
//
// [All] lists the lessons. [Lesson.At] works one out; the program lessons prints
// it, and the page shows it and works it out again when a slider is moved.
//
// Every spring, fork and bike in them is invented.
package lesson

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

const (
	mm  = units.Millimetre
	cm3 = units.CubicCentimetre
	npm = units.NewtonPerMillimetre
)

// Lesson is one of the ten.
type Lesson struct {
	Name    string // in the address of its page
	Title   string
	About   string // the question that it answers
	Sliders []Slider
	write   func(*Content, Values)
}

// Slider is a quantity of a lesson that the reader changes.
type Slider struct {
	Name, Label, Unit     string
	Min, Max, Step, Start float64
}

// Text returns a position with its unit.
func (s Slider) Text(position float64) string {
	decimals := 0
	if i := strings.IndexByte(strconv.FormatFloat(s.Step, 'f', -1, 64), '.'); i >= 0 {
		decimals = len(strconv.FormatFloat(s.Step, 'f', -1, 64)) - i - 1
	}
	text := strconv.FormatFloat(position, 'f', decimals, 64)
	if s.Unit == "" || s.Unit == "°" {
		return text + s.Unit
	}
	return text + " " + s.Unit
}

// Values are positions of sliders by their names.
type Values map[string]float64

func (v Values) mm(name string) units.Length { return units.Length(v[name]) * mm }

// All returns the lessons in the order in which they build on each other.
func All() []Lesson {
	return []Lesson{wire, gas, levers, chambers, sure, sagging, preloading, dropping, forkAngle, pitching}
}

// Find returns the lesson of a name.
func Find(name string) (Lesson, bool) {
	all := All()
	i := slices.IndexFunc(all, func(l Lesson) bool { return l.Name == name })
	if i < 0 {
		return Lesson{}, false
	}
	return all[i], true
}

// At returns the lesson with its sliders at these positions. A slider that is
// left out stands at its start. The error names every position outside its
// slider's range, and every name of no slider.
func (l Lesson) At(positions Values) (*Content, error) {
	at := Values{}
	c := units.Checker{Package: "lesson"}
	for _, s := range l.Sliders {
		v, given := positions[s.Name]
		if !given {
			v = s.Start
		}
		if !(v >= s.Min && v <= s.Max) {
			c.Fail(s.Name, v, units.From(s.Min, s.Max), nil)
		}
		at[s.Name] = v
	}
	for name, v := range positions {
		if _, known := at[name]; !known {
			c.Fail(name, v, "the name of a slider", units.ErrUnknown)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	content := &Content{Values: at}
	l.write(content, at)
	return content, nil
}

// Content is a lesson at positions of its sliders.
type Content struct {
	Values    Values
	Blocks    []Block
	Now       string // what the drawing shows, in a sentence or two
	Drawing   Drawing
	Curve     Curve
	Questions []Question
}

// Block is a paragraph, a few lines of formulas, or a table; one of them is there.
type Block struct {
	Text    string
	Formula []string
	Head    []string
	Rows    [][]string
	Caution bool // Text is a caution
}

// Words reports whether a column of a table has words, and not numbers.
func (b Block) Words(column int) bool {
	first, _ := utf8.DecodeRuneInString(b.Rows[len(b.Rows)-1][column])
	return unicode.IsLetter(first)
}

// say adds a paragraph.
func (c *Content) say(format string, args ...any) {
	c.Blocks = append(c.Blocks, Block{Text: fmt.Sprintf(format, numbers(args)...)})
}

// show adds lines of formulas.
func (c *Content) show(lines ...string) { c.Blocks = append(c.Blocks, Block{Formula: lines}) }

// table adds a table.
func (c *Content) table(head []string, rows ...[]string) {
	c.Blocks = append(c.Blocks, Block{Head: head, Rows: rows})
}

// now adds to the sentence on what the drawing shows.
func (c *Content) now(format string, args ...any) { c.Now += fmt.Sprintf(format, numbers(args)...) }

// caution adds the library's caution of that code.
func (c *Content) caution(code string) {
	for _, one := range fit.Cautions(true, true) {
		if one.Code == code {
			c.Blocks = append(c.Blocks, Block{Text: one.Text, Caution: true})
		}
	}
}

// Marks enclose a number that was worked out, so that a page can set it apart.
const (
	MarkOpen  = '\x01'
	MarkClose = '\x02'
)

var unmarked = strings.NewReplacer(string(MarkOpen), "", string(MarkClose), "")

// Plain returns a text without the marks.
func Plain(text string) string { return unmarked.Replace(text) }

// number is a value of a text that prints between marks.
type number struct{ value any }

// Format prints the value as the verb asks.
func (n number) Format(s fmt.State, verb rune) {
	fmt.Fprintf(s, string(MarkOpen)+fmt.FormatString(s, verb)+string(MarkClose), n.value)
}

func numbers(args []any) []any {
	list := make([]any, len(args))
	for i, a := range args {
		list[i] = number{a}
		if words, ok := a.(string); ok && !strings.ContainsAny(words, "0123456789") {
			list[i] = words
		}
	}
	return list
}

// must returns the value of a constructor that is given what a lesson invented. It
// panics if the lesson is at fault.
func must[T any](value T, err error) T {
	if err != nil {
		panic(err)
	}
	return value
}

// cell prints a number for a table.
func cell(format string, args ...any) string { return fmt.Sprintf(format, args...) }

// percent returns 100 times a fraction.
func percent(fraction float64) float64 { return 100 * fraction }

// along returns n+1 places from lo to hi.
func along(lo, hi float64, n int) []float64 {
	list := make([]float64, n+1)
	for i := range list {
		list[i] = lo + (hi-lo)*float64(i)/float64(n)
	}
	return list
}

// at returns the values of a function at places.
func at(places []float64, f func(float64) float64) []float64 {
	list := make([]float64, len(places))
	for i, x := range places {
		list[i] = f(x)
	}
	return list
}

// either returns one of two words.
func either(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

// area is that of a circle, in mm².
func area(diameter units.Length) float64 { return math.Pi / 4 * math.Pow(diameter.Millimetres(), 2) }
