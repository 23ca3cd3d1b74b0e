package linkage

import (
	"math"

	"example.com/wheelrate/linkage/internal/hermite"
	"example.com/wheelrate/units"
)

// Fork describes a telescopic fork.
type Fork struct {
	// HeadAngle is the angle of the steering axis, and of the stanchions, from
	// the horizontal: more than 30°, at most 90°. The lower limit catches the
	// angle from the vertical that others call rake.
	HeadAngle units.Angle `json:"head_angle"`
	// Travel is the full travel along the stanchions, 1 µm to 1 km.
	Travel units.Length `json:"travel"`
}

// minHeadAngle is less than any fork has, and more than any rake.
const minHeadAngle = 30 * units.Degree

// NewFork returns the curve of a fork that slides at the head angle φ:
//
//	w = s·sin φ,  LR = sin φ
//
// with the front triangle held still. So the spring carries the wheel load
// times sin φ, and the wheel's vertical travel is shorter than the travel
// along the stanchions. The error names every field out of its range.
//
// Not modelled: the friction that the bending load of a fork causes, its
// flex, and the head angle changing as the bike pitches.
func NewFork(spec Fork) (*Curve, error) {
	c := units.Checker{Package: "linkage"}
	if !(spec.HeadAngle > minHeadAngle && spec.HeadAngle <= 90*units.Degree) {
		c.Fail("head_angle", spec.HeadAngle, "more than 30° and at most 90°, from the horizontal", nil)
	}
	units.Between(&c, "travel", spec.Travel, minLength, maxLength)
	if err := c.Err(); err != nil {
		return nil, err
	}
	stroke, ratio := float64(spec.Travel), math.Sin(float64(spec.HeadAngle))
	return newCurve([]piece{{Quintic: hermite.Quintic{0, ratio}}}, stroke, stroke*ratio), nil
}
