package units

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// Of a number in a message. One with more digits than a person gives is rounded to the fewest, at
// least leastDigits, that leave the value refused on its side of every limit.
const (
	givenDigits = 6 // kept as they are
	leastDigits = 4
	allDigits   = 15 // that String prints
)

// Texts returns Value and Want as Error prints them. A decimal number of more than six significant
// digits is rounded: to four, or to as many as it takes to show on which side of each limit the value
// is. A Value that is a string is the text that was given; it is not rounded, nor are the numbers of a
// sentence. The text of a nil Value is "".
func (e *FieldError) Texts() (value, want string) {
	digits := leastDigits
	for digits < allDigits && !e.sidesKept(digits) {
		digits++
	}
	value, _, _ = numeral(e.Value, digits)
	return cut(value, mostValue), cut(e.Want.text(digits), mostWant)
}

// sidesKept reports whether the value and the limits of its unit, all to so many digits, are in the
// order that they are in with all digits.
func (e *FieldError) sidesKept(digits int) bool {
	_, unit, exact := numeral(e.Value, allDigits)
	_, _, shown := numeral(e.Value, digits)
	for _, l := range e.Want.Limits {
		_, in, limit := numeral(l.Value, allDigits)
		_, _, bound := numeral(l.Value, digits)
		if in == unit && cmp.Compare(exact, limit) != cmp.Compare(shown, bound) {
			return false
		}
	}
	return true
}

// numeral returns the text of a value. Of a quantity or a number it is rounded to so many digits if it
// has more than a person gives and decimals, and the number shown and its unit are returned too.
func numeral(v any, digits int) (text, unit string, number float64) {
	if v == nil {
		return "", "", math.NaN()
	}
	text = fmt.Sprint(v)
	_, read := v.(json.Number)
	if kind := reflect.ValueOf(v); !kind.CanFloat() && !kind.CanInt() && !kind.CanUint() && !read {
		return text, "", math.NaN()
	}
	end := decimalPrefix(text)
	number, err := strconv.ParseFloat(text[:end], 64)
	if err != nil { // NaN or an infinity
		return text, "", math.NaN()
	}
	word, unit := text[:end], text[end:]
	mantissa, _, _ := strings.Cut(strings.ToLower(word), "e")
	significant := strings.TrimLeft(strings.ReplaceAll(strings.Trim(mantissa, "+-"), ".", ""), "0")
	if len(significant) > givenDigits && strings.ContainsAny(word, ".eE") {
		rounded, err := strconv.ParseFloat(strconv.FormatFloat(number, 'e', digits-1, 64), 64)
		if err == nil { // else it is beyond float64
			number, word = rounded, strconv.FormatFloat(rounded, 'g', allDigits, 64)
		}
	}
	return word + unit, unit, number
}
