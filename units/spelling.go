package units

import (
	"slices"
	"strconv"
	"strings"
)

// Exact returns the error that a text has as a value of the given quantity, such as a [Length], if
// only the symbols of the package documentation are taken, and none of the spellings that people
// use besides them. It returns nil for a value that is no quantity of this package.
func Exact(quantity any, text string) error {
	q, ok := quantity.(interface{ codec() *codec })
	if !ok {
		return nil
	}
	_, err := q.codec().parse(text, true)
	return err
}

// codecs are those of all quantities. Where a symbol has several, the first is named.
var codecs = []*codec{
	&lengthCodec, &areaCodec, &volumeCodec, &massCodec, &forceCodec, &stiffnessCodec, &gaugePressureCodec,
	&absolutePressureCodec, &stressCodec, &torqueCodec, &energyCodec, &temperatureCodec, &angleCodec,
	&frequencyCodec, &densityCodec, &timeCodec, &ratioSlopeCodec, &dampingCodec,
}

// spelled returns the unit that people spell so, or nil. White space around a slash is ignored.
func (c *codec) spelled(symbol string) *unit {
	if above, below, ok := strings.Cut(symbol, "/"); ok && len(symbol) <= mostValue {
		symbol = strings.TrimSpace(above) + "/" + strings.TrimSpace(below)
	}
	fold := func(s string) bool { return strings.EqualFold(s, symbol) }
	for i := range c.units {
		u := &c.units[i]
		if slices.Contains(u.symbols, symbol) || slices.Contains(u.also, symbol) || slices.ContainsFunc(u.anyCase, fold) {
			return u
		}
	}
	return nil
}

// unknown returns the error for a symbol that is no unit of the quantity.
func (c *codec) unknown(text, number, symbol string) error {
	for _, other := range codecs {
		if other != c && other.find(symbol) != nil {
			return c.fail(text, strconv.Quote(symbol)+" is a unit of "+other.kind, ErrUnit)
		}
	}
	var names []string
	owner := map[string]*unit{}
	for i := range c.units {
		u := &c.units[i]
		for _, name := range slices.Concat(u.symbols, u.also, u.anyCase) {
			names, owner[name] = append(names, name), u
		}
	}
	var meant []string
	if near, ok := Nearest(symbol, names); ok && len(number) <= longNumber {
		meant = []string{c.written(number, owner[near])}
	}
	return c.fail(text, "unknown unit "+strconv.Quote(Clip(symbol)), ErrUnit, meant...)
}

// longNumber is the most bytes of a number that an error repeats.
const longNumber = 32

// written returns a number with the symbol of a unit.
func (c *codec) written(number string, u *unit) string {
	return string(c.appendSymbol([]byte(number), u))
}

// withUnit returns a number with each of the units in which people read the quantity.
func (c *codec) withUnit(number string) (list []string) {
	if len(number) > longNumber {
		return nil
	}
	for _, in := range []shown{c.metric, c.customary} {
		if u := c.find(in.symbol); u != nil {
			list = append(list, c.written(number, u))
		}
	}
	return list
}

// withoutComma returns what a text with one comma in its number may mean: 1,5 is 1.5; 1,500 is 1.5 or
// 1500.
func (c *codec) withoutComma(text string) (list []string) {
	whole, rest, _ := strings.Cut(text, ",")
	digits := skipDigits(rest, 0)
	if digits == 0 || len(whole)+digits > longNumber {
		return nil
	}
	readings := []string{whole + "." + rest}
	if digits == 3 {
		readings = append(readings, whole+rest)
	}
	for _, text := range readings {
		n := decimalPrefix(text)
		if u := c.spelled(strings.TrimSpace(text[n:])); u != nil {
			list = append(list, c.written(text[:n], u))
		}
	}
	return list
}

// Nearest returns the name that a misspelt one is most likely to stand for, and whether there is
// one: at most a third of its characters are inserted, left out, exchanged, or swapped with their
// neighbour (optimal string alignment distance). Without such a name it is the only one that begins
// with the misspelt one, of at least three characters. Capitals and small letters count as equal. A
// name of more than 64 bytes has none. Of equally near names the first is returned.
func Nearest(name string, names []string) (nearest string, found bool) {
	if len(name) > mostValue {
		return "", false
	}
	from, least := []rune(strings.ToLower(name)), 0
	longer, longerFound := "", 0
	for _, n := range names {
		to := []rune(strings.ToLower(n))
		if len(from) >= 3 && len(to) > len(from) && slices.Equal(to[:len(from)], from) {
			longer, longerFound = n, longerFound+1
		}
		if most := max(len(from), len(to)) / 3; len(n) <= mostValue && max(len(from), len(to))-min(len(from), len(to)) <= most {
			if d := distance(from, to); d <= most && (!found || d < least) {
				nearest, found, least = n, true, d
			}
		}
	}
	if !found && longerFound == 1 {
		return longer, true
	}
	return nearest, found
}

// distance returns the optimal string alignment distance of two texts: the least number of
// insertions, deletions, substitutions and swaps of neighbours, no part being edited twice (from
// memory).
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		before, last, row = last, row, before
		row[0] = i + 1
		for j := range b {
			differs := 1
			if a[i] == b[j] {
				differs = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+differs)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
	}
	return row[len(b)]
}
