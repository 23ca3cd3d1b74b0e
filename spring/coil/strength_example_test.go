package coil_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Shigley, problem 10-3 (publisher's solutions, 10th ed.): music wire of
// 2.5 mm, for which 1936 MPa is printed.
func ExampleTensileStrength() {
	music := coil.StrengthFit{
		Form: coil.PowerStrength, AtUnit: 2211 * units.Megapascal, Exponent: 0.145,
		WireFrom: 0.1 * units.Millimetre, WireTo: 6.5 * units.Millimetre,
	}
	s, err := coil.TensileStrength(music, 2.5*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f\n", s)
	// The wire of a shock spring is thicker than music wire is made.
	_, err = coil.TensileStrength(music, 10*units.Millimetre)
	fmt.Println(err)
	// Output:
	// 1936 MPa
	// coil: wire_diameter 10 mm: want from 0.1 mm to 6.5 mm, which is what the fit covers
}

// The tolerances of an invented fork spring, computed with mpmath at 50 digits.
func ExampleSpring_FreeLengthTolerance() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 6 * units.Millimetre, MeanDiameter: 30.5 * units.Millimetre, ActiveCoils: 18, ShearModulus: 79500 * units.Megapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	for _, grade := range []coil.Grade{coil.Grade1, coil.Grade2, coil.Grade3} {
		x, _ := s.FreeLengthTolerance(grade)
		fmt.Printf("grade %d: ±%.2f\n", grade, x)
	}
	// Output:
	// grade 1: ±2.26 mm
	// grade 2: ±3.58 mm
	// grade 3: ±5.73 mm
}
