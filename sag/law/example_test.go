package law_test

import (
	"errors"
	"fmt"

	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// A soft spring of 200 N/mm stops after 5 mm, at 1000 N; then the main spring goes on alone.
func ExampleKinds_Build() {
	var spec law.Spec
	text := `{"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "5 mm", "main_travel": "65 mm"}}`
	if err := strictjson.Unmarshal("law", []byte(text), &spec); err != nil {
		fmt.Println(err)
		return
	}
	c := units.Checker{Package: "law"}
	made := spec.Build(&c)
	if !c.OK() {
		fmt.Println(c.Err())
		return
	}
	fmt.Println(spring.Describe(made))
	// Output: 62.069 N/mm to 90 N/mm over 70 mm
}

func ExampleKinds_Springs() {
	one := law.Spec{Linear: &spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre}}
	stack := law.Spec{Series: []law.Spec{one, one}}
	fmt.Println(one.Springs(), stack.Springs(), stack.Gas())
	// Output: 1 2 false
}

// A shelf's spring as it stands in a file. By hand: 80 N/mm over 5 mm of preload and 10 mm.
func Example() {
	var spec law.Spec
	if err := strictjson.Unmarshal("law", []byte(`{"linear": {"rate": "80 N/mm", "preload": "5 mm", "travel": "60 mm"}}`), &spec); err != nil {
		fmt.Println(err)
		return
	}
	c := units.Checker{Package: "law"}
	made := spec.Build(&c)
	if !c.OK() {
		fmt.Println(c.Err())
		return
	}
	fmt.Println(made.Force(10*units.Millimetre), made.Travel())
	// Output: 1200 N 60 mm
}

// A coil spring by its wire. By hand: 80 GPa·(10 mm)⁴/(8·(50 mm)³·5) = 160 N/mm, and 120 mm less 7·10 mm to solid.
func ExampleCoil_Build() {
	c := units.Checker{Package: "law"}
	made := law.Coil{Spec: coil.Spec{
		WireDiameter: 10 * units.Millimetre, MeanDiameter: 50 * units.Millimetre, ActiveCoils: 5, FreeLength: 120 * units.Millimetre, ShearModulus: 80 * units.Gigapascal,
	}}.Build(&c)
	if !c.OK() {
		fmt.Println(c.Err())
		return
	}
	fmt.Println(made.Rate(0), made.Travel())
	// Output: 160 N/mm 50 mm
}

// Put in with 5 mm of preload, it has 45 mm left.
func ExampleInstalled() {
	made, err := coil.New(coil.Spec{
		WireDiameter: 10 * units.Millimetre, MeanDiameter: 50 * units.Millimetre, ActiveCoils: 5, FreeLength: 120 * units.Millimetre, ShearModulus: 80 * units.Gigapascal,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := units.Checker{Package: "law"}
	installed := law.Installed(&c, made, 5*units.Millimetre)
	fmt.Println(installed.Force(0), installed.Travel())
	// Output: 800 N 45 mm
}

// One kind, no more.
func ExampleKinds_Check() {
	c := units.Checker{Package: "law"}
	law.Spec{}.Check(&c)
	fmt.Println(errors.Is(c.Err(), units.ErrMissing))
	// Output: true
}
