package airspring

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// IdealCheck is how far the ideal gas that a [Spec] is computed with is from the
// real one, for its own fill and compression.
type IdealCheck struct {
	CompressionRatio float64 // V₁/V₂ of the positive chamber over the travel
	Compressibility  float64 // Z of the gas as filled; an ideal gas has 1
	// Exponent is that of the real gas over the whole of a fast stroke: the
	// [Spec.Exponent] with which the ideal gas ends at the same pressure.
	Exponent float64
	// SlowError and FastError are ideal/real − 1 of the absolute pressure at full
	// travel: the gas settled, n = 1; and for a stroke too fast to give off heat,
	// with the exponent that the spec has.
	SlowError float64
	FastError float64
	// SlowForce and FastForce are the force at full travel that the ideal gas has
	// more than the real one, or less where it is below 0.
	SlowForce units.Force
	FastForce units.Force
}

// CheckIdeal says what taking the gas for ideal leaves out: it compresses the
// real gas from the spec's fill, at a temperature, by as much as the full travel
// compresses the positive chamber ([gas.Compress]), and sets p·Vⁿ = constant
// against it. Slowly, the ideal gas is within 1 % up to 35 bar and 3 to 1; for
// a fast stroke n = 1.4 falls short, by 1.5 % in a fork at 5 bar compressed to a
// third and by 5 to 9 % in a shock at 15 to 25 bar. There the right exponent is
// 1.41 for the fork, 1.45 to 1.48 for the shock: Exponent, with which FastError
// is 0.
//
// The spec is as for [New], without a second chamber, the gas and the temperature
// as for [gas.StateAt]. The error names every bad field: fill where it is more than
// 40 bar(a) with the ambient, positive_volume where the travel compresses it more
// than 5 to 1. Sources as for gas.StateAt.
//
// Not modelled: how the negative chamber's gas differs, which works at low
// pressure where it matters least.
func CheckIdeal(spec Spec, species gas.Species, temperature units.Temperature) (IdealCheck, error) {
	c := units.Checker{Package: "airspring"}
	spec.checkFilled(&c)
	if spec.SecondVolume != 0 && !c.Bad("second_volume") {
		c.Fail("second_volume", spec.SecondVolume, "no second chamber", nil)
	}
	species.Check(&c)
	gas.CheckTemperature(&c, temperature)
	p := spec.absolute()
	if !c.Bad("fill") && !c.Bad("ambient") && !(p <= float64(gas.MaxPressure)) {
		c.Fail("fill", spec.Fill, "at most 40 bar(a) with the ambient", nil)
	}
	var ratio float64
	if !c.Bad("bore") && !c.Bad("travel") && !c.Bad("positive_volume") && !c.Bad("oil_volume") && !c.Bad("spacer_volume") && !c.Bad("spacers") {
		v := spec.chamber(spec.Spacers)
		if ratio = v / (v - spec.sweep(spec.Travel)); !(ratio <= gas.MaxRatio) {
			c.Fail("positive_volume", spec.PositiveVolume, fmt.Sprintf("a chamber that the travel compresses by at most %g to 1", gas.MaxRatio), nil)
		}
	}
	if err := c.Err(); err != nil {
		return IdealCheck{}, err
	}
	settled := units.AbsolutePressure(p)
	state, err := gas.StateAt(species, settled, temperature)
	if err != nil {
		return IdealCheck{}, err
	}
	real, err := gas.Compress(species, settled, temperature, ratio)
	if err != nil {
		return IdealCheck{}, err
	}
	slow, fast := p*ratio, p*math.Pow(ratio, spec.Exponent)
	a := area(spec.Bore)
	return IdealCheck{
		CompressionRatio: ratio,
		Compressibility:  state.Compressibility,
		Exponent:         real.Exponent,
		SlowError:        slow/float64(real.Slow) - 1,
		FastError:        fast/float64(real.Fast) - 1,
		SlowForce:        units.Force(a * (slow - float64(real.Slow))),
		FastForce:        units.Force(a * (fast - float64(real.Fast))),
	}, nil
}
