package airspring

import (
	"math"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// shape is the force of a spring per absolute fill, with that of the ambient added, as a function of the
// stroke,
//
//	Φ(s) = (m₀ + m₁·s)/(n₀ + n₁·s + n₂·s²)
//
// in SI units. Without a negative chamber m₀ = 1 and m₁ = n₂ = 0. With one m₁ = 1, n₂ < 0, and
// m₀ = −s₀, where s₀ is the zero of Φ.
type shape struct {
	constant, linear float64    // m₀ and m₁
	below            [3]float64 // n₀, n₁, n₂
}

// The coefficients of a shape that are sought, by their index: m₀ and those below.
const (
	constantAt   = 0
	belowAt      = 1
	coefficients = 4
)

func polynomial(c [3]float64, s float64) float64 { return c[0] + s*(c[1]+s*c[2]) }

func (p *shape) belowSlope(s float64) float64 { return p.below[1] + 2*s*p.below[2] }

func (p *shape) phi(s float64) float64 { return (p.constant + p.linear*s) / polynomial(p.below, s) }

// slopes returns the first two derivatives of Φ.
func (p *shape) slopes(s float64) (first, second float64) {
	n, slope, phi := polynomial(p.below, s), p.belowSlope(s), p.phi(s)
	first = (p.linear - phi*slope) / n
	return first, -2 * (first*slope + phi*p.below[2]) / n
}

// gradients returns the derivatives by the coefficients of Φ, and of its slope.
func (p *shape) gradients(s float64) (value, slope [coefficients]float64) {
	n, steep, phi := polynomial(p.below, s), p.belowSlope(s), p.phi(s)
	rate, _ := p.slopes(s)
	value[constantAt], slope[constantAt] = 1/n, -steep/n/n
	power, before := 1.0, 0.0 // sʲ and j·sʲ⁻¹
	for j := range p.below {
		value[belowAt+j] = -phi * power / n
		slope[belowAt+j] = -(rate*power + phi*before - phi*power*steep/n) / n
		power, before = power*s, float64(j+1)*power
	}
	return value, slope
}

// stroke returns the one at which the shape has a Φ of more than 0: the greater root of Φ·N(s) − M(s).
func (p *shape) stroke(phi float64) float64 {
	a, b, d := phi*p.below[2], phi*p.below[1]-p.linear, phi*p.below[0]-p.constant
	root := math.Sqrt(max(b*b-4*a*d, 0))
	if b > 0 {
		return (b + root) / (-2 * a)
	}
	return 2 * d / (root - b)
}

// parts are those of Φ = a/(h − s) − b/(k + s). Without a negative chamber b and k are 0.
type parts struct{ a, h, b, k float64 }

func (p *shape) parts() parts {
	n := p.below
	if p.linear == 0 {
		return parts{a: -1 / n[1], h: -n[0] / n[1]}
	}
	// N = −n₂·(h − s)·(k + s)
	root := math.Sqrt(n[1]*n[1] - 4*n[2]*n[0])
	var h, k float64
	if n[1] > 0 {
		h = (n[1] + root) / (-2 * n[2])
		k = 2 * n[0] / (n[1] + root)
	} else {
		h = 2 * n[0] / (root - n[1])
		k = (root - n[1]) / (-2 * n[2])
	}
	zero, whole := -p.constant, -n[2]*(h+k)
	return parts{a: (h - zero) / whole, h: h, b: (k + zero) / whole, k: k}
}

// integral returns that of Φ from 0 to s.
func (p *parts) integral(s float64) float64 {
	v := -p.a * math.Log1p(-s/p.h)
	if p.b > 0 {
		v -= p.b * math.Log1p(s/p.k)
	}
	return v
}

// calibrated is the law of a calibration with a fill.
type calibrated struct {
	shape    shape
	parts    parts
	absolute float64 // fill
	outside  float64
	travel   units.Length
}

func (l *calibrated) clamp(x units.Length) float64 { return float64(spring.Clamp(x, l.travel)) }

// Force, Rate, Energy and Travel are the methods of a [spring.Law].
func (l *calibrated) Force(x units.Length) units.Force {
	return units.Force(l.absolute*l.shape.phi(l.clamp(x)) - l.outside)
}

func (l *calibrated) Rate(x units.Length) units.Stiffness {
	slope, _ := l.shape.slopes(l.clamp(x))
	return units.Stiffness(l.absolute * slope)
}

func (l *calibrated) Energy(x units.Length) units.Energy {
	at := l.clamp(x)
	return units.Energy(l.absolute*l.parts.integral(at) - l.outside*at)
}

func (l *calibrated) Travel() units.Length { return l.travel }
