package linkage

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"

	"example.com/wheelrate/units"
)

// WriteCSV writes a header and n lines of a curve at even steps of the stroke:
// stroke and travel in mm, lever ratio, and its slope in 1/m, each with as many
// digits as identify the float64. An n below 2 counts as 2. [ReadCSV] reads the
// table back if n is at most 1000.
func WriteCSV(w io.Writer, c *Curve, n int) error {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	lines := [][]string{{"stroke (mm)", "travel (mm)", "lever ratio", "lever ratio slope (1/m)"}}
	for s := range c.Samples(max(n, 2)) {
		lines = append(lines, []string{
			number(float64(s.Stroke / units.Millimetre)), number(float64(s.Travel / units.Millimetre)),
			number(s.LeverRatio), number(float64(s.LeverRatioSlope)),
		})
	}
	if err := csv.NewWriter(w).WriteAll(lines); err != nil {
		return fmt.Errorf("linkage: writing a table: %w", err)
	}
	return nil
}

// Table returns n points of a curve at even steps of its stroke. An n below 2 counts as 2.
// With the method [Smooth] and about a point per millimetre, the curve of the table is
// within 0.0001 mm of travel and 0.0001 of lever ratio for usual linkages.
func (c *Curve) Table(n int, method Method) Table {
	t := Table{Method: method}
	for s := range c.Samples(max(n, 2)) {
		t.Stroke, t.Travel = append(t.Stroke, s.Stroke), append(t.Travel, s.Travel)
	}
	return t
}

// Positions are readings of the shock's length, eye to eye, and of the axle's height above
// the floor, from which strokes and travels follow. The first is at full extension, the
// next ones with the wheel lifted step by step, the shock removed or its spring unloaded.
//
// Support the bike so that it can't fall. A shock under air pressure or a compressed spring
// can injure: release it as the shock's manual says before removing anything.
type Positions struct {
	ShockLength []units.Length `json:"shock_length"` // falling strictly
	AxleHeight  []units.Length `json:"axle_height"`  // rising strictly
}

// Readings returns the strokes and travels: by how much the shock is shorter and the axle
// higher than at full extension. Both lists must have 2 to 1000 values, shock lengths from
// 1 µm to 1 km, axle heights from −1 km to 1 km. The error names every bad value. The strokes and
// travels are checked by [FitReadings].
//
// The error of the first reading is part of every stroke and travel, so read it twice.
func (p Positions) Readings() (Table, error) {
	c := units.Checker{Package: "linkage"}
	check := func(name string, column []units.Length, least units.Length) {
		if n := len(column); n < 2 || n > maxPoints {
			c.Fail(name, n, fmt.Sprintf("from 2 to %d values", maxPoints), nil)
			return
		}
		for i, v := range column {
			units.Between(&c, fmt.Sprintf("%s[%d]", name, i), v, least, maxLength)
		}
	}
	check("shock_length", p.ShockLength, minLength)
	check("axle_height", p.AxleHeight, -maxLength)
	if c.OK() && len(p.AxleHeight) != len(p.ShockLength) {
		c.Fail("axle_height", len(p.AxleHeight), fmt.Sprintf("as many values as shock_length has, %d", len(p.ShockLength)), units.ErrConflict)
	}
	if err := c.Err(); err != nil {
		return Table{}, err
	}
	r := Table{Stroke: slices.Clone(p.ShockLength), Travel: slices.Clone(p.AxleHeight), Method: Measured}
	for i := range r.Stroke {
		r.Stroke[i] = p.ShockLength[0] - p.ShockLength[i]
		r.Travel[i] = p.AxleHeight[i] - p.AxleHeight[0]
	}
	return r, nil
}
