package refdata

import (
	"slices"
	"strings"

	"example.com/wheelrate/units"
)

// GasData is a gas that air springs are filled with, with where each of its values
// is from. How it behaves at a fill is computed from its equation of state; see
// [example.com/wheelrate/airspring/gas.StateAt].
type GasData struct {
	Name   string     `json:"name"` // as package airspring calls it: "air", "nitrogen"
	Kind   string     `json:"kind"` // in words
	Values []Constant `json:"values"`
	Range  GasRange   `json:"range"`
}

// GasRange is where package airspring answers for the real behaviour of a gas.
type GasRange struct {
	TemperatureFrom units.Temperature      `json:"temperature_from"`
	TemperatureTo   units.Temperature      `json:"temperature_to"`
	PressureTo      units.AbsolutePressure `json:"pressure_to"`
}

// Gases returns every gas of the dataset, in its order. All of it is the
// caller's own.
func Gases() []GasData {
	list := slices.Clone(gases().Gases)
	for i := range list {
		list[i].Values = slices.Clone(list[i].Values)
	}
	return list
}

// GasNamed returns the gas of that name; the error names the field "gas".
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

// Value returns one of the gas's values, such as "molar_mass" or
// "heat_ratio_300_k"; the error names the field "value".
func (g GasData) Value(name string) (Constant, error) {
	return constantNamed(g.Values, name, "value", "the name of a value that the dataset has of "+g.Name)
}

var gases = decoded[struct {
	Schema string    `json:"schema"`
	Gases  []GasData `json:"gases"`
}]("gases.json")
