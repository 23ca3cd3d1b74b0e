package linkage

import (
	"math"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/units"
)

// ConstantRatio describes a linkage whose lever ratio does not change, or of which only
// the full travel and the mean ratio are known.
type ConstantRatio struct {
	Ratio  float64      `json:"constant"` // lever ratio, wheel travel over stroke, 0.001 to 1000
	Travel units.Length `json:"travel"`   // full vertical wheel travel, 1 µm to 1 km
}

// NewConstant returns the curve w = LR·s of a constant lever ratio LR, over
// the stroke Travel/LR. The error names every field out of its range.
//
// The ratio of a real linkage is seldom constant. With the mean ratio, full travel
// over full stroke, the travel is right at both ends, and the force is approximate.
func NewConstant(spec ConstantRatio) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	units.Between(&c, "constant", spec.Ratio, minRatio, maxRatio)
	units.Between(&c, "travel", spec.Travel, minLength, maxLength)
	if err := c.Err(); err != nil {
		return nil, err
	}
	travel := float64(spec.Travel)
	return newCurve([]piece{{end: travel / spec.Ratio, top: travel, Quintic: hermite.Quintic{0, spec.Ratio}}}), nil
}

// Fork describes a telescopic fork.
type Fork struct {
	// HeadAngle is the angle of the steering axis, and so of the stanchions, from
	// the horizontal: more than 30°, at most 90°. The lower limit refuses an angle
	// taken from the vertical, such as 26° for 64°.
	HeadAngle units.Angle `json:"head_angle"`
	// Travel is the full travel along the stanchions, 1 µm to 1 km.
	Travel units.Length `json:"travel"`
}

// NewFork returns the curve of a fork that slides at the head angle φ:
//
//	w = s·sin φ,  LR = sin φ
//
// with the front triangle held still. The spring carries the wheel load times
// sin φ, and the wheel's vertical travel is shorter than the travel along the
// stanchions. The error names every field out of its range.
//
// Not modelled: the friction caused by bending of the fork, its flex, and the
// change of the head angle as the bike pitches.
func NewFork(spec Fork) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	if !(spec.HeadAngle > 30*units.Degree && spec.HeadAngle <= 90*units.Degree) {
		c.Fail("head_angle", spec.HeadAngle, units.MoreThan(30*units.Degree).And(units.AtMost(90*units.Degree)).With("from the horizontal"), nil)
	}
	units.Between(&c, "travel", spec.Travel, minLength, maxLength)
	if err := c.Err(); err != nil {
		return nil, err
	}
	stroke := float64(spec.Travel)
	up, back := math.Sincos(float64(spec.HeadAngle))
	curve := newCurve([]piece{{end: stroke, top: stroke * up, Quintic: hermite.Quintic{0, up}, forward: hermite.Quintic{0, -back}}})
	curve.headAngle = spec.HeadAngle
	return curve, nil
}
