package units

//go:generate go run generate.go

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
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
	floor bool   // true where a value below 0 has no meaning
	tight bool   // no space between number and symbol
}

func (u *unit) toSI(number float64) float64 {
	if u.zero != 0 { // adding a 0 would lose the sign of -0
		number += u.zero
	}
	return number * u.scale
}

func (u *unit) fromSI(si float64) float64 {
	si /= u.scale
	if u.zero != 0 {
		si -= u.zero
	}
	return si
}

// permitted tells whether a value may be printed as text or come out of a parser.
func (c *codec) permitted(si float64) bool {
	return !math.IsNaN(si) && !math.IsInf(si, 0) && !(c.floor && si < 0)
}

// ParseError says why a text is not the quantity it should be.
type ParseError struct {
	Kind   string // the quantity wanted, such as "stiffness"
	Input  string // the text refused
	Reason string // what is wrong with it
	Want   string // the units that would be accepted
	Class  error  // ErrSyntax, ErrUnit or ErrRange
}

// Error gives one line such as
//
//	units: stiffness "450": missing unit (want a number and one of N/mm, N/m, lbf/in, kgf/mm)
func (e *ParseError) Error() string {
	return "units: " + e.Kind + " " + strconv.Quote(e.Input) + ": " + e.Reason +
		" (want a number and one of " + e.Want + ")"
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
	symbol := strings.TrimLeft(s[n:], " \t\u00a0\u202f")
	if symbol == "" {
		return 0, c.fail(text, "missing unit", ErrUnit)
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
		return 0, c.fail(text, "below absolute zero", ErrRange)
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

// clip cuts a text for an error, so that a long input makes no long error.
func clip(text string) string {
	const most = 64 // bytes
	if len(text) <= most {
		return text
	}
	cut := most
	for cut > most-utf8.UTFMax && !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "…"
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
	digits := 0
	for i < len(s) && '0' <= s[i] && s[i] <= '9' {
		i, digits = i+1, digits+1
	}
	if i < len(s) && s[i] == '.' {
		i++
		for i < len(s) && '0' <= s[i] && s[i] <= '9' {
			i, digits = i+1, digits+1
		}
	}
	if digits == 0 {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		first := j
		for j < len(s) && '0' <= s[j] && s[j] <= '9' {
			j++
		}
		if j > first {
			i = j
		}
	}
	return i
}

// appendText writes the text form that parses back to the very same bits: in
// the printed unit where that returns them, in the SI unit otherwise.
func (c *codec) appendText(b []byte, si float64) ([]byte, error) {
	if !c.permitted(si) {
		return b, &FieldError{Package: "units", Field: c.kind, Value: strconv.FormatFloat(si, 'g', -1, 64),
			Want: "a finite value to write as text", Class: ErrRange}
	}
	shown := &c.units[0]
	number := shown.fromSI(si)
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(number, 'g', 15, 64), 64)
	switch {
	case err == nil && sameBits(shown.toSI(rounded), si):
		number = rounded
	case !sameBits(shown.toSI(number), si):
		shown, number = &c.units[c.si], si
	}
	b = strconv.AppendFloat(b, number, 'g', -1, 64)
	return c.appendSymbol(b, shown), nil
}

func sameBits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

func (c *codec) appendSymbol(b []byte, u *unit) []byte {
	if !c.tight || u != &c.units[0] {
		b = append(b, ' ')
	}
	return append(b, u.symbols[0]...)
}

// format implements fmt.Formatter: every verb prints the number in the
// quantity's own unit, with that unit. %v and %s print at most 15 significant
// digits; %e %f %g and their capitals take the usual precision.
func (c *codec) format(si float64, f fmt.State, verb rune) {
	if verb == 'v' && f.Flag('#') {
		fmt.Fprintf(f, "units.%s(%s)", c.goal, strconv.FormatFloat(si, 'g', -1, 64))
		return
	}
	precision, given := f.Precision()
	if !given {
		precision = -1
	}
	shape := byte(verb)
	switch verb {
	case 'e', 'E', 'f', 'g', 'G', 'b', 'x', 'X':
		if !given && (verb == 'e' || verb == 'E' || verb == 'f') {
			precision = 6 // as fmt does
		}
	case 'F':
		shape = 'f'
		if !given {
			precision = 6
		}
	case 'v', 's', 'q', 'd':
		shape = 'g'
		if !given {
			precision = c.digits()
		}
	default:
		text := c.text(si, 'g', c.digits())
		fmt.Fprintf(f, "%%!%c(units.%s=%s)", verb, c.goal, text)
		return
	}
	text := c.text(si, shape, precision)
	if text[0] != '-' && text[0] != '+' {
		if f.Flag('+') && verb != 'v' { // in %+v the plus asks for field names
			text = "+" + text
		} else if f.Flag(' ') {
			text = " " + text
		}
	}
	if verb == 'q' {
		text = strconv.Quote(text)
	}
	if width, ok := f.Width(); ok {
		if pad := width - utf8.RuneCountInString(text); pad > 0 {
			if f.Flag('-') {
				text += strings.Repeat(" ", pad)
			} else {
				text = strings.Repeat(" ", pad) + text
			}
		}
	}
	// A fmt.State's Write does not fail in a way a Formatter could report.
	_, _ = f.Write([]byte(text))
}

// digits is how many significant digits %v prints at most: 15 let every whole
// number of a customary unit come back whole; taking a zero off, as degrees
// do, cancels up to three of them.
func (c *codec) digits() int {
	if c.units[0].zero != 0 {
		return 12
	}
	return 15
}

func (c *codec) text(si float64, shape byte, precision int) string {
	var scratch [48]byte
	b := strconv.AppendFloat(scratch[:0], c.units[0].fromSI(si), shape, precision, 64)
	return string(c.appendSymbol(b, &c.units[0]))
}

// describe prints a bound in an error text: a quantity with its unit, a bare
// number otherwise.
func describe[Q ~float64](v Q) string { return fmt.Sprint(v) }
