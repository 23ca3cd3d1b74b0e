package coil

import (
	"cmp"
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Nominal is a spring of a shelf by what its label says.
type Nominal struct {
	Rate      units.Stiffness `json:"rate"`      // more than 0
	Tolerance float64         `json:"tolerance"` // greatest deviation, as a fraction of the rate: 0 or more, less than 1
}

// Candidate is a spring of the shelf, with how well it fits the measurement.
type Candidate struct {
	Index       int             // in the shelf, from 0
	Rate        units.Stiffness // nominal
	Probability float64         // of being the measured one, given that it is one of the shelf; they add to 1
	Distance    float64         // |measured − nominal| in standard deviations of their difference
	Surprise    float64         // chance that a spring of this label measures at least this far off
}

// mostNominals is far more than a shelf holds.
const mostNominals = 1000

// Identify returns how probably each spring of a shelf is one whose rate was
// measured, by [Caliper.Rate], [spring.FitReadings] or any other way, with a
// standard uncertainty; the likeliest first.
//
// Before the measurement each is taken as equally likely. A spring labelled r
// with tolerance ±t·r is taken to have its rate anywhere within it with equal
// chance, standard deviation t·r/√3 (a rectangular distribution, JCGM
// 100:2008, 4.3.7, from memory); together with the measurement's u,
//
//	σᵢ² = u² + (tᵢ·rᵢ)²/3,  pᵢ ∝ exp(−dᵢ²/2)/σᵢ,  dᵢ = |k − rᵢ|/σᵢ
//
// with the combination taken as normal. The probabilities always add to 1, even
// where nothing fits: whether it is none of them, Distance and Surprise of the
// likeliest say. Distance² is chi-squared of one degree of freedom, Surprise
// its upper tail erfc(d/√2); a distance of 3 happens to the right spring about
// once in 370 times. No threshold is built in.
//
// The rate is more than 0 and the uncertainty 0 or more; the shelf holds 1 to 1000
// springs. Where the measurement and a label both are without deviation nothing
// can be compared, and the uncertainty is refused. The error names every bad
// field, such as shelf[2].rate.
func Identify(rate, uncertainty units.Stiffness, shelf []Nominal) ([]Candidate, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", rate)
	certain := units.NonNegative(&c, "uncertainty", uncertainty) && uncertainty == 0
	switch n := len(shelf); {
	case n == 0:
		c.Fail("shelf", nil, "one spring or more", units.ErrMissing)
	case n > mostNominals:
		c.Fail("shelf", n, "at most 1000 springs", nil)
		return nil, c.Err()
	}
	for i, s := range shelf {
		nominal := c.Element("shelf", i)
		units.Positive(&nominal, "rate", s.Rate)
		if !(s.Tolerance >= 0 && s.Tolerance < 1) {
			nominal.Fail("tolerance", s.Tolerance, "0 or more and less than 1", nil)
		} else if certain && s.Tolerance == 0 {
			certain = false // said once
			c.Fail("uncertainty", uncertainty, "more than 0 where a tolerance of the shelf is 0", units.ErrConflict)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	list := make([]Candidate, len(shelf))
	logs := make([]float64, len(shelf)) // of the likelihoods, which would underflow
	for i, s := range shelf {
		sigma := math.Hypot(float64(uncertainty), s.Tolerance*float64(s.Rate)/math.Sqrt(3))
		d := math.Abs(float64(rate)-float64(s.Rate)) / sigma
		list[i] = Candidate{Index: i, Rate: s.Rate, Distance: d, Surprise: math.Erfc(d / math.Sqrt2)}
		if logs[i] = -d*d/2 - math.Log(sigma); !finite(logs[i]) {
			nominal := c.Element("shelf", i)
			nominal.Fail("rate", s.Rate, "a rate whose distance from the measured one float64 can hold", nil)
		}
	}
	if !c.OK() {
		return nil, c.Err()
	}
	best := slices.Max(logs)
	sum := 0.0
	for i := range list {
		list[i].Probability = math.Exp(logs[i] - best)
		sum += list[i].Probability
	}
	for i := range list {
		list[i].Probability /= sum
	}
	slices.SortStableFunc(list, func(a, b Candidate) int { return cmp.Compare(logs[b.Index], logs[a.Index]) })
	return list, nil
}
