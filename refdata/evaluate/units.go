package evaluate

import (
	"errors"
	"slices"
	"strings"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

var unitsComputations = map[string]computation{
	"units.convert": convert,
}

// convert reads a value as a quantity of the kind named and gives it back:
// the expectation, in another unit, is then read as the same kind.
func convert(given *input) (Result, error) {
	in, err := decode[struct {
		Kind  string `json:"kind"`
		Value string `json:"value"`
	}](given)
	if err != nil {
		return nil, err
	}
	c := units.Checker{Package: "evaluate"}
	q, known := refdata.QuantityNamed(in.Kind)
	if !known {
		c.Fail("kind", in.Kind, "one of "+strings.Join(kinds(), ", "), units.ErrUnknown)
	}
	if in.Value == "" {
		c.Fail("value", nil, "a number with its unit", units.ErrMissing)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	v, err := q.Parse(in.Value)
	if err != nil {
		fail(&c, "value", in.Value, err)
		return nil, c.Err()
	}
	return Result{"value": v}, nil
}

// kinds lists the names of the quantities in alphabetical order.
func kinds() []string {
	names := make([]string, len(refdata.Quantities()))
	for i, q := range refdata.Quantities() {
		names[i] = q.Kind
	}
	slices.Sort(names)
	return names
}

// fail records that a field's text was refused by a parser of package units.
func fail(c *units.Checker, field, text string, err error) {
	p, ok := errors.AsType[*units.ParseError](err)
	if !ok {
		c.Fail(field, text, "a quantity", units.ErrSyntax)
		return
	}
	article := "a "
	if strings.ContainsRune("aeiou", rune(p.Kind[0])) {
		article = "an "
	}
	c.Fail(field, text, article+p.Kind+" in one of "+p.Want, p.Class)
}
