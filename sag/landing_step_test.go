package sag

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units/unitstest"
)

// One step of Dormand and Prince's method over a linear equation y′ = M·y is the
// polynomial R(hM) of M, and its error R − R̂, with
//
//	R(z)     = 1 + z + z²/2 + z³/6 + z⁴/24 + z⁵/120 + z⁶/600
//	R − R̂(z) = −97/120000·z⁵ + 13/40000·z⁶ − z⁷/24000
//
// The first is in textbooks (from memory); both come out of the published
// coefficients in exact fractions too.
func TestLandingStepIsDormandPrince(t *testing.T) {
	const load, k, damping, full, h = 490.3325, 12e3, 900.0, 0.3, 0.013 // 50 kg
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: full})
	require.NoError(t, err)
	law, err := spring.NewLinear(spring.Linear{Rate: k, Travel: full})
	require.NoError(t, err)
	f := fall{wheel: atWheel(curve, law), load: load, damping: damping}
	at := motion{0.11, 1.7, 3}
	// About its rest: x′ = v, v′ = −k/m·x − c/m·v.
	x, v := at.travel-load/k, at.speed
	poly := func(factors ...float64) (px, pv float64) {
		a, b := x, v
		for _, c := range factors {
			px, pv = px+c*a, pv+c*b
			a, b = h*b, h*(-k/50*a-damping/50*b)
		}
		return px, pv
	}
	near := func(what string, got, want, rel float64) {
		t.Helper()
		unitstest.Near(t, what, got, want, unitstest.Rel(rel))
	}
	px, pv := poly(1, 1, 1./2, 1./6, 1./24, 1./120, 1./600)
	ex, ev := poly(0, 0, 0, 0, 0, -97./120000, 13./40000, -1./24000)
	f.scale = motion{1e-3, math.Inf(1), math.Inf(1)}
	next, off := f.step(at, h)
	near("travel", next.travel-load/k, px, 1e-12)
	near("speed", next.speed, pv, 1e-12)
	near("error of travel", off, math.Abs(ex)/1e-3/1e-11, 1e-7)
	f.scale = motion{math.Inf(1), 2, math.Inf(1)}
	_, off = f.step(at, h)
	near("error of speed", off, math.Abs(ev)/2/1e-11, 1e-7)
}
