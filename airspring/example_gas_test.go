package airspring_test

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

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

// The same fork's sag under 400 N: colder, it sags more; higher up, where less air
// presses from outside, a little less again. The last line is the gauge at the
// trailhead that gives back the sag from home. (Confirmed with mpmath, 30 digits.)
func ExampleSpecAt_sag() {
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

// A shock at 20 bar and 20 °C holds almost as much gas as an ideal one would, but
// answers a fast stroke harder than n = 1.4.
func ExampleRealState() {
	p := units.BarGauge(20).Absolute(airspring.SeaLevel)
	for _, gas := range []airspring.Gas{airspring.DryAir, airspring.Nitrogen} {
		state, err := airspring.RealState(gas, p, units.Celsius(20))
		fmt.Printf("%s: Z %.4f, exponent %.3f %v\n", gas, state.Compressibility, state.EffectiveExponent, err)
	}
	// Output:
	// air: Z 0.9934, exponent 1.431 <nil>
	// nitrogen: Z 0.9960, exponent 1.433 <nil>
}

// The exponent that a fast stroke to a third of the volume has as a whole: what
// to give a Spec for its adiabatic limit.
func ExampleCompressReal() {
	for _, fill := range []float64{5, 20} {
		out, err := airspring.CompressReal(airspring.DryAir, units.BarGauge(fill).Absolute(airspring.SeaLevel), units.Celsius(20), 3)
		fmt.Printf("%.0f bar: exponent %.4f %v\n", fill, out.Exponent, err)
	}
	// Output:
	// 5 bar: exponent 1.4138 <nil>
	// 20 bar: exponent 1.4632 <nil>
}

// An invented fork and an invented shock, both compressed to a third over their
// travel, computed with n = 1.4.
func ExampleCheckIdeal() {
	fork := airspring.Spec{
		Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, PositiveVolume: 244.29 * units.CubicCentimetre,
		Fill: units.BarGauge(5), Ambient: airspring.SeaLevel, Exponent: 1.4,
	}
	shock := fork
	shock.Bore, shock.Travel, shock.PositiveVolume, shock.Fill = 42*units.Millimetre, 57.5*units.Millimetre, 119.494*units.CubicCentimetre, units.BarGauge(20)
	for _, spec := range []airspring.Spec{fork, shock} {
		got, err := airspring.CheckIdeal(spec, airspring.DryAir, units.Celsius(20))
		fmt.Printf("slow %+.1f %%, fast %+.1f %% or %.1f; right for fast: n = %.2f %v\n",
			100*got.SlowError, 100*got.FastError, got.FastForce, got.Exponent, err)
	}
	// Output:
	// slow +0.4 %, fast -1.5 % or -43.5 N; right for fast: n = 1.41 <nil>
	// slow +0.7 %, fast -6.7 % or -975.0 N; right for fast: n = 1.46 <nil>
}

// By hand: π·(1 mm)²·803.9 N/m is 2.5 mJ, a hundred times that for ten times the
// stroke.
func ExampleResponse_EnergyPerCycle() {
	r, _ := airspring.Vibrate(airspring.Vibration{
		Area: 962.1 * units.SquareMillimetre, Volume: 150 * units.CubicCentimetre, Fill: units.BarGauge(5.5), Ambient: airspring.SeaLevel,
		HeatRatio: 1.4, OmegaTau: 1,
	})
	fmt.Printf("%.4f and %.2f\n", r.EnergyPerCycle(1*units.Millimetre), r.EnergyPerCycle(10*units.Millimetre))
	// Output: 0.0025 J and 0.25 J
}

// By hand: at once 15·2^1.4 = 39.59 bar(a), at last 15·2 = 30, and after one τ
// 30 + 9.59/e = 33.53 (an invented shock).
func ExampleHeld_Pressure() {
	gas, _ := airspring.Hold(airspring.Step{
		Volume: 100 * units.CubicCentimetre, ToVolume: 50 * units.CubicCentimetre, Fill: units.BarGauge(14), Ambient: 1 * units.BarAbsolute,
		HeatRatio: 1.4, TimeConstant: 600 * units.Millisecond,
	})
	fmt.Printf("%.2f, %.2f, %.2f bar(a)\n", gas.Pressure(0).Bar(), gas.Pressure(0.6).Bar(), gas.Settled().Bar())
	// Output: 39.59, 33.53, 30.00 bar(a)
}
