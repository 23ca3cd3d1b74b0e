package main

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// drawn is an end as its pictures show it.
type drawn struct {
	sag.End
	note string // what the pictures show otherwise than the sheet; empty for nothing
}

// drawnOf returns an end for its pictures. A curve through every point of a table has the table's
// rounding in it, which a rate shows as waves: where a smooth curve meets every point to within the
// rounding, that is drawn.
func drawnOf(e setup.SheetEnd, spec linkage.Spec) drawn {
	d := drawn{End: e.End()}
	if spec.Table == nil || spec.Table.Method == linkage.Measured {
		return d
	}
	unit := lastDigit(spec.Table)
	if unit == 0 {
		return d
	}
	table := *spec.Table
	table.Method = linkage.Measured
	near, err := linkage.FitReadings(table)
	if err != nil || near.Curve.Stroke() != e.Stroke {
		return d
	}
	for i, w := range table.Travel {
		if off := near.Curve.TravelAt(table.Stroke[i]) - w; !(math.Abs(float64(off)) <= float64(unit)) {
			return d
		}
	}
	d.Curve = near.Curve
	d.note = fmt.Sprintf("Drawn from a smooth curve that gives the table's travels to within their last digit, %s.", unit.String())
	return d
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
