package smooth

import (
	"math"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

func TestLastDigit(t *testing.T) {
	for _, test := range []struct {
		table linkage.Table
		want  units.Length
	}{
		{linkage.Table{Travel: []units.Length{0, 14.6 * units.Millimetre, 29 * units.Millimetre}}, 0.1 * units.Millimetre},
		{linkage.Table{Travel: []units.Length{0, 14 * units.Millimetre}}, units.Millimetre},
		{linkage.Table{Travel: []units.Length{0, 0.8 * units.Inch, 1.15 * units.Inch}}, 0.01 * units.Inch},
		{linkage.Table{Travel: []units.Length{0, 14.6054 * units.Millimetre}}, 0},
		{linkage.Table{Travel: []units.Length{0, 14}, LeverRatio: []float64{1, 2}}, 0},
	} {
		if got := lastDigit(&test.table); math.Abs(float64(got-test.want)) > 1e-15 {
			t.Errorf("%v: %v, want %v", test.table.Travel, got, test.want)
		}
	}
}
