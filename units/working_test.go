package units_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"example.com/wheelrate/units"
)

func ExampleStep() {
	s := units.Step{
		Name: "force of the spring", Formula: "F = k·s", Source: "definition of the rate",
		Given:  []units.Value{{Symbol: "k", Quantity: 80 * units.NewtonPerMillimetre}, {Symbol: "s", Quantity: 12.5 * units.Millimetre}},
		Result: units.Value{Symbol: "F", Quantity: 1000 * units.Newton},
	}
	fmt.Print(s)
	// Output:
	// force of the spring
	//   F = k·s
	//   [definition of the rate]
	//     k = 80 N/mm; s = 12.5 mm
	//   → F = 1000 N
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

// Long steps are broken between words and between values, never within a value,
// and nothing is lost.
func TestStepWraps(t *testing.T) {
	s := units.Step{Name: "force", Formula: "F = " + strings.Repeat("k·s + ", 20) + "0", Source: strings.Repeat("long words ", 20) + "end", Result: units.Value{Symbol: "F", Quantity: 1.0}}
	for range 12 {
		s.Given = append(s.Given, units.Value{Symbol: "k", Quantity: 80.25 * units.NewtonPerMillimetre})
	}
	text := s.String()
	for _, line := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(line); n > 74 {
			t.Errorf("%d columns: %q", n, line)
		}
	}
	for what, want := range map[string]int{"k = 80.25 N/mm": 12, "; ": 12 - 1 - 2, ";\n": 2, "k·s": 20, "long": 20, "words": 20, "[": 1, "end]\n": 1} {
		if got := strings.Count(text, what); got != want {
			t.Errorf("%q stands there %d times, want %d, in\n%s", what, got, want, text)
		}
	}
	if got := (units.Step{}).String(); !strings.HasSuffix(got, "→  = <nil>\n") {
		t.Errorf("the zero step is %q", got)
	}
}

// A line of 74 columns is kept, with what separates it from the next; a word
// more makes a new line.
func TestStepFillsItsLines(t *testing.T) {
	for length := 10; length <= 80; length++ {
		value := units.Value{Symbol: strings.Repeat("k", length), Quantity: 1.5}
		s := units.Step{Name: "n", Formula: "f", Source: "s", Given: []units.Value{value, value}, Result: value}
		one := 4 + length + len(" = 1.5")
		both := one + len("; ") + length + len(" = 1.5")
		// Further values may follow, so that room for ";" is kept in every line.
		if got, want := strings.Contains(s.String(), "1.5; k"), both+1 <= 74; got != want {
			t.Errorf("two values of %d columns, %d in all, on one line: %v, want %v", length, both, got, want)
		}
	}
	for length := 60; length <= 80; length++ {
		word := strings.Repeat("w", length)
		s := units.Step{Name: "n", Formula: "f", Source: word + " s"}
		if got, want := strings.Contains(s.String(), "["+word+" s]"), 2+1+length+3 <= 74; got != want {
			t.Errorf("a word of %d columns and two more on one line: %v, want %v", length, got, want)
		}
	}
}

// By hand: 80 N/mm · 25 mm = 2000 N.
func ExampleSymbols_Step() {
	rate, travel := 80*units.NewtonPerMillimetre, 25*units.Millimetre
	w := units.Symbols{"k": rate, "x": travel, "F": rate.Times(travel)}
	fmt.Print(w.Step("force", "F = k·x", "a linear spring", "F", "k", "x"))
	// Output:
	// force
	//   F = k·x
	//   [a linear spring]
	//     k = 80 N/mm; x = 25 mm
	//   → F = 2000 N
}
