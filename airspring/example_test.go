package airspring_test

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// An invented fork: its fill for a sag of 32 mm, and what it does there and at
// the end of a fast stroke. The figures were confirmed with mpmath, 50 digits.
func Example() {
	fork := airspring.Spec{
		Bore: 34 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 160 * units.Millimetre,
		PositiveVolume: 190 * units.CubicCentimetre, NegativeVolume: 60 * units.CubicCentimetre, PortTravel: 8 * units.Millimetre,
		Ambient: airspring.SeaLevel, Exponent: 1, // slow
	}
	fill, err := airspring.FillFor(fork, 380*units.Newton, 32*units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	fork.Fill = fill
	slow, _ := airspring.New(fork)
	fork.Exponent = 1.4
	fast, _ := airspring.New(fork)
	fmt.Printf("fill %.2f bar, %.1f psi\n", fill.Bar(), fill.PSI())
	fmt.Printf("at rest it carries %.0f at %.0f\n", slow.Force(0.032), 32*units.Millimetre)
	fmt.Printf("unloaded it settles at %.2f\n", slow.RestTravel())
	fmt.Printf("at full travel: slow %.0f, fast %.0f\n", slow.Force(slow.Travel()), fast.Force(fast.Travel()))
	// Output:
	// fill 8.50 bar, 123.3 psi
	// at rest it carries 380 N at 32 mm
	// unloaded it settles at 3.41 mm
	// at full travel: slow 3377 N, fast 6357 N
}

// One chamber (invented). By hand: 5 bar on a bore of 32 mm are
// 500 000 Pa · 804.25 mm² = 402.12 N at full extension.
func ExampleNew() {
	law, err := airspring.New(airspring.Spec{
		Bore: 32 * units.Millimetre, Travel: 120 * units.Millimetre, PositiveVolume: 160 * units.CubicCentimetre,
		Fill: units.BarGauge(5), Ambient: airspring.SeaLevel, Exponent: 1.3,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, x := range []units.Length{0, 60 * units.Millimetre, law.Travel()} {
		fmt.Printf("%.0f: %.2f, %.2f, %.2f\n", x, law.Force(x), law.Rate(x), law.Energy(x))
	}
	// Output:
	// 0 mm: 402.12 N, 3.16 N/mm, 0.00 J
	// 60 mm: 689.69 N, 7.22 N/mm, 31.57 J
	// 120 mm: 1526.69 N, 26.48 N/mm, 92.70 J
}

// Every bad field is named at once.
func ExampleNew_refused() {
	_, err := airspring.New(airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 150 * units.CubicCentimetre,
		Ambient: airspring.SeaLevel, Exponent: 0.9,
	})
	fmt.Println(err)
	// Output:
	// airspring: positive_volume 150 cm³: want a chamber left with more than the 162.860163162095 cm³ that the travel sweeps
	// airspring: exponent 0.9: want from 1 to 2
	// airspring: fill 0 kPa(g): want more than 0 above ambient, up to 100000 kPa(g)
}

// Two volume spacers make the end of the travel stiffer and leave the start
// nearly as it was (an invented fork).
func ExampleSpec() {
	fork := airspring.Spec{
		Bore: 35 * units.Millimetre, Travel: 150 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre,
		OilVolume: 10 * units.CubicCentimetre, SpacerVolume: 7.5 * units.CubicCentimetre,
		Fill: units.BarGauge(5.5), Ambient: airspring.SeaLevel, Exponent: 1.3,
	}
	for _, n := range []int{0, 2} {
		fork.Spacers = n
		law, _ := airspring.New(fork)
		fmt.Printf("%d spacers: ratio %.2f, %.0f at 30 %%, %.0f at the end\n",
			n, law.CompressionRatio(), law.Force(0.3*law.Travel()), law.Force(law.Travel()))
	}
	// Output:
	// 0 spacers: ratio 2.68, 724 N at 30 %, 2165 N at the end
	// 2 spacers: ratio 3.04, 742 N at 30 %, 2564 N at the end
}

// By hand: slow and half swept a chamber has twice its absolute pressure, so it
// carries A·(2·p_f − p_a).
func ExampleFillFor() {
	shock := airspring.Spec{
		Bore: 40 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Ambient: airspring.SeaLevel, Exponent: 1,
	}
	fill, err := airspring.FillFor(shock, 1500*units.Newton, 18*units.Millimetre)
	fmt.Printf("%.2f bar, %.0f psi, %v\n", fill.Bar(), fill.PSI(), err)
	_, err = airspring.FillFor(shock, 10*units.Newton, 18*units.Millimetre)
	fmt.Println(err)
	// Output:
	// 9.01 bar, 131 psi, <nil>
	// airspring: force 10 N: want more than what a fill of 0 above ambient would give there
}

// A second chamber (invented) joins in at 64 mm: the force goes on, the rate
// drops.
func ExampleSpring_OpeningTravel() {
	law, _ := airspring.New(airspring.Spec{
		Bore: 34 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 185 * units.CubicCentimetre,
		SecondVolume: 45 * units.CubicCentimetre, SecondFill: units.BarGauge(8),
		Fill: units.BarGauge(4.5), Ambient: airspring.SeaLevel, Exponent: 1.3,
	})
	x := law.OpeningTravel()
	fmt.Printf("opens at %.2f\n", x)
	fmt.Printf("just before: %.1f, %.2f\n", law.Force(x-1e-9), law.Rate(x-1e-9))
	fmt.Printf("just after:  %.1f, %.2f\n", law.Force(x), law.Rate(x))
	fmt.Printf("second chamber at the end: %.1f\n", law.SecondVolume(law.Travel()))
	// Output:
	// opens at 64.15 mm
	// just before: 726.3 N, 7.62 N/mm
	// just after:  726.3 N, 5.62 N/mm
	// second chamber at the end: 22.2 cm³
}

// What is left of the second chamber of an invented fork, by hand: 45 cm³ until
// 64.15 mm, and at full travel 45·(9.013/22.583)^(1/1.3) of them.
func ExampleSpring_SecondVolume() {
	s, err := airspring.New(airspring.Spec{
		Bore: 34 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 185 * units.CubicCentimetre, SecondVolume: 45 * units.CubicCentimetre,
		Fill: units.BarGauge(4.5), SecondFill: units.BarGauge(8), Ambient: airspring.SeaLevel, Exponent: 1.3,
	})
	fmt.Printf("%.1f, %.1f %v\n", s.SecondVolume(60*units.Millimetre), s.SecondVolume(160*units.Millimetre), err)
	// Output: 45.0 cm³, 22.2 cm³ <nil>
}

// An unloaded fork stands a little way into its travel, which its maker may or
// may not count as travel.
func ExampleSpring_RestTravel() {
	law, _ := airspring.New(airspring.Spec{
		Bore: 34 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 160 * units.Millimetre,
		PositiveVolume: 190 * units.CubicCentimetre, NegativeVolume: 60 * units.CubicCentimetre, PortTravel: 8 * units.Millimetre,
		Fill: units.BarGauge(5.5), Ambient: airspring.SeaLevel, Exponent: 1,
	})
	fmt.Printf("%.1f at full extension, at rest at %.2f\n", law.Force(0), law.RestTravel())
	fmt.Printf("there: %.2f and %.2f\n", law.PositivePressure(law.RestTravel()), law.NegativePressure(law.RestTravel()))
	// Output:
	// -40.4 N at full extension, at rest at 3.64 mm
	// there: 662.87 kPa(a) and 716.04 kPa(a)
}

// A load is turned into a travel by spring.Settle, as with every law.
func ExampleSpring_Force() {
	law, _ := airspring.New(airspring.Spec{
		Bore: 40 * units.Millimetre, Travel: 200 * units.Millimetre, PositiveVolume: 330 * units.CubicCentimetre,
		Fill: units.BarGauge(3), Ambient: airspring.SeaLevel, Exponent: 1,
	})
	x, err := spring.Settle(law, 400*units.Newton)
	fmt.Printf("%.3f %v\n", x, err)
	// Output: 11.458 mm <nil>
}

// By hand: a bore of 40 mm sweeps 12.57 cm³ in 10 mm.
func ExampleSpring_PositiveVolume() {
	law, _ := airspring.New(airspring.Spec{
		Bore: 40 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 110 * units.CubicCentimetre, OilVolume: 10 * units.CubicCentimetre,
		Fill: units.BarGauge(14), Ambient: airspring.SeaLevel, Exponent: 1,
	})
	fmt.Printf("%.2f, %.2f\n", law.PositiveVolume(0), law.PositiveVolume(10*units.Millimetre))
	// Output: 100.00 cm³, 87.43 cm³
}

// By hand, slow: k = A·p/(what is left of the length of the chamber), here
// 1256.6 mm²·(0.4 MPa)/(79.58 mm) at 0, and four times that where half is left.
func ExampleSpring_Rate() {
	law := slowShock()
	fmt.Printf("%.3f, %.3f\n", law.Rate(0), law.Rate(39.7887357729738*units.Millimetre))
	// Output: 6.317 N/mm, 25.266 N/mm
}

// By hand, slow, to half the volume: p·V·ln 2 less the work of the ambient,
// 40·ln 2 − 0.1·50 J.
func ExampleSpring_Energy() {
	law := slowShock()
	fmt.Printf("%.3f\n", law.Energy(39.7887357729738*units.Millimetre))
	// Output: 22.726 J
}

// By hand: a travel of 60 mm sweeps 75.4 of 100 cm³.
func ExampleSpring_CompressionRatio() {
	fmt.Printf("%.2f\n", slowShock().CompressionRatio())
	// Output: 4.06
}

// Half the volume, slow: twice the absolute pressure.
func ExampleSpring_PositivePressure() {
	fmt.Printf("%.1f\n", slowShock().PositivePressure(39.7887357729738*units.Millimetre))
	// Output: 800.0 kPa(a)
}

// With nothing behind the piston it is the ambient there.
func ExampleSpring_NegativePressure() {
	fmt.Printf("%.1f\n", slowShock().NegativePressure(0))
	// Output: 100.0 kPa(a)
}

// slowShock is an invented shock at 4 bar absolute: 100 cm³ under a bore of 40 mm.
func slowShock() *airspring.Spring {
	law, _ := airspring.New(airspring.Spec{
		Bore: 40 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Fill: units.BarGauge(3), Ambient: 1 * units.BarAbsolute, Exponent: 1,
	})
	return law
}
