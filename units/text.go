package units

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"unicode/utf8"
)

// marshal returns text that parses to the same bits: in the printed unit if possible, in the SI unit
// otherwise.
func (c *codec) marshal(si float64) ([]byte, error) {
	if !c.permitted(si) {
		want := limited("finite", nil).With("to write as text")
		if c.floor != "" {
			want = want.And(AtLeast(0))
		}
		return nil, &FieldError{Package: "units", Field: c.kind, Value: c.text(si), Want: want, Class: ErrRange}
	}
	shown := &c.units[0]
	number := shown.fromSI(si)
	var scratch [32]byte
	short := strconv.AppendFloat(scratch[:0], number, 'g', 15, 64)
	rounded, err := strconv.ParseFloat(string(short), 64)
	switch {
	case err == nil && sameBits(shown.toSI(rounded), si):
		number = rounded
	case sameBits(shown.toSI(number), si):
	default:
		shown, number = c.fallback(), si
	}
	shape := byte('f') // as encoding/json chooses: 1000000, not 1e+06
	if a := math.Abs(number); a != 0 && (a < 1e-6 || a >= 1e21) {
		shape = 'e'
	}
	b := strconv.AppendFloat(make([]byte, 0, 32), number, shape, -1, 64)
	return c.appendSymbol(b, shown), nil
}

// in returns a value in a unit, or in the SI unit where its number is beyond float64.
func (c *codec) in(u *unit, si float64) (*unit, float64) {
	if number := u.fromSI(si); finite(number) || !finite(si) {
		return u, number
	}
	return c.fallback(), si
}

func sameBits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

func (c *codec) appendSymbol(b []byte, u *unit) []byte {
	if !c.tight || u != &c.units[0] {
		b = append(b, ' ')
	}
	return append(b, u.symbols[0]...)
}

// format implements fmt.Formatter: every verb prints the number in the quantity's own unit, with
// that unit, or in the SI unit where its number is beyond float64. %v, %s, %d and %q print at most 15 significant digits, or as many as the precision
// says; %e %f %g %b %x and their capitals mean what they mean for a float64. A width counts number
// and unit. %#v is Go syntax in SI: units.Length(0.046).
func (c *codec) format(si float64, f fmt.State, verb rune) {
	if verb == 'v' && f.Flag('#') {
		fmt.Fprintf(f, "units.%s(%v)", c.goal, si)
		return
	}
	precision, given := f.Precision()
	shape, usual := byte(verb), -1
	switch verb {
	case 'v', 's', 'd', 'q':
		shape, usual = 'g', c.digits(si)
	case 'e', 'E', 'f':
		usual = 6 // as fmt does
	case 'F':
		shape, usual = 'f', 6
	case 'g', 'G', 'b', 'x', 'X':
	default:
		fmt.Fprintf(f, "%%!%c(units.%s=%s)", verb, c.goal, c.text(si))
		return
	}
	if !given {
		precision = usual
	}
	var scratch [64]byte
	shown, number := c.in(&c.units[0], si)
	text := strconv.AppendFloat(scratch[:0], number, shape, precision, 64)
	if text[0] != '-' && (f.Flag('+') || f.Flag(' ')) {
		text = slices.Insert(bytes.TrimPrefix(text, []byte("+")), 0, '+') // +Inf has it
		if !f.Flag('+') {
			text[0] = ' '
		}
	}
	text = c.appendSymbol(text, shown)
	if verb == 'q' {
		text = strconv.AppendQuote(nil, string(text))
	}
	width, _ := f.Width()
	missing := max(0, width-utf8.RuneCount(text))
	switch {
	case f.Flag('-'):
		text = append(text, bytes.Repeat([]byte{' '}, missing)...)
	case f.Flag('0') && verb != 'q' && finite(si):
		first := 0
		if text[0] < '0' {
			first = 1 // zeros go behind a sign
		}
		text = slices.Insert(text, first, bytes.Repeat([]byte{'0'}, missing)...)
	default:
		text = slices.Insert(text, 0, bytes.Repeat([]byte{' '}, missing)...)
	}
	_, _ = f.Write(text) // a Formatter has no way to report an error
}

// digits returns the number of significant digits that %v prints of a value at most. With 15 every
// whole number of a customary unit is printed as one. Subtracting the zero of a degree scale leaves
// an error of about 1e-13, so no more than 12 decimals of a temperature are printed.
func (c *codec) digits(si float64) int {
	if c.units[0].zero == 0 {
		return 15
	}
	number := math.Abs(c.units[0].fromSI(si))
	for digits, limit := 15, 100.0; digits > 1; digits, limit = digits-1, limit/10 {
		if number >= limit {
			return digits
		}
	}
	return 1
}

// text returns the text of String.
func (c *codec) text(si float64) string {
	var scratch [48]byte
	shown, number := c.in(&c.units[0], si)
	b := strconv.AppendFloat(scratch[:0], number, 'g', c.digits(si), 64)
	return string(c.appendSymbol(b, shown))
}
