// Package root finds a root of a function of one variable: an x at which f(x) is 0. It is the only root
// finder of this module.
//
// Picture a curve that is below the axis at one end of an interval and above it at the other: it crosses
// the axis between them. [Find] returns where.
//
// Not modelled: several unknowns, roots without a change of sign, all the roots of a function.
package root

import (
	"errors"
	"math"
)

// Errors that [Find] and [Refine] return.
var (
	// ErrNoBracket reports that f has the same sign at both ends of the interval.
	ErrNoBracket = errors.New("root: the function does not change sign over the interval")
	// ErrNotFinite reports that f is NaN, or that an end of the interval or f at an end is infinite.
	ErrNotFinite = errors.New("root: the function is not finite")
	// ErrJump reports that f changes sign by a jump, without being 0.
	ErrJump = errors.New("root: the function jumps past 0")
)

// Bounds of |f| where the interval has closed to tol, as fractions of the larger |f| at the ends. Above
// steep the interval is closed further, to tol/1000. Above jump the change of sign counts as a jump.
const steep, jump = 1e-9, 1e-6

// Find returns a root of f between lo and hi: an x whose distance from a change of sign of f is at most
// tol + 4ε·|x|, where ε is 2⁻⁵². Tol is in the unit of x; less than 0 counts as 0. Where |f(x)| would be
// more than 1e-9 of the larger |f| at the ends, tol/1000 stands for tol. Lo may be above hi. An end at
// which f is 0 is returned as it is, lo first. Where f has several roots, one of them is returned.
//
// F must be continuous between lo and hi. Find returns 0 and [ErrNoBracket] if f has the same sign at
// both ends, 0 and [ErrNotFinite] if lo or hi is NaN or infinite, if f is NaN at any x it is evaluated
// at, or if f is infinite at lo or hi. It returns [ErrJump], and an x next to the jump, if |f| at the
// change of sign is more than 1e-6 of the larger |f| at the ends.
//
// The method is Chandrupatla's (Advances in Engineering Software 28 (1997) 145–149; volume and pages
// from memory): inverse quadratic steps where they are safe, halving where they are not. It uses no
// derivative, so f may have kinks. Smooth functions take about ten evaluations.
func Find(f func(x float64) float64, lo, hi, tol float64) (float64, error) {
	return Refine(f, lo, hi, f(lo), f(hi), tol)
}

// Refine is [Find] for known values flo = f(lo) and fhi = f(hi). It does not evaluate f at lo or hi.
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
	tol = max(tol, 0)
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
		// The least step, as a fraction of the interval.
		least := func() float64 { return (2*eps*math.Abs(best) + tol/2) / math.Abs(b-a) }
		near := least()
		if !(near <= 0.5) && !closer && math.Abs(fbest)/scale > steep {
			closer, tol = true, tol/1000
			near = least()
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
	}
	return 0, ErrNotFinite // not reached
}

// finite reports whether x is neither NaN nor infinite.
func finite(x float64) bool { return x-x == 0 }
