package coil_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// A spring for a shock (invented), from its wire to the travel under a load. By hand: D = 53.5 − 8.5 = 45 mm and
// k = 79 500·8.5⁴/(8·45³·5.25) = 108.432 N/mm; 1300 N/k − 2 mm = 9.989 mm; 8·F·D/(π·d³) = 242.57 MPa, times
// Bergsträsser's 23.176/18.176.
func Example() {
	s, err := coil.New(coil.Spec{
		WireDiameter: 8.5 * units.Millimetre, OuterDiameter: 53.5 * units.Millimetre, ActiveCoils: 5.25,
		FreeLength: 120 * units.Millimetre, ShearModulus: 79500 * units.Megapascal,
	})
	if err != nil {
		log.Fatal(err)
	}
	law, _ := s.WithPreload(2 * units.Millimetre)
	x, err := spring.Settle(law, 1300*units.Newton)
	fmt.Printf("%.3f, rests at %.3f, stressed to %.1f %v\n", s.Rate(), x, s.Stress(1300*units.Newton), err)
	// Output: 108.432 N/mm, rests at 9.989 mm, stressed to 309.3 MPa <nil>
}

// The spring of these Examples has 5 active coils of 10 mm wire on 46 mm, squared and ground ends, and a free
// length of 115 mm.
func ExampleSpring_Index() {
	fmt.Printf("%.1f\n", exampleCoil().Index())
	// Output: 4.6
}

func ExampleSpring_WireDiameter() {
	fmt.Printf("%.0f\n", exampleCoil().WireDiameter())
	// Output: 10 mm
}

func ExampleSpring_MeanDiameter() {
	fmt.Printf("%.0f\n", exampleCoil().MeanDiameter())
	// Output: 46 mm
}

func ExampleSpring_OuterDiameter() {
	fmt.Printf("%.0f\n", exampleCoil().OuterDiameter())
	// Output: 56 mm
}

func ExampleSpring_InnerDiameter() {
	fmt.Printf("%.0f\n", exampleCoil().InnerDiameter())
	// Output: 36 mm
}

func ExampleSpring_ActiveCoils() {
	fmt.Println(exampleCoil().ActiveCoils())
	// Output: 5
}

// Squared ends have a dead coil each.
func ExampleSpring_TotalCoils() {
	fmt.Println(exampleCoil().TotalCoils())
	// Output: 7
}

// By hand: 7 coils of 10 mm, all touching.
func ExampleSpring_SolidLength() {
	fmt.Printf("%.0f\n", exampleCoil().SolidLength())
	// Output: 70 mm
}

func ExampleSpring_SolidTravel() {
	travel, ok := exampleCoil().SolidTravel()
	fmt.Printf("%.0f %v\n", travel, ok)
	// Output: 45 mm true
}

// By hand: 204.19 N/mm · 45 mm.
func ExampleSpring_SolidForce() {
	force, ok := exampleCoil().SolidForce()
	fmt.Printf("%.0f %v\n", force, ok)
	// Output: 9189 N true
}

// By hand: π·46 mm·7.
func ExampleSpring_WireLength() {
	fmt.Printf("%.1f\n", exampleCoil().WireLength())
	// Output: 1011.6 mm
}

// By hand: a pitch of 19 mm climbs by atan(19/(π·46)).
func ExampleSpring_HelixAngle() {
	angle, ok := exampleCoil().HelixAngle()
	fmt.Printf("%.2f° %v\n", angle.Degrees(), ok)
	// Output: 7.49° true
}

// By hand: (4·4.6 + 2)/(4·4.6 − 3).
func ExampleSpring_Bergstrasser() {
	fmt.Printf("%.4f\n", exampleCoil().Bergstrasser())
	// Output: 1.3247
}

// By hand: the active wire is 0.4455 kg of steel, and ½·√(204 190/0.4455) is the frequency.
func ExampleSpring_SurgeFrequency() {
	f, ok := exampleCoil().SurgeFrequency()
	fmt.Printf("%.1f %v\n", f, ok)
	// Output: 338.5 Hz true
}

// widening is a spring of 10 coils of 80 000·5⁴/(8·25³) = 400 N/mm each, whose gaps grow from 2 to 4 mm: 40 N/mm up
// to 20 mm and 800 N, where the first coil closes, and solid at 10·3 mm and 1600 N.
func widening() coil.LinearPitchSpring {
	s, err := coil.NewLinearPitch(coil.LinearPitch{
		WireDiameter: 5 * units.Millimetre, MeanDiameter: 25 * units.Millimetre, ActiveCoils: 10, ShearModulus: 80 * units.Gigapascal,
		FirstGap: 2 * units.Millimetre, LastGap: 4 * units.Millimetre,
	})
	if err != nil {
		log.Fatal(err)
	}
	return s
}

func ExampleLinearPitchSpring_Force() {
	fmt.Printf("%.0f, %.0f\n", widening().Force(20*units.Millimetre), widening().Force(30*units.Millimetre))
	// Output: 800 N, 1600 N
}

func ExampleLinearPitchSpring_Rate() {
	fmt.Printf("%.0f\n", widening().Rate(10*units.Millimetre))
	// Output: 40 N/mm
}

// By hand: 800 N · 20 mm/2.
func ExampleLinearPitchSpring_Energy() {
	fmt.Printf("%.0f\n", widening().Energy(20*units.Millimetre))
	// Output: 8 J
}

func ExampleLinearPitchSpring_Travel() {
	fmt.Printf("%.0f\n", widening().Travel())
	// Output: 30 mm
}

// At full travel the rate is that of a thousandth of the coils.
func ExampleLinearPitchSpring_String() {
	fmt.Println(widening())
	// Output: 40 N/mm to 40000 N/mm over 30 mm
}

// What is missing is named beside what is bad.
func ExampleSpec_Check() {
	c := units.Checker{Package: "workshop"}
	coil.Spec{WireDiameter: 10 * units.Millimetre, OuterDiameter: 18 * units.Millimetre, ShearModulus: 79500 * units.Megapascal}.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field, f.Want)
	}
	// Output:
	// wire_diameter less than mean_diameter 8 mm
	// active_coils one of active_coils, total_coils, more than 0
}

func ExamplePlace_Check() {
	c := units.Checker{Package: "workshop"}
	coil.Place{Stroke: 57.5 * units.Millimetre, Wire: "copper"}.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field, f.Want)
	}
	// Output: wire one of cold_drawn, tempered, stainless
}
