package units

import "fmt"

// Warning reports that a result is valid but needs attention: a limit is exceeded, or an assumption
// does not hold. Code is stable, so that a program can act on it or translate it.
type Warning struct {
	Code   string `json:"code"`             // such as "goes_solid"
	Field  string `json:"field,omitempty"`  // what it concerns: a field's name or path, or an end of the bike
	Value  string `json:"value,omitempty"`  // what was found, with its unit
	Limit  string `json:"limit,omitempty"`  // what it was held against, with its unit
	Text   string `json:"text"`             // for people
	Source string `json:"source,omitempty"` // of the limit; empty where it follows from the job itself
}

// Step is one step of a calculation, for showing where a number comes from. Result is the value
// that the package computed, not one computed again for display.
type Step struct {
	Name    string  `json:"name"`    // what it is, such as "spring rate"
	Formula string  `json:"formula"` // how it follows, such as "k = G·d⁴/(8·D³·n)"
	Source  string  `json:"source"`  // where the formula is from, or that it is derived here
	Given   []Value `json:"given"`   // the numbers put in, in the order of the formula
	Result  Value   `json:"result"`
}

// Value is a quantity of this package, or a plain number, with its symbol in a formula.
type Value struct {
	Symbol string `json:"symbol"`
	// Quantity is a quantity, a number, or a text such as "9.80665 m/s²" for what this package has
	// no quantity for.
	Quantity any `json:"quantity"`
}

// Symbols are the quantities of a calculation by their symbols.
type Symbols map[string]any

// Step returns a step from given quantities to a result, by their symbols.
func (s Symbols) Step(name, formula, source, result string, given ...string) Step {
	step := Step{Name: name, Formula: formula, Source: source, Result: Value{result, s[result]}}
	for _, symbol := range given {
		step.Given = append(step.Given, Value{symbol, s[symbol]})
	}
	return step
}

// String returns the symbol and the quantity with six significant digits, such as "k = 78.8071
// N/mm".
func (v Value) String() string { return v.Symbol + " = " + v.Text() }

// Text returns the quantity with six significant digits.
func (v Value) Text() string {
	switch v.Quantity.(type) {
	case fmt.Formatter, float64:
		return fmt.Sprintf("%.6g", v.Quantity)
	}
	return fmt.Sprint(v.Quantity)
}

// String returns the step on one line, such as "force: F = k·s; k = 80 N/mm; s = 12.5 mm → F = 1000 N
// [definition of the rate]".
func (s Step) String() string {
	text := s.Name + ": " + s.Formula
	for _, v := range s.Given {
		text += "; " + v.String()
	}
	return text + " → " + s.Result.String() + " [" + s.Source + "]"
}
