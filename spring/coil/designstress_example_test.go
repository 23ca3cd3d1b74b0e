package coil_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Sadhu Singh, Machine Design-I, example 8.8, p. 234, as worked in a published
// textbook companion, which prints 19.36 mm.
func ExampleDiameterForRate() {
	d, err := coil.DiameterForRate(coil.Spec{
		WireDiameter: 4 * units.Millimetre, ActiveCoils: 30, ShearModulus: 85 * units.Gigapascal,
	}, 12.5*units.NewtonPerMillimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f\n", d.Coil.MeanDiameter)
	// Output: 19.36 mm
}

// By hand, at an index of 5 and a factor of 22/17: √(8 · 22/17 · 3500 N · 5/(π · 700 MPa)).
func ExampleWireForLoad() {
	d, err := coil.WireForLoad(3500*units.Newton, 5, 700*units.Megapascal)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.3f\n", d)
	// Output: 9.077 mm
}

// Shigley, problem 10-3 (publisher's solutions, 10th ed.), which prints 167.9 N
// and 162.8 mm, with the factor cut to 1.117.
func ExampleSpring_FreeLengthForStress() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, OuterDiameter: 31 * units.Millimetre, TotalCoils: 14,
		Ends: coil.PlainGround, ShearModulus: 81 * units.Gigapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	yield := 871.2 * units.Megapascal
	fmt.Printf("%.1f when solid, wound to %.1f at the most\n", s.LoadForStress(yield), s.FreeLengthForStress(yield))
	// Output: 167.9 N when solid, wound to 162.7 mm at the most
}
