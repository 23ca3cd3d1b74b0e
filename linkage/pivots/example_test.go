package pivots_test

import (
	"fmt"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
)

// Where must the shock's rocker eye be for the ratio that a drawing has? Here
// it was moved by 4 mm and 3 mm on purpose, and is found again.
func ExampleFind() {
	k := solved("a1")
	ask := pivots.Search{
		Mechanism: k.Spec(),
		Move:      []pivots.Movable{{Point: "S1", X: 8 * units.Millimetre, Y: 8 * units.Millimetre}},
		AnyShock:  true,
	}
	for i := range 6 {
		s := k.Stroke() * units.Length(i) / 5
		ask.Stroke = append(ask.Stroke, s)
		ask.LeverRatio = append(ask.LeverRatio, k.Pose(s).LeverRatio)
	}
	ask.Mechanism.Points["S1"] = mechanism.Point{-88 * units.Millimetre, 235 * units.Millimetre}
	fit, err := pivots.Find(ask)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("S1 by %.2f and %.2f, to within %.4f\n", fit.Moved[0].X, fit.Moved[0].Y, fit.Worst)
	// Output:
	// S1 by -4.00 mm and 3.00 mm, to within 0.0000
}
