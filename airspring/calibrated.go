package airspring

import (
	"example.com/wheelrate/airspring/internal/calibration"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// calibrated is the law of a calibration with a fill.
type calibrated struct {
	shape    calibration.Shape
	absolute float64 // fill
	outside  float64
	travel   units.Length
}

func (l *calibrated) clamp(x units.Length) float64 { return float64(spring.Clamp(x, l.travel)) }

// Force, Rate, Energy and Travel are the methods of a [spring.Law].
func (l *calibrated) Force(x units.Length) units.Force {
	return units.Force(l.absolute*l.shape.Phi(l.clamp(x)) - l.outside)
}

func (l *calibrated) Rate(x units.Length) units.Stiffness {
	return units.Stiffness(l.absolute * l.shape.Slope(l.clamp(x)))
}

func (l *calibrated) Energy(x units.Length) units.Energy {
	at := l.clamp(x)
	return units.Energy(l.absolute*l.shape.Integral(at) - l.outside*at)
}

func (l *calibrated) Travel() units.Length { return l.travel }
