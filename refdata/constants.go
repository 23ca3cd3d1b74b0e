package refdata

import "slices"

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

// Exact reports whether the value is a definition.
func (c Constant) Exact() bool { return c.Uncertainty == 0 }

// Constants returns every constant of the dataset, in its order. The slice is
// the caller's own.
func Constants() []Constant { return slices.Clone(constants().Constants) }

// ConstantNamed returns the constant of that name; the error names the field
// "constant".
func ConstantNamed(name string) (Constant, error) {
	return constantNamed(constants().Constants, name, "constant", "the name of a constant of the dataset")
}

func constantNamed(list []Constant, name, field, want string) (Constant, error) {
	if i := slices.IndexFunc(list, func(c Constant) bool { return c.Name == name }); i >= 0 {
		return list[i], nil
	}
	return Constant{}, unknown(field, name, want)
}

var constants = decoded[struct {
	Schema    string     `json:"schema"`
	Constants []Constant `json:"constants"`
}]("constants.json")
