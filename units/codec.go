package units

//go:generate go -C ../.ci run ./quantities ../units

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// unit is one unit of a quantity: SI value = (number + zero) · scale. Only temperatures have a zero
// other than 0.
type unit struct {
	symbols     []string // the first is the one printed
	also        []string // spellings that people use, taken as they stand
	anyCase     []string // the same, in any mix of capitals and small letters
	scale, zero float64
}

// codec prints and parses one quantity.
type codec struct {
	kind  string // as error texts call it
	goal  string // the Go type's name
	units []unit // the first is the one printed; one has a scale of 1 and no zero
	floor string // what is wrong with a value below 0; "" where nothing is
	tight bool   // no space between number and symbol

	metric, customary shown // what people read it in
}

// fallback returns the SI unit, in which the text of every value parses to the same bits.
func (c *codec) fallback() *unit {
	return &c.units[slices.IndexFunc(c.units, func(u unit) bool { return u.scale == 1 && u.zero == 0 })]
}

func (u *unit) toSI(number float64) float64 {
	if u.zero != 0 { // adding a 0 would lose the sign of -0
		number += u.zero
	}
	return number * u.scale
}

func (u *unit) fromSI(si float64) float64 { return si/u.scale - u.zero }

// permitted reports whether a value may be written as text or returned by a parser.
func (c *codec) permitted(si float64) bool { return finite(si) && (c.floor == "" || si >= 0) }

// Dimensional is the constraint of the quantities of this package, and says what their methods do.
// UnmarshalText is that of [Parse].
type Dimensional interface {
	~float64
	// String returns the value with its unit, in up to 15 significant digits, as %v prints it.
	String() string
	// Format implements [fmt.Formatter]. Every verb prints the unit.
	Format(f fmt.State, verb rune)
	// Both returns the value in metric and in customary units, rounded for people.
	Both() Dual
	// MarshalText returns text that parses to the same bits, or an error for NaN and infinities.
	MarshalText() ([]byte, error)
	codec() *codec
}

// Parse parses a quantity: a decimal number and a unit, as the package documentation says. It returns a
// [*ParseError] for NaN, an infinity, and a number without a unit.
func Parse[Q Dimensional](text string) (Q, error) {
	var none Q
	v, err := none.codec().parse(text, false)
	return Q(v), err
}

// unmarshal sets a quantity to that of a text.
func unmarshal[Q Dimensional](q *Q, text []byte) error {
	v, err := Parse[Q](string(text))
	if err == nil {
		*q = v
	}
	return err
}

// In returns the number of a quantity in a unit of its kind, such as [Litre].
func In[Q Dimensional](q, unit Q) float64 { return float64(q / unit) }

// ParseError reports that a text is not a quantity of the wanted kind.
type ParseError struct {
	Kind   string // the quantity wanted, such as "stiffness"
	Input  string // the text refused, cut at 64 bytes
	Reason string // what is wrong with it
	Want   string // the units that would be accepted, such as "N/mm, N/m"
	// Meant lists what may have been meant, such as "82 kg" and "82 lb" for "82": something to ask,
	// never to assume. It may be empty.
	Meant []string
	Class *Class // ErrSyntax, ErrUnit or ErrRange
}

// Error returns one line such as
//
//	units: stiffness "450": missing unit; 450 N/mm or 450 lbf/in? (want a number and one of N/mm, N/m, lbf/in, kgf/mm)
func (e *ParseError) Error() string {
	ask := ""
	if len(e.Meant) > 0 {
		ask = "; " + e.Ask()
	}
	return fmt.Sprintf("units: %s %q: %s%s (want a number and %s)", e.Kind, e.Input, e.Reason, ask, e.Units())
}

// Ask returns Meant as a question, such as "82 kg or 82 lb?", or "".
func (e *ParseError) Ask() string {
	if len(e.Meant) == 0 {
		return ""
	}
	return strings.Join(e.Meant, " or ") + "?"
}

// Units returns the accepted units in words, such as "one of N/mm, N/m".
func (e *ParseError) Units() string {
	if strings.Contains(e.Want, ", ") {
		return "one of " + e.Want
	}
	return e.Want
}

// Unwrap returns the error's class, so that errors.Is finds it.
func (e *ParseError) Unwrap() error {
	if e.Class == nil {
		return nil
	}
	return e.Class
}

// parse parses "number unit". Without an error its result is finite. If exact is set, the unit must
// be one of the symbols.
func (c *codec) parse(text string, exact bool) (float64, error) {
	s := strings.TrimSpace(text)
	n := decimalPrefix(s)
	if n == 0 {
		return 0, c.fail(text, "no number", ErrSyntax)
	}
	number, err := strconv.ParseFloat(s[:n], 64)
	if err != nil {
		return 0, c.fail(text, "number too large", ErrRange)
	}
	symbol := strings.TrimSpace(s[n:])
	switch {
	case symbol == "":
		return 0, c.fail(text, "missing unit", ErrUnit, c.withUnit(s[:n])...)
	case symbol[0] == ',': // 1,5 or 1,500: either could be meant
		return 0, c.fail(text, "comma in the number; write a decimal point and no separators", ErrSyntax, c.withoutComma(s)...)
	}
	u := c.find(symbol)
	if u == nil && !exact {
		u = c.spelled(symbol)
	}
	if u == nil {
		return 0, c.unknown(text, s[:n], symbol)
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

// find returns the unit with a symbol, or nil.
func (c *codec) find(symbol string) *unit {
	for i := range c.units {
		if slices.Contains(c.units[i].symbols, symbol) {
			return &c.units[i]
		}
	}
	return nil
}

func (c *codec) fail(input, reason string, class *Class, meant ...string) error {
	return &ParseError{Kind: c.kind, Input: Clip(input), Reason: reason, Want: c.symbols(), Meant: meant, Class: class}
}

// symbols returns the accepted units, one spelling of each.
func (c *codec) symbols() string {
	list := make([]string, len(c.units))
	for i, u := range c.units {
		list[i] = u.symbols[0]
	}
	return strings.Join(list, ", ")
}

// decimalPrefix returns the length of the longest decimal number at the start of s: an optional
// sign, digits with an optional point, an optional exponent. It is 0 if there is none.
func decimalPrefix(s string) int {
	i := skip(s, 0, '+', '-')
	whole := skipDigits(s, i)
	point := skip(s, whole, '.', '.')
	end := skipDigits(s, point)
	if whole == i && end == point {
		return 0 // no digit
	}
	if e := skip(s, end, 'e', 'E'); e > end {
		power := skip(s, e, '+', '-')
		if last := skipDigits(s, power); last > power {
			return last
		}
	}
	return end
}

// skip returns i+1 if byte a or b is at i, and i otherwise.
func skip(s string, i int, a, b byte) int {
	if i < len(s) && (s[i] == a || s[i] == b) {
		return i + 1
	}
	return i
}

// skipDigits returns the index after the decimal digits that start at i.
func skipDigits(s string, i int) int {
	for i < len(s) && '0' <= s[i] && s[i] <= '9' {
		i++
	}
	return i
}
