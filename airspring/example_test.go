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

// The question for a spring whose spec is at hand.
func ExampleTopUpOf() {
	fork := airspring.Spec{
		Bore: 36 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 160 * units.Millimetre, PortTravel: 8 * units.Millimetre,
		PositiveVolume: 236 * units.CubicCentimetre, SpacerVolume: 8 * units.CubicCentimetre, Spacers: 2, NegativeVolume: 50 * units.CubicCentimetre,
		Fill: units.PSIGauge(64.5), Ambient: airspring.SeaLevel, Exponent: 1,
	}
	plan, _ := airspring.PlanTopUp(airspring.TopUpOf(fork, units.PSIGauge(60), units.PSIGauge(0.5)))
	fmt.Printf("%s to %.0f psi, then it reads %.1f psi\n", plan.Steps[0].Action, plan.Steps[0].After.PSI(), plan.Reading[0].PSI())
	// Output: release to 60 psi, then it reads 61.0 psi
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

// The standard's table prints 79495.2 Pa and 275.15 K for 2000 m (U.S. Standard
// Atmosphere, 1976, geopotential altitude).
func ExampleAtmosphere() {
	air, err := airspring.Atmosphere(2000 * units.Metre)
	fmt.Printf("%.1f Pa(a), %.2f K %v\n", air.Pressure.Pascals(), air.Temperature.Kelvin(), err)
	// Output: 79495.2 Pa(a), 275.15 K <nil>
}

// 5000 m on a map are 4 m less in the tables.
func ExampleGeopotentialAltitude() {
	h, err := airspring.GeopotentialAltitude(5000 * units.Metre)
	fmt.Printf("%.1f m %v\n", h.Metres(), err)
	// Output: 4996.1 m <nil>
}

func ExampleGeometricAltitude() {
	z, err := airspring.GeometricAltitude(5000 * units.Metre)
	fmt.Printf("%.1f m %v\n", z.Metres(), err)
	// Output: 5003.9 m <nil>
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

// The force of a cold spring with two chambers (invented).
func ExampleSpecAt() {
	fork := airspring.Spec{
		Bore: 34 * units.Millimetre, Shaft: 10 * units.Millimetre, Travel: 160 * units.Millimetre,
		PositiveVolume: 190 * units.CubicCentimetre, NegativeVolume: 60 * units.CubicCentimetre, PortTravel: 8 * units.Millimetre,
		Fill: units.BarGauge(5.5), Ambient: airspring.SeaLevel, Exponent: 1.3,
	}
	mountain, _ := airspring.Atmosphere(2000 * units.Metre)
	cold, err := airspring.SpecAt(fork, units.Celsius(20), units.Celsius(0), mountain.Pressure)
	warm, _ := airspring.New(fork)
	there, _ := airspring.New(cold)
	fmt.Printf("%.1f and %.1f %v\n", warm.Force(40*units.Millimetre), there.Force(40*units.Millimetre), err)
	// Output: 419.2 N and 391.8 N <nil>
}

// A question page's example (clay6, 52802): p·V^1.5 from 3 bar and 0.1 m³ to
// 0.2 m³ gives 1.06 bar and 17.6 kJ, done by the gas.
func ExamplePolytropic() {
	out, err := airspring.Polytropic(airspring.Change{
		Pressure: 3 * units.BarAbsolute, Volume: 0.1 * units.CubicMetre, ToVolume: 0.2 * units.CubicMetre, Exponent: 1.5,
	})
	fmt.Printf("%.2f bar(a), %.1f kJ %v\n", out.Pressure.Bar(), -out.Work.Kilojoules(), err)
	// Output: 1.06 bar(a), 17.6 kJ <nil>
}

// A fork's chamber (invented) vibrating at w = ωτ = 1, where the most is lost: by
// hand k_iso·(γ − 1)/2 = 0.2·k_iso out of phase, and 1.2·k_iso in phase.
func ExampleVibrate() {
	r, err := airspring.Vibrate(airspring.Vibration{
		Area: 962.1 * units.SquareMillimetre, Volume: 150 * units.CubicCentimetre, Fill: units.BarGauge(5.5), Ambient: airspring.SeaLevel,
		HeatRatio: 1.4, OmegaTau: 1,
	})
	fmt.Printf("slow %.2f, now %.2f, loss %.2f, factor %.3f %v\n", r.IsothermalRate, r.StorageRate, r.LossRate, r.LossFactor, err)
	fmt.Printf("%.1f mJ a cycle of ±1 mm\n", 1e3*r.EnergyPerCycle(1*units.Millimetre).Joules())
	// Output:
	// slow 4.02 N/mm, now 4.82 N/mm, loss 0.80 N/mm, factor 0.167 <nil>
	// 2.5 mJ a cycle of ±1 mm
}

// Compressed at once from 210 to 120 cm³ and held, with a τ of 1.5 s (invented):
// the pressure falls as the gas cools.
func ExampleHold() {
	gas, err := airspring.Hold(airspring.Step{
		Volume: 210 * units.CubicCentimetre, ToVolume: 120 * units.CubicCentimetre, Fill: units.BarGauge(5.5), Ambient: airspring.SeaLevel,
		HeatRatio: 1.4, TimeConstant: 1.5 * units.Second,
	})
	for _, t := range []units.Time{0, 1.5, 15} {
		fmt.Printf("%.1f: %.2f bar(a)\n", t, gas.Pressure(t).Bar())
	}
	fmt.Printf("at last: %.2f bar(a) %v\n", gas.Settled().Bar(), err)
	// Output:
	// 0.0 s: 14.26 bar(a)
	// 1.5 s: 12.45 bar(a)
	// 15.0 s: 11.40 bar(a)
	// at last: 11.40 bar(a) <nil>
}

// The same in a second instead of at once, then held for another τ.
func ExampleFollow() {
	out, err := airspring.Follow(airspring.History{
		Time:   []units.Time{0, 1 * units.Second, 2.5 * units.Second},
		Volume: []units.Volume{210 * units.CubicCentimetre, 120 * units.CubicCentimetre, 120 * units.CubicCentimetre},
		Fill:   units.BarGauge(5.5), Ambient: airspring.SeaLevel, HeatRatio: 1.4, TimeConstant: 1.5 * units.Second,
	})
	for i, p := range out.Pressure {
		fmt.Printf("%.2f bar(a), warmer by a factor of %.3f\n", p.Bar(), out.Warming[i])
	}
	fmt.Println(err)
	// Output:
	// 6.51 bar(a), warmer by a factor of 1.000
	// 13.52 bar(a), warmer by a factor of 1.187
	// 12.18 bar(a), warmer by a factor of 1.069
	// <nil>
}

// Strokes of ±60 cm³ about 170 cm³ (invented) lose more than the formula for
// small strokes says.
func ExampleOscillate() {
	out, err := airspring.Oscillate(airspring.Oscillation{
		MeanVolume: 170 * units.CubicCentimetre, Amplitude: 60 * units.CubicCentimetre, Fill: units.BarGauge(7), Ambient: airspring.SeaLevel,
		HeatRatio: 1.4, OmegaTau: 1,
	})
	fmt.Printf("lost %.2f a cycle, most compressed %.2f bar(a) %v\n", out.Lost, out.Pressure[18].Bar(), err)
	// Output: lost 11.57 J a cycle, most compressed 13.54 bar(a) <nil>
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

// A shock at 20 bar and 20 °C holds almost as much air as an ideal gas would, but
// answers a fast stroke harder than n = 1.4.
func ExampleRealAir() {
	gas, err := airspring.RealAir(units.BarGauge(20).Absolute(airspring.SeaLevel), units.Celsius(20))
	fmt.Printf("Z %.4f, exponent %.3f %v\n", gas.Compressibility, gas.EffectiveExponent, err)
	// Output: Z 0.9934, exponent 1.431 <nil>
}

// The exponent that a fast stroke to a third of the volume has as a whole: what
// to give a Spec for its adiabatic limit.
func ExampleCompressAir() {
	for _, fill := range []float64{5, 20} {
		out, err := airspring.CompressAir(units.BarGauge(fill).Absolute(airspring.SeaLevel), units.Celsius(20), 3)
		fmt.Printf("%.0f bar: exponent %.4f %v\n", fill, out.Exponent, err)
	}
	// Output:
	// 5 bar: exponent 1.4138 <nil>
	// 20 bar: exponent 1.4632 <nil>
}

// The chamber with which an invented fork at 5 bar has 3500 N at full travel.
func ExampleVolumeFor() {
	v, err := airspring.VolumeFor(airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, Fill: units.BarGauge(5), Ambient: airspring.SeaLevel, Exponent: 1.3,
	}, 3500*units.Newton)
	fmt.Printf("%.1f %v\n", v, err)
	// Output: 218.8 cm³ <nil>
}

// An invented fork is to carry 600 N at 40 mm, and 2600 N at the end of a fast
// stroke. The figures were confirmed with mpmath, 30 digits.
func ExampleChoose() {
	options, err := airspring.Choose(airspring.Wish{
		Spec: airspring.Spec{
			Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 250 * units.CubicCentimetre,
			SpacerVolume: 8 * units.CubicCentimetre, Ambient: airspring.SeaLevel, Exponent: 1.35,
		},
		SagForce: 600 * units.Newton, SagTravel: 40 * units.Millimetre, FullForce: 2600 * units.Newton,
		MaxFill: units.BarGauge(8), MaxSpacers: 8,
	})
	for _, o := range options[:3] {
		fmt.Printf("%d spacers, %.2f bar: %.0f at the end, %+.0f\n", o.Spacers, o.Fill.Bar(), o.FullForce, o.FullMiss)
	}
	fmt.Println(err)
	// Output:
	// 1 spacers, 4.73 bar: 2541 N at the end, -59 N
	// 2 spacers, 4.69 bar: 2795 N at the end, +195 N
	// 0 spacers, 4.77 bar: 2339 N at the end, -261 N
	// <nil>
}
