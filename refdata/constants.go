package refdata

import (
	"slices"
	"sync"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Constant is a constant of nature, a definition, or a convention, with where
// it is from.
type Constant struct {
	Name        string   `json:"name"`             // such as "standard_gravity"
	Symbol      string   `json:"symbol,omitempty"` // as formulas write it
	Value       float64  `json:"value"`            // in Unit
	Unit        string   `json:"unit"`             // SI; "1" for a ratio
	Uncertainty float64  `json:"uncertainty"`      // half the width of the interval the value lies in, in Unit; 0 for a definition, which is exact
	Range       string   `json:"range,omitempty"`  // where the value holds; "" for everywhere
	Source      Source   `json:"source"`
	Standing    Standing `json:"standing"`
	Note        string   `json:"note,omitempty"` // such as why this value and not another
}

// Exact tells whether the value is a definition.
func (c Constant) Exact() bool { return c.Uncertainty == 0 }

// Constants returns every constant of the dataset, in its order. The slice is
// the caller's own.
func Constants() []Constant {
	list, err := constants()
	if err != nil {
		return nil
	}
	return slices.Clone(list)
}

// ConstantNamed returns the constant of that name; the error names the field
// "constant".
func ConstantNamed(name string) (Constant, error) {
	list, err := constants()
	if err != nil {
		return Constant{}, err
	}
	if i := slices.IndexFunc(list, func(c Constant) bool { return c.Name == name }); i >= 0 {
		return list[i], nil
	}
	return Constant{}, &units.FieldError{Package: "refdata", Field: "constant", Value: clipped(name),
		Want: "the name of a constant of the dataset", Class: units.ErrUnknown}
}

// constants decodes the embedded file at its first call.
var constants = sync.OnceValues(readConstants)

// readConstants reads the embedded file, which the tests hold to be right.
func readConstants() ([]Constant, error) {
	text, err := data.ReadFile("data/constants.json")
	if err != nil {
		return nil, err
	}
	var file struct {
		Schema    string     `json:"schema"`
		Constants []Constant `json:"constants"`
	}
	if err := strictjson.Unmarshal("refdata", text, &file); err != nil {
		return nil, err
	}
	return file.Constants, nil
}
