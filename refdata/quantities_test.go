package refdata_test

import (
	"fmt"
	"testing"

	"example.com/wheelrate/refdata"
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

// The kinds' names are those of the case format, and each has a unit.
func TestQuantities(t *testing.T) {
	for kind, unit := range map[string]string{
		"length": "mm", "mass": "kg", "force": "N", "stiffness": "N/mm", "gauge_pressure": "psi",
		"absolute_pressure": "psia", "stress": "MPa", "volume": "cm³", "area": "mm²", "torque": "N·m",
		"energy": "J", "temperature": "°C", "angle": "deg", "frequency": "Hz", "density": "kg/m³",
	} {
		q, known := refdata.QuantityNamed(kind)
		if !known {
			t.Errorf("kind %s is missing", kind)
			continue
		}
		if size, ok := q.Difference("1 " + unit); !ok || !(size > 0) {
			t.Errorf("%s: 1 %s is %v, %v", kind, unit, size, ok)
		}
	}
}
