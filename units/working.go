package units

import (
	"fmt"
	"strings"
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
	Symbol   string `json:"symbol"`
	Quantity any    `json:"quantity"` // a quantity or a float64
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

// String writes the step in lines: name, formula with its source, the numbers
// put in, and the result.
func (s Step) String() string {
	given := make([]string, len(s.Given))
	for i, v := range s.Given {
		given[i] = v.String()
	}
	return fmt.Sprintf("%s\n  %s  (%s)\n  with %s\n  %s\n", s.Name, s.Formula, s.Source, strings.Join(given, ", "), s.Result)
}
