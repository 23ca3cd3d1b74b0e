package gas_test

import (
	"fmt"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// A chamber of 210 cm³ filled to 5.5 bar is pressed to 120 cm³ (invented), slowly, at once, and at once and then held.
// By hand: 6.51325 bar·1.75 and 6.51325 bar·1.75^1.4; and a time constant later e⁻¹ of the difference is left.
func Example() {
	change := gas.PolytropicChange{
		Pressure: 6.51325 * units.BarAbsolute, Volume: 210 * units.CubicCentimetre, ToVolume: 120 * units.CubicCentimetre, Exponent: 1,
	}
	slow, _ := gas.Polytropic(change)
	change.Exponent = 1.4
	fast, _ := gas.Polytropic(change)
	held, err := gas.Hold(gas.VolumeStep{
		Volume: change.Volume, ToVolume: change.ToVolume, Fill: units.BarGauge(5.5), Ambient: units.StandardAtmosphere,
		HeatRatio: 1.4, TimeConstant: 1.5 * units.Second,
	})
	fmt.Printf("%.2f, %.2f and %.2f bar(a) %v\n", slow.Pressure.Bar(), fast.Pressure.Bar(), held.Pressure(1.5*units.Second).Bar(), err)
	// Output: 11.40, 14.26 and 12.45 bar(a) <nil>
}

// A question page's example (clay6, 52802): p·V^1.5 from 3 bar and 0.1 m³ to
// 0.2 m³ gives 1.06 bar and 17.6 kJ, done by the gas.
func ExamplePolytropic() {
	out, err := gas.Polytropic(gas.PolytropicChange{
		Pressure: 3 * units.BarAbsolute, Volume: 0.1 * units.CubicMetre, ToVolume: 0.2 * units.CubicMetre, Exponent: 1.5,
	})
	fmt.Printf("%.2f bar(a), %.1f kJ %v\n", out.Pressure.Bar(), -units.In(out.Work, units.Kilojoule), err)
	// Output: 1.06 bar(a), 17.6 kJ <nil>
}

// A fork's chamber (invented) vibrating at w = ωτ = 1, where the most is lost: by
// hand k_iso·(γ − 1)/2 = 0.2·k_iso out of phase, and 1.2·k_iso in phase.
func ExampleVibrate() {
	r, err := gas.Vibrate(gas.Vibration{
		Area: 962.1 * units.SquareMillimetre, Volume: 150 * units.CubicCentimetre, Fill: units.BarGauge(5.5), Ambient: units.StandardAtmosphere,
		HeatRatio: 1.4, OmegaTau: 1,
	})
	fmt.Printf("slow %.2f, now %.2f, loss %.2f, factor %.3f %v\n", r.IsothermalRate, r.StorageRate, r.LossRate, r.LossFactor, err)
	// Output: slow 4.02 N/mm, now 4.82 N/mm, loss 0.80 N/mm, factor 0.167 <nil>
}

// Compressed at once from 210 to 120 cm³ and held, with a τ of 1.5 s (invented):
// the pressure falls as the gas cools.
func ExampleHold() {
	held, err := gas.Hold(gas.VolumeStep{
		Volume: 210 * units.CubicCentimetre, ToVolume: 120 * units.CubicCentimetre, Fill: units.BarGauge(5.5), Ambient: units.StandardAtmosphere,
		HeatRatio: 1.4, TimeConstant: 1.5 * units.Second,
	})
	for _, t := range []units.Time{0, 1.5, 15} {
		fmt.Printf("%.1f: %.2f bar(a)\n", t, held.Pressure(t).Bar())
	}
	fmt.Printf("at last: %.2f bar(a) %v\n", held.Isothermal.Bar(), err)
	// Output:
	// 0.0 s: 14.26 bar(a)
	// 1.5 s: 12.45 bar(a)
	// 15.0 s: 11.40 bar(a)
	// at last: 11.40 bar(a) <nil>
}

// The same in a second instead of at once, then held for another τ.
func ExampleFollow() {
	out, err := gas.Follow(gas.VolumeHistory{
		Time:   []units.Time{0, 1 * units.Second, 2.5 * units.Second},
		Volume: []units.Volume{210 * units.CubicCentimetre, 120 * units.CubicCentimetre, 120 * units.CubicCentimetre},
		Fill:   units.BarGauge(5.5), Ambient: units.StandardAtmosphere, HeatRatio: 1.4, TimeConstant: 1.5 * units.Second,
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
	out, err := gas.Oscillate(gas.Oscillation{
		MeanVolume: 170 * units.CubicCentimetre, Amplitude: 60 * units.CubicCentimetre, Fill: units.BarGauge(7), Ambient: units.StandardAtmosphere,
		HeatRatio: 1.4, OmegaTau: 1,
	})
	fmt.Printf("lost %.2f a cycle, most compressed %.2f bar(a) %v\n", out.Lost, out.Pressure[18].Bar(), err)
	// Output: lost 11.57 J a cycle, most compressed 13.54 bar(a) <nil>
}

// A shock at 20 bar and 20 °C holds almost as much gas as an ideal one would, but
// answers a fast stroke harder than n = 1.4.
func ExampleStateAt() {
	p := units.BarGauge(20).Absolute(units.StandardAtmosphere)
	for _, species := range []gas.Species{gas.DryAir, gas.Nitrogen} {
		state, err := gas.StateAt(species, p, units.Celsius(20))
		fmt.Printf("%s: Z %.4f, exponent %.3f %v\n", species, state.Compressibility, state.EffectiveExponent, err)
	}
	// Output:
	// air: Z 0.9934, exponent 1.431 <nil>
	// nitrogen: Z 0.9960, exponent 1.433 <nil>
}

// The exponent that a fast stroke to a third of the volume has as a whole: what
// to give a Spec for its adiabatic limit.
func ExampleCompress() {
	for _, fill := range []float64{5, 20} {
		out, err := gas.Compress(gas.DryAir, units.BarGauge(fill).Absolute(units.StandardAtmosphere), units.Celsius(20), 3)
		fmt.Printf("%.0f bar: exponent %.4f %v\n", fill, out.Exponent, err)
	}
	// Output:
	// 5 bar: exponent 1.4138 <nil>
	// 20 bar: exponent 1.4632 <nil>
}

// By hand: π·(1 mm)²·803.9 N/m is 2.5 mJ, a hundred times that for ten times the
// stroke.
func ExampleResponse_EnergyPerCycle() {
	r, _ := gas.Vibrate(gas.Vibration{
		Area: 962.1 * units.SquareMillimetre, Volume: 150 * units.CubicCentimetre, Fill: units.BarGauge(5.5), Ambient: units.StandardAtmosphere,
		HeatRatio: 1.4, OmegaTau: 1,
	})
	fmt.Printf("%.4f and %.2f\n", r.EnergyPerCycle(1*units.Millimetre), r.EnergyPerCycle(10*units.Millimetre))
	// Output: 0.0025 J and 0.25 J
}

// By hand: at once 15·2^1.4 = 39.59 bar(a), at last 15·2 = 30, and after one τ
// 30 + 9.59/e = 33.53 (an invented shock).
func ExampleRelaxation_Pressure() {
	held, _ := gas.Hold(gas.VolumeStep{
		Volume: 100 * units.CubicCentimetre, ToVolume: 50 * units.CubicCentimetre, Fill: units.BarGauge(14), Ambient: 1 * units.BarAbsolute,
		HeatRatio: 1.4, TimeConstant: 600 * units.Millisecond,
	})
	fmt.Printf("%.2f, %.2f, %.2f bar(a)\n", held.Pressure(0).Bar(), held.Pressure(0.6).Bar(), held.Isothermal.Bar())
	// Output: 39.59, 33.53, 30.00 bar(a)
}

// The fields of a struct of one's own.
func ExampleCheckFill() {
	c := units.Checker{Package: "mine"}
	gas.CheckFill(&c, "fill", units.BarGauge(5.5))
	gas.CheckFill(&c, "max_fill", 0)
	fmt.Println(c.Err())
	// Output: mine: max_fill 0 kPa(g): want more than 0 and at most 100000 kPa(g), above ambient
}

// An ambient in bar instead of pascals is 100 000 times too low.
func ExampleCheckAmbient() {
	c := units.Checker{Package: "mine"}
	gas.CheckAmbient(&c, "here", 1.01325)
	gas.CheckAmbient(&c, "there", 0)
	fmt.Println(c.Err())
	// Output:
	// mine: here 0.00101325 kPa(a): want from 1 kPa(a) to 1000 kPa(a)
	// mine: there: want the air pressure around the spring, above vacuum, such as 101.325 kPa(a)
}

func ExampleSpecies_Check() {
	c := units.Checker{Package: "mine"}
	gas.Nitrogen.Check(&c, units.Celsius(20))
	gas.Species("argon").Check(&c, units.Celsius(90))
	fmt.Println(c.Err())
	// Output:
	// mine: gas "argon": want "air" or "nitrogen"
	// mine: temperature 90 °C: want from -23.15 °C to 76.85 °C
}
