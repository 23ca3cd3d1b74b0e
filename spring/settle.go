package spring

import (
	"errors"
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// Why a law has no rest position under a load.
var (
	// ErrToppedOut: the spring already pushes harder than the load at full
	// extension; the top-out stop carries the difference.
	ErrToppedOut = errors.New("spring: topped out: the load is less than the force at full extension")
	// ErrBottomedOut: the load is more than the spring's force at full travel.
	ErrBottomedOut = errors.New("spring: bottomed out: the load is more than the force at full travel")
	// ErrLaw: the law is none: it has no travel, or answers NaN or an infinity.
	ErrLaw = errors.New("spring: not a force-travel law")
	// ErrJump: the force jumps past the load without ever being equal to it.
	// It is an [ErrLaw] too, for a law's force is continuous.
	ErrJump = fmt.Errorf("%w: its force jumps past the load", ErrLaw)
)

// settleTolerance is how near Settle comes to the rest position, as a
// fraction of the travel.
const settleTolerance = 1e-13

// Settle returns the travel in m at which a law carries a load in N, so that
// law.Force(x) = load. The load must be finite. A load below the force at full
// extension gives [ErrToppedOut], one above that at full travel
// [ErrBottomedOut]; a load equal to either gives that end exactly. A nil law,
// one without travel, and one that answers with NaN or an infinity give
// [ErrLaw]; one that jumps past the load gives [ErrJump], unless it jumps by
// less than a millionth of the law's range of force.
//
// This is the one place where a law is inverted: Chandrupatla's bracketing
// method (Advances in Engineering Software 28 (1997) 145–149; volume and pages
// from memory), which takes inverse quadratic steps where they are safe and
// halves the interval where they are not. It needs no rate, so a kink does not
// disturb it. Where the force does not rise strictly, one of the travels that
// carry the load is returned.
func Settle(law Law, load units.Force) (units.Length, error) {
	if law == nil {
		return 0, ErrLaw
	}
	if math.IsNaN(float64(load)) || math.IsInf(float64(load), 0) {
		c := units.Checker{Package: "spring"}
		units.Finite(&c, "load", load)
		return 0, c.Err()
	}
	travel := float64(law.Travel())
	if !(travel > 0) || math.IsInf(travel, 0) {
		return 0, ErrLaw
	}
	excess := func(x float64) float64 { return float64(law.Force(units.Length(x)) - load) }
	low, high := excess(0), excess(travel)
	switch {
	case math.IsNaN(low) || math.IsNaN(high) || math.IsInf(low, 0) || math.IsInf(high, 0):
		return 0, ErrLaw
	case low == 0:
		return 0, nil
	case high == 0:
		return units.Length(travel), nil
	case low > 0:
		return 0, ErrToppedOut
	case high < 0:
		return 0, ErrBottomedOut
	}
	x, err := bracket(excess, 0, travel, low, high, settleTolerance*travel)
	return units.Length(x), err
}

// maxSteps bounds bracket. Halving alone needs about 1 100 steps to go from
// the largest to the least float64 interval; functions that are not built to
// be nasty need a dozen.
const maxSteps = 1200

// bracket returns a root of f between lo and hi, whose values flo and fhi are
// not 0 and differ in sign, to within xtol or two units in the last place, and
// closer where f is steep. It fails with ErrLaw if f answers NaN, and with
// ErrJump if f changes sign by a jump: where the interval has closed, but |f|
// is not small against what it started from.
func bracket(f func(float64) float64, lo, hi, flo, fhi, xtol float64) (float64, error) {
	const eps = 0x1p-52
	a, fa := lo, flo // the newest estimate
	b, fb := hi, fhi // its opposite: f changes sign between a and b
	c, fc := a, fa   // the estimate before
	t := 0.5         // where to look next, as a fraction of the way from a to b
	closer := false  // whether the interval is closed further than to xtol
	// The first look is by the chord: laws of springs are nearly straight.
	if chord := fa / (fa - fb); chord > 0 && chord < 1 {
		t = chord
	}
	scale := max(math.Abs(flo), math.Abs(fhi))
	for range maxSteps {
		x := a + t*(b-a)
		fx := f(x)
		if math.IsNaN(fx) {
			return 0, ErrLaw
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
		near := (2*eps*math.Abs(best) + xtol/2) / math.Abs(b-a)
		if !(near <= 0.5) && !closer && math.Abs(fbest)/scale > steep {
			closer, xtol = true, xtol/1000
			near = (2*eps*math.Abs(best) + xtol/2) / math.Abs(b-a)
		}
		if !(near <= 0.5) {
			if math.Abs(fbest)/scale > jump {
				return 0, ErrJump
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
	return 0, ErrLaw
}

// How large |f| may still be against its values at the ends where the interval
// has closed to xtol, before it is closed further, and where it has closed
// further, before the sign change counts as a jump.
const steep, jump = 1e-9, 1e-6
