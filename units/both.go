package units

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Dual is a value as text in both systems of units, rounded to what a workshop
// reads: "5.97 bar" and "86.6 psi". Every quantity's Both method returns one:
//
//	fmt.Println(fill.Both()) // 5.97 bar (86.6 psi)
//
// It is for people. Text that must read back to the same value is that of the
// quantity itself.
type Dual struct {
	Metric    string `json:"metric"`
	Customary string `json:"customary,omitempty"` // empty where the metric unit serves both, as Hz does
}

// Percent returns a fraction as text, 0.284 as "28.4 %".
func Percent(fraction float64) string { return rounded(100*fraction, 1) + " %" }

// String returns the metric text with the customary one in parentheses.
func (d Dual) String() string { return beside(d.Metric, d.Customary) }

// CustomaryFirst returns the customary text with the metric one in parentheses,
// as a trade wants that calls its springs by lbf/in.
func (d Dual) CustomaryFirst() string {
	if d.Customary == "" {
		return d.Metric
	}
	return beside(d.Customary, d.Metric)
}

func beside(first, second string) string {
	if second == "" {
		return first
	}
	return first + " (" + second + ")"
}

// Through returns the range from d to high, its unit once: "28.5–32.4 mm".
func (d Dual) Through(high Dual) Dual { return d.join("–", high) }

// PlusMinus returns d with an uncertainty, the unit once: "5.97 ± 0.19 bar".
func (d Dual) PlusMinus(u Dual) Dual { return d.join(" ± ", u) }

func (d Dual) join(by string, to Dual) Dual {
	d.Metric = number(d.Metric) + by + to.Metric
	if d.Customary != "" {
		d.Customary = number(d.Customary) + by + to.Customary
	}
	return d
}

// Signed returns a change, with a plus where it is not negative: "+0.37 bar".
func (d Dual) Signed() Dual {
	d.Metric = plus(d.Metric)
	if d.Customary != "" {
		d.Customary = plus(d.Customary)
	}
	return d
}

func plus(text string) string {
	if strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}

// number is a text without its unit.
func number(text string) string {
	if at := strings.IndexFunc(text, func(r rune) bool { return r >= utf8.RuneSelf || r == ' ' }); at >= 0 {
		return text[:at]
	}
	return text
}

// shown is a unit that people read a quantity in, with so many decimals; none
// where the symbol is empty.
type shown struct {
	symbol   string
	decimals int
}

// both returns a value in the units that people read it in.
func (c *codec) both(si float64) Dual {
	return Dual{Metric: c.read(si, c.metric), Customary: c.read(si, c.customary)}
}

func (c *codec) read(si float64, r shown) string {
	for i := range c.units {
		if u := &c.units[i]; u.symbols[0] == r.symbol {
			return string(c.appendSymbol([]byte(rounded(u.fromSI(si), r.decimals)), u))
		}
	}
	return ""
}

// rounded is a number with so many decimals, and no sign where all are 0.
func rounded(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}
