package units_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"example.com/wheelrate/units"
)

func ExampleStep() {
	s := units.Step{
		Name: "force of the spring", Formula: "F = k·s", Source: "definition of the rate",
		Given:  []units.Value{{Symbol: "k", Quantity: 80 * units.NewtonPerMillimetre}, {Symbol: "s", Quantity: 12.5 * units.Millimetre}},
		Result: units.Value{Symbol: "F", Quantity: 1000 * units.Newton},
	}
	fmt.Println(s)
	// Output: force of the spring: F = k·s; k = 80 N/mm; s = 12.5 mm → F = 1000 N [definition of the rate]
}

func TestValueText(t *testing.T) {
	for _, test := range []struct {
		v    units.Value
		want string
	}{
		{units.Value{Symbol: "LR", Quantity: 2.803456789}, "LR = 2.80346"},
		{units.Value{Symbol: "n", Quantity: 3}, "n = 3"},
		{units.Value{Symbol: "g", Quantity: "9.80665 m/s²"}, "g = 9.80665 m/s²"},
		{units.Value{Symbol: "p", Quantity: units.BarGauge(5.5)}, "p = 550 kPa(g)"},
		{units.Value{Symbol: "φ", Quantity: 64 * units.Degree}, "φ = 64°"},
	} {
		if got := test.v.String(); got != test.want {
			t.Errorf("%q, want %q", got, test.want)
		}
	}
	text, err := json.Marshal(units.Value{Symbol: "s", Quantity: 5 * units.Millimetre})
	if err != nil || string(text) != `{"symbol":"s","quantity":"5 mm"}` {
		t.Errorf("%s, %v", text, err)
	}
}

// By hand: 80 N/mm · 25 mm = 2000 N.
func ExampleSymbols_Step() {
	rate, travel := 80*units.NewtonPerMillimetre, 25*units.Millimetre
	w := units.Symbols{"k": rate, "x": travel, "F": rate.Times(travel)}
	fmt.Println(w.Step("force", "F = k·x", "a linear spring", "F", "k", "x"))
	// Output: force: F = k·x; k = 80 N/mm; x = 25 mm → F = 2000 N [a linear spring]
}
