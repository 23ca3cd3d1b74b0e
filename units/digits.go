package units

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
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
		return "", rewrite(want, leastDigits)
	case string:
		return cut(v, mostValue), want
	}
	value = cut(fmt.Sprint(e.Value), mostValue)
	if from, to := nextWord(value); from != 0 || !isNumber(value[:to]) { // several, or not a number
		return value, want
	}
	var c *codec
	if q, ok := e.Value.(interface{ codec() *codec }); ok {
		c = q.codec()
	}
	digits := leastDigits
	for digits < allDigits && !c.sidesKept(value, want, digits) {
		digits++
	}
	return rewrite(value, digits), rewrite(want, digits)
}

// nextWord returns where the first word or number of a text begins and ends; what stands in double
// quotes is one word. Both are the length of a text without one.
func nextWord(text string) (from, to int) {
	in := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsNumber(r) || strings.ContainsRune("_.+-", r)
	}
	if from = strings.IndexFunc(text, func(r rune) bool { return r == '"' || in(r) }); from < 0 {
		return len(text), len(text)
	}
	if text[from] == '"' {
		if n := strings.IndexByte(text[from+1:], '"'); n >= 0 {
			return from, from + 1 + n + 1
		}
		return from, len(text)
	}
	rest := strings.TrimLeftFunc(text[from:], in)
	return from, len(text) - len(rest)
}

// isNumber reports whether a word is a decimal number. Words such as "m1" and "2.5x" are not.
func isNumber(word string) bool { return word != "" && decimalPrefix(word) == len(word) }

// shorter returns a word that is a number with so many digits at most; without a change if it has few
// enough or no decimals, as any other word.
func shorter(word string, digits int) string {
	mantissa, _, _ := strings.Cut(strings.ToLower(word), "e")
	significant := strings.TrimLeft(strings.ReplaceAll(strings.Trim(mantissa, "+-"), ".", ""), "0")
	v, err := strconv.ParseFloat(word, 64)
	if !isNumber(word) || err != nil || len(significant) <= givenDigits || !strings.ContainsAny(word, ".eE") {
		return word
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64) // no error: it wrote a number
	return strconv.FormatFloat(rounded, 'g', allDigits, 64)
}

// rewrite returns text with each of its numbers to so many digits.
func rewrite(text string, digits int) string {
	var b strings.Builder
	for text != "" {
		from, to := nextWord(text)
		b.WriteString(text[:from] + shorter(text[from:to], digits))
		text = text[to:]
	}
	return b.String()
}

// sidesKept reports whether a value and the limits of its kind in a text, all to so many digits, are in
// the order that they are in with all digits. The codec is nil for a value without a unit.
func (c *codec) sidesKept(value, limits string, digits int) bool {
	exact, shown := c.si(value), c.si(rewrite(value, digits))
	for limits != "" {
		from, to := nextWord(limits)
		word, rest := limits[from:to], limits[to:]
		limit, bound := c.si(word+rest), c.si(shorter(word, digits)+rest)
		if !math.IsNaN(limit) && cmp.Compare(exact, limit) != cmp.Compare(shown, bound) {
			return false
		}
		limits = rest
	}
	return true
}

// si returns the value of the number that a text starts with, in the unit behind it. It is NaN if there
// is none, or no unit of the codec.
func (c *codec) si(text string) float64 {
	_, end := nextWord(text)
	word, symbol := text[:end], strings.TrimPrefix(text[end:], " ")
	v, err := strconv.ParseFloat(word, 64)
	switch {
	case !isNumber(word) || err != nil:
		return math.NaN()
	case c == nil:
		return v
	}
	if end := strings.IndexAny(symbol, " ,;:"); end >= 0 {
		symbol = symbol[:end]
	}
	for _, symbol := range []string{symbol, strings.TrimRight(symbol, ").")} {
		if u := c.find(symbol); u != nil {
			return u.toSI(v)
		}
	}
	return math.NaN()
}
