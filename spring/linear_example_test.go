package spring_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func ExampleSettle() {
	law, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	// By hand: 1500 N / (80 N/mm) − 2 mm.
	x, err := spring.Settle(law, 1500*units.Newton)
	fmt.Printf("%.2f %v\n", x, err)
	_, err = spring.Settle(law, 5000*units.Newton)
	fmt.Println(err)
	// Output:
	// 16.75 mm <nil>
	// spring: bottomed out: the load is more than the force at full travel
}

func ExampleNewLinear() {
	law, err := spring.NewLinear(spring.Linear{Rate: 50 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	x := 20 * units.Millimetre
	// By hand: 50 N/mm · 22 mm, and the trapezoid (100 N + 1100 N)/2 · 20 mm.
	fmt.Printf("%.0f, %.0f, %.0f\n", law.Force(x), law.Rate(x), law.Energy(x))
	// Output: 1100 N, 50 N/mm, 12 J
}
