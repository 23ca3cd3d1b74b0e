package coil_test

import (
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// A shelf of a thousand springs is looked through, a longer one is refused as a
// whole, whatever is on it.
func TestIdentifyIsBounded(t *testing.T) {
	shelf := make([]coil.Nominal, 1000)
	for i := range shelf {
		shelf[i] = coil.Nominal{Rate: units.Stiffness(70e3 + 10*float64(i)), Tolerance: 0.03}
	}
	if list, err := coil.Identify(75e3, 500, shelf); err != nil || len(list) != len(shelf) {
		t.Errorf("%d candidates, %v", len(list), err)
	}
	_, err := coil.Identify(75e3, 500, append(shelf, make([]coil.Nominal, 100_000)...))
	if f := units.Fields(err); len(f) != 1 || f[0].Field != "shelf" || f[0].Class != units.ErrRange {
		t.Errorf("a longer one: %.200v", err)
	}
}
