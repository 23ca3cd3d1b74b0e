package sag_test

import (
	"fmt"
	"log"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func ExampleImpliedLoad() {
	curve, _ := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre})
	coil, _ := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	// The ring says 18 mm, give or take 1 mm, and the shaft sticks with 40 N.
	// By hand: 80·20/2.5; 80·19/2.5 to 80·21/2.5; (80·19 − 40)/2.5 to (80·21 + 40)/2.5.
	i, err := sag.ImpliedLoad(curve, coil, 40*units.Newton, sag.Reading{Stroke: 18 * units.Millimetre, Error: 1 * units.Millimetre})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f, from %.0f to %.0f by the reading, from %.0f to %.0f with friction\n", i.Load, i.ErrorLow, i.ErrorHigh, i.Low, i.High)
	// Output: 640 N, from 608 N to 672 N by the reading, from 592 N to 688 N with friction
}

// Predicted were 586 N, three readings say otherwise. By hand 17.5, 18 and
// 18.5 mm imply 624, 640 and 656 N; all three agree with 608 to 672 N,
// with the friction. 80 N/mm carries 1465 N at 16.31 mm; 77.18 N/mm is 1505 N over 19.5 mm.
func ExampleNewMeasured() {
	m := sag.Measuring{
		Setting: sag.Setting{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}}, Sag: 0.28, Friction: 40 * units.Newton,
			Coil: &sag.CoilSetting{Rate: 80 * units.NewtonPerMillimetre, Preload: 2 * units.Millimetre, ThreadPitch: 1.5 * units.Millimetre},
		},
		Load: 586 * units.Newton,
	}
	for _, stroke := range []units.Length{17.5, 18, 18.5} {
		m.Readings = append(m.Readings, sag.Reading{Stroke: stroke * units.Millimetre, Error: 1 * units.Millimetre})
	}
	a, err := sag.NewMeasured(m)
	if err != nil {
		log.Fatal(err) // names every bad field, such as readings[1].error
	}
	fmt.Printf("%s: %.0f, standard error %.1f stated, %.1f from scatter\n", a.Verdict, a.Estimate.Load, a.Estimate.StatedError, a.Estimate.ScatterError)
	for _, e := range a.Explanations {
		fmt.Printf("%7.3f %% %s\n", 100*e.Relative, e.Text)
	}
	c := a.Correction.Coil
	fmt.Printf("set: preload %+.2f (%+.2f turns), or %.1f\n", c.PreloadChange, c.TurnsChange, c.NewRate)
	// Output:
	// unexplained: 640 N, standard error 10.7 N stated, 9.2 N from scatter
	//   3.526 % A spring rate of 77.18 N/mm (441 lbf/in) instead of 80.00 N/mm (457 lbf/in): measure the spring.
	//   3.754 % A sprung load of 608 N (137 lbf) on this wheel instead of 586 N (132 lbf): the rider's kit, mass or stance.
	//  34.375 % A preload of 1.3 mm (0.05 in) instead of 2.0 mm (0.08 in); below 0 the spring is loose at full extension.
	//  68.750 % Readings that may be off by 1.7 mm (0.07 in) instead of 1.0 mm (0.04 in): read the ring again.
	// 137.500 % A friction at the spring of 95 N (21 lbf) instead of 40 N (9 lbf): look for bushings or seals that stick.
	// set: preload +1.38 mm (+0.92 turns), or 85.1 N/mm
}
