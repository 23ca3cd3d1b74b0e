package coil_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// The exact torsion of a ring sector, 40-digit Galerkin, against the two
// textbook factors: errors in per cent, as in the package documentation.
func TestStressFactorsAgainstTheExactOnes(t *testing.T) {
	for _, row := range []struct{ index, exact, wahl, bergstrasser float64 }{
		{3, 1.55491773, 1.613, 0.041}, {4, 1.38275591, 1.518, 0.134}, {5, 1.29252143, 1.391, 0.123}, {6, 1.23683469, 1.267, 0.102},
		{8, 1.17161605, 1.059, 0.068}, {10, 1.13459575, 0.902, 0.048}, {12, 1.1107245, 0.784, 0.035},
	} {
		s := coilOf(t, coil.Spec{WireDiameter: 0.01, MeanDiameter: units.Length(0.01 * row.index), ActiveCoils: 5, ShearModulus: 80e9})
		for name, pair := range map[string][2]float64{"Wahl": {s.Wahl(), row.wahl}, "Bergsträsser": {s.Bergstrasser(), row.bergstrasser}} {
			if got := 100 * (pair[0]/row.exact - 1); math.Abs(got-pair[1]) > 0.0006 {
				t.Errorf("%s at %v: %.4f %% off, want %.3f %%", name, row.index, got, pair[1])
			}
		}
	}
}

// Far below what is wound, by hand: at an index of 1.5 Wahl's factor is
// 5/2 + 0.41 and Bergsträsser's 8/3.
func TestStressFactorsOfAThickWire(t *testing.T) {
	s := coilOf(t, coil.Spec{WireDiameter: 0.02, MeanDiameter: 0.03, ActiveCoils: 5, ShearModulus: 80e9})
	close12(t, "Wahl", s.Wahl(), 2.91)
	close12(t, "Bergsträsser", s.Bergstrasser(), 8.0/3)
}

func ExampleSpring_Stress() {
	s := exampleCoil()
	fmt.Printf("Bergsträsser %.5f: %.1f; Wahl %.5f\n", s.Bergstrasser(), s.Stress(5500*units.Newton), s.Wahl())
	// Output: Bergsträsser 1.32468: 853.4 MPa; Wahl 1.34203
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

// Shigley, problem 10-5 (publisher's solutions, 10th ed.), which prints 2.6 in,
// 67.2 lbf, a factor of 1.135 and 48.56 kpsi.
func ExampleSpring_SolidStress() {
	s := coilOr(coil.Spec{
		WireDiameter: 0.2 * units.Inch, MeanDiameter: 2 * units.Inch, TotalCoils: 12, Ends: coil.Squared,
		FreeLength: 5 * units.Inch, ShearModulus: 11.2 * units.Mpsi,
	})
	force, _ := s.SolidForce()
	stress, _ := s.SolidStress()
	fmt.Printf("%.1f in, %.1f lbf, factor %.3f, %.2f kpsi\n", s.SolidLength().Inches(), force.PoundsForce(), s.Bergstrasser(), units.In(stress, units.Kpsi))
	// Output: 2.6 in, 67.2 lbf, factor 1.135, 48.56 kpsi
}
