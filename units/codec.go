package units

//go:generate go run generate.go .

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// unit is one unit of a quantity: SI value = (number + zero) · scale. Only
// temperatures have a zero other than 0.
type unit struct {
	symbols []string // the first is the one printed
	scale   float64
	zero    float64
}

// codec prints and parses one quantity.
type codec struct {
	kind  string // as error texts call it
	goal  string // the Go type's name
	units []unit // the first is the one printed
	si    int    // index of the unit whose scale is exactly 1
	floor string // what is wrong with a value below 0; "" where nothing is
	tight bool   // no space between number and symbol

	metric, customary shown // what people read it in
}

func (u *unit) toSI(number float64) float64 {
	if u.zero != 0 { // adding a 0 would lose the sign of -0
		number += u.zero
	}
	return number * u.scale
}

func (u *unit) fromSI(si float64) float64 { return si/u.scale - u.zero }

// permitted reports whether a value may be printed as text or come out of a parser.
func (c *codec) permitted(si float64) bool {
	return !math.IsNaN(si) && !math.IsInf(si, 0) && !(c.floor != "" && si < 0)
}

// ParseError says why a text is not the quantity it should be.
type ParseError struct {
	Kind   string // the quantity wanted, such as "stiffness"
	Input  string // the text refused, cut at 64 bytes
	Reason string // what is wrong with it
	Want   string // the units that would be accepted, such as "N/mm, N/m"
	Class  error  // ErrSyntax, ErrUnit or ErrRange
}

// Error gives one line such as
//
//	units: stiffness "450": missing unit (want a number and one of N/mm, N/m, lbf/in, kgf/mm)
func (e *ParseError) Error() string {
	choice := ""
	if strings.Contains(e.Want, ", ") {
		choice = "one of "
	}
	return "units: " + e.Kind + " " + strconv.Quote(e.Input) + ": " + e.Reason + " (want a number and " + choice + e.Want + ")"
}

// Unwrap returns the error's class, so that errors.Is finds it.
func (e *ParseError) Unwrap() error { return e.Class }

// parse reads "number unit". It never returns NaN or Inf without an error.
func (c *codec) parse(text string) (float64, error) {
	s := strings.TrimSpace(text)
	n := decimalPrefix(s)
	if n == 0 {
		return 0, c.fail(text, "no number", ErrSyntax)
	}
	number, err := strconv.ParseFloat(s[:n], 64)
	if err != nil {
		return 0, c.fail(text, "number too large", ErrRange)
	}
	symbol := strings.TrimLeftFunc(s[n:], unicode.IsSpace)
	switch {
	case symbol == "":
		return 0, c.fail(text, "missing unit", ErrUnit)
	case symbol[0] == ',': // 1,5 or 1,500: either could be meant
		return 0, c.fail(text, "comma in the number; write a decimal point and no separators", ErrSyntax)
	}
	u := c.find(symbol)
	if u == nil {
		return 0, c.fail(text, "unknown unit "+strconv.Quote(clip(symbol)), ErrUnit)
	}
	si := u.toSI(number)
	switch {
	case math.IsInf(si, 0):
		return 0, c.fail(text, "number too large", ErrRange)
	case !c.permitted(si):
		return 0, c.fail(text, c.floor, ErrRange)
	}
	return si, nil
}

func (c *codec) find(symbol string) *unit {
	for i := range c.units {
		for _, s := range c.units[i].symbols {
			if s == symbol {
				return &c.units[i]
			}
		}
	}
	return nil
}

func (c *codec) fail(input, reason string, class error) error {
	return &ParseError{Kind: c.kind, Input: clip(input), Reason: reason, Want: c.symbols(), Class: class}
}

// clip copies a text for an error, and cuts it, so that a long input makes no
// long error and is not kept from being freed.
func clip(text string) string {
	if len(text) <= mostValue {
		return strings.Clone(text)
	}
	return text[:cutAt(text, mostValue)] + "…"
}

// symbols lists the accepted units, one spelling each.
func (c *codec) symbols() string {
	list := make([]string, len(c.units))
	for i, u := range c.units {
		list[i] = u.symbols[0]
	}
	return strings.Join(list, ", ")
}

// decimalPrefix is the length of the longest decimal number s starts with:
// an optional sign, digits with an optional point, an optional exponent.
func decimalPrefix(s string) int {
	i := 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	start := i
	i = digitsEnd(s, i)
	digits := i > start
	if i < len(s) && s[i] == '.' {
		start = i + 1
		i = digitsEnd(s, start)
		digits = digits || i > start
	}
	if !digits {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if end := digitsEnd(s, j); end > j {
			i = end
		}
	}
	return i
}

// digitsEnd is where the decimal digits end that stand at i.
func digitsEnd(s string, i int) int {
	for i < len(s) && '0' <= s[i] && s[i] <= '9' {
		i++
	}
	return i
}
