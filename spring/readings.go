package spring

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/wheelrate/units"
)

// Readings are forces read off a scale or a press at known travels of a
// spring, in any order. Both slices are equally long.
type Readings struct {
	Travel []units.Length `json:"travel"` // 3 or more, finite, not all equal
	Force  []units.Force  `json:"force"`  // finite
}

// Regression is the straight line that fits [Readings] best.
type Regression struct {
	Rate                     units.Stiffness // slope of the line
	ForceAtZero              units.Force     // of the line at travel 0: what a preload or an offset of the scale adds
	RateStandardError        units.Stiffness // one standard deviation
	ForceAtZeroStandardError units.Force
	ResidualDeviation        units.Force // √(Σr²/(n − 2)), the scatter of one reading about the line
	ResidualRMS              units.Force // √(Σr²/n)
	Points                   int
}

// FitReadings returns the rate of a spring from force readings, by ordinary
// least squares of force on travel: the travels are taken as exact and all
// errors as the force's, equal and independent.
//
//	k = Σ(x − x̄)(F − F̄)/Σ(x − x̄)²,  F₀ = F̄ − k·x̄
//	s² = Σr²/(n − 2),  u_k = s/√Σ(x − x̄)²,  u_F₀ = s·√(1/n + x̄²/Σ(x − x̄)²)
//
// A scatter much above the resolution of the scale says that the spring is not
// linear over these travels, or that it rubs: read once while loading and once
// while unloading, the mean of the two rates is free of a constant friction.
//
// It refuses fewer than 3 readings, slices of different length, values that
// are not finite, travels that are all equal, and forces that do not rise with
// the travel; the error names every bad reading, such as force[3].
func FitReadings(r Readings) (Regression, error) {
	c := units.Checker{Package: "spring"}
	n := len(r.Travel)
	if n < 3 {
		c.Fail("travel", n, "3 readings or more", nil)
	}
	if len(r.Force) != n {
		c.Fail("force", len(r.Force), fmt.Sprintf("as many readings as travel, %d", n), units.ErrConflict)
	}
	x, f := make([]float64, n), make([]float64, len(r.Force))
	for i, v := range r.Travel {
		x[i] = float64(v)
		units.Finite(&c, fmt.Sprintf("travel[%d]", i), v)
	}
	for i, v := range r.Force {
		f[i] = float64(v)
		units.Finite(&c, fmt.Sprintf("force[%d]", i), v)
	}
	if err := c.Err(); err != nil {
		return Regression{}, err
	}
	mean, variance := stat.PopMeanVariance(x, nil)
	spread := variance * float64(n) // Σ(x − x̄)²
	if !(spread > 0) {
		c.Fail("travel", r.Travel[0], "travels that are not all equal", units.ErrConflict)
		return Regression{}, c.Err()
	}
	zero, rate := stat.LinearRegression(x, f, nil, false)
	sum := 0.0
	for i := range x {
		residual := f[i] - zero - rate*x[i]
		sum += residual * residual
	}
	deviation := math.Sqrt(sum / float64(n-2))
	out := Regression{
		Rate:                     units.Stiffness(rate),
		ForceAtZero:              units.Force(zero),
		RateStandardError:        units.Stiffness(deviation / math.Sqrt(spread)),
		ForceAtZeroStandardError: units.Force(deviation * math.Sqrt(1/float64(n)+mean*mean/spread)),
		ResidualDeviation:        units.Force(deviation),
		ResidualRMS:              units.Force(math.Sqrt(sum / float64(n))),
		Points:                   n,
	}
	if !(rate > 0) {
		c.Fail("force", out.Rate, "forces that rise with the travel", units.ErrConflict)
	} else if !finite(rate, zero, deviation, float64(out.RateStandardError), float64(out.ForceAtZeroStandardError)) {
		c.Fail("force", nil, "readings whose squares can be told in float64", nil)
	}
	if err := c.Err(); err != nil {
		return Regression{}, err
	}
	return out, nil
}
