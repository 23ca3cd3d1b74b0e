package units

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"
)

// appendText writes the text form that parses back to the very same bits: in
// the printed unit where that returns them, in the SI unit otherwise.
func (c *codec) appendText(b []byte, si float64) ([]byte, error) {
	if !c.permitted(si) {
		want := "a finite value to write as text"
		if c.floor != "" {
			want = "a finite value, 0 or more, to write as text"
		}
		return b, &FieldError{Package: "units", Field: c.kind, Value: c.text(si), Want: want, Class: ErrRange}
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
		shown, number = &c.units[c.si], si
	}
	shape := byte('f') // as encoding/json chooses: 1000000, not 1e+06
	if a := math.Abs(number); a != 0 && (a < 1e-6 || a >= 1e21) {
		shape = 'e'
	}
	b = strconv.AppendFloat(b, number, shape, -1, 64)
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
// quantity's own unit, with that unit. %v, %s, %d and %q print at most 15
// significant digits, or as many as the precision says; %e %f %g %b %x and
// their capitals mean what they mean for a float64. A width counts number and
// unit. %#v is Go syntax in SI: units.Length(0.046).
func (c *codec) format(si float64, f fmt.State, verb rune) {
	if verb == 'v' && f.Flag('#') {
		fmt.Fprintf(f, "units.%s(%s)", c.goal, strconv.FormatFloat(si, 'g', -1, 64))
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
	text := strconv.AppendFloat(scratch[:0], c.units[0].fromSI(si), shape, precision, 64)
	switch sign := text[0]; {
	case f.Flag('+') && sign != '-' && sign != '+':
		text = append([]byte{'+'}, text...)
	case f.Flag('+') || sign == '-':
	case f.Flag(' ') && sign == '+': // of +Inf
		text[0] = ' '
	case f.Flag(' '):
		text = append([]byte{' '}, text...)
	}
	text = c.appendSymbol(text, &c.units[0])
	if verb == 'q' {
		text = strconv.AppendQuote(nil, string(text))
	}
	width, _ := f.Width()
	pad := width - utf8.RuneCount(text)
	switch {
	case f.Flag('-'):
		write(f, text)
		fill(f, ' ', pad)
	case f.Flag('0') && verb != 'q' && !math.IsNaN(si) && !math.IsInf(si, 0):
		if text[0] < '0' { // zeros go behind a sign
			write(f, text[:1])
			text = text[1:]
		}
		fill(f, '0', pad)
		write(f, text)
	default:
		fill(f, ' ', pad)
		write(f, text)
	}
}

// write drops the error: a Formatter has no way to report one.
func write(f fmt.State, text []byte) { _, _ = f.Write(text) }

// fill writes c so many times.
func fill(f fmt.State, c byte, times int) {
	one := []byte{c}
	for range times {
		write(f, one)
	}
}

// digits is how many significant digits %v prints of a value at most: 15 let
// every whole number of a customary unit come back whole. Taking a zero off, as
// degrees do, leaves some 1e-13 behind, so that no more than 12 decimals are
// told.
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

// text is what String returns.
func (c *codec) text(si float64) string {
	var scratch [48]byte
	b := strconv.AppendFloat(scratch[:0], c.units[0].fromSI(si), 'g', c.digits(si), 64)
	return string(c.appendSymbol(b, &c.units[0]))
}

// describe prints a bound in an error text: a quantity with its unit, a bare
// number otherwise.
func describe[Q ~float64](v Q) string { return fmt.Sprint(v) }
