package certainty_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// exampleSetup is that of an invented bike: a constant ratio of 2.5 behind, springs of 62 and of
// 70 N/mm with 4 mm of preload, and one chamber in front.
func exampleSetup() certainty.Setup {
	sheet, err := setup.NewSheet(shelfJob(62e3, 70e3))
	if err != nil {
		log.Fatal(err)
	}
	return sheet.Setup()
}

func ExamplePropagate() {
	b, err := certainty.Propagate(exampleSetup(), certainty.Uncertainty{
		RiderMass: 2 * units.Kilogram,
		Rear:      certainty.EndUncertainty{SpringRate: 0.02, Preload: 0.2 * units.Millimetre},
	})
	if err != nil {
		log.Fatal(err) // names every bad field
	}
	s := b.Rear.Stroke
	fmt.Printf("shock sag %.1f ± %.1f\n", s.Value, s.Uncertainty)
	for _, part := range s.Contributions {
		fmt.Printf("  %s: %+.2f, %.0f %%\n", part.Input, part.Effect, 100*part.Share)
	}
	for _, r := range b.Rear.Rivals {
		fmt.Printf("%s: %.0f may be the right one instead of %.0f, with %.0f %%; to decide, mind %s\n", r.Code, r.Rate, r.Recommended, 100*r.Probability, r.Input)
	}
	fmt.Println("taken as exact behind and in the masses:", b.Exact[:4], "and more")
	// By hand: (0.6·100 − 3) kg weigh 558.98 N, 1397.4 N at the shock. 70 N/mm
	// carry it at 19.96 mm, 4 mm of which are preload. 2 kg of rider are
	// 0.6·2·g·2.5/70 = 0.42 mm, 2 % of the rate 0.02·19.96 = 0.40 mm.
	// The ideal rate is 1397.4/20.8 = 67.2 N/mm, its edge 2·62·70/132 = 65.8 N/mm;
	// the rider makes the one uncertain by 1.41 N/mm, the rates the other by
	// 0.02·65.8·√(62² + 70²)/132 = 0.93 N/mm: 1.43/1.69 standard deviations.

	// Output:
	// shock sag 16.0 mm ± 0.6 mm
	//   rider_mass: +0.42 mm, 47 %
	//   rear.spring_rate: -0.40 mm, 42 %
	//   rear.preload: -0.20 mm, 11 %
	// softer_rival: 62 N/mm may be the right one instead of 70 N/mm, with 20 %; to decide, mind rider_mass
	// taken as exact behind and in the masses: [bike_mass unsprung_front unsprung_rear rear_share] and more
}

func ExampleSimulate() {
	// A gauge that is off by 0.1 bar, one standard deviation, and no other error.
	s, err := certainty.Simulate(exampleSetup(), certainty.Uncertainty{Front: certainty.EndUncertainty{Fill: units.BarGauge(0.1)}}, 10_000, 1)
	if err != nil {
		log.Fatal(err)
	}
	fork := s.Front
	fmt.Printf("sag of the fork %.0f %%, 95 %% of the draws from %.0f to %.0f %%\n", 100*fork.Sag.Value, 100*fork.Sag.Spread.Low, 100*fork.Sag.Spread.High)
	fmt.Println("held at the top:", fork.Counts.HeldAtTop, "collapsed:", fork.Counts.Collapses, "impossible:", fork.Counts.Impossible)
	// By hand: the fork carries (0.4·100 − 2)·g·sin 64° = 334.9 N on 962.1 mm², so
	// its gas is at P = 446.1 kPa, and s = V/A·(1 − p₀/P) falls by 250 cm³/962.1 mm²/P
	// = 5.82 mm for 0.1 bar: 3.6 % of 160 mm, of which 1.96 either way hold 95 %.

	// Output:
	// sag of the fork 20 %, 95 % of the draws from 13 to 27 %
	// held at the top: 0 collapsed: 0 impossible: 0
}

func ExampleUncertainty_End() {
	u := &certainty.Uncertainty{RiderMass: 2, Rear: certainty.EndUncertainty{Preload: 0.2 * units.Millimetre}}
	fmt.Println(u.End(sag.Rear).Preload, u.End(sag.Front).Preload)
	// Output: 0.2 mm 0 mm
}

func ExampleUncertainty_Check() {
	c := units.Checker{Package: "certainty"}
	certainty.Uncertainty{RearShare: 0.5, Rear: certainty.EndUncertainty{Preload: 1 * units.Metre, Fill: units.BarGauge(0.1)}}.Check(&c, exampleSetup())
	fmt.Println(c.Err())
	// Output:
	// certainty: rear_share 0.5: want at most 0.4, as a standard uncertainty
	// certainty: rear.preload 1000 mm: want at most 60 mm, as a standard uncertainty
}
