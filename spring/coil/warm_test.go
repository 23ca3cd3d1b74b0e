package coil_test

import (
	"fmt"
	"log"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestWarmShearModulus(t *testing.T) {
	g, err := coil.WarmShearModulus(81500*units.Megapascal, 0.25e-3, units.Celsius(-10))
	require.NoError(t, err)
	close12(t, "cold", g.Megapascals(), 82111.25)
	for _, test := range []struct {
		g    units.Stress
		r    float64
		t    units.Temperature
		want []string
	}{
		{0, -1, 0, []string{"shear_modulus", "coefficient", "temperature"}},
		{units.Stress(math.NaN()), math.NaN(), units.Temperature(math.NaN()), []string{"shear_modulus", "coefficient", "temperature"}},
		{80e9, 0.5, units.Celsius(30), []string{"temperature"}},
	} {
		_, err := coil.WarmShearModulus(test.g, test.r, test.t)
		if diff := cmp.Diff(test.want, fieldsOf(err)); diff != "" {
			t.Errorf("%+v (-want +got):\n%s", test, diff)
		}
	}
}

func TestWarmBounds(t *testing.T) {
	warm := func(g units.Stress, r float64, at units.Temperature) error {
		return second(coil.WarmShearModulus(g, r, at))
	}
	for _, row := range []at{
		{"the softest wire", warm(1, 0, 300), nil},
		{"softer wire", warm(0.999, 0, 300), []string{"shear_modulus"}},
		{"the hardest wire", warm(1e15, 0, 300), nil},
		{"harder wire", warm(1.001e15, 0, 300), []string{"shear_modulus"}},
		{"the greatest coefficient", warm(80e9, 1, 200), nil},
		{"a greater coefficient", warm(80e9, 1.001, 200), []string{"coefficient"}},
		{"the coldest", warm(80e9, 1e-4, 1e-3), nil},
		{"colder", warm(80e9, 1e-4, 0.999e-3), []string{"temperature"}},
		{"the hottest", warm(80e9, 1e-5, 1e4), nil},
		{"hotter", warm(80e9, 1e-5, 1.001e4), []string{"temperature"}},
		// 0.5 per kelvin: nothing is left 2 K above 20 °C.
		{"nothing left", warm(80e9, 0.5, units.Celsius(20)+2), []string{"temperature"}},
		{"something left", warm(80e9, 0.5, units.Celsius(20)+1.999), nil},
	} {
		row.check(t)
	}
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
