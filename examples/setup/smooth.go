package main

import (
	"fmt"

	"example.com/wheelrate/examples/internal/smooth"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/setup"
)

// drawn is an end as its pictures show it.
type drawn struct {
	sag.End
	note string // what the pictures show otherwise than the sheet; empty for nothing
}

// drawnOf returns an end for its pictures: where a smooth curve meets a table's points to within
// their rounding, that is drawn.
func drawnOf(e setup.SheetEnd, spec linkage.Spec) drawn {
	d := drawn{End: e.End()}
	if curve, unit := smooth.Curve(spec.Table); curve != nil && curve.Stroke() == e.Stroke {
		d.Curve = curve
		d.note = fmt.Sprintf("Drawn from a smooth curve that gives the table's travels to within their last digit, %s.", unit.String())
	}
	return d
}
