package sag

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/wheelrate/units"
)

// Damping is the coefficient of a linear damper, force per speed, stored in
// newton seconds per metre. As text it is "350 N·s/m"; "N·s/mm" and
// "lbf·s/in" are read too, with a point or a space in place of the dot.
type Damping float64

// NewtonSecondPerMetre is the unit that a Damping is stored in.
const NewtonSecondPerMetre Damping = 1

// DampingFor returns the damping coefficient of a wheel for a ratio of the
// critical one, 2ζ√(k·m), with k the wheel rate in N/m and m = load/g₀ the mass
// that the load in N is the weight of. A ζ of 1 is critical: let go, the wheel
// comes back as fast as it can without going past. It is 0 if any of the three is
// not finite and more than 0.
//
// The ratio that suits a bike is the user's to state.
func DampingFor(ratio float64, wheelRate units.Stiffness, load units.Force) Damping {
	c := 2 * ratio * math.Sqrt(float64(wheelRate)) * math.Sqrt(float64(load)/units.StandardGravity)
	if !(c > 0 && c < math.MaxFloat64) { // NaN where there is no root
		return 0
	}
	return Damping(c)
}

// Ratio returns c over the critical damping, c/(2√(k·m)), for a wheel rate and a load
// as in [DampingFor]; 0 where that is 0.
func (c Damping) Ratio(wheelRate units.Stiffness, load units.Force) float64 {
	if r := float64(c / DampingFor(1, wheelRate, load)); r > 0 && r < math.MaxFloat64 {
		return r
	}
	return 0
}

// AtShock returns the coefficient at a shock that damps the wheel by c, with
// the lever ratio dw/ds there: c·LR². Virtual work gives F_w = F_s/LR, and the
// shock moves LR times slower than the wheel.
func (c Damping) AtShock(leverRatio float64) Damping {
	return c * Damping(leverRatio*leverRatio)
}

// NewtonSecondsPerMetre returns the coefficient in N·s/m.
func (c Damping) NewtonSecondsPerMetre() float64 { return float64(c) }

// PoundForceSecondsPerInch returns the coefficient in lbf·s/in.
func (c Damping) PoundForceSecondsPerInch() float64 { return units.Stiffness(c).PoundsForcePerInch() }

const dampingUnits = "N·s/m, N·s/mm, lbf·s/in"

// perSecond turns a damping's unit into the stiffness that has the same number.
var perSecond = strings.NewReplacer("·s/", "/", ".s/", "/", " s/", "/")

// ParseDamping returns the coefficient that text names: a decimal number and
// one of the units of [Damping]. It refuses NaN, infinities and a bare number
// with a [*units.ParseError].
func ParseDamping(text string) (Damping, error) {
	bare := perSecond.Replace(text)
	k, err := units.ParseStiffness(bare)
	if parse, ok := errors.AsType[*units.ParseError](err); ok {
		own := *parse
		own.Kind, own.Want = "damping", dampingUnits
		return 0, &own
	}
	if bare == text {
		return 0, &units.ParseError{Kind: "damping", Input: text, Reason: "no second in its unit", Want: dampingUnits, Class: units.ErrUnit}
	}
	return Damping(k), err
}

// String returns the value with its unit, as %v prints it.
func (c Damping) String() string { return strconv.FormatFloat(float64(c), 'g', 6, 64) + " N·s/m" }

// Both returns the coefficient in metric and in customary units, rounded for people.
func (c Damping) Both() units.Dual {
	return units.Dual{
		Metric:    fmt.Sprintf("%.0f N·s/m", c.NewtonSecondsPerMetre()),
		Customary: fmt.Sprintf("%.2f lbf·s/in", c.PoundForceSecondsPerInch()),
	}
}

// Format implements fmt.Formatter; every verb prints the unit.
func (c Damping) Format(f fmt.State, verb rune) {
	switch verb {
	case 'e', 'E', 'f', 'F', 'g', 'G':
		fmt.Fprintf(f, fmt.FormatString(f, verb)+" N·s/m", float64(c))
	default:
		fmt.Fprint(f, c.String())
	}
}

// MarshalText implements encoding.TextMarshaler. The text reads back to the
// same bits; NaN and infinities are refused.
func (c Damping) MarshalText() ([]byte, error) {
	if math.IsNaN(float64(c)) || math.IsInf(float64(c), 0) {
		return nil, &units.ParseError{Kind: "damping", Input: c.String(), Reason: "not a finite number", Want: dampingUnits, Class: units.ErrRange}
	}
	return append(strconv.AppendFloat(nil, float64(c), 'g', -1, 64), " N·s/m"...), nil
}

// UnmarshalText implements encoding.TextUnmarshaler; see [ParseDamping].
func (c *Damping) UnmarshalText(text []byte) error {
	v, err := ParseDamping(string(text))
	if err != nil {
		return err
	}
	*c = v
	return nil
}
