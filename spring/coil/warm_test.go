package coil_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestWarmBounds(t *testing.T) {
	bounds(t, "shear_modulus", 1, 1e15, func(v float64) error { return second(coil.WarmShearModulus(units.Stress(v), 0, 300)) })
	bounds(t, "coefficient", 0, 1, func(v float64) error { return second(coil.WarmShearModulus(80e9, v, 200)) })
	bounds(t, "temperature", 1e-3, 1e4, func(v float64) error { return second(coil.WarmShearModulus(80e9, 1e-5, units.Temperature(v))) })
	// 0.5 per kelvin: nothing is left 2 K above 20 °C.
	refuses(t, second(coil.WarmShearModulus(80e9, 0.5, units.Celsius(20)+1.999)))
	refuses(t, second(coil.WarmShearModulus(80e9, 0.5, units.Celsius(20)+2)), "temperature")
	nan := math.NaN()
	refuses(t, second(coil.WarmShearModulus(0, -1, 0)), "shear_modulus", "coefficient", "temperature")
	refuses(t, second(coil.WarmShearModulus(units.Stress(nan), nan, units.Temperature(nan))), "shear_modulus", "coefficient", "temperature")
}

// FuzzWarmShearModulus: falls with temperature and stays more than 0.
func FuzzWarmShearModulus(f *testing.F) {
	f.Add(79.5e9, 0.25e-3, 353.15)
	f.Add(1e300, 1e300, 293.15)
	f.Add(1.0, 0.4e-3, 5e-324)
	f.Fuzz(func(t *testing.T, at20, coefficient, kelvin float64) {
		g, err := coil.WarmShearModulus(units.Stress(at20), coefficient, units.Temperature(kelvin))
		if err != nil {
			named(t, "modulus", err)
			return
		}
		if !(g > 0) || !finite(float64(g)) || kelvin > 293.15 && !(g <= units.Stress(at20)*(1+1e-12)) || kelvin < 293.15 && !(g >= units.Stress(at20)*(1-1e-12)) {
			t.Fatalf("%v at %v K with %v per K, of %v at 20 °C", float64(g), kelvin, coefficient, at20)
		}
	})
}

func ExampleWarmShearModulus() {
	g, err := coil.WarmShearModulus(81500*units.Megapascal, 0.25e-3, units.Celsius(-10))
	if err != nil {
		log.Fatal(err)
	}
	// 81 500 MPa · (1 + 0.25e-3 · 30), the wire stiffer in the cold.
	fmt.Printf("%.2f\n", g)
	// Output: 82111.25 MPa
}
