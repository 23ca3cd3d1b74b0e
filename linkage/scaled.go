package linkage

import (
	"slices"

	"example.com/wheelrate/units"
)

// Scaled returns the curve with travel and lever ratio times a factor, over the
// same stroke.
func (c *Curve) Scaled(factor float64) (*Curve, error) {
	k := units.Checker{Package: "linkage"}
	units.Positive(&k, "factor", factor)
	if err := k.Err(); err != nil {
		return nil, err
	}
	pieces := slices.Clone(c.pieces)
	for i := range pieces {
		for j := range pieces[i].c {
			pieces[i].c[j] *= factor
		}
	}
	return newCurve(pieces, c.stroke, c.travel*factor), nil
}
