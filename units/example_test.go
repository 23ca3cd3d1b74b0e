package units_test

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"

	"example.com/wheelrate/units"
)

// Making, reading, printing and parsing quantities.
func Example() {
	// Units are typed constants; a reference makes a function.
	rate := 450 * units.PoundForcePerInch
	travel := 2.5 * units.Inch
	fill := units.PSIGauge(72)

	// Getters are named by the unit, and the caller picks the digits.
	fmt.Printf("%.0f lbf/in are %.1f N/mm\n", rate.PoundsForcePerInch(), rate.NewtonsPerMillimetre())

	// Every verb prints the unit.
	fmt.Printf("%.1f over %v, %v of fill\n", rate, travel, fill)
	fmt.Printf("%.0f at full travel\n", rate.Times(travel))

	// Gauge and absolute pressure are two types; the ambient joins them.
	fmt.Printf("%.1f\n", fill.Absolute(units.StandardAtmosphere))

	// What a person writes is read with its unit, or refused.
	rate, err := units.Parse[units.Stiffness]("80 N/mm")
	fmt.Println(rate, err)
	_, err = units.Parse[units.Stiffness]("450")
	fmt.Println(err)
	// Output:
	// 450 lbf/in are 78.8 N/mm
	// 78.8 N/mm over 63.5 mm, 496.422525108122 kPa(g) of fill
	// 5004 N at full travel
	// 597.7 kPa(a)
	// 80 N/mm <nil>
	// units: stiffness "450": missing unit; 450 N/mm or 450 lbf/in? (want a number and one of N/mm, N/m, lbf/in, kgf/mm)
}

func ExampleParse() {
	for _, text := range []string{"46 mm", "4.6e1mm", "1.5 IN", "46", "46 Mm", "1,5 in"} {
		length, err := units.Parse[units.Length](text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(length)
	}
	// Output:
	// 46 mm
	// 46 mm
	// 38.1 mm
	// units: length "46": missing unit; 46 mm or 46 in? (want a number and one of mm, cm, m, in, ft)
	// units: length "46 Mm": unknown unit "Mm"; 46 mm? (want a number and one of mm, cm, m, in, ft)
	// units: length "1,5 in": comma in the number; write a decimal point and no separators; 1.5 in? (want a number and one of mm, cm, m, in, ft)
}

func ExampleParseError() {
	_, err := units.Parse[units.AbsolutePressure]("72 psi")
	if refused, ok := errors.AsType[*units.ParseError](err); ok {
		fmt.Println(refused.Kind, "in one of", refused.Want)
	}
	fmt.Println(errors.Is(err, units.ErrUnit))
	// Output:
	// absolute pressure in one of kPa(a), Pa(a), bar(a), psia, atm(a)
	// true
}

// Every verb of package fmt prints the unit.
func ExampleLength_Format() {
	bore := 36.5 * units.Millimetre
	fmt.Printf("%v %s %.2f %e %+.1f|%12v|%-12v|%#v\n", bore, bore, bore, bore, bore, bore, bore, bore)
	// Output:
	// 36.5 mm 36.5 mm 36.50 mm 3.650000e+01 mm +36.5 mm|     36.5 mm|36.5 mm     |units.Length(0.0365)
}

// Quantities are strings with their unit in JSON, read and written.
func ExampleLength_MarshalText() {
	var chamber struct {
		Bore units.Length        `json:"bore"`
		Fill units.GaugePressure `json:"fill"`
	}
	err := json.Unmarshal([]byte(`{"bore": "2 in", "fill": "5 bar"}`), &chamber)
	fmt.Println(chamber.Bore, chamber.Fill, err)
	text, err := json.Marshal(chamber)
	fmt.Println(string(text), err)
	// Output:
	// 50.8 mm 500 kPa(g) <nil>
	// {"bore":"50.8 mm","fill":"500 kPa(g)"} <nil>
}

// A program's flags take quantities through their text methods.
func ExampleLength_UnmarshalText() {
	var sag units.Length
	flags := flag.NewFlagSet("example", flag.ContinueOnError)
	flags.TextVar(&sag, "sag", 30*units.Millimetre, "measured `sag`")
	err := flags.Parse([]string{"-sag", "1.25 in"})
	fmt.Println(sag, err)
	// Output: 31.75 mm <nil>
}
