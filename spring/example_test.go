package spring_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A soft spring of 60 N/mm on end with one of 90 N/mm, preloaded by 5 mm. By hand: together 36 N/mm, so 540 N
// compress them by 15 mm, 10 mm after the preload. Of 36 N/mm · 15 mm · 15 mm/2 = 4.05 J the preload stored 0.45 J.
func Example() {
	soft, err := spring.NewLinear(spring.Linear{Rate: 60 * units.NewtonPerMillimetre, Travel: 30 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	hard, _ := spring.NewLinear(spring.Linear{Rate: 90 * units.NewtonPerMillimetre, Travel: 20 * units.Millimetre})
	stack, _ := spring.NewSeries(soft, hard)
	law, _ := spring.NewPreloaded(stack, 5*units.Millimetre)
	x, err := spring.Settle(law, 540*units.Newton)
	fmt.Printf("rests at %.1f of %.0f: %.0f, %.2f %v\n", x, law.Travel(), law.Rate(x), law.Energy(x), err)
	// Output: rests at 10.0 mm of 45 mm: 36 N/mm, 3.60 J <nil>
}

// bench is a spring of 50 N/mm with a preload of 2 mm, over 60 mm.
func bench() spring.LinearSpring {
	law, err := spring.NewLinear(spring.Linear{Rate: 50 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	return law
}

// By hand: 50 N/mm · (2 + 10) mm. Outside the travel the force is that of its end.
func ExampleLinearSpring_Force() {
	law := bench()
	fmt.Printf("%.0f, %.0f, %.0f\n", law.Force(0), law.Force(10*units.Millimetre), law.Force(-1))
	// Output: 100 N, 600 N, 100 N
}

func ExampleLinearSpring_Rate() {
	fmt.Printf("%.0f\n", bench().Rate(10*units.Millimetre))
	// Output: 50 N/mm
}

// By hand: (100 N + 600 N)/2 · 10 mm. What the preload stored is not counted.
func ExampleLinearSpring_Energy() {
	fmt.Printf("%.1f\n", bench().Energy(10*units.Millimetre))
	// Output: 3.5 J
}

func ExampleLinearSpring_Travel() {
	fmt.Printf("%.0f\n", bench().Travel())
	// Output: 60 mm
}

func ExampleLinearSpring_Segments() {
	for _, s := range bench().Segments() {
		fmt.Printf("%.0f of %.0f, from %.0f to %.0f\n", s.Length, s.Rate, s.Start, s.End)
	}
	// Output: 60 mm of 50 N/mm, from 100 N to 3100 N
}

func ExampleLinearSpring_String() {
	fmt.Println(bench())
	// Output: 50 N/mm over 60 mm, 100 N at full extension
}

// A law of one's own takes its argument so.
func ExampleClamp() {
	travel := 60 * units.Millimetre
	fmt.Printf("%.0f %.0f %.0f\n", spring.Clamp(-1, travel), spring.Clamp(25*units.Millimetre, travel), spring.Clamp(1, travel))
	// Output: 0 mm 25 mm 60 mm
}

// A part of a larger input is checked under its own name.
func ExampleLinear_Check() {
	c := units.Checker{Package: "workshop"}
	rear := c.Child("rear")
	spring.Linear{Rate: 50 * units.NewtonPerMillimetre}.Check(&rear)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field, f.Want)
	}
	// Output: rear.travel a finite value, more than 0
}

func ExampleReadings_Check() {
	c := units.Checker{Package: "workshop"}
	spring.Readings{Travel: []units.Length{0, 10 * units.Millimetre, 20 * units.Millimetre}, Force: []units.Force{0, 510}}.Check(&c)
	for _, f := range units.Fields(c.Err()) {
		fmt.Println(f.Field, f.Want)
	}
	// Output: force as many readings as travel has, 3
}
