package refdata

import (
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

// GasNamed returns the gas of that name, in any case and punctuation, or an error in the field "gas".
func GasNamed(name string) (GasData, error) {
	return named(gases(), func(g GasData) []string { return []string{g.Name} }, "gas", name)
}

// Value returns one of the gas's values, such as "molar_mass" or "heat_ratio_300_k", or an error in
// the field "value".
func (g GasData) Value(name string) (Constant, error) {
	return named(g.Values, Constant.names, "value", name)
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
func Constants() []Constant { return clone(constants()) }

// ConstantNamed returns the constant of that name, in any case and punctuation, or an error in the field
// "constant".
func ConstantNamed(name string) (Constant, error) {
	return named(constants(), Constant.names, "constant", name)
}

func (c Constant) names() []string { return []string{c.Name} }

var constants = field[[]Constant]("constants.json", "constants")
