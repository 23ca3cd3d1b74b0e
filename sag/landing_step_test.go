package sag

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
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

// fallOnAir falls on an invented air shock behind a constant ratio of 2.5.
func fallOnAir(t *testing.T) fall {
	t.Helper()
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15})
	require.NoError(t, err)
	law, err := airspring.New(airspring.Spec{Bore: 0.045, Travel: 0.06, PositiveVolume: 190e-6, Ambient: 98e3, Exponent: 1.4, Fill: 900e3})
	require.NoError(t, err)
	return fall{wheel: atWheel(curve, law), load: 600, damping: 700}
}

// The method is of order 5, and its error that of one of order 4: where the
// equation bends too, a step of half the length is at least 2⁶ times as
// near, and its error 2⁵ times as small. So is the work c·∫v² dt.
func TestLandingStepHasItsOrder(t *testing.T) {
	f := fallOnAir(t)
	at := motion{0.06, 1.1, 0}
	exact := func(h float64) motion {
		y := at
		for range 64 {
			y, _ = f.step(y, h/64)
		}
		return y
	}
	components := func(m motion) [3]float64 { return [3]float64{m.travel, m.speed, m.work} }
	inf := math.Inf(1)
	for i, scale := range []motion{{1, inf, inf}, {inf, 1, inf}, {inf, inf, 1}} {
		f.scale = scale
		var apart, off [2]float64
		for j, h := range []float64{0.008, 0.004} {
			var y motion
			y, off[j] = f.step(at, h)
			apart[j] = math.Abs(components(y)[i] - components(exact(h))[i])
		}
		if order := math.Log2(apart[0] / apart[1]); !(order > 5.5) {
			t.Errorf("component %d: order %.2f of one step, %v", i, order, apart)
		}
		if order := math.Log2(off[0] / off[1]); !(order > 4.5 && order < 5.7) {
			t.Errorf("component %d: order %.2f of its error, %v", i, order, off)
		}
	}
}

// The error of a step is a size, of travel, speed and work alike, whichever way it goes.
func TestLandingStepErrorIsASize(t *testing.T) {
	f := fallOnAir(t)
	inf := math.Inf(1)
	for _, scale := range []motion{{1, inf, inf}, {inf, 1, inf}, {inf, inf, 1}} {
		f.scale = scale
		for _, at := range []motion{{0.01, 3, 0}, {0.06, 1.1, 0}, {0.1, 0.2, 0}, {0.1, -1, 0}, {0.14, 2, 0}, {0.14, -2, 0}, {0.12, 0, 0}, {0.001, -1, 0}} {
			if _, off := f.step(at, 0.004); !(off > 0) {
				t.Errorf("%+v of %+v: an error of %v", at, scale, off)
			}
		}
	}
}
