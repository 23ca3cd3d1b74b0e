package refdata

import (
	"slices"
	"strings"
	"sync"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
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
	list, err := gases()
	if err != nil {
		return nil
	}
	list = slices.Clone(list)
	for i := range list {
		list[i] = list[i].clone()
	}
	return list
}

// GasNamed returns the gas of that name; the error names the field "gas".
func GasNamed(name string) (GasData, error) {
	list, err := gases()
	if err != nil {
		return GasData{}, err
	}
	names := make([]string, len(list))
	for i, g := range list {
		if g.Name == name {
			return g.clone(), nil
		}
		names[i] = g.Name
	}
	return GasData{}, &units.FieldError{Package: "refdata", Field: "gas", Value: clipped(name),
		Want: "one of " + strings.Join(names, ", "), Class: units.ErrUnknown}
}

// Value returns one of the gas's values, such as "molar_mass" or
// "heat_ratio_300_k"; the error names the field "value".
func (g GasData) Value(name string) (Constant, error) {
	if i := slices.IndexFunc(g.Values, func(c Constant) bool { return c.Name == name }); i >= 0 {
		return g.Values[i], nil
	}
	return Constant{}, &units.FieldError{Package: "refdata", Field: "value", Value: clipped(name),
		Want: "the name of a value that the dataset has of " + g.Name, Class: units.ErrUnknown}
}

// clone returns the same gas with nothing in common that can be changed.
func (g GasData) clone() GasData {
	g.Values = slices.Clone(g.Values)
	return g
}

// gases decodes the embedded file at its first call.
var gases = sync.OnceValues(readGases)

// readGases reads the embedded file, which the tests hold to be right.
func readGases() ([]GasData, error) {
	text, err := data.ReadFile("data/gases.json")
	if err != nil {
		return nil, err
	}
	var file struct {
		Schema string    `json:"schema"`
		Gases  []GasData `json:"gases"`
	}
	if err := strictjson.Unmarshal("refdata", text, &file); err != nil {
		return nil, err
	}
	return file.Gases, nil
}
