package airspring

import (
	"errors"
	"fmt"
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// ErrUndetermined is the class of the errors of [Fit] where the readings can't
// tell the unknowns apart.
var ErrUndetermined = errors.New("airspring: the readings can't tell the unknowns apart")

// FitResult is the spring that fits readings best, see [Fit]. The errors are one
// standard deviation; 0 for what was given.
type FitResult struct {
	Spec              Spec
	FillError         units.GaugePressure
	VolumeError       units.Volume
	ExponentError     float64
	ResidualDeviation units.Force // √(Σr²/(N − k)) of N readings and k unknowns
	Points            int
}

// Fit returns the fill, volume and exponent with which the force of [New] comes
// nearest to readings, by least squares: travels are taken as exact, errors of
// the force as equal and independent. The force is linear in the absolute fill,
// which is solved for on a grid of volumes and exponents; from the best of them
// Newton's method with the exact second derivatives leads to the end, or that of
// Gauss and Newton where these are not positive definite. Standard errors come
// from the linearisation there, s²·(JᵀJ)⁻¹.
//
// Over a short travel a larger chamber with a larger exponent answers the same:
// F goes with n/V alone. Where the unknowns can't be told apart, their columns
// being alike to a part in 10⁵ or an error above 25 %, Fit refuses: the error
// names each unknown that is not determined and is of the class
// [ErrUndetermined]. So it does where the best exponent is outside 1 to 2 by
// more than its error times 3; nearer, the limit is taken as if it had been
// given. Readings all made slowly are better fitted with an exponent of 1 given.
//
// There must be more readings at different travels than unknowns. Friction
// shifts loading and unloading apart: give the mean of the two. The error names
// every bad field and reading, such as force[3].
//
// Those of the spec's Fill, PositiveVolume and Exponent that are 0 are sought, the
// others hold; it has no second chamber. Travels are from 0 to the spec's, forces
// finite, as many.
func Fit(spec Spec, readings spring.Readings) (FitResult, error) {
	c := units.Checker{Package: "airspring"}
	f := checkFit(&c, spec, readings)
	if err := c.Err(); err != nil {
		return FitResult{}, err
	}
	f.search()
	f.polish()
	if f.free[exponent] && !(f.at[exponent] >= 1 && f.at[exponent] <= 2) {
		deviations, _ := f.judge(&c)
		if err := c.Err(); err != nil {
			return FitResult{}, err
		}
		limit := math.Min(math.Max(f.at[exponent], 1), 2)
		if !(math.Abs(f.at[exponent]-limit) <= math.Max(3*deviations[exponent], 1e-9)) {
			c.Fail("exponent", f.at[exponent], "readings that an exponent from 1 to 2 explains", ErrUndetermined)
			return FitResult{}, c.Err()
		}
		f.at[exponent], f.hold = limit, true
		f.polish()
	}
	return f.result(&c)
}

// The unknowns, in the order they are kept.
const (
	fill   = iota // absolute, Pa
	volume        // of the chamber beside oil and spacers, m³
	exponent
	unknowns
)

var unknownNames = [unknowns]string{"fill", "positive_volume", "exponent"}

type fitting struct {
	given  Spec
	filled float64 // what oil and spacers take
	model  fitModel
	x, f   []float64
	free   [unknowns]bool
	hold   bool // the exponent is kept at a limit of its range
	at     [unknowns]float64
}

func checkFit(c *units.Checker, spec Spec, r spring.Readings) *fitting {
	f := &fitting{given: spec, free: [unknowns]bool{spec.Fill == 0, spec.PositiveVolume == 0, spec.Exponent == 0}}
	// Stand-ins for what is sought, so that the rest can be checked.
	if f.free[volume] {
		spec.PositiveVolume = gas.MaxVolume
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
	k := len(f.sought())
	if k == 0 {
		c.Fail("spec", nil, "a fill, positive_volume or exponent left out, to be found", units.ErrMissing)
	}
	different := map[units.Length]struct{}{}
	for i, x := range r.Travel {
		if !(x >= 0) || !own.Bad("travel") && !(x <= spec.Travel) {
			c.Fail(fmt.Sprintf("travel[%d]", i), x, "from 0 to the spring's travel", nil)
			continue
		}
		different[x] = struct{}{}
	}
	if len(different) <= k {
		c.Fail("travel", len(different), fmt.Sprintf("readings at %d different travels or more", k+1), nil)
	}
	if len(r.Force) != len(r.Travel) {
		c.Fail("force", len(r.Force), fmt.Sprintf("as many readings as travel, %d", len(r.Travel)), units.ErrConflict)
	}
	for i, force := range r.Force {
		units.Between(c, fmt.Sprintf("force[%d]", i), force, -1e9, 1e9)
	}
	if !c.OK() {
		return f
	}
	f.filled = float64(spec.OilVolume) + float64(spec.Spacers)*float64(spec.SpacerVolume)
	f.at = [unknowns]float64{float64(spec.Fill) + float64(spec.Ambient), float64(spec.PositiveVolume) - f.filled, spec.Exponent}
	f.model = newFitModel(&spec)
	for i := range r.Travel {
		f.x, f.f = append(f.x, float64(r.Travel[i])), append(f.f, float64(r.Force[i]))
	}
	return f
}

// sought lists the unknowns.
func (f *fitting) sought() []int {
	var list []int
	for i, free := range f.free {
		if free && !(i == exponent && f.hold) {
			list = append(list, i)
		}
	}
	return list
}

func (f *fitting) result(c *units.Checker) (FitResult, error) {
	deviations, s := f.judge(c)
	spec := f.given
	if f.free[fill] {
		spec.Fill = units.GaugePressure(f.at[fill] - float64(spec.Ambient))
	}
	if f.free[volume] {
		spec.PositiveVolume = units.Volume(f.at[volume] + f.filled)
	}
	if f.free[exponent] {
		spec.Exponent = f.at[exponent]
	}
	if c.OK() {
		if _, err := New(spec); err != nil {
			c.Add("", err)
		}
	}
	if err := c.Err(); err != nil {
		return FitResult{}, err
	}
	return FitResult{
		Spec: spec, FillError: units.GaugePressure(deviations[fill]), VolumeError: units.Volume(deviations[volume]),
		ExponentError: deviations[exponent], ResidualDeviation: units.Force(s), Points: len(f.x),
	}, nil
}
