package airspring_test

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
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
		got, err := airspring.CheckIdeal(spec, gas.DryAir, units.Celsius(20))
		fmt.Printf("slow %+.1f %%, fast %+.1f %% or %.1f; right for fast: n = %.2f %v\n",
			100*got.SlowError, 100*got.FastError, got.FastForce, got.Exponent, err)
	}
	// Output:
	// slow +0.4 %, fast -1.5 % or -43.5 N; right for fast: n = 1.41 <nil>
	// slow +0.7 %, fast -6.7 % or -975.0 N; right for fast: n = 1.46 <nil>
}
