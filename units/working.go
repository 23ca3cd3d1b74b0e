package units

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Step is one step of a calculation as data: what a package hands out so that
// a program, or a class, can show where a number comes from. Result is the very
// value that the package computed, not one worked out for show.
type Step struct {
	Name    string  `json:"name"`    // what it is, such as "spring rate"
	Formula string  `json:"formula"` // how it follows, such as "k = G·d⁴/(8·D³·n)"
	Source  string  `json:"source"`  // where the formula is from, or that it is derived here
	Given   []Value `json:"given"`   // the numbers put in, in the order of the formula
	Result  Value   `json:"result"`
}

// Value is a quantity of this package, or a plain number, with its symbol.
type Value struct {
	Symbol string `json:"symbol"`
	// Quantity is a quantity, a number, or text for what no quantity of this
	// package stands for, such as "9.80665 m/s²".
	Quantity any `json:"quantity"`
}

// String writes the symbol and the quantity with six figures, such as
// "k = 78.8071 N/mm".
func (v Value) String() string {
	return v.Symbol + " = " + v.Text()
}

// Text writes the quantity with six figures.
func (v Value) Text() string {
	switch q := v.Quantity.(type) {
	case fmt.Formatter:
		return fmt.Sprintf("%.6g", q)
	case float64:
		return fmt.Sprintf("%.6g", q)
	}
	return fmt.Sprint(v.Quantity)
}

// stepWidth leaves room for a number before a step on a page of 80 columns.
const stepWidth = 74

// String writes the step in lines of at most 74 columns: its name, the formula,
// where that is from, the numbers put in, and the result. A word or a value that
// is longer by itself is not broken.
func (s Step) String() string {
	var out strings.Builder
	out.WriteString(s.Name + "\n")
	lay(&out, "  ", "    ", strings.Fields(s.Formula), " ")
	lay(&out, "  [", "   ", strings.Fields(s.Source+"]"), " ")
	given := make([]string, len(s.Given))
	for i, v := range s.Given {
		given[i] = v.String()
	}
	lay(&out, "    ", "    ", given, "; ")
	out.WriteString("  → " + s.Result.String() + "\n")
	return out.String()
}

// lay writes pieces with what stands between them, in lines of stepWidth; the
// first begins with first, the others with rest.
func lay(out *strings.Builder, first, rest string, pieces []string, between string) {
	if len(pieces) == 0 {
		return
	}
	end := strings.TrimSpace(between)
	line := first + pieces[0]
	for _, piece := range pieces[1:] {
		if utf8.RuneCountInString(line+between+piece) > stepWidth-utf8.RuneCountInString(end) {
			out.WriteString(line + end + "\n")
			line = rest + piece
			continue
		}
		line += between + piece
	}
	out.WriteString(line + "\n")
}
