// Package smooth tells the rounding of a table of readings from what the table says.
package smooth

import (
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// Curve returns a smooth curve that gives every travel of a table to within the unit of its last
// digit, and that unit. A curve through every point has the table's rounding in it, which a rate
// shows as waves. It returns nil and 0 where no smooth curve comes so near, where the table's
// method is smooth already, and where its travels show no rounding.
func Curve(t *linkage.Table) (*linkage.Curve, units.Length) {
	if t == nil || t.Method == linkage.Measured {
		return nil, 0
	}
	unit := lastDigit(t)
	if unit == 0 {
		return nil, 0
	}
	table := *t
	table.Method = linkage.Measured
	near, err := linkage.FitReadings(table)
	if err != nil {
		return nil, 0
	}
	for i, w := range table.Travel {
		if off := near.Curve.TravelAt(table.Stroke[i]) - w; !(math.Abs(float64(off)) <= float64(unit)) {
			return nil, 0
		}
	}
	return near.Curve, unit
}

// lastDigit returns the unit of the last digit of a table's travels, the largest decimal part of a
// millimetre or of an inch that all of them are whole numbers of. It is 0 where that is less than
// a thousandth, and for a table without travels.
func lastDigit(t *linkage.Table) units.Length {
	if len(t.LeverRatio) > 0 {
		return 0
	}
	for _, part := range []float64{1, 0.1, 0.01, 0.001} {
		for _, of := range []units.Length{units.Inch, units.Millimetre} {
			unit, whole := units.Length(part)*of, true
			for _, w := range t.Travel {
				n := float64(w / unit)
				whole = whole && math.Abs(n-math.Round(n)) < 1e-6
			}
			if whole {
				return unit
			}
		}
	}
	return 0
}
