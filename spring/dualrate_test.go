package spring_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// dualRates: models and values computed with mpmath 1.3.0 at 50 digits,
// printed to 15. Rates listed at the crossover are left-hand there, so they
// are checked just below it. The preload of the second, 150 N, is 150 N over
// its combined rate of 42 N/mm. The main spring's travel is none of the
// source's; it is long enough for all points.
var dualRates = []struct {
	name                             string
	spec                             spring.DualRate
	combined, crossover, crossoverAt float64
	points                           []stackPoint
}{
	{
		name:     "without preload",
		spec:     spring.DualRate{SoftRate: perMM(52.5), MainRate: perMM(87.5), SoftTravel: mm(22), MainTravel: mm(60)},
		combined: 32.8125, crossover: 1155, crossoverAt: 35.2,
		points: []stackPoint{
			{10, 328.125, 32.8125, 1640.625},
			{20, 656.25, 32.8125, 6562.5},
			{35.2 - 1e-10, 1155, 32.8125, 20328},
			{36, 1225, 87.5, 21280},
			{50, 2450, 87.5, 47005},
		},
	},
	{
		name:     "preloaded",
		spec:     spring.DualRate{SoftRate: perMM(70), MainRate: perMM(105), SoftTravel: mm(18), MainTravel: mm(60), Preload: mm(150.0 / 42)},
		combined: 42, crossover: 1260, crossoverAt: 26.4285714285714,
		points: []stackPoint{
			{5, 360, 42, 1275},
			{20, 990, 42, 11400},
			{30, 1635, 105, 23801.7857142857},
			{45, 3210, 105, 60139.2857142857},
		},
	},
	{
		name:     "two alike",
		spec:     spring.DualRate{SoftRate: perMM(61.25), MainRate: perMM(61.25), SoftTravel: mm(9.5), MainTravel: mm(60)},
		combined: 30.625, crossover: 581.875, crossoverAt: 19,
		points: []stackPoint{
			{10, 306.25, 30.625, 1531.25},
			{19 - 1e-10, 581.875, 30.625, 5527.8125},
			{19.5, 612.5, 61.25, 5826.40625},
			{40, 1868.125, 61.25, 31252.8125},
		},
	},
}

func TestDualRate(t *testing.T) {
	for _, c := range dualRates {
		t.Run(c.name, func(t *testing.T) {
			law, err := spring.NewDualRate(c.spec)
			require.NoError(t, err)
			soft := law.Segments()[0] // up to the crossover
			agree(t, "combined rate", soft.Rate, perMM(c.combined), 1e-12)
			agree(t, "crossover force", soft.End, units.Force(c.crossover), 1e-12)
			agree(t, "crossover travel", soft.Length, mm(c.crossoverAt), 1e-12)
			agree(t, "travel", law.Travel(), c.spec.SoftTravel+c.spec.MainTravel-c.spec.Preload, 1e-14)
			shows(t, law, c.points, 1e-10)
			agree(t, "rate at the crossover", law.Rate(soft.Length), c.spec.MainRate, 1e-12)
			obeysItself(t, law, []units.Length{soft.Length})
		})
	}
}

// A preload beyond the crossover leaves the main spring alone, whose force at
// travel 0 is then F* + k₂·(preload − x*): 1155 + 87.5·(40 − 35.2) = 1575 N.
func TestDualRatePreloadedBeyond(t *testing.T) {
	spec := dualRates[0].spec
	spec.Preload = mm(40)
	law, err := spring.NewDualRate(spec)
	require.NoError(t, err)
	require.Len(t, law.Segments(), 1)
	agree(t, "force", law.Force(0), 1575, 1e-12)
	agree(t, "rate", law.Rate(0), perMM(87.5), 1e-12)
	agree(t, "energy", law.Energy(mm(10)), 1.575*10+0.0875*50, 1e-12)
}

func TestDualRateRefused(t *testing.T) {
	for _, v := range bad {
		_, err := spring.NewDualRate(spring.DualRate{
			SoftRate: units.Stiffness(v), MainRate: units.Stiffness(v), SoftTravel: units.Length(v), MainTravel: units.Length(v), Preload: -1,
		})
		refuses(t, err, "soft_rate", "main_rate", "soft_travel", "main_travel", "preload")
	}
	spec := dualRates[0].spec
	spec.MainTravel = mm(13.2) // 1155 N / 87.5 N/mm: solid just when the soft one stops
	_, err := spring.NewDualRate(spec)
	refuses(t, err, "main_travel")
	spec = dualRates[0].spec
	spec.Preload = spec.SoftTravel + spec.MainTravel
	_, err = spring.NewDualRate(spec)
	refuses(t, err, "preload")
	_, err = spring.NewDualRate(spring.DualRate{SoftRate: 1e-300, MainRate: 1e300, SoftTravel: 1e-300, MainTravel: 1})
	refuses(t, err, "soft_rate")
}

// A soft spring stopped after 22 mm of its own, on a main spring.
func ExampleNewDualRate() {
	law, err := spring.NewDualRate(spring.DualRate{
		SoftRate:   52.5 * units.NewtonPerMillimetre,
		MainRate:   87.5 * units.NewtonPerMillimetre,
		SoftTravel: 22 * units.Millimetre,
		MainTravel: 60 * units.Millimetre,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	soft, main := law.Segments()[0], law.Segments()[1]
	fmt.Printf("%.4f up to %.1f and %.0f, then %.1f\n", soft.Rate, soft.Length, soft.End, main.Rate)
	// Output:
	// 32.8125 N/mm up to 35.2 mm and 1155 N, then 87.5 N/mm
}
