package sag_test

import (
	"fmt"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// demoMasses are a rider and a bike; invented.
func demoMasses() sag.Masses {
	return sag.Masses{
		RiderMass: 80 * units.Kilogram, BikeMass: 16 * units.Kilogram, RearShare: 0.6,
		UnsprungFront: new(2 * units.Kilogram), UnsprungRear: new(3 * units.Kilogram),
		WheelRadius: 350 * units.Millimetre, FrontWheelRadius: 370 * units.Millimetre,
	}
}

// Another rider of 60 kg. By hand: (0.6·76 − 3) kg·g₀.
func ExampleMasses_LoadsWith() {
	loads, err := demoMasses().LoadsWith(60 * units.Kilogram)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", loads.Rear)
	// Output: 417.8 N
}

// By hand: (0.4·96 − 2) kg·g₀.
func ExampleLoads_Load() {
	loads, err := demoMasses().Loads()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f\n", loads.Load(sag.Front))
	// Output: 357.0 N
}

func ExampleMasses_Total() {
	scales := sag.Masses{BikeMass: 16 * units.Kilogram, FrontScale: 41 * units.Kilogram, RearScale: 57 * units.Kilogram}
	fmt.Println(demoMasses().Total(), scales.Total())
	// Output: 96 kg 98 kg
}

func ExampleMasses_Scaled() {
	fmt.Println(demoMasses().Scaled(), sag.Masses{FrontScale: 41, RearScale: 57}.Scaled())
	// Output: false true
}

func ExampleMasses_Unsprung() {
	fmt.Println(demoMasses().Unsprung(sag.Rear), sag.Masses{}.Unsprung(sag.Rear))
	// Output: 3 kg 0 kg
}

// The front wheel has a radius of its own, the rear one that of both.
func ExampleMasses_Radius() {
	fmt.Println(demoMasses().Radius(sag.Front), demoMasses().Radius(sag.Rear))
	// Output: 370 mm 350 mm
}

func ExampleMasses_CheckStated() {
	c := units.Checker{Package: "job"}
	masses := sag.Masses{UnsprungRear: new(3 * units.Kilogram)}
	masses.CheckStated(&c, sag.Front)
	masses.CheckStated(&c, sag.Rear)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output: unsprung_front
}

// By hand: (0.6·(80 + 16) − 3) kg·g₀.
func ExampleAxleShare_Load() {
	rear := sag.AxleShare{End: sag.Rear, RearShare: 0.6, BikeMass: 16 * units.Kilogram, Unsprung: 3 * units.Kilogram}
	fmt.Printf("%.1f\n", rear.Load(80*units.Kilogram))
	// Output: 535.4 N
}

func ExampleAxleShare_Check() {
	c := units.Checker{Package: "job"}
	sag.AxleShare{End: "left", RearShare: 0.6, BikeMass: 16 * units.Kilogram}.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output: end
}

// Fewer readings than two different strokes do not tell a spring of one chamber.
func ExampleLoadReadings_CheckEnough() {
	c := units.Checker{Package: "job"}
	sag.LoadReadings{
		Ambient: units.StandardAtmosphere, NegativeChamber: new(false), OutsideDiameter: 34 * units.Millimetre, RingError: units.Millimetre,
		Readings: []sag.LoadReading{{Fill: units.PSIGauge(50), Stroke: 48 * units.Millimetre, Load: 400 * units.Newton}},
	}.CheckEnough(&c, rear().Curve)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field)
	}
	// Output: readings
}

func ExampleAtAxle() {
	loads := sag.Loads{FrontWheel: 380 * units.Newton, RearWheel: 560 * units.Newton}
	fmt.Println(sag.AtAxle(sag.Rear, loads.FrontWheel, loads.RearWheel))
	// Output: 560 N
}
