package mechanism

import "math"

// Points and vectors are complex numbers, x + iy. These are the few operations
// that package math/cmplx has not, or makes slow by its care for overflow.

func unit(angle float64) complex128 {
	sin, cos := math.Sincos(angle)
	return complex(cos, sin)
}

func abs(z complex128) float64      { return math.Sqrt(dot(z, z)) }
func dot(a, b complex128) float64   { return real(a)*real(b) + imag(a)*imag(b) }
func cross(a, b complex128) float64 { return real(a)*imag(b) - imag(a)*real(b) }

func turn(a complex128) complex128             { return complex(-imag(a), real(a)) } // by a quarter turn
func scale(f float64, a complex128) complex128 { return complex(f*real(a), f*imag(a)) }
