package spring

import (
	"errors"
	"fmt"
	"math"

	"example.com/wheelrate/spring/root"
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
	x, err := root.Find(excess, 0, travel, settleTolerance*travel)
	switch {
	case err == nil:
		return units.Length(x), nil
	case errors.Is(err, root.ErrNoBracket) && excess(0) > 0:
		return 0, ErrToppedOut
	case errors.Is(err, root.ErrNoBracket):
		return 0, ErrBottomedOut
	case errors.Is(err, root.ErrJump):
		return 0, ErrJump
	}
	return 0, ErrLaw
}
