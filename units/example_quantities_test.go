package units_test

import (
	"fmt"

	"example.com/wheelrate/units"
)

func ExampleLength() {
	travel := 6.5 * units.Inch
	fmt.Println(travel)
	fmt.Printf("%.2f cm, %.4f ft\n", units.In(travel, units.Centimetre), travel.Feet())
	// Output:
	// 165.1 mm
	// 16.51 cm, 0.5417 ft
}

func ExampleArea() {
	piston := 1.5 * units.SquareInch
	fmt.Printf("%.2f, %.4f cm²\n", piston, units.In(piston, units.SquareCentimetre))
	// Output: 967.74 mm², 9.6774 cm²
}

func ExampleVolume() {
	chamber := 10 * units.CubicInch
	fmt.Printf("%.2f, %.5f l\n", chamber, units.In(chamber, units.Litre))
	// Output: 163.87 cm³, 0.16387 l
}

func ExampleMass() {
	rider := 180 * units.Pound
	fmt.Printf("%.2f, %.0f lb\n", rider, units.In(rider, units.Pound))
	// Output: 81.65 kg, 180 lb
}

// 82 kg · 9.80665 m/s² = 804.1453 N.
func ExampleMass_Weight() {
	fmt.Printf("%.4f\n", (82 * units.Kilogram).Weight())
	// Output: 804.1453 N
}

func ExampleForce() {
	load := 150 * units.PoundForce
	fmt.Printf("%.2f, %.2f kgf\n", load, units.In(load, units.KilogramForce))
	// Output: 667.23 N, 68.04 kgf
}

func ExampleForce_Mass() {
	fmt.Printf("%.1f\n", (804.1453 * units.Newton).Mass())
	// Output: 82.0 kg
}

// 1 lbf/in is 175.1268 N/m, as NIST SP 811 rounds it (printed factor from memory).
func ExampleStiffness() {
	for _, rate := range []units.Stiffness{1 * units.PoundForcePerInch, 450 * units.PoundForcePerInch, 80 * units.NewtonPerMillimetre} {
		fmt.Printf("%.4f N/m = %.2f lbf/in = %.3f kgf/mm\n", units.In(rate, units.NewtonPerMetre), rate.PoundsForcePerInch(), units.In(rate, units.KilogramForcePerMillimetre))
	}
	// Output:
	// 175.1268 N/m = 1.00 lbf/in = 0.018 kgf/mm
	// 78807.0759 N/m = 450.00 lbf/in = 8.036 kgf/mm
	// 80000.0000 N/m = 456.81 lbf/in = 8.158 kgf/mm
}

func ExampleStiffness_Times() {
	rate := 80 * units.NewtonPerMillimetre
	fmt.Println(rate.Times(25 * units.Millimetre))
	// Output: 2000 N
}

// 1 psi is 6894.757 Pa, as NIST SP 811 rounds it.
func ExampleGaugePressure() {
	fill := units.PSIGauge(1)
	fmt.Printf("%.3f Pa, %.6f bar, %.3f\n", fill.Pascals(), fill.Bar(), fill)
	// Output: 6894.757 Pa, 0.068948 bar, 6.895 kPa(g)
}

func ExampleBarGauge() {
	fill := units.BarGauge(5)
	fmt.Printf("%v = %.1f psi\n", fill, fill.PSI())
	// Output: 500 kPa(g) = 72.5 psi
}

// The same fill is less above vacuum where the air is thinner.
func ExampleGaugePressure_Absolute() {
	fill := units.PSIGauge(72)
	fmt.Printf("%.1f at sea level, %.1f where the air has 80 kPa\n",
		fill.Absolute(units.StandardAtmosphere), fill.Absolute(80*units.KilopascalAbsolute))
	// Output: 597.7 kPa(a) at sea level, 576.4 kPa(a) where the air has 80 kPa
}

func ExampleAbsolutePressure() {
	fmt.Printf("%v = %.4f psi = %.5f bar\n", units.StandardAtmosphere, units.In(units.StandardAtmosphere, units.PSIAbsolute), units.StandardAtmosphere.Bar())
	// Output: 101.325 kPa(a) = 14.6959 psi = 1.01325 bar
}

// A sealed chamber shows more on a gauge where the air is thinner.
func ExampleAbsolutePressure_Gauge() {
	inside := 600 * units.KilopascalAbsolute
	fmt.Println(inside.Gauge(100*units.KilopascalAbsolute), inside.Gauge(80*units.KilopascalAbsolute))
	// Output: 500 kPa(g) 520 kPa(g)
}

func ExampleStress() {
	modulus := 11.5 * units.Mpsi
	fmt.Printf("%.2f GPa, %.0f\n", units.In(modulus, units.Gigapascal), modulus)
	// Output: 79.29 GPa, 79290 MPa
}

func ExampleDamping() {
	damper := 2 * units.PoundForceSecondPerInch
	fmt.Printf("%.2f = %.2f lbf·s/in\n", damper, units.In(damper, units.PoundForceSecondPerInch))
	// Output: 350.25 N·s/m = 2.00 lbf·s/in
}

func ExampleTorque() {
	torque := 5 * units.NewtonMetre
	fmt.Printf("%v = %.2f lbf·in\n", torque, units.In(torque, units.PoundForceInch))
	// Output: 5 N·m = 44.25 lbf·in
}

func ExampleEnergy() {
	stored := 200 * units.Joule
	fmt.Printf("%v = %.1f ft·lbf\n", stored, units.In(stored, units.FootPoundForce))
	// Output: 200 J = 147.5 ft·lbf
}

func ExampleTemperature() {
	fmt.Println(293.15*units.Kelvin, units.Celsius(20), units.Fahrenheit(68))
	// Output: 20 °C 20 °C 20 °C
}

// T/K = t/°C + 273.15 (NIST SP 811).
func ExampleCelsius() {
	fmt.Printf("%.2f K\n", units.Celsius(20).Kelvin())
	// Output: 293.15 K
}

// T/K = (t/°F + 459.67)/1.8 (NIST SP 811).
func ExampleFahrenheit() {
	fmt.Printf("%.2f K, %.1f °C\n", units.Fahrenheit(100).Kelvin(), units.Fahrenheit(100).Celsius())
	// Output: 310.93 K, 37.8 °C
}

func ExampleAngle() {
	head := 64.5 * units.Degree
	fmt.Printf("%v = %.4f rad\n", head, units.In(head, units.Radian))
	// Output: 64.5° = 1.1257 rad
}

func ExampleFrequency() {
	fmt.Println(2.5 * units.Hertz)
	// Output: 2.5 Hz
}

func ExampleDensity() {
	steel := 7.85 * units.GramPerCubicCentimetre
	fmt.Println(steel)
	// Output: 7850 kg/m³
}

func ExampleTime() {
	fmt.Println(250 * units.Millisecond)
	// Output: 0.25 s
}

func ExampleSpeed() {
	ride := 36 * units.KilometrePerHour
	fmt.Printf("%.1f = %.0f km/h\n", ride, ride.KilometresPerHour())
	// Output: 10.0 m/s = 36 km/h
}

// A lever ratio that falls from 3.0 to 2.5 over 60 mm of stroke falls by
// 0.5/60 for each millimetre.
func ExampleRatioSlope() {
	slope := units.RatioSlope((2.5 - 3.0) / float64(60*units.Millimetre))
	fmt.Printf("%.3f = %.6f 1/mm\n", slope, units.In(slope, units.PerMillimetre))
	// Output: -8.333 1/m = -0.008333 1/mm
}
