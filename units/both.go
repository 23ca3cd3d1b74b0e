package units

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Dual is a value as text in metric and in customary units, rounded for people. Every quantity has
// a method Both that returns one:
//
//	fmt.Println(fill.Both()) // 5.97 bar (86.6 psi)
//
// The rounded text does not parse to the same value; the quantity's own text does.
type Dual struct {
	Metric    string `json:"metric"`
	Customary string `json:"customary,omitempty"` // empty where the metric unit serves both, as Hz does
}

// Percent returns a fraction in per cent with one decimal: 0.284 as "28.4 %".
func Percent(fraction float64) string { return rounded(100*fraction, 1) + " %" }

// String returns the metric text with the customary one in parentheses.
func (d Dual) String() string { return beside(d.Metric, d.Customary) }

// CustomaryFirst returns the customary text with the metric one in parentheses.
func (d Dual) CustomaryFirst() string { return beside(d.Customary, d.Metric) }

func beside(first, second string) string {
	if first == "" || second == "" {
		return first + second
	}
	return first + " (" + second + ")"
}

// Through returns the range from d to high with its unit once: "28.5–32.4 mm".
func (d Dual) Through(high Dual) Dual { return d.join("–", high) }

// PlusMinus returns d with the uncertainty u, and the unit once: "5.97 ± 0.19 bar".
func (d Dual) PlusMinus(u Dual) Dual { return d.join(" ± ", u) }

func (d Dual) join(by string, to Dual) Dual {
	return Dual{joined(d.Metric, by, to.Metric), joined(d.Customary, by, to.Customary)}
}

// joined returns first without its unit, by and second; "" where first is empty.
func joined(first, by, second string) string {
	if first == "" {
		return ""
	}
	if at := strings.IndexFunc(first, func(r rune) bool { return r >= utf8.RuneSelf || r == ' ' }); at >= 0 {
		first = first[:at]
	}
	return first + by + second
}

// Signed returns d with a plus sign unless it is negative: "+0.37 bar".
func (d Dual) Signed() Dual { return Dual{signed(d.Metric), signed(d.Customary)} }

func signed(text string) string {
	if text == "" || strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}

// shown is a unit for people and the number of decimals printed in it. Symbol is "" for a quantity
// that has no such unit.
type shown struct {
	symbol   string
	decimals int
}

// both returns a value as [Dual].
func (c *codec) both(si float64) Dual {
	return Dual{c.read(si, c.metric), c.read(si, c.customary)}
}

func (c *codec) read(si float64, in shown) string {
	u := c.find(in.symbol)
	if u == nil {
		return ""
	}
	u, number := c.in(u, si)
	return string(c.appendSymbol([]byte(rounded(number, in.decimals)), u))
}

// rounded returns a number with so many decimals, without a minus sign if all digits are 0.
func rounded(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}
