package units

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Of a number in a message. One with more digits than a person gives is rounded to the fewest, at
// least leastDigits, that leave the value refused on its side of every limit.
const (
	givenDigits = 6 // kept as they are
	leastDigits = 4
	allDigits   = 15 // that String prints
)

// Texts returns Value and Want as Error prints them. A decimal number of more than six significant
// digits is rounded: to four, or to as many as it takes to show on which side of each limit in Want
// the value is. A Value that is a string is the text that was given. It and a Want beside it are not
// rounded. The text of a nil Value is "".
func (e *FieldError) Texts() (value, want string) {
	want = cut(e.Want, mostWant)
	switch v := e.Value.(type) {
	case nil:
		return "", rewrite(want, numbers(want), leastDigits)
	case string:
		return cut(v, mostValue), want
	}
	value = cut(fmt.Sprint(e.Value), mostValue)
	given, limits := numbers(value), numbers(want)
	if len(given) != 1 || given[0].start != 0 { // several, or not a number
		return value, want
	}
	var c *codec
	if q, ok := e.Value.(interface{ codec() *codec }); ok {
		c = q.codec()
	}
	digits := leastDigits
	for digits < allDigits && !sidesKept(c, given[0], limits, digits) {
		digits++
	}
	return rewrite(value, given, digits), rewrite(want, limits, digits)
}

// number is a decimal number in a text, and what follows it.
type number struct {
	start, end int
	text, rest string
}

// numbers returns the decimal numbers of a text, without those in double quotes and in words such as
// "m1" and "2.5x".
func numbers(text string) []number {
	var list []number
	quoted, before := false, ' '
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		quoted = quoted != (r == '"')
		if n := decimalPrefix(text[i:]); n > 0 && !quoted && !inWord(before) {
			after, _ := utf8.DecodeRuneInString(text[i+n:])
			if !inWord(after) {
				list = append(list, number{i, i + n, text[i : i+n], text[i+n:]})
			}
			before, i = '0', i+n
			continue
		}
		before, i = r, i+size
	}
	return list
}

// inWord reports whether a number beside that character is part of a word, or of a longer number.
func inWord(r rune) bool {
	return r == '_' || r == '.' || r == '-' || unicode.IsLetter(r) || unicode.IsDigit(r)
}

// to returns the number's text with so many digits at most; without a change if it has few enough or
// no decimals.
func (n number) to(digits int) string {
	mantissa, _, _ := strings.Cut(strings.ToLower(n.text), "e")
	significant := strings.TrimLeft(strings.ReplaceAll(strings.Trim(mantissa, "+-"), ".", ""), "0")
	v, err := strconv.ParseFloat(n.text, 64)
	if err != nil || len(significant) <= givenDigits || !strings.ContainsAny(n.text, ".eE") {
		return n.text
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64) // no error: it wrote a number
	return strconv.FormatFloat(rounded, 'g', allDigits, 64)
}

// rewrite returns text with each of its numbers to so many digits.
func rewrite(text string, list []number, digits int) string {
	if len(list) == 0 {
		return text
	}
	var b strings.Builder
	end := 0
	for _, n := range list {
		b.WriteString(text[end:n.start] + n.to(digits))
		end = n.end
	}
	return b.String() + text[end:]
}

// sidesKept reports whether a value and the limits of its kind, all to so many digits, are in the
// order that they are in with all digits. The codec is nil for a value without a unit.
func sidesKept(c *codec, value number, limits []number, digits int) bool {
	exact, shown := value.si(c, value.text), value.si(c, value.to(digits))
	for _, l := range limits {
		limit, bound := l.si(c, l.text), l.si(c, l.to(digits))
		if !math.IsNaN(limit) && cmp.Compare(exact, limit) != cmp.Compare(shown, bound) {
			return false
		}
	}
	return true
}

// si returns the value of text, which is the number or a rounded one, with the unit behind the
// number. It is NaN where that is no unit of the codec.
func (n number) si(c *codec, text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	if c == nil {
		return v
	}
	u := c.leading(n.rest)
	if u == nil {
		return math.NaN()
	}
	return u.toSI(v)
}

// leading returns the unit whose symbol stands at the start of text, behind a space or not; or nil.
func (c *codec) leading(text string) *unit {
	text = strings.TrimPrefix(text, " ")
	var longest *unit
	length := 0
	for i := range c.units {
		for _, symbol := range c.units[i].symbols {
			after, ok := strings.CutPrefix(text, symbol)
			next, _ := utf8.DecodeRuneInString(after)
			if ok && !unicode.IsLetter(next) && !strings.ContainsRune("/²³·(", next) && len(symbol) > length {
				longest, length = &c.units[i], len(symbol)
			}
		}
	}
	return longest
}
