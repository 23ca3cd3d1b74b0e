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
	// airspring: positive_volume 150 cm³: want a chamber left with more than the 162.9 cm³ that the travel sweeps
	// airspring: exponent 0.9: want from 1 to 2
	// airspring: fill 0 kPa(g): want more than 0 and at most 100000 kPa(g), above ambient
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

// By hand: after a slow stroke to half its volume a chamber has twice its absolute
// pressure, and carries A·(2·p_f − p_a).
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

// A second chamber (invented) opens at 64 mm: the force is continuous, the rate
// drops.
func ExampleSpring_OpeningTravel() {
	law := stagedFork()
	x := law.OpeningTravel()
	fmt.Printf("opens at %.2f\n", x)
	fmt.Printf("just before: %.1f, %.2f\n", law.Force(x-1e-9), law.Rate(x-1e-9))
	fmt.Printf("just after:  %.1f, %.2f\n", law.Force(x), law.Rate(x))
	// Output:
	// opens at 64.15 mm
	// just before: 726.3 N, 7.62 N/mm
	// just after:  726.3 N, 5.62 N/mm
}

// What is left of the second chamber of an invented fork, by hand: 45 cm³ until
// 64.15 mm, and at full travel 45·(9.013/22.583)^(1/1.3) of them.
func ExampleSpring_SecondVolume() {
	law := stagedFork()
	fmt.Printf("%.1f, %.1f\n", law.SecondVolume(60*units.Millimetre), law.SecondVolume(160*units.Millimetre))
	// Output: 45.0 cm³, 22.2 cm³
}

// stagedFork is an invented fork with a second chamber.
func stagedFork() *airspring.Spring {
	law, _ := airspring.New(airspring.Spec{
		Bore: 34 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 185 * units.CubicCentimetre,
		SecondVolume: 45 * units.CubicCentimetre, SecondFill: units.BarGauge(8),
		Fill: units.BarGauge(4.5), Ambient: airspring.SeaLevel, Exponent: 1.3,
	})
	return law
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

// Settle of package spring returns the travel at a force, as for every law.
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

// By hand: slow, the rate is A·p divided by the length of the chamber that is left. At 0
// that is 1256.6 mm²·0.4 MPa/79.58 mm, and four times that where half is left.
func ExampleSpring_Rate() {
	law := slowShock()
	fmt.Printf("%.3f, %.3f\n", law.Rate(0), law.Rate(39.7887357729738*units.Millimetre))
	// Output: 6.317 N/mm, 25.266 N/mm
}

// By hand: a slow stroke to half the volume takes p·V·ln 2 less the work of the
// ambient, 40·ln 2 − 0.1·50 J.
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

// A slow stroke to half the volume doubles the absolute pressure.
func ExampleSpring_PositivePressure() {
	fmt.Printf("%.1f\n", slowShock().PositivePressure(39.7887357729738*units.Millimetre))
	// Output: 800.0 kPa(a)
}

// Without a negative chamber the ambient is behind the piston.
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

// An invented fork goes from 64.5 to 72 psi. The pump reaches the positive
// chamber alone, so the gauge reads low after each cycle; two rounds do.
func ExamplePlanTopUp() {
	plan, err := airspring.PlanTopUp(airspring.TopUp{
		Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre, PortTravel: 8 * units.Millimetre,
		PositiveVolume: 220 * units.CubicCentimetre, NegativeVolume: 50 * units.CubicCentimetre,
		OldFill: units.PSIGauge(64.5), Fill: units.PSIGauge(72), Within: units.PSIGauge(0.5), Ambient: airspring.SeaLevel,
	})
	for _, step := range plan.Steps {
		fmt.Printf("%-5s %.1f psi to %.1f psi\n", step.Action, step.Before.PSI(), step.After.PSI())
	}
	fmt.Println(plan.Cycles, "cycles", err)
	// Output:
	// pump  64.5 psi to 72.0 psi
	// cycle 72.0 psi to 70.4 psi
	// pump  70.4 psi to 72.0 psi
	// cycle 72.0 psi to 71.7 psi
	// 2 cycles <nil>
}

// Common practice: a fork raised from 64.5 to 72 psi and cycled about an inch reads
// 1 to 2 psi low. For which proportions of the chambers, with a port near full
// extension, is that so? By hand, 7.5 psi·r/(1 + r) of a negative chamber r times
// as large as the positive one: for r from 2/13 to 4/11. The invented forks of
// these examples have 50 to 220 cm³, 0.23.
func ExamplePlanTopUp_commonPractice() {
	for _, r := range []float64{0.1, 2.0 / 13, 0.23, 4.0 / 11, 0.5} {
		plan, _ := airspring.PlanTopUp(airspring.TopUp{
			Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre,
			PositiveVolume: 220 * units.CubicCentimetre, NegativeVolume: units.Volume(r) * 220 * units.CubicCentimetre,
			OldFill: units.PSIGauge(64.5), Fill: units.PSIGauge(72), Within: units.PSIGauge(0.55), Ambient: airspring.SeaLevel,
		})
		fmt.Printf("r = %.2f: %.1f psi low, %d rounds\n", r, 72-plan.Reading[0].PSI(), plan.Cycles)
	}
	// Output:
	// r = 0.10: 0.7 psi low, 2 rounds
	// r = 0.15: 1.0 psi low, 2 rounds
	// r = 0.23: 1.4 psi low, 2 rounds
	// r = 0.36: 2.0 psi low, 2 rounds
	// r = 0.50: 2.5 psi low, 3 rounds
}

// An invented fork goes down to 55 psi. The negative chamber is still full and pulls it
// in, so the air is let out in rounds, and every gauge is read where the fork stands.
func ExampleTopUpOf() {
	fork := airspring.Spec{
		Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 160 * units.Millimetre, PortTravel: 8 * units.Millimetre,
		PositiveVolume: 236 * units.CubicCentimetre, SpacerVolume: 8 * units.CubicCentimetre, Spacers: 2, NegativeVolume: 50 * units.CubicCentimetre,
		Fill: units.PSIGauge(64.5), Ambient: airspring.SeaLevel, Exponent: 1,
	}
	plan, _ := airspring.PlanTopUp(airspring.TopUpOf(fork, units.PSIGauge(55), units.PSIGauge(0.5)))
	for _, step := range plan.Steps {
		fmt.Printf("%-7s %.1f psi to %.1f psi, pulled in by %.1f mm\n", step.Action, step.Before.PSI(), step.After.PSI(), step.Stands.Millimetres())
	}
	fmt.Printf("%s\n%.1f psi at full extension\n", plan.Steps[1].Text, plan.Reading[plan.Cycles-1].PSI())
	// Output:
	// release 66.3 psi to 63.3 psi, pulled in by 7.3 mm
	// cycle   63.3 psi to 63.3 psi, pulled in by 4.9 mm
	// release 63.3 psi to 60.3 psi, pulled in by 7.3 mm
	// cycle   60.3 psi to 60.3 psi, pulled in by 5.0 mm
	// release 60.3 psi to 57.5 psi, pulled in by 7.3 mm
	// cycle   57.5 psi to 57.5 psi, pulled in by 5.0 mm
	// release 57.5 psi to 56.8 psi, pulled in by 5.6 mm
	// cycle   56.8 psi to 56.8 psi, pulled in by 5.0 mm
	// unscrew the pump and cycle slowly about an inch, past the port at 8.0 mm
	// 55.2 psi at full extension
}

// By hand: 20 bar · 60/65.
func ExampleHoseReading() {
	reading, err := airspring.HoseReading(60*units.CubicCentimetre, 5*units.CubicCentimetre, units.BarGauge(20))
	fmt.Printf("%.2f bar %v\n", reading.Bar(), err)
	// Output: 18.46 bar <nil>
}

func ExampleHoseFill() {
	fill, err := airspring.HoseFill(60*units.CubicCentimetre, 5*units.CubicCentimetre, units.BarGauge(18.46))
	fmt.Printf("%.1f bar %v\n", fill.Bar(), err)
	// Output: 20.0 bar <nil>
}

// An invented fork is to carry 600 N at 40 mm: its fills with no spacer to two, and the force at
// the end of a fast stroke. The figures were confirmed with mpmath, 30
// digits.
func ExampleFillSearch_Trials() {
	search := airspring.FillSearch{
		Spec: airspring.Spec{
			Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 250 * units.CubicCentimetre,
			SpacerVolume: 8 * units.CubicCentimetre, Ambient: airspring.SeaLevel, Exponent: 1.35,
		},
		Force: 600 * units.Newton, At: 40 * units.Millimetre, MaxFill: units.BarGauge(8), Last: 2,
	}
	trials, err := search.Trials()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range trials {
		t := &trials[i]
		fmt.Printf("%d spacers: %s, %.2f bar, %.0f at the end\n", t.Spacers, t.Outcome, t.Fill.Bar(), t.Fast.Force(search.Spec.Travel))
	}
	// Output:
	// 0 spacers: met, 4.77 bar, 2339 N at the end
	// 1 spacers: met, 4.73 bar, 2541 N at the end
	// 2 spacers: met, 4.69 bar, 2795 N at the end
}

// The outcome says why no fill carries the force, without an error to read.
func ExampleSpec_SolveFill() {
	fork := airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 230 * units.CubicCentimetre,
		Ambient: airspring.SeaLevel, Exponent: 1,
	}
	for _, force := range []units.Force{5, 600, 200e3} {
		fill, outcome := fork.SolveFill(force, 40*units.Millimetre)
		fmt.Printf("%.0f N: %s, %.2f bar\n", force.Newtons(), outcome, fill.Bar())
	}
	// Output:
	// 5 N: none, 0.00 bar
	// 600 N: met, 4.67 bar
	// 200000 N: beyond, 0.00 bar
}

// A spec inside another one is checked in place.
func ExampleSpec_Check() {
	c := units.Checker{Package: "mine"}
	front := c.Child("front")
	airspring.Spec{Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 230 * units.CubicCentimetre, Ambient: airspring.SeaLevel}.Check(&front)
	fmt.Println(c.Err())
	// Output: mine: front.exponent 0: want from 1 to 2
}

// The standard's table prints 79495.2 Pa and 275.15 K for 2000 m (U.S. Standard
// Atmosphere, 1976, geopotential altitude).
func ExampleAtmosphere() {
	air, err := airspring.Atmosphere(2000 * units.Metre)
	fmt.Printf("%.1f Pa(a), %.2f K %v\n", air.Pressure.Pascals(), air.Temperature.Kelvin(), err)
	// Output: 79495.2 Pa(a), 275.15 K <nil>
}

// A fork filled indoors and taken to a cold mountain. By hand for the cold:
// (550 + 101.325)·273.15/293.15 − 101.325 = 505.56 kPa.
func ExampleFillAt() {
	indoors := airspring.Conditions{Temperature: units.Celsius(20)}
	cold := airspring.Conditions{Temperature: units.Celsius(0)}
	mountain := airspring.Conditions{Temperature: units.Celsius(0), Altitude: 2000 * units.Metre}
	for _, there := range []airspring.Conditions{cold, mountain} {
		fill, err := airspring.FillAt(units.BarGauge(5.5), indoors, there)
		fmt.Printf("%.2f bar %v\n", fill.Bar(), err)
	}
	// Output:
	// 5.06 bar <nil>
	// 5.27 bar <nil>
}

// The sag of an invented fork under 400 N: colder, it sags more; higher up, where less
// air presses from outside, a little less again. The last line is the fill that
// has the sag from home there. (Confirmed with mpmath, 30 digits.)
func ExampleSpecAt() {
	fork := airspring.Spec{
		Bore: 34 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 160 * units.Millimetre,
		PositiveVolume: 190 * units.CubicCentimetre, NegativeVolume: 60 * units.CubicCentimetre, PortTravel: 8 * units.Millimetre,
		Fill: units.BarGauge(5.5), Ambient: airspring.SeaLevel, Exponent: 1,
	}
	high, _ := airspring.Atmosphere(2000 * units.Metre)
	cold, _ := airspring.SpecAt(fork, units.Celsius(20), units.Celsius(0), airspring.SeaLevel)
	mountain, _ := airspring.SpecAt(fork, units.Celsius(20), units.Celsius(0), high.Pressure)
	var home units.Length
	for _, spec := range []airspring.Spec{fork, cold, mountain} {
		law, _ := airspring.New(spec)
		x, err := spring.Settle(law, 400*units.Newton)
		fmt.Printf("%.2f bar, sag %.1f %v\n", spec.Fill.Bar(), x, err)
		if home == 0 {
			home = x
		}
	}
	fill, err := airspring.FillFor(mountain, 400*units.Newton, home)
	fmt.Printf("set it to %.2f bar %v\n", fill.Bar(), err)
	// Output:
	// 5.50 bar, sag 50.0 mm <nil>
	// 5.06 bar, sag 53.7 mm <nil>
	// 5.27 bar, sag 53.5 mm <nil>
	// set it to 5.69 bar <nil>
}

// By hand: A = π·32²/4 = 804.248 mm²; V₀ = 100 cm³ and, 20 mm on, 83.9150 cm³;
// so C = 958.407 mm², and (600 N + 804.248 mm²·0.101325 MPa)/C = 0.711066 MPa,
// which is 609.741 kPa above the air around.
func ExampleFillWorking() {
	spec := airspring.Spec{
		Bore: 32 * units.Millimetre, Travel: 60 * units.Millimetre, PositiveVolume: 100 * units.CubicCentimetre,
		Ambient: units.StandardAtmosphere, Exponent: 1,
	}
	steps, err := airspring.FillWorking(spec, 600*units.Newton, 20*units.Millimetre)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range steps[2:] {
		fmt.Printf("%-24s  %-24s  %s\n", s.Name, s.Formula, s.Result)
	}
	// Output:
	// chamber at the travel     V_x = V₀ − A·x            V_x = 83.915 cm³
	// force per absolute fill   C = A·(V₀/V_x)ⁿ           C = 958.407 mm²
	// fill                      g = (F + A·p_a)/C − p_a   g = 609.741 kPa(g)
}

// By hand: the positive chamber is 220 cm³ − 907.920 mm²·8 mm = 212.737 cm³ at
// the port, the negative one 50 cm³ + 829.380 mm²·8 mm = 56.6350 cm³.
func ExampleTopUp_Working() {
	steps, err := airspring.TopUp{
		Bore: 34 * units.Millimetre, Shaft: 10 * units.Millimetre, PositiveVolume: 220 * units.CubicCentimetre, NegativeVolume: 50 * units.CubicCentimetre,
		PortTravel: 8 * units.Millimetre, OldFill: units.PSIGauge(64.5), Fill: units.PSIGauge(72), Ambient: units.StandardAtmosphere, Within: units.PSIGauge(2),
	}.Working()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(steps[2])
	// Output:
	// share of what is pumped in that goes into the negative chamber: β = V_n/(V_p + V_n); V_n = 56.635 cm³; V_p = 212.737 cm³ → β = 0.210249 [mass of the gas, slow: p·V adds up]
}
