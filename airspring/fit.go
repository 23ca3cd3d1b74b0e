package airspring

import (
	"errors"
	"fmt"
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// ErrUndetermined is the class of the errors of [Fit] if the readings don't determine the unknowns.
var ErrUndetermined = errors.New("airspring: the readings don't determine the unknowns")

// FitResult is the spring that fits readings best, with the standard errors of what was sought.
// The error of what was given is 0.
type FitResult struct {
	Spec              Spec
	FillError         units.GaugePressure
	VolumeError       units.Volume
	ExponentError     float64
	ResidualDeviation units.Force // √(Σr²/(N − k)) of N readings and k unknowns
}

// Fit returns the spring whose force is nearest to readings, by least squares. Travels are taken as
// exact, the errors of the forces as equal and independent. Of the spec's Fill, PositiveVolume and
// Exponent those that are 0 are sought, and the others are given. See [New] for the force.
//
// The search starts from a grid of volumes for each of several exponents. The force is linear in the
// absolute fill, so that each volume has a best fill. From the best volume the method of Levenberg
// and Marquardt leads to a minimum, and the least of these is taken. The standard errors are those of
// the linearised force there, the square roots of the diagonal of s²·(JᵀJ)⁻¹.
//
// Over a short travel the force depends on n/V alone, and a larger chamber with a larger exponent
// gives the same readings. An unknown is undetermined if its standard error is above 25 %. All are if
// the least singular value of J, its columns scaled to length 1, is at most 1e-5 of the greatest. The
// error then names each of them and is an [ErrUndetermined].
//
// A best exponent outside 1 to 2 by up to 3 times its error becomes the limit, as if that had been
// given; one farther outside is an ErrUndetermined. For readings that were all made slowly, an
// exponent of 1 is better given than sought.
//
// The spec has no second chamber. Readings are at more different travels than there are unknowns,
// from 0 to the spec's travel, with forces from -10⁹ to 10⁹ N. Friction shifts loading and unloading
// apart: give the mean of the two. The error names every bad field and reading, such as spec.bore
// and force[3].
func Fit(spec Spec, readings spring.Readings) (FitResult, error) {
	c := units.Checker{Package: "airspring"}
	f := newFitting(&c, spec, readings)
	if err := c.Err(); err != nil {
		return FitResult{}, err
	}
	f.minimise()
	deviations, s := f.judge(&c)
	if n := f.at[exponent]; c.OK() && !(n >= 1 && n <= 2) {
		limit := min(max(n, 1), 2)
		if !(math.Abs(n-limit) <= max(3*deviations[exponent], 1e-9)) {
			c.Fail("exponent", n, "readings that an exponent from 1 to 2 explains", ErrUndetermined)
			return FitResult{}, c.Err()
		}
		f.at[exponent], f.free[exponent] = limit, false
		f.minimise()
		deviations, s = f.judge(&c)
	}
	if f.free[fill] {
		spec.Fill = units.GaugePressure(f.at[fill] - float64(spec.Ambient))
	}
	if f.free[volume] {
		spec.PositiveVolume = units.Volume(f.at[volume] + spec.filled())
	}
	spec.Exponent = f.at[exponent]
	if c.OK() {
		spec.checkFilled(&c)
	}
	return units.Checked(&c, FitResult{
		Spec: spec, FillError: units.GaugePressure(deviations[fill]), VolumeError: units.Volume(deviations[volume]),
		ExponentError: deviations[exponent], ResidualDeviation: units.Force(s),
	})
}

// newFitting checks a spec and readings, and returns their fit before the search.
func newFitting(c *units.Checker, spec Spec, r spring.Readings) *fitting {
	f := &fitting{free: [unknowns]bool{spec.Fill == 0, spec.PositiveVolume == 0, spec.Exponent == 0}}
	if f.free[volume] {
		spec.PositiveVolume = gas.MaxVolume // stands for the one sought, as the next does
	}
	if f.free[exponent] {
		spec.Exponent = 1
	}
	own := c.Child("spec")
	spec.Check(&own)
	if !f.free[fill] {
		gas.CheckFill(&own, "fill", spec.Fill)
	}
	if spec.SecondVolume != 0 {
		own.Fail("second_volume", spec.SecondVolume, "no second chamber", nil)
	}
	k := f.sought()
	if k == 0 {
		c.Fail("spec", nil, "a fill, positive_volume or exponent left out, to be found", units.ErrMissing)
	}
	different := map[units.Length]bool{}
	for i, x := range r.Travel {
		f.x = append(f.x, float64(x))
		if !(x >= 0) || !own.Bad("travel") && !(x <= spec.Travel) {
			c.Fail(fmt.Sprintf("travel[%d]", i), x, "from 0 to the spring's travel", nil)
			continue
		}
		different[x] = true
	}
	if len(different) <= k {
		c.Fail("travel", len(different), fmt.Sprintf("readings at %d different travels or more", k+1), nil)
	}
	if len(r.Force) != len(r.Travel) {
		c.Fail("force", len(r.Force), fmt.Sprintf("as many readings as travel, %d", len(r.Travel)), units.ErrConflict)
	}
	for i, force := range r.Force {
		f.f = append(f.f, float64(force))
		reading := c.Element("force", i)
		units.Between(&reading, "", force, -1e9, 1e9)
	}
	if c.OK() {
		f.at = [unknowns]float64{spec.absolute(), spec.chamber(spec.Spacers), spec.Exponent}
		f.unit, f.swept = newSpring(&spec, 1), spec.swept()
	}
	return f
}
