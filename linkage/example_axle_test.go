package linkage_test

import (
	"fmt"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// A fork at 60° moves its axle up by sin 60° and back by cos 60° of the way along its stanchions.
func ExampleCurve_AxleAt() {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 60 * units.Degree, Travel: 160 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	a := fork.AxleAt(100 * millimetre)
	fmt.Printf("up %.1f, forward %.1f\n", a.Up, a.Forward)
	// Output:
	// up 86.6 mm, forward -50.0 mm
}

// Only a fork has a head angle.
func ExampleCurve_HeadAngle() {
	fork, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	table, err := linkage.NewTable(coarse)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, curve := range []*linkage.Curve{fork, table} {
		angle, ok := curve.HeadAngle()
		fmt.Println(angle, ok)
	}
	// Output:
	// 64° true
	// 0° false
}

// A form offers the ways to describe a curve, and shows which of them a description takes.
func ExampleKinds() {
	spec := linkage.Spec{Table: &coarse}
	for _, k := range linkage.Kinds() {
		fmt.Printf("%s, %s: %v\n", k.Label, k.About, k.Given(spec))
	}
	// Output:
	// Constant ratio, for a lever ratio that does not change: false
	// Fork angle, for a telescopic fork: false
	// Table, for travels known at some strokes: true
	// Pivots, for the places of the pivots: false
}

// A ratio of 2.5: at 50 mm of travel the spring of 80 N/mm is compressed by 20 mm and pushes with 1600 N,
// of which 640 N arrive at the wheel.
func ExampleWheelLaw_Leverage() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: curve.Stroke()})
	if err != nil {
		fmt.Println(err)
		return
	}
	wheel, err := linkage.AtWheel(curve, coil)
	if err != nil {
		fmt.Println(err)
		return
	}
	w := 50 * millimetre
	stroke, ratio := wheel.Leverage(w)
	fmt.Printf("%.0f of stroke at a ratio of %.1f: %.0f at the spring, %.0f at the wheel\n", stroke, ratio, wheel.SpringForce(w), wheel.Force(w))
	// Output:
	// 20 mm of stroke at a ratio of 2.5: 1600 N at the spring, 640 N at the wheel
}

// A part of a program that takes a spring checks it among its other fields.
func ExampleCheckLaw() {
	c := units.Checker{Package: "garage"}
	linkage.CheckLaw(&c, "spring", nil)
	units.Positive(&c, "mass", -1*units.Kilogram)
	fmt.Println(c.Err())
	// Output:
	// garage: spring: want a spring
	// garage: mass -1 kg: want a finite value, more than 0
}
