package sag

import (
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// rising lets [spring.Settle], the one root finder of this library, solve any
// equation whose left side rises with its unknown.
type rising struct {
	f     func(x float64) float64
	width float64
}

func (r rising) Force(x units.Length) units.Force   { return units.Force(r.f(float64(x))) }
func (r rising) Rate(units.Length) units.Stiffness  { return 0 }
func (r rising) Energy(x units.Length) units.Energy { return 0 }
func (r rising) Travel() units.Length               { return units.Length(r.width) }

var _ spring.Law = rising{}

// solve returns the x in [0, width] at which the rising function f is zero;
// the error is Settle's.
func solve(f func(x float64) float64, width float64) (float64, error) {
	x, err := spring.Settle(rising{f, width}, 0)
	return float64(x), err
}
