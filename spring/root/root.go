package root

import (
	"errors"
	"math"
)

// Why [Find] has no answer.
var (
	// ErrNoBracket: f has the same sign at both ends of the interval.
	ErrNoBracket = errors.New("root: the function does not change sign over the interval")
	// ErrNotFinite: f is NaN, or f or the interval is infinite at an end.
	ErrNotFinite = errors.New("root: the function is not finite")
	// ErrJump: f changes sign by a jump, without ever being 0.
	ErrJump = errors.New("root: the function jumps past 0")
)

// How large |f| may still be, against the larger of its magnitudes at the ends, where the interval has
// closed to tol: above steep it is closed further, and where it still is above jump then, the sign
// change counts as a jump.
const steep, jump = 1e-9, 1e-6

// Find returns an x between lo and hi at which f is 0, to within tol or two units in the last place of
// x, and closer where f is steep. An end at which f is exactly 0 is returned as it is, lo first. F must
// be continuous, and 0 at an end or of different signs at the two; otherwise Find returns
// [ErrNoBracket]. It returns [ErrNotFinite] where f is NaN anywhere it is evaluated, or infinite at lo or
// hi, and [ErrJump], with an x next to the jump, where the interval has closed about a change of sign at
// which |f| is more than a millionth of what it is at the ends. Where f has several roots, one of them
// is returned.
//
// The method is Chandrupatla's (Advances in Engineering Software 28 (1997) 145–149; volume and pages
// from memory): inverse quadratic steps where they are safe, halving where they are not. It uses no
// derivative, so a kink does not disturb it. Smooth functions take about ten evaluations.
func Find(f func(x float64) float64, lo, hi, tol float64) (float64, error) {
	return Refine(f, lo, hi, f(lo), f(hi), tol)
}

// Refine is [Find] where f(lo) and f(hi) are known already: flo and fhi. It does not evaluate them.
func Refine(f func(x float64) float64, lo, hi, flo, fhi, tol float64) (float64, error) {
	switch {
	case !finite(lo) || !finite(hi) || !finite(flo) || !finite(fhi):
		return 0, ErrNotFinite
	case flo == 0:
		return lo, nil
	case fhi == 0:
		return hi, nil
	case math.Signbit(flo) == math.Signbit(fhi):
		return 0, ErrNoBracket
	}
	const eps = 0x1p-52
	a, fa := lo, flo // the newest estimate
	b, fb := hi, fhi // its opposite: f changes sign between a and b
	c, fc := a, fa   // the estimate before
	t := 0.5         // the next estimate, as a fraction of the way from a to b
	closer := false  // whether the interval is closed further than to tol
	// The first step is by the chord: most functions here are nearly straight.
	if chord := fa / (fa - fb); chord > 0 && chord < 1 {
		t = chord
	}
	scale := max(math.Abs(flo), math.Abs(fhi))
	for range 1200 { // halving alone needs about 1 100 steps for the largest float64 interval
		x := a + t*(b-a)
		fx := f(x)
		if math.IsNaN(fx) {
			return 0, ErrNotFinite
		}
		// Signs are compared as signs: a product would underflow.
		if math.Signbit(fx) == math.Signbit(fa) {
			c, fc = a, fa
		} else {
			c, fc, b, fb = b, fb, a, fa
		}
		a, fa = x, fx

		best, fbest := a, fa
		if math.Abs(fb) < math.Abs(fa) {
			best, fbest = b, fb
		}
		if fbest == 0 {
			return best, nil
		}
		near := (2*eps*math.Abs(best) + tol/2) / math.Abs(b-a)
		if !(near <= 0.5) && !closer && math.Abs(fbest)/scale > steep {
			closer, tol = true, tol/1000
			near = (2*eps*math.Abs(best) + tol/2) / math.Abs(b-a)
		}
		if !(near <= 0.5) {
			if math.Abs(fbest)/scale > jump {
				return best, ErrJump
			}
			return best, nil
		}
		// Inverse quadratic interpolation where Chandrupatla's criterion says
		// that it will land inside, halving elsewhere.
		xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
		t = 0.5
		if phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			// Quotients first: their products neither overflow nor underflow.
			t = (fa/(fb-fa))*(fc/(fb-fc)) + ((c-a)/(b-a))*(fa/(fc-fa))*(fb/(fc-fb))
		}
		t = min(max(t, near), 1-near)
		if math.IsNaN(t) {
			t = 0.5
		}
	}
	return 0, ErrNotFinite // not reached
}

// finite reports whether x is neither NaN nor infinite.
func finite(x float64) bool { return x-x == 0 }
