package coil_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

func TestEndsAgainstMachinerysHandbook(t *testing.T) {
	// Machinery's Handbook, 31st ed., table 3 on p. 318, worked for n = 5,
	// d = 10 mm, L₀ = 115 mm.
	for _, row := range []struct {
		ends                coil.Ends
		total, solid, pitch float64
	}{
		{coil.Plain, 5, 60, 105.0 / 5}, {coil.PlainGround, 6, 60, 115.0 / 6}, {coil.Squared, 7, 80, 85.0 / 5}, {coil.SquaredGround, 7, 70, 95.0 / 5},
	} {
		spec := shockSpring
		spec.Ends = row.ends
		s := coilOf(t, spec)
		close12(t, string(row.ends)+" total", s.TotalCoils(), row.total)
		close12(t, string(row.ends)+" solid", float64(s.SolidLength()), row.solid*1e-3)
		known[units.Length](t, string(row.ends)+" pitch", row.pitch*1e-3)(s.Pitch())
		known[units.Length](t, string(row.ends)+" solid travel", (115-row.solid)*1e-3)(s.SolidTravel())
		known[units.Force](t, string(row.ends)+" solid force", float64(s.Rate())*(115-row.solid)*1e-3)(s.SolidForce())
	}
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

func ExampleSpring_RateEndsHeld() {
	s := exampleCoil()
	free, _ := s.RateEndsFree()
	held, _ := s.RateEndsHeld()
	fmt.Printf("flat %.2f, ends held %.2f, ends free %.2f\n", s.Rate(), held, free)
	// Output: flat 204.19 N/mm, ends held 203.46 N/mm, ends free 203.24 N/mm
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

func ExampleSpring_OuterDiameterSolid() {
	// Short and thick: 3 mm of wire on 12 mm, pitch 5 mm.
	s := coilOr(coil.Spec{
		WireDiameter: 3 * units.Millimetre, MeanDiameter: 12 * units.Millimetre, ActiveCoils: 3, FreeLength: 21 * units.Millimetre,
		ShearModulus: 81500 * units.Megapascal,
	})
	p, _ := s.Pitch()
	a, _ := s.HelixAngle()
	d, _ := s.OuterDiameterSolid()
	fmt.Printf("pitch %.1f, helix %.3f, outer diameter %.1f, solid %.3f\n", p, a, s.OuterDiameter(), d)
	// Output: pitch 5.0 mm, helix 7.555°, outer diameter 15.0 mm, solid 15.067 mm
}
