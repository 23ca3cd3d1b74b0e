package refdata

import (
	"errors"
	"slices"
	"strings"

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
	c := units.Checker{Package: "refdata"}
	q := quantityByKind(in.Kind)
	if q == nil {
		c.Fail("kind", in.Kind, "one of "+strings.Join(kinds(), ", "), units.ErrUnknown)
	}
	if in.Value == "" {
		c.Fail("value", nil, "a number with its unit", units.ErrMissing)
	}
	if !c.OK() {
		return nil, c.Err()
	}
	v, err := q.parse(in.Value)
	if err != nil {
		return nil, fieldError("value", in.Value, err)
	}
	return Result{"value": v}, nil
}

// kinds lists the names of the quantities in alphabetical order.
func kinds() []string {
	names := make([]string, len(quantities))
	for i, q := range quantities {
		names[i] = q.kind
	}
	slices.Sort(names)
	return names
}

// fieldError says that a field's text was refused by a parser of package units.
func fieldError(field, text string, err error) error {
	refused := &units.FieldError{Package: "refdata", Field: field, Value: clipped(text), Want: "a quantity", Class: units.ErrSyntax}
	if p, ok := errors.AsType[*units.ParseError](err); ok {
		article := "a "
		if strings.ContainsRune("aeiou", rune(p.Kind[0])) {
			article = "an "
		}
		refused.Want, refused.Class = article+p.Kind+" in one of "+p.Want, p.Class
	}
	return refused
}
