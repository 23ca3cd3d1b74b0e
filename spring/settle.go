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
	// ErrLaw: what was given as a law is nil, has no travel, answers NaN or an
	// infinity, or breaks the contract of [Law] in another way. It is the class of
	// the [units.FieldError] that names the law.
	ErrLaw = errors.New("spring: not a force-travel law")
	// ErrJump: the force jumps past the load without ever being equal to it.
	ErrJump = fmt.Errorf("%w: its force jumps past the load", ErrLaw)
)

// settleTolerance is how near Settle comes to the rest position, as a
// fraction of the travel.
const settleTolerance = 1e-13

// Settle returns the travel in m at which a law carries a load in N, so that
// law.Force(x) = load. A load below the force at full extension gives
// [ErrToppedOut], one above that at full travel [ErrBottomedOut]; a load equal to
// either gives that end exactly. A force that jumps past the load gives
// [ErrJump], unless it jumps by less than a millionth of the law's range of force.
// Where the force does not rise strictly, one of the travels that carry the load
// is returned.
//
// The load must be finite, and the law neither nil nor without travel, nor may it
// answer NaN or an infinity: the error then is a [units.FieldError] that names
// load or law, the latter of class [ErrLaw].
//
// This is the one place where a law is inverted, by [root.Find]. It needs no
// rate, so a kink does not disturb it.
func Settle(law Law, load units.Force) (units.Length, error) {
	if v := float64(load); v-v != 0 {
		c := units.Checker{Package: "spring"}
		units.Finite(&c, "load", load)
		return 0, c.Err()
	}
	travel := 0.0
	if law != nil {
		travel = float64(law.Travel())
	}
	if !(travel > 0) || math.IsInf(travel, 0) {
		return 0, notALaw("a law whose travel is finite and more than 0")
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
	return 0, notALaw("a law whose force is finite")
}

func notALaw(want string) error {
	return &units.FieldError{Package: "spring", Field: "law", Want: want, Class: ErrLaw}
}
