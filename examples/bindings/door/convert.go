package door

import (
	"slices"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

// mostFaults is how many quantities that can't be converted are named.
const mostFaults = 100

// convert returns the numbers of quantities in a unit of their kind.
func convert(c *units.Checker, texts []string, unit *string) ([]float64, error) {
	switch {
	case texts == nil:
		c.Fail("convert", nil, "quantities, such as [\"25.4 mm\"]", units.ErrMissing)
	case unit == nil:
		c.Fail("unit", nil, "the unit of the numbers, such as \"in\"", units.ErrMissing)
	case !slices.ContainsFunc(refdata.Quantities(), func(q refdata.Quantity) bool { return has(q, *unit) }):
		c.Fail("unit", units.Clip(*unit), "a unit of the description", units.ErrUnit)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	numbers, faults := make([]float64, len(texts)), 0
	for i, text := range texts {
		var ok bool
		if numbers[i], ok = number(text, *unit); ok {
			continue
		}
		if faults++; faults > mostFaults {
			break
		}
		own := c.Element("convert", i)
		own.Fail("", units.Clip(text), "a quantity that has the unit "+*unit, units.ErrUnit)
	}
	return numbers, c.Err()
}

// has reports whether a kind of quantity has a unit.
func has(q refdata.Quantity, unit string) bool {
	_, ok := q.Difference("1 " + unit)
	return ok
}

// number returns a quantity in a unit, and reports whether there is a kind that has both. A unit of several
// kinds, such as psi, has one size.
func number(text, unit string) (float64, bool) {
	for _, q := range refdata.Quantities() {
		if si, ok := q.Value(text); ok && has(q, unit) {
			size, _ := q.Difference("1 " + unit)
			zero, _ := q.Value("0 " + unit)
			return (si - zero) / size, true
		}
	}
	return 0, false
}
