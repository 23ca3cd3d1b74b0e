package units_test

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A getter gives back what its constant multiplied, to two units in the last
// place at most. A whole number from 1 to 1000 comes back when rounded to 15 digits,
// and in the units that the package documentation names as it is.
func TestGettersInvertTheirConstants(t *testing.T) {
	for i, u := range allUnits {
		if u.get == nil {
			continue
		}
		random := rand.New(rand.NewPCG(503, uint64(i)))
		for k := 1; k <= 2000; k++ {
			n := float64(k)
			if k > 1000 {
				n = anyNumber(random)
			}
			got := u.get(u.make(n))
			most := 0x1p-52 * math.Abs(n)
			if u.zero != nil {
				scale, _ := u.scale.Float64()
				most = 3 * 0x1p-53 * u.size(n) / scale
			}
			if !(math.Abs(got-n) <= most) {
				t.Errorf("seed 503, %d: %.17g %s comes back as %.17g", i, n, u, got)
			}
			rounded, _ := strconv.ParseFloat(strconv.FormatFloat(got, 'g', 15, 64), 64)
			if k <= 1000 && (u.zero == nil && rounded != n || u.whole && got != n) {
				t.Errorf("%v %s does not come back whole but as %.17g", n, u, got)
			}
		}
	}
	// The package documentation's example of one that doesn't.
	if got := strconv.FormatFloat((450 * units.PoundForcePerInch).PoundsForcePerInch(), 'g', -1, 64); got != "450.00000000000006" {
		t.Errorf("450 lbf/in comes back as %s", got)
	}
}

func TestGaugeAndAbsoluteDifferByTheAmbient(t *testing.T) {
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

func TestTemperatureScales(t *testing.T) {
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
