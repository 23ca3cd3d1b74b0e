package coil_test

import (
	"fmt"
	"log"
	"math"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func coilOr(spec coil.Spec) *coil.Spring {
	s, err := coil.New(spec)
	if err != nil {
		log.Fatal(err)
	}
	return s
}

func ExampleSpring_Rate() {
	s := coilOr(coil.Spec{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5, ShearModulus: 79.5 * units.Gigapascal})
	// By hand: 79 500 MPa · (10 mm)⁴ / (8 · (46 mm)³ · 5).
	fmt.Printf("%.2f, which is %.0f lbf/in\n", s.Rate(), s.Rate().PoundsForcePerInch())
	// Output: 204.19 N/mm, which is 1166 lbf/in
}

// Shigley, problem 10-1 (publisher's solutions, 10th ed.), which prints 1.36 %
// at an index of 4 and 0.743 % at 12.
func ExampleSpring_Wahl() {
	for _, index := range []units.Length{4, 12} {
		s := coilOr(coil.Spec{WireDiameter: units.Millimetre, MeanDiameter: index * units.Millimetre, ActiveCoils: 5, ShearModulus: 80 * units.Gigapascal})
		fmt.Printf("index %.0f: Bergsträsser's factor is %.3g %% below Wahl's\n", s.Index(), 100*(s.Wahl()-s.Bergstrasser())/s.Wahl())
	}
	// Output:
	// index 4: Bergsträsser's factor is 1.36 % below Wahl's
	// index 12: Bergsträsser's factor is 0.743 % below Wahl's
}

// Shigley, problem 10-5 (publisher's solutions, 10th ed.), which prints 2.6 in,
// 67.2 lbf, a factor of 1.135 and 48.56 kpsi.
func ExampleSpring_SolidStress() {
	s := coilOr(coil.Spec{
		WireDiameter: 0.2 * units.Inch, MeanDiameter: 2 * units.Inch, TotalCoils: 12, Ends: coil.Squared,
		FreeLength: 5 * units.Inch, ShearModulus: 11.2 * units.Mpsi,
	})
	force, _ := s.SolidForce()
	stress, _ := s.SolidStress()
	fmt.Printf("%.1f in, %.1f lbf, factor %.3f, %.2f kpsi\n", s.SolidLength().Inches(), force.PoundsForce(), s.Bergstrasser(), stress.Kpsi())
	// Output: 2.6 in, 67.2 lbf, factor 1.135, 48.56 kpsi
}

// Sadhu Singh, Machine Design-I, example 8.3, p. 229, as worked in a published
// textbook companion, which prints 1.2525 and 85.05 MPa.
func ExampleSpring_StressWahl() {
	s := coilOr(coil.Spec{WireDiameter: 3 * units.Millimetre, MeanDiameter: 18 * units.Millimetre, ActiveCoils: 15, ShearModulus: 84 * units.Gigapascal})
	fmt.Printf("%.4f, %.2f\n", s.Wahl(), s.StressWahl(40*units.Newton))
	// Output: 1.2525, 85.05 MPa
}

// Bhavikatti, Strength of Materials, example 6.6.22, p. 254, as worked in a
// published textbook companion, which prints 99.47 MPa.
func ExampleSpring_StressUncorrected() {
	s := coilOr(coil.Spec{WireDiameter: 12 * units.Millimetre, MeanDiameter: 150 * units.Millimetre, ActiveCoils: 10, ShearModulus: 80 * units.Gigapascal})
	fmt.Printf("%.2f\n", s.StressUncorrected(450*units.Newton))
	// Output: 99.47 MPa
}

// Sarkar, Strength of Materials, problem 8.18, p. 218, as worked in a published
// textbook companion: a wire that climbs at 30° gives 1.1847e-5 m/N.
func ExampleSpring_RateEndsFree() {
	d, mean, n := 20*units.Millimetre, 120*units.Millimetre, 10.0
	pitch := math.Pi * mean / units.Length(math.Sqrt(3))
	s := coilOr(coil.Spec{
		WireDiameter: d, MeanDiameter: mean, ActiveCoils: n, Ends: coil.Plain, FreeLength: units.Length(n)*pitch + d,
		ShearModulus: 80 * units.Gigapascal, ElasticModulus: 200 * units.Gigapascal,
	})
	k, _ := s.RateEndsFree()
	a, _ := s.HelixAngle()
	fmt.Printf("%.0f: %.5g m/N\n", a, 1/float64(k))
	// Output: 30°: 1.1847e-05 m/N
}

// Machinery's Handbook, 31st ed., table 3 on p. 318, worked for 5 active coils
// of 10 mm of wire in a free length of 115 mm.
func ExampleSpring_Pitch() {
	for _, ends := range []coil.Ends{coil.Plain, coil.PlainGround, coil.Squared, coil.SquaredGround} {
		s := coilOr(coil.Spec{
			WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5, Ends: ends,
			FreeLength: 115 * units.Millimetre, ShearModulus: 79.5 * units.Gigapascal,
		})
		p, _ := s.Pitch()
		fmt.Printf("%s: %.0f coils, %.0f solid, pitch %.2f\n", ends, s.TotalCoils(), s.SolidLength(), p)
	}
	// Output:
	// plain: 5 coils, 60 mm solid, pitch 21.00 mm
	// plain_ground: 6 coils, 60 mm solid, pitch 19.17 mm
	// squared: 7 coils, 80 mm solid, pitch 17.00 mm
	// squared_ground: 7 coils, 70 mm solid, pitch 19.00 mm
}

func ExampleSpring_StableSlenderness() {
	s := coilOr(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, MeanDiameter: 28.5 * units.Millimetre, ActiveCoils: 13,
		ShearModulus: 79.3 * units.Gigapascal, ElasticModulus: 207 * units.Gigapascal,
	})
	// Shigley has the constant of steel as 2.63, over the fixity (publisher's
	// solutions, problem 10-3).
	pivoted, _ := s.StableSlenderness(1)
	flat, _ := s.StableSlenderness(0.5)
	fmt.Printf("%.2f on pivots, %.2f on flat seats\n", pivoted, flat)
	// Output: 2.63 on pivots, 5.25 on flat seats
}

func ExampleSpring_Mass() {
	s := coilOr(coil.Spec{
		WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5,
		ShearModulus: 79.5 * units.Gigapascal, Density: 7850 * units.KilogramPerCubicMetre,
	})
	m, _ := s.Mass()
	// By hand: π · 46 mm · 7 of wire; 7850 kg/m³ · π/4 · (10 mm)² of that.
	fmt.Printf("%.1f of wire, %.4f\n", s.WireLength(), m)
	// Output: 1011.6 mm of wire, 0.6237 kg
}

func ExampleSpec_Of() {
	// An invented steel.
	steel := coil.Material{Name: "invented steel", ShearModulus: 79.5 * units.Gigapascal, ElasticModulus: 206 * units.Gigapascal, Density: 7850 * units.KilogramPerCubicMetre}
	s := coilOr(coil.Spec{WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5}.Of(steel))
	fmt.Printf("%.2f\n", s.Rate())
	// Output: 204.19 N/mm
}
