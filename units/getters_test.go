package units_test

import (
	"math"
	"strconv"
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// getter is a unit and the method that reads it.
type getter struct {
	name  string
	whole bool // whole numbers come back whole, as the package doc says
	back  func(n float64) float64
}

func getterOf[Q ~float64](name string, whole bool, unit Q, get func(Q) float64) getter {
	return getter{name, whole, func(n float64) float64 { return get(Q(n) * unit) }}
}

var getters = []getter{
	getterOf("m", true, units.Metre, units.Length.Metres),
	getterOf("cm", false, units.Centimetre, units.Length.Centimetres),
	getterOf("mm", true, units.Millimetre, units.Length.Millimetres),
	getterOf("in", false, units.Inch, units.Length.Inches),
	getterOf("ft", false, units.Foot, units.Length.Feet),
	getterOf("m²", true, units.SquareMetre, units.Area.SquareMetres),
	getterOf("cm²", false, units.SquareCentimetre, units.Area.SquareCentimetres),
	getterOf("mm²", false, units.SquareMillimetre, units.Area.SquareMillimetres),
	getterOf("in²", false, units.SquareInch, units.Area.SquareInches),
	getterOf("m³", true, units.CubicMetre, units.Volume.CubicMetres),
	getterOf("l", true, units.Litre, units.Volume.Litres),
	getterOf("cm³", false, units.CubicCentimetre, units.Volume.CubicCentimetres),
	getterOf("mm³", false, units.CubicMillimetre, units.Volume.CubicMillimetres),
	getterOf("in³", false, units.CubicInch, units.Volume.CubicInches),
	getterOf("kg", true, units.Kilogram, units.Mass.Kilograms),
	getterOf("g", true, units.Gram, units.Mass.Grams),
	getterOf("lb", false, units.Pound, units.Mass.Pounds),
	getterOf("oz", false, units.Ounce, units.Mass.Ounces),
	getterOf("N", true, units.Newton, units.Force.Newtons),
	getterOf("kN", true, units.Kilonewton, units.Force.Kilonewtons),
	getterOf("lbf", false, units.PoundForce, units.Force.PoundsForce),
	getterOf("kgf", false, units.KilogramForce, units.Force.KilogramsForce),
	getterOf("N/m", true, units.NewtonPerMetre, units.Stiffness.NewtonsPerMetre),
	getterOf("N/mm", true, units.NewtonPerMillimetre, units.Stiffness.NewtonsPerMillimetre),
	getterOf("lbf/in", false, units.PoundForcePerInch, units.Stiffness.PoundsForcePerInch),
	getterOf("kgf/mm", false, units.KilogramForcePerMillimetre, units.Stiffness.KilogramsForcePerMillimetre),
	getterOf("Pa(g)", true, units.PascalGauge(1), units.GaugePressure.Pascals),
	getterOf("kPa(g)", true, units.KilopascalGauge(1), units.GaugePressure.Kilopascals),
	getterOf("bar(g)", true, units.BarGauge(1), units.GaugePressure.Bar),
	getterOf("psi(g)", false, units.PSIGauge(1), units.GaugePressure.PSI),
	getterOf("Pa(a)", true, units.PascalAbsolute, units.AbsolutePressure.Pascals),
	getterOf("kPa(a)", true, units.KilopascalAbsolute, units.AbsolutePressure.Kilopascals),
	getterOf("bar(a)", true, units.BarAbsolute, units.AbsolutePressure.Bar),
	getterOf("psia", false, units.PSIAbsolute, units.AbsolutePressure.PSI),
	getterOf("atm", true, units.StandardAtmosphere, units.AbsolutePressure.Atmospheres),
	getterOf("Pa", true, units.Pascal, units.Stress.Pascals),
	getterOf("kPa", true, units.Kilopascal, units.Stress.Kilopascals),
	getterOf("MPa", true, units.Megapascal, units.Stress.Megapascals),
	getterOf("GPa", true, units.Gigapascal, units.Stress.Gigapascals),
	getterOf("psi", false, units.PoundForcePerSquareInch, units.Stress.PSI),
	getterOf("kpsi", false, units.Kpsi, units.Stress.Kpsi),
	getterOf("Mpsi", false, units.Mpsi, units.Stress.Mpsi),
	getterOf("N·s/m", true, units.NewtonSecondPerMetre, units.Damping.NewtonSecondsPerMetre),
	getterOf("N·s/mm", true, units.NewtonSecondPerMillimetre, units.Damping.NewtonSecondsPerMillimetre),
	getterOf("lbf·s/in", false, units.PoundForceSecondPerInch, units.Damping.PoundForceSecondsPerInch),
	getterOf("N·m", true, units.NewtonMetre, units.Torque.NewtonMetres),
	getterOf("lbf·in", false, units.PoundForceInch, units.Torque.PoundForceInches),
	getterOf("lbf·ft", false, units.PoundForceFoot, units.Torque.PoundForceFeet),
	getterOf("J", true, units.Joule, units.Energy.Joules),
	getterOf("kJ", true, units.Kilojoule, units.Energy.Kilojoules),
	getterOf("ft·lbf", false, units.FootPoundForce, units.Energy.FootPoundsForce),
	getterOf("K", true, units.Kelvin, units.Temperature.Kelvin),
	getterOf("rad", true, units.Radian, units.Angle.Radians),
	getterOf("°", false, units.Degree, units.Angle.Degrees),
	getterOf("Hz", true, units.Hertz, units.Frequency.Hertz),
	getterOf("kg/m³", true, units.KilogramPerCubicMetre, units.Density.KilogramsPerCubicMetre),
	getterOf("g/cm³", true, units.GramPerCubicCentimetre, units.Density.GramsPerCubicCentimetre),
	getterOf("s", true, units.Second, units.Time.Seconds),
	getterOf("ms", true, units.Millisecond, units.Time.Milliseconds),
	getterOf("1/m", true, units.PerMetre, units.RatioSlope.PerMetre),
	getterOf("1/mm", true, units.PerMillimetre, units.RatioSlope.PerMillimetre),
}

// Every whole number from 1 to 1000 comes back when rounded to 15 digits, and
// in the units that the package doc names it comes back as it is.
func TestGettersReturnWholeNumbers(t *testing.T) {
	for _, g := range getters {
		for n := 1.0; n <= 1000; n++ {
			got := g.back(n)
			rounded, err := strconv.ParseFloat(strconv.FormatFloat(got, 'g', 15, 64), 64)
			if err != nil || rounded != n {
				t.Errorf("%v %s comes back as %.17g", n, g.name, got)
			}
			if g.whole && got != n {
				t.Errorf("%v %s does not come back whole but as %.17g", n, g.name, got)
			}
		}
		if got := g.back(-7); got != -g.back(7) {
			t.Errorf("-7 %s comes back as %v", g.name, got)
		}
	}
	// The package doc's example of one that doesn't.
	if got := strconv.FormatFloat((450 * units.PoundForcePerInch).PoundsForcePerInch(), 'g', -1, 64); got != "450.00000000000006" {
		t.Errorf("450 lbf/in comes back as %s", got)
	}
}

// A typed constant, a parsed text and a constructor give the very same bits.
func TestWaysOfMakingAgree(t *testing.T) {
	for n := 1; n <= 1000; n++ {
		number := strconv.Itoa(n)
		x := float64(n)
		for _, test := range []struct {
			quantity, symbol string
			made             float64
		}{
			{"Length", "mm", float64(units.Length(x) * units.Millimetre)},
			{"Length", "in", float64(units.Length(x) * units.Inch)},
			{"Stiffness", "lbf/in", float64(units.Stiffness(x) * units.PoundForcePerInch)},
			{"GaugePressure", "psi", float64(units.PSIGauge(x))},
			{"GaugePressure", "bar", float64(units.BarGauge(x))},
			{"GaugePressure", "kPa", float64(units.KilopascalGauge(x))},
			{"GaugePressure", "Pa(g)", float64(units.PascalGauge(x))},
			{"AbsolutePressure", "psia", float64(units.AbsolutePressure(x) * units.PSIAbsolute)},
			{"Temperature", "°C", float64(units.Celsius(x))},
			{"Temperature", "°F", float64(units.Fahrenheit(x))},
			{"Temperature", "K", float64(units.Temperature(x) * units.Kelvin)},
			{"Angle", "°", float64(units.Angle(x) * units.Degree)},
		} {
			parsed, err := quantityNamed(t, test.quantity).parse(number + " " + test.symbol)
			if err != nil || parsed != test.made {
				t.Errorf("%s %s is parsed as %.17g, %v, and made as %.17g", number, test.symbol, parsed, err, test.made)
			}
		}
	}
}

func TestGaugeAndAbsolute(t *testing.T) {
	for _, test := range []struct {
		name     string
		gauge    units.GaugePressure
		ambient  units.AbsolutePressure
		absolute units.AbsolutePressure
	}{
		// 1 atm is 101325/6894.757293168361… psi = 14.6959… psi, by exact fractions.
		{"72 psi at sea level", units.PSIGauge(72), units.StandardAtmosphere, 86.69594877551344 * units.PSIAbsolute},
		{"5 bar at 1 bar", units.BarGauge(5), units.BarAbsolute, 6 * units.BarAbsolute},
		{"empty", 0, 95 * units.KilopascalAbsolute, 95 * units.KilopascalAbsolute},
		{"sucked", units.KilopascalGauge(-20), 95 * units.KilopascalAbsolute, 75 * units.KilopascalAbsolute},
		{"in vacuum", units.BarGauge(3), 0, 3 * units.BarAbsolute},
		{"all sucked out", units.KilopascalGauge(-101.325), units.StandardAtmosphere, 0},
	} {
		unitstest.Near(t, test.name, test.gauge.Absolute(test.ambient), test.absolute, unitstest.Rel(1e-15))
		unitstest.Near(t, test.name+", back", test.absolute.Gauge(test.ambient), test.gauge, unitstest.Rel(1e-14), unitstest.Abs(units.PascalGauge(1e-9)))
	}
	// One absolute pressure reads higher on a gauge where the ambient is lower.
	if p := 5 * units.BarAbsolute; !(p.Gauge(80*units.KilopascalAbsolute) > p.Gauge(100*units.KilopascalAbsolute)) {
		t.Error("a gauge does not read more in thinner air")
	}
}

func TestTemperature(t *testing.T) {
	// The defining relations; the pairs are those everyone knows.
	for _, test := range []struct{ celsius, fahrenheit, kelvin float64 }{
		{0, 32, 273.15}, {100, 212, 373.15}, {-40, -40, 233.15}, {20, 68, 293.15}, {-10, 14, 263.15}, {-273.15, -459.67, 0}, {37, 98.6, 310.15},
	} {
		for name, temperature := range map[string]units.Temperature{
			"Celsius":    units.Celsius(test.celsius),
			"Fahrenheit": units.Fahrenheit(test.fahrenheit),
			"Kelvin":     units.Temperature(test.kelvin) * units.Kelvin,
		} {
			near := unitstest.Abs(2e-13) // a few units in the last place of 460
			unitstest.Near(t, name+", K", temperature.Kelvin(), test.kelvin, near)
			unitstest.Near(t, name+", °C", temperature.Celsius(), test.celsius, near)
			unitstest.Near(t, name+", °F", temperature.Fahrenheit(), test.fahrenheit, near)
		}
	}
	for n := -40.0; n <= 1000; n++ {
		unitstest.Near(t, "°C", units.Celsius(n).Celsius(), n, unitstest.Abs(3e-13))
		unitstest.Near(t, "°F", units.Fahrenheit(n).Fahrenheit(), n, unitstest.Abs(6e-13))
	}
}

func TestWeightAndMass(t *testing.T) {
	// 82 kg · 9.80665 m/s² = 804.1453 N, by hand; 1 lb weighs 1 lbf and 1 kg
	// weighs 1 kgf by definition.
	unitstest.Near(t, "82 kg", (82 * units.Kilogram).Weight(), 804.1453*units.Newton, unitstest.Rel(1e-15))
	unitstest.Near(t, "1 lb", units.Pound.Weight(), units.PoundForce, unitstest.Rel(2e-16))
	unitstest.Near(t, "1 kg", units.Kilogram.Weight(), units.KilogramForce, unitstest.Exact)
	unitstest.Near(t, "804.1453 N", (804.1453 * units.Newton).Mass(), 82*units.Kilogram, unitstest.Rel(1e-15))
	unitstest.Near(t, "1 lbf", units.PoundForce.Mass(), units.Pound, unitstest.Rel(2e-16))
}

func TestStiffnessTimes(t *testing.T) {
	// 450 lbf/in · 2 in = 900 lbf; 80 N/mm · 25 mm = 2000 N.
	unitstest.Near(t, "450 lbf/in · 2 in", (450 * units.PoundForcePerInch).Times(2*units.Inch), 900*units.PoundForce, unitstest.Rel(1e-15))
	unitstest.Near(t, "80 N/mm · 25 mm", (80 * units.NewtonPerMillimetre).Times(25*units.Millimetre), 2000*units.Newton, unitstest.Rel(1e-15))
}

func TestDegreeIsNearestToPi(t *testing.T) {
	unitstest.Near(t, "180°", 180*units.Degree, math.Pi, unitstest.Rel(2e-16))
	if got := (math.Pi / 2 * units.Radian).Degrees(); got != 90 {
		t.Errorf("a right angle is %v°", got)
	}
}
