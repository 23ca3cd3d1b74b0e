package sag

import (
	"math"

	"example.com/wheelrate/units"
)

// DampingFor returns the damping coefficient of a wheel for a ratio ζ of critical damping,
// 2ζ√(k·m), with k the wheel rate in N/m and m = load/g₀ the mass whose weight in N is load. At a
// ratio of 1 a wheel that is let go returns as fast as it can without overshoot. The coefficient is
// 0 if any of the three is not finite and more than 0.
//
// The ratio that suits a bike is the user's to state.
func DampingFor(ratio float64, wheelRate units.Stiffness, load units.Force) units.Damping {
	c := 2 * ratio * math.Sqrt(float64(wheelRate)) * math.Sqrt(float64(load)/units.StandardGravity)
	if !(c > 0 && c < math.MaxFloat64) { // NaN where there is no root
		return 0
	}
	return units.Damping(c)
}

// DampingRatio returns a damping coefficient of a wheel over critical damping, c/(2√(k·m)), as in
// [DampingFor]; 0 where that is 0.
func DampingRatio(c units.Damping, wheelRate units.Stiffness, load units.Force) float64 {
	if r := float64(c / DampingFor(1, wheelRate, load)); r > 0 && r < math.MaxFloat64 {
		return r
	}
	return 0
}

// DampingAtShock returns the coefficient at a shock that damps the wheel by c, with the lever ratio
// dw/ds there: c·LR². By virtual work F_w = F_s/LR, and the shock is LR times slower than the
// wheel.
func DampingAtShock(c units.Damping, leverRatio float64) units.Damping {
	return c * units.Damping(leverRatio*leverRatio)
}
