package units_test

import (
	"errors"
	"fmt"
	"strings"

	"example.com/wheelrate/units"
)

// tube stands for a spec of the packages above.
type tube struct {
	Outer, Inner units.Length
}

// newTube checks all of a spec and reports every field at fault.
func newTube(spec tube) error {
	c := units.Checker{Package: "tube"}
	units.Positive(&c, "outer_diameter", spec.Outer)
	if c.OK() {
		units.Inside(&c, "inner_diameter", spec.Inner, 0, spec.Outer)
	} else {
		units.Positive(&c, "inner_diameter", spec.Inner)
	}
	return c.Err()
}

func ExampleChecker() {
	fmt.Println(newTube(tube{Outer: 36 * units.Millimetre, Inner: 32 * units.Millimetre}))
	fmt.Println(newTube(tube{Outer: 36 * units.Millimetre, Inner: 38 * units.Millimetre}))
	fmt.Println(newTube(tube{Outer: -36 * units.Millimetre}))
	// Output:
	// <nil>
	// tube: inner_diameter 38 mm: want more than 0 mm and less than 36 mm
	// tube: outer_diameter -36 mm: want a finite value, more than 0
	// tube: inner_diameter 0 mm: want a finite value, more than 0
}

// A constructor of a larger spec says where the smaller one stands in it.
func ExampleChecker_Add() {
	c := units.Checker{Package: "fork"}
	c.Add("left", newTube(tube{}))
	c.Fail("finish", "polished", "one of plain, ground", units.ErrUnknown)
	fmt.Println(c.Err())
	// Output:
	// tube: left.outer_diameter 0 mm: want a finite value, more than 0
	// tube: left.inner_diameter 0 mm: want a finite value, more than 0
	// fork: finish "polished": want one of plain, ground
}

// A constructor returns the value, or the error and nothing else.
func ExampleChecked() {
	for _, rate := range []units.Stiffness{80 * units.NewtonPerMillimetre, 0} {
		c := units.Checker{Package: "shelf"}
		units.Positive(&c, "rate", rate)
		fmt.Println(units.Checked(&c, "a spring of "+rate.String()))
	}
	// Output:
	// a spring of 80 N/mm <nil>
	//  shelf: rate 0 N/mm: want a finite value, more than 0
}

func ExamplePositive() {
	var c units.Checker
	fmt.Println(units.Positive(&c, "rate", 80*units.NewtonPerMillimetre), units.Positive(&c, "preload", -1*units.Millimetre))
	fmt.Println(c.Err())
	// Output:
	// true false
	// preload -1 mm: want a finite value, more than 0
}

func ExampleNonNegative() {
	var c units.Checker
	fmt.Println(units.NonNegative(&c, "preload", 0*units.Millimetre), units.NonNegative(&c, "friction", -5*units.Newton))
	fmt.Println(c.Err())
	// Output:
	// true false
	// friction -5 N: want a finite value, 0 or more
}

func ExampleFinite() {
	var c units.Checker
	fmt.Println(units.Finite(&c, "travel", -438*units.Millimetre), c.OK())
	// Output: true true
}

func ExampleBetween() {
	var c units.Checker
	units.Between(&c, "head_angle", 95*units.Degree, 45*units.Degree, 90*units.Degree)
	fmt.Println(c.Err())
	// Output: head_angle 95°: want from 45° to 90°
}

func ExampleInside() {
	var c units.Checker
	units.Inside(&c, "sag", 1.2, 0, 1) // a plain number
	fmt.Println(c.Err())
	// Output: sag 1.2: want more than 0 and less than 1
}

func ExampleSchema() {
	for _, given := range []string{"wheelrate/job/2", "job"} {
		c := units.Checker{Package: "sag"}
		units.Schema(&c, given, "wheelrate/job/1")
		fmt.Println(c.Err())
		fmt.Println(errors.Is(c.Err(), units.ErrNewer))
	}
	// Output:
	// sag: schema "wheelrate/job/2": want "wheelrate/job/1", or a later version of this program
	// true
	// sag: schema "job": want "wheelrate/job/1"
	// false
}

func ExampleFieldError() {
	err := newTube(tube{Outer: 36 * units.Millimetre, Inner: 38 * units.Millimetre})
	if fault, ok := errors.AsType[*units.FieldError](err); ok {
		fmt.Println("field:", fault.Field)
		fmt.Println("value:", fault.Value)
		fmt.Println("want: ", fault.Want)
	}
	fmt.Println(errors.Is(err, units.ErrRange), errors.Is(err, units.ErrUnit))
	// Output:
	// field: inner_diameter
	// value: 38 mm
	// want:  more than 0 mm and less than 36 mm
	// true false
}

func ExampleFieldError_Name() {
	fmt.Println((&units.FieldError{Field: "front.curve.table.stroke[3]"}).Name())
	// Output: stroke
}

// A program prints each fault on a line of its own.
func ExampleFields() {
	err := fmt.Errorf("the job is not complete: %w", newTube(tube{}))
	for i, fault := range units.Fields(err) {
		fmt.Printf("%d. %s is %v: want %s\n", i+1, fault.Field, fault.Value, fault.Want)
	}
	// Output:
	// 1. outer_diameter is 0 mm: want a finite value, more than 0
	// 2. inner_diameter is 0 mm: want a finite value, more than 0
}

func ExampleAt() {
	err := newTube(tube{Outer: 36 * units.Millimetre})
	fmt.Println(units.At("front.left", err))
	fmt.Println(units.At("shelf[2]", err))
	// Output:
	// tube: front.left.inner_diameter 0 mm: want more than 0 mm and less than 36 mm
	// tube: shelf[2].inner_diameter 0 mm: want more than 0 mm and less than 36 mm
}

func ExampleFieldError_Path() {
	for name, index := range (&units.FieldError{Field: `points["a.b"][0]`}).Path() {
		fmt.Println(name, index)
	}
	// Output:
	// points false
	// a.b false
	// 0 true
}

func ExampleParseError_Units() {
	_, err := units.Parse[units.Mass]("80 N")
	if fault, ok := errors.AsType[*units.ParseError](err); ok {
		fmt.Println("in", fault.Units())
	}
	// Output: in one of kg, g, lb, oz
}

func ExampleClip() {
	fmt.Println(units.Clip("rate"), len(units.Clip(strings.Repeat("9", 1000000))))
	// Output: rate 67
}
