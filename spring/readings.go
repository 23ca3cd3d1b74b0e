package spring

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/wheelrate/units"
)

// Readings are forces read off a scale or a press at known travels of a spring, in any order. Both
// slices are equally long.
type Readings struct {
	Travel []units.Length `json:"travel"` // 3 or more, finite, not all equal
	Force  []units.Force  `json:"force"`  // finite
}

// Check records every bad field: fewer than 3 readings, slices of different length, values that are
// not finite.
func (r Readings) Check(c *units.Checker) {
	n := len(r.Travel)
	if n < 3 {
		c.Fail("travel", n, units.AtLeast(3).Count("readings"), nil)
	}
	if len(r.Force) != n {
		c.Fail("force", len(r.Force), units.Exactly(n).Of("travel").Count("readings"), units.ErrConflict)
	}
	for i, v := range r.Travel {
		at := c.Element("travel", i)
		units.Finite(&at, "", v)
	}
	for i, v := range r.Force {
		at := c.Element("force", i)
		units.Finite(&at, "", v)
	}
}

// Regression is the straight line that fits [Readings] best.
type Regression struct {
	Rate                     units.Stiffness `json:"rate"`                // slope of the line
	ForceAtZero              units.Force     `json:"force_at_zero"`       // of the line at travel 0: what a preload or an offset of the scale adds
	RateStandardError        units.Stiffness `json:"rate_standard_error"` // one standard deviation
	ForceAtZeroStandardError units.Force     `json:"force_at_zero_standard_error"`
	ResidualDeviation        units.Force     `json:"residual_deviation"` // √(Σr²/(n − 2)), the scatter of one reading about the line
	ResidualRMS              units.Force     `json:"residual_rms"`       // √(Σr²/n)
	Points                   int             `json:"points"`
}

// FitReadings returns the rate of a spring from force readings, by ordinary least squares of force
// on travel: the travels are taken as exact and all errors as the force's, equal and independent.
//
//	k = Σ(x − x̄)(F − F̄)/Σ(x − x̄)²,  F₀ = F̄ − k·x̄
//	s² = Σr²/(n − 2),  u_k = s/√Σ(x − x̄)²,  u_F₀ = s·√(1/n + x̄²/Σ(x − x̄)²)
//
// A scatter much above the resolution of the scale says that the spring is not linear over these
// travels, or that it rubs. The mean of a rate read while loading and one while unloading is free of
// a constant friction.
//
// The error names every bad reading, such as force[3]: see [Readings.Check]. Travels that are all
// equal, and forces that do not rise with the travel, are refused as well.
func FitReadings(r Readings) (Regression, error) {
	c := units.Checker{Package: "spring"}
	if r.Check(&c); !c.OK() {
		return Regression{}, c.Err()
	}
	n := len(r.Travel)
	x, f := make([]float64, n), make([]float64, n)
	for i := range x {
		x[i], f[i] = float64(r.Travel[i]), float64(r.Force[i])
	}
	mean, variance := stat.PopMeanVariance(x, nil)
	spread := variance * float64(n) // Σ(x − x̄)²
	zero, rate := stat.LinearRegression(x, f, nil, false)
	sum := 0.0
	for i := range x {
		residual := f[i] - zero - rate*x[i]
		sum += residual * residual
	}
	deviation := math.Sqrt(sum / float64(n-2))
	rateError, zeroError := deviation/math.Sqrt(spread), deviation*math.Sqrt(1/float64(n)+mean*mean/spread)
	switch {
	case !(spread > 0):
		c.Fail("travel", r.Travel[0], "travels that are not all equal", units.ErrConflict)
	case !(rate > 0):
		c.Fail("force", units.Stiffness(rate), "forces that rise with the travel", units.ErrConflict)
	case !finite(rate, zero, deviation, rateError, zeroError):
		c.Fail("force", nil, "readings whose squares float64 can hold", nil)
	}
	return units.Checked(&c, Regression{
		Rate: units.Stiffness(rate), RateStandardError: units.Stiffness(rateError),
		ForceAtZero: units.Force(zero), ForceAtZeroStandardError: units.Force(zeroError),
		ResidualDeviation: units.Force(deviation), ResidualRMS: units.Force(math.Sqrt(sum / float64(n))),
		Points: n,
	})
}
