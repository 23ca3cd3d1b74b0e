package linkage_test

import (
	"fmt"
	"os"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// What these examples print was computed independently, with 40 digits; the
// geometries are invented.

// A spring behind a four-bar is a law at the wheel like any other.
func ExampleCompile() {
	k := solved("c1")
	curve, err := linkage.Compile(k)
	if err != nil {
		fmt.Println(err)
		return
	}
	coil, err := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: k.Stroke()})
	if err != nil {
		fmt.Println(err)
		return
	}
	wheel, err := linkage.AtWheel(curve, coil)
	if err != nil {
		fmt.Println(err)
		return
	}
	// At full travel the shock carries 80·62.5 = 5000 N, at a ratio of 2.2515.
	fmt.Printf("%.0f at %.1f\n", wheel.Force(wheel.Travel()), wheel.Travel())
	// Output:
	// 2221 N at 154.7 mm
}

func ExampleReadCSV() {
	table, err := linkage.ReadCSV(strings.NewReader("stroke (mm),travel (mm)\n0,0\n15,44\n30,83.5\n45,119.6\n60,153.2\n"), linkage.Smooth)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(table.Stroke), table.Stroke[4], table.Travel[4])
	_, err = linkage.ReadCSV(strings.NewReader("stroke (mm),travel\n0,0\n"), linkage.Smooth)
	fmt.Println(err)
	// Output:
	// 5 60 mm 153.2 mm
	// linkage: travel "travel": want a title with a unit of length, such as travel (mm)
}

func ExampleWriteCSV() {
	curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre})
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := linkage.WriteCSV(os.Stdout, curve, 3); err != nil {
		fmt.Println(err)
	}
	// Output:
	// stroke (mm),travel (mm),lever ratio,lever ratio slope (1/m)
	// 0,0,2.5,0
	// 30,75,2.5,0
	// 60,150,2.5,0
}

// With the shock out, the wheel is lifted on blocks; rule and caliper say where
// axle and shock eyes are.
func ExamplePositions() {
	p := linkage.Positions{
		ShockLength: []units.Length{210 * units.Millimetre, 200 * units.Millimetre, 190 * units.Millimetre},
		AxleHeight:  []units.Length{372 * units.Millimetre, 401 * units.Millimetre, 428.5 * units.Millimetre},
	}
	r, err := p.Readings()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i := range r.Stroke {
		fmt.Printf("%.1f: %.1f\n", r.Stroke[i], r.Travel[i])
	}
	// Output:
	// 0.0 mm: 0.0 mm
	// 10.0 mm: 29.0 mm
	// 20.0 mm: 56.5 mm
}
