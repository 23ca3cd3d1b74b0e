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
	ratio := &pivots.Target[float64]{At: []float64{0, 0.25, 0.5, 0.75, 1}}
	for _, share := range ratio.At {
		ratio.Value = append(ratio.Value, k.Pose(k.Stroke()*units.Length(share)).LeverRatio)
	}
	room := pivots.Bounds{Min: -8 * units.Millimetre, Max: 8 * units.Millimetre}
	ask := pivots.Search{
		Mechanism: k.Spec(),
		Move:      []pivots.Movable{{Point: "S1", X: room, Y: room}},
		Targets:   pivots.Targets{LeverRatio: ratio},
		AnyShock:  true,
	}
	ask.Mechanism.Points["S1"] = mechanism.Point{-88 * units.Millimetre, 235 * units.Millimetre}
	fit, err := pivots.Find(ask)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("S1 by %.2f and %.2f, to within %.4f\n", fit.Moved[0].X, fit.Moved[0].Y, 0.01*fit.Misses[0].Worst)
	// Output:
	// S1 by -4.00 mm and 3.00 mm, to within 0.0000
}
