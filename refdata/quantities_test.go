package refdata_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"example.com/wheelrate/refdata"
	"example.com/wheelrate/units"
)

func TestSplitQuantity(t *testing.T) {
	for text, want := range map[string]string{
		"5 mm": "5|mm", " 5mm ": "5|mm", "-1.5e-3 1/m": "-0.0015|1/m", "+.5 N·m": "0.5|N·m",
		"5": "5|", "1e3": "1000|", "5 e": "5|e", "1e 5": "1|e 5", "2.5\u00a0mm": "2.5|mm",
	} {
		number, unit, ok := refdata.SplitQuantity(text)
		if got := fmt.Sprintf("%v|%s", number, unit); !ok || got != want {
			t.Errorf("%q: %s, %v; want %s", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "mm", "NaN mm", "-", ".", "1e999 mm"} {
		if number, _, ok := refdata.SplitQuantity(text); ok {
			t.Errorf("%q: %v, want none", text, number)
		}
	}
}

// A difference has no zero: degrees count as kelvin, or five ninths of one.
func TestDifference(t *testing.T) {
	for text, want := range map[string]float64{
		"temperature 0.5 °C": 0.5, "temperature 2 degC": 2, "temperature 9 °F": 5, "temperature -18 degF": -10, "temperature 3 K": 3,
		"length 25.4 mm": 0.0254, "stiffness 2 N/mm": 2000, "force 0 N": 0,
	} {
		kind, text, _ := strings.Cut(text, " ")
		q, _ := refdata.QuantityNamed(kind)
		if got, ok := q.Difference(text); !ok || math.Abs(got-want) > 1e-14*math.Abs(want) {
			t.Errorf("%s %s: %v, %v, want %v", kind, text, got, ok, want)
		}
	}
	for _, text := range []string{"length 1 N", "length mm", "temperature 1 mm", "temperature 1", "stress 1e305 MPa"} {
		kind, text, _ := strings.Cut(text, " ")
		q, _ := refdata.QuantityNamed(kind)
		if got, ok := q.Difference(text); ok || got != 0 {
			t.Errorf("%s %s: %v, %v, want none", kind, text, got, ok)
		}
	}
}

// Every kind of the case format is found by its name and by its type, reads what
// has its unit, and refuses other units.
func TestQuantities(t *testing.T) {
	for kind, unit := range map[string]string{
		"length": "mm", "mass": "kg", "force": "N", "stiffness": "N/mm", "gauge_pressure": "psi",
		"absolute_pressure": "psia", "stress": "MPa", "volume": "cm³", "area": "mm²", "torque": "N·m",
		"energy": "J", "temperature": "°C", "angle": "deg", "frequency": "Hz", "density": "kg/m³",
	} {
		q, ok := refdata.QuantityNamed(kind)
		if !ok || q.Kind != kind {
			t.Errorf("%s is not found by its name", kind)
			continue
		}
		if size, ok := q.Difference("1 " + unit); !ok || !(size > 0) {
			t.Errorf("%s: 1 %s is %v, %v", kind, unit, size, ok)
		}
		if _, err := q.Parse("1 parsec/fortnight"); err == nil {
			t.Errorf("%s takes an unknown unit", kind)
		}
	}
	refdata.Quantities()[0].Kind = "spoiled"
	if refdata.Quantities()[0].Kind == "spoiled" {
		t.Error("the list is not the caller's own")
	}
	force, ok := refdata.QuantityOf(reflect.TypeFor[units.Force]())
	if !ok || force.Kind != "force" {
		t.Errorf("the kind of a force is %q, %v", force.Kind, ok)
	}
	v, err := force.Parse("10 lbf")
	if f, is := v.(units.Force); err != nil || !is || f != 10*units.PoundForce {
		t.Errorf("10 lbf is %v, %v", v, err)
	}
	if _, ok := refdata.QuantityOf(reflect.TypeFor[string]()); ok {
		t.Error("a string is a quantity")
	}
	if _, ok := refdata.QuantityNamed("colour"); ok {
		t.Error("colour is a quantity")
	}
}

// A tolerance says whether it is relative, or which quantity it is.
func TestToleranceSaysItsKind(t *testing.T) {
	for want, tolerance := range map[string]refdata.CaseTolerance{
		"relative 1e-09":  {Relative: 1e-9},
		"relative 0.0125": {Relative: 0.0125},
		"relative 0":      {},
		"±0.5 N/mm":       {Absolute: "0.5 N/mm"},
	} {
		if got := tolerance.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A source is one line, with what is not given left out.
func TestSourceIsOneLine(t *testing.T) {
	for want, s := range map[string]refdata.Source{
		"":             {},
		"A handbook":   {Title: "A handbook"},
		"A, 2, p. 7":   {Title: "A", Edition: "2", Where: "p. 7"},
		"A, 2015":      {Title: "A", Year: 2015},
		"A, https://x": {Title: "A", URL: "https://x"},
		"A B, 3, 1999, table 1, https://x": {
			Title: "A\nB", Edition: "3", Year: 1999, Where: "table 1", URL: "https://x",
		},
	} {
		if got := s.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
