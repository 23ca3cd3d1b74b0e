package linkage

import (
	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/units"
)

// ConstantRatio describes a linkage whose lever ratio does not change, or one known
// by its two figures on paper alone.
type ConstantRatio struct {
	Ratio  float64      `json:"constant"` // lever ratio, wheel travel over stroke; 0.001 to 1000
	Travel units.Length `json:"travel"`   // full vertical wheel travel, 1 µm to 1 km
}

// NewConstant returns the curve w = LR·s of a constant lever ratio LR, over
// the stroke Travel/LR. The error names every field out of its range.
//
// Real linkages are seldom constant. A mean ratio, travel over stroke, gives
// the right travel at both ends and the wrong force in between.
func NewConstant(spec ConstantRatio) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	units.Between(&c, "constant", spec.Ratio, minRatio, maxRatio)
	units.Between(&c, "travel", spec.Travel, minLength, maxLength)
	if err := c.Err(); err != nil {
		return nil, err
	}
	travel := float64(spec.Travel)
	return newCurve([]piece{{Quintic: hermite.Quintic{0, spec.Ratio}}}, travel/spec.Ratio, travel), nil
}
