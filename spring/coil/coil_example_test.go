package coil_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Budynas and Nisbett, Shigley's Mechanical Engineering Design, problem 10-3
// (publisher's solutions, 10th ed.), which prints index 11.4, 13 active coils,
// 1.314 N/mm, 35 mm solid and a Bergsträsser factor of 1.117.
func ExampleNew() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 2.5 * units.Millimetre, OuterDiameter: 31 * units.Millimetre, TotalCoils: 14,
		Ends: coil.PlainGround, ShearModulus: 81 * units.Gigapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("index %.1f, %.0f active coils\n", s.Index(), s.ActiveCoils())
	fmt.Printf("rate %.3f, solid %.0f, factor %.3f\n", s.Rate(), s.SolidLength(), s.Bergstrasser())
	// Output:
	// index 11.4, 13 active coils
	// rate 1.314 N/mm, solid 35 mm, factor 1.117
}

// A bad spec names every bad field at once.
func ExampleNew_refused() {
	_, err := coil.New(coil.Spec{
		WireDiameter: 9.5, MeanDiameter: 50 * units.Millimetre, // nine and a half metres of wire: a unit is missing
		ActiveCoils: 5, ShearModulus: -1,
	})
	fmt.Println(err)
	// Output:
	// coil: wire_diameter 9500 mm: want less than the mean diameter, 50 mm
	// coil: shear_modulus -1e-06 MPa: want from 1e-06 MPa to 1000000000 MPa
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

func ExampleSpring_Buckling() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 4.5 * units.Millimetre, MeanDiameter: 22.5 * units.Millimetre, ActiveCoils: 25, FreeLength: 220 * units.Millimetre,
		ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206000 * units.Megapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	b, _ := s.Buckling(0.5) // seated flat at both ends
	fmt.Printf("%.2f mean diameters long, stable to %.2f, bows at %.1f\n", b.Slenderness, b.StableSlenderness, b.Travel)
	// Output: 9.78 mean diameters long, stable to 5.23, bows at 27.8 mm
}

// Bhandari, Design of Machine Elements, example 10.4, as worked in a published
// textbook companion: 6.278549 active coils.
func ExampleCoilsForRate() {
	d, err := coil.CoilsForRate(coil.Spec{
		WireDiameter: 4 * units.Millimetre, MeanDiameter: 24 * units.Millimetre, ShearModulus: 81370 * units.Megapascal,
	}, 30*units.NewtonPerMillimetre, 0.25)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.6f coils, wound with %.2f: %.2f, %+.1f %%\n", d.ExactCoils, d.Coil.ActiveCoils, d.Rate, 100*d.Miss)
	// Output: 6.278549 coils, wound with 6.25: 30.14 N/mm, +0.5 %
}

func ExampleWireForRate() {
	d, err := coil.WireForRate(coil.RateTarget{
		Rate: 80 * units.NewtonPerMillimetre, Index: 4.6, ActiveCoils: 5, ShearModulus: 79.5 * units.Gigapascal,
		Stock: []units.Length{3.5 * units.Millimetre, 4 * units.Millimetre}, CoilStep: 0.25,
	})
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 8 · 80 N/mm · 4.6³ · 5/79 500 MPa = 3.918 mm of wire.
	fmt.Printf("wire %.3f, from stock %.1f with %.2f coils: %.1f\n", d.ExactWire, d.Coil.WireDiameter, d.Coil.ActiveCoils, d.Rate)
	// Output: wire 3.918 mm, from stock 4.0 mm with 5.00 coils: 81.7 N/mm
}

// exampleCoil is an invented spring of a shock. The figures that the Examples
// below print were computed from the formulas with mpmath at 50 digits.
func exampleCoil() *coil.Spring {
	s, err := coil.New(coil.Spec{
		WireDiameter: 10 * units.Millimetre, MeanDiameter: 46 * units.Millimetre, ActiveCoils: 5,
		Ends: coil.SquaredGround, FreeLength: 115 * units.Millimetre,
		ShearModulus: 79500 * units.Megapascal, ElasticModulus: 206000 * units.Megapascal,
		Density: 7850 * units.KilogramPerCubicMetre,
	})
	if err != nil {
		log.Fatal(err)
	}
	return s
}

func ExampleSpring_RateEndsHeld() {
	s := exampleCoil()
	free, _ := s.RateEndsFree()
	held, _ := s.RateEndsHeld()
	fmt.Printf("flat %.2f, ends held %.2f, ends free %.2f\n", s.Rate(), held, free)
	// Output: flat 204.19 N/mm, ends held 203.46 N/mm, ends free 203.24 N/mm
}

func ExampleSpring_Stress() {
	s := exampleCoil()
	fmt.Printf("Bergsträsser %.5f: %.1f; Wahl %.5f\n", s.Bergstrasser(), s.Stress(5500*units.Newton), s.Wahl())
	// Output: Bergsträsser 1.32468: 853.4 MPa; Wahl 1.34203
}

func ExampleSpring_SurgeFrequency() {
	s := exampleCoil()
	f, _ := s.SurgeFrequency()
	m, _ := s.Mass()
	fmt.Printf("%.3f of spring surges at %.1f\n", m, f)
	// Output: 0.624 kg of spring surges at 338.5 Hz
}

func ExampleSpring_LoadTolerance() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 6 * units.Millimetre, MeanDiameter: 30.5 * units.Millimetre, ActiveCoils: 18, ShearModulus: 79500 * units.Megapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	for _, grade := range []coil.Grade{coil.Grade1, coil.Grade2, coil.Grade3} {
		f, _ := s.LoadTolerance(1500*units.Newton, grade)
		fmt.Printf("grade %d: ±%.1f\n", grade, f)
	}
	// Output:
	// grade 1: ±71.0 N
	// grade 2: ±112.8 N
	// grade 3: ±180.4 N
}

func ExampleSpring_WithPreload() {
	law, err := exampleCoil().WithPreload(2 * units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	// 45 mm to solid less 2 mm; 204.19 N/mm · 2 mm.
	fmt.Printf("%.0f of travel, %.0f at the top\n", law.Travel(), law.Force(0))
	// Output: 43 mm of travel, 408 N at the top
}

func ExampleSpring_OuterDiameterSolid() {
	// Short and thick: 3 mm of wire on 12 mm, pitch 5 mm.
	s, err := coil.New(coil.Spec{
		WireDiameter: 3 * units.Millimetre, MeanDiameter: 12 * units.Millimetre, ActiveCoils: 3, FreeLength: 21 * units.Millimetre,
		ShearModulus: 81500 * units.Megapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	p, _ := s.Pitch()
	a, _ := s.HelixAngle()
	d, _ := s.OuterDiameterSolid()
	fmt.Printf("pitch %.1f, helix %.3f, outer diameter %.1f, solid %.3f\n", p, a, s.OuterDiameter(), d)
	// Output: pitch 5.0 mm, helix 7.555°, outer diameter 15.0 mm, solid 15.067 mm
}
