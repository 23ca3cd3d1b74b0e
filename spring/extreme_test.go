package spring_test

import (
	"testing"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Of springs whose numbers are next to nothing or enormous, every answer is finite, and so is what their
// laws say.
func TestSpringsAreFinite(t *testing.T) {
	linear := spring.Linear{Rate: 80e3, Travel: 0.06, Preload: 0.002}
	unitstest.FiniteOrRefused(t, "linear", linear, spring.NewLinear)
	unitstest.FiniteOrRefused(t, "groups", spring.Groups{Groups: []spring.Group{{Rate: 4e4, Gap: 0.02}, {Rate: 1e5, Gap: 0.03}}}, spring.NewGroups)
	unitstest.FiniteOrRefused(t, "dual", spring.DualRate{SoftRate: 4e4, MainRate: 8e4, SoftTravel: 0.02, MainTravel: 0.06, Preload: 0.001}, spring.NewDualRate)
	unitstest.FiniteOrRefused(t, "readings", spring.Readings{Travel: []units.Length{0.01, 0.02, 0.03}, Force: []units.Force{100, 190, 310}}, spring.FitReadings)

	type pair struct{ A, B spring.Linear }
	joined := func(name string, join func(a, b spring.Law) (spring.Law, error)) {
		unitstest.FiniteOrRefused(t, name, pair{linear, spring.Linear{Rate: 4e4, Travel: 0.02}}, func(p pair) (spring.Law, error) {
			a, err := spring.NewLinear(p.A)
			if err != nil {
				return nil, err
			}
			b, err := spring.NewLinear(p.B)
			if err != nil {
				return nil, err
			}
			return join(a, b)
		})
	}
	joined("series", func(a, b spring.Law) (spring.Law, error) { return spring.NewSeries(a, b) })
	joined("parallel", func(a, b spring.Law) (spring.Law, error) {
		return spring.NewParallel(spring.Member{Law: a}, spring.Member{Law: b, StartsAt: b.Travel() / 2})
	})
	joined("preloaded", func(a, b spring.Law) (spring.Law, error) { return spring.NewPreloaded(a, b.Travel()) })
}
