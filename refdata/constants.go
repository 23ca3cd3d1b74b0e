package refdata

import (
	"slices"
	"strings"

	"example.com/wheelrate/units"
)

// GasData is a gas that air springs are filled with. Each of its values has its source. Its
// behaviour under pressure is computed from its equation of state, see
// [example.com/wheelrate/airspring/gas.StateAt].
type GasData struct {
	Name   string     `json:"name"` // as package airspring calls it: "air", "nitrogen"
	Kind   string     `json:"kind"` // in words
	Values []Constant `json:"values"`
	Range  GasRange   `json:"range"`
}

// GasRange is the range of temperature and pressure over which the equation of state of a gas is
// valid.
type GasRange struct {
	TemperatureFrom units.Temperature      `json:"temperature_from"`
	TemperatureTo   units.Temperature      `json:"temperature_to"`
	PressureTo      units.AbsolutePressure `json:"pressure_to"`
}

// Gases returns every gas of the dataset, in its order. The result is a copy.
func Gases() []GasData { return clone(gases()) }

// GasNamed returns the gas of that name, or an error in the field "gas".
func GasNamed(name string) (GasData, error) {
	var names []string
	for _, g := range Gases() {
		if g.Name == name {
			return g, nil
		}
		names = append(names, g.Name)
	}
	return GasData{}, unknown("gas", name, "one of "+strings.Join(names, ", "))
}

// Value returns one of the gas's values, such as "molar_mass" or "heat_ratio_300_k", or an error in
// the field "value".
func (g GasData) Value(name string) (Constant, error) {
	return constantNamed(g.Values, name, "value", "the name of a value that the dataset has of "+g.Name)
}

var gases = field[[]GasData]("gases.json", "gases")

// Constant is a constant of nature, a definition or a convention, with its source.
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

// Exact reports whether the value is exact by definition: its uncertainty is 0.
func (c Constant) Exact() bool { return c.Uncertainty == 0 }

// Constants returns every constant of the dataset, in its order. The result is a copy.
func Constants() []Constant { return slices.Clone(constants()) }

// ConstantNamed returns the constant of that name, or an error in the field "constant".
func ConstantNamed(name string) (Constant, error) {
	return constantNamed(constants(), name, "constant", "the name of a constant of the dataset")
}

func constantNamed(list []Constant, name, field, want string) (Constant, error) {
	if i := slices.IndexFunc(list, func(c Constant) bool { return c.Name == name }); i >= 0 {
		return list[i], nil
	}
	return Constant{}, unknown(field, name, want)
}

var constants = field[[]Constant]("constants.json", "constants")
