package airspring

import (
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// IdealCheck compares the ideal gas of a [Spec] with the real one at full travel. A slow stroke keeps
// the gas as warm as its surroundings; its exponent is 1. A fast stroke exchanges no heat; its
// exponent is that of the spec.
type IdealCheck struct {
	CompressionRatio float64     // V₁/V₂ of the positive chamber over the travel
	Compressibility  float64     // Z of the gas as filled; an ideal gas has 1
	Exponent         float64     // the [Spec.Exponent] with which the ideal gas ends a fast stroke at the real pressure
	SlowError        float64     // ideal/real − 1 of the absolute pressure after a slow stroke
	FastError        float64     // the same after a fast stroke
	SlowForce        units.Force // ideal − real after a slow stroke, in N
	FastForce        units.Force // the same after a fast stroke
}

// CheckIdeal returns how far the ideal gas of a spring is from a real one. The real gas is compressed
// by [gas.Compress], from the spec's fill at a temperature in K, as far as the full travel compresses
// the positive chamber.
//
// After a slow stroke of 3 to 1 the ideal gas is within 1 % for fills up to 35 bar. After a fast one
// with n = 1.4 it is too low, by 1.5 % in a fork at 5 bar and by 5 to 9 % in a shock at 15 to 25 bar.
// The right exponent is 1.41 for that fork and 1.45 to 1.48 for that shock.
//
// The spec is as for [New], without a second chamber. Species and temperature are as for
// [gas.StateAt], which names the sources. The error names every bad field. It names fill if the
// absolute pressure is more than 40 bar, and positive_volume if the travel compresses the chamber by
// more than 5 to 1. The negative chamber is not modelled: its pressure is low at full travel, where a
// real gas differs least.
func CheckIdeal(spec Spec, species gas.Species, temperature units.Temperature) (IdealCheck, error) {
	c := units.Checker{Package: "airspring"}
	spec.checkFilled(&c)
	if spec.SecondVolume != 0 && !c.Bad("second_volume") {
		c.Fail("second_volume", spec.SecondVolume, "no second chamber", nil)
	}
	species.Check(&c, temperature)
	filled := units.AbsolutePressure(spec.absolute())
	if !c.Bad("fill") && !c.Bad("ambient") && !(filled <= gas.MaxPressure) {
		c.Fail("fill", spec.Fill, "at most 40 bar(a) with the ambient", nil)
	}
	v := spec.chamber(spec.Spacers)
	ratio := v / (v - spec.swept())
	if !slices.ContainsFunc(sizes, c.Bad) && !(ratio <= gas.MaxRatio) {
		c.Fail("positive_volume", spec.PositiveVolume, fmt.Sprintf("a chamber that the travel compresses by at most %g to 1", gas.MaxRatio), nil)
	}
	if err := c.Err(); err != nil {
		return IdealCheck{}, err
	}
	state, _ := gas.StateAt(species, filled, temperature) // good, as is the next
	stroke, _ := gas.Compress(species, filled, temperature, ratio)
	a := units.Force(area(spec.Bore))
	slow, fast := filled*units.AbsolutePressure(ratio), filled*units.AbsolutePressure(math.Pow(ratio, spec.Exponent))
	return IdealCheck{
		CompressionRatio: ratio, Compressibility: state.Compressibility, Exponent: stroke.Exponent,
		SlowError: float64(slow/stroke.Slow) - 1, FastError: float64(fast/stroke.Fast) - 1,
		SlowForce: a * units.Force(slow-stroke.Slow), FastForce: a * units.Force(fast-stroke.Fast),
	}, nil
}
