package evaluate

import (
	"errors"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

var ofUnits = []computation{
	computes("units.convert", convert, give("value", func(v any) any { return v })),
}

// convert reads a value as a quantity of the kind named and gives it back: the expectation, in
// another unit, is then read as the same kind.
func convert(c *units.Checker, in struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}) any {
	q, known := refdata.QuantityNamed(in.Kind)
	if !known {
		kinds := over(refdata.Quantities(), func(q refdata.Quantity) string { return q.Kind })
		c.Fail("kind", in.Kind, units.OneOf(kinds...), units.ErrUnknown)
	}
	if in.Value == "" {
		c.Fail("value", nil, "a number with its unit", units.ErrMissing)
	}
	if !c.OK() {
		return nil
	}
	v, err := q.Parse(in.Value)
	if p, ok := errors.AsType[*units.ParseError](err); ok {
		c.Fail("value", in.Value, "a number and one of the units "+p.Want, p.Class)
	}
	return v
}
