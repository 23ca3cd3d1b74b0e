package calibration

import (
	"math"
	"math/cmplx"
)

// Shape is the force of a spring per absolute fill, with that of the ambient added, as a function of the
// stroke,
//
//	Φ(s) = (m₀ + m₁·s)/(n₀ + n₁·s + n₂·s²)
//
// in SI units. Without a negative chamber m₀ = 1 and m₁ = n₂ = 0. With one m₁ = 1, n₂ < 0, and
// m₀ = −s₀, where s₀ is the zero of Φ.
type Shape struct {
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

func (p *Shape) belowSlope(s float64) float64 { return p.below[1] + 2*s*p.below[2] }

// Phi returns Φ at a stroke.
func (p *Shape) Phi(s float64) float64 { return (p.constant + p.linear*s) / polynomial(p.below, s) }

// Slope returns dΦ/ds at a stroke.
func (p *Shape) Slope(s float64) float64 {
	return (p.linear - p.Phi(s)*p.belowSlope(s)) / polynomial(p.below, s)
}

// slopes returns the first two derivatives of Φ.
func (p *Shape) slopes(s float64) (first, second float64) {
	first = p.Slope(s)
	return first, -2 * (first*p.belowSlope(s) + p.Phi(s)*p.below[2]) / polynomial(p.below, s)
}

// gradients returns the derivatives by the coefficients of Φ, and of its slope.
func (p *Shape) gradients(s float64) (value, slope [coefficients]float64) {
	n, steep, phi := polynomial(p.below, s), p.belowSlope(s), p.Phi(s)
	rate := p.Slope(s)
	value[constantAt], slope[constantAt] = 1/n, -steep/n/n
	power, before := 1.0, 0.0 // sʲ and j·sʲ⁻¹
	for j := range p.below {
		value[belowAt+j] = -phi * power / n
		slope[belowAt+j] = -(rate*power + phi*before - phi*power*steep/n) / n
		power, before = power*s, float64(j+1)*power
	}
	return value, slope
}

// Stroke returns the one at which the shape has a Φ of more than 0: the greater root of Φ·N(s) − M(s).
func (p *Shape) Stroke(phi float64) float64 {
	a, b, d := phi*p.below[2], phi*p.below[1]-p.linear, phi*p.below[0]-p.constant
	root := math.Sqrt(max(b*b-4*a*d, 0))
	if b > 0 {
		return (b + root) / (-2 * a)
	}
	return 2 * d / (root - b)
}

// Integral returns that of Φ from 0 to s, where Φ = a/(h − s) − b/(k + s).
func (p *Shape) Integral(s float64) float64 {
	if p.linear == 0 {
		return math.Log1p(s*p.below[1]/p.below[0]) / p.below[1]
	}
	h, k, root := p.roots()
	return ((p.constant-k*p.linear)*math.Log1p(s/k) - (p.constant+h*p.linear)*math.Log1p(-s/h)) / root
}

// Length returns the stroke at which the positive chamber would have no volume left.
func (p *Shape) Length() float64 {
	if p.linear == 0 {
		return -p.below[0] / p.below[1]
	}
	h, _, _ := p.roots()
	return h
}

func (p *Shape) roots() (h, k, root float64) {
	x, y, z := roots([3]complex128{complex(p.below[0], 0), complex(p.below[1], 0), complex(p.below[2], 0)})
	return real(x), real(y), real(z)
}

// roots returns h and k of N = −n₂·(h − s)·(k + s), and −n₂·(h + k), its slope at −k.
func roots(n [3]complex128) (h, k, root complex128) {
	root = cmplx.Sqrt(n[1]*n[1] - 4*n[2]*n[0])
	if real(n[1]) > 0 {
		return (n[1] + root) / (-2 * n[2]), 2 * n[0] / (n[1] + root), root
	}
	return 2 * n[0] / (root - n[1]), (root - n[1]) / (-2 * n[2]), root
}
