package linkage_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// above and below are the nearest numbers.
func above(v units.Length) units.Length {
	return units.Length(math.Nextafter(float64(v), math.Inf(1)))
}

func below(v units.Length) units.Length {
	return units.Length(math.Nextafter(float64(v), math.Inf(-1)))
}

// The bounds in the doc comments, each taken at its very value and refused at
// the next number beyond.
func TestBoundsOfConstantAndFork(t *testing.T) {
	for _, travel := range []units.Length{1e-6, 1e3} {
		if _, err := linkage.NewConstant(linkage.Constant{Ratio: 1, Travel: travel}); err != nil {
			t.Error(err)
		}
		if _, err := linkage.NewFork(linkage.Fork{HeadAngle: 90 * units.Degree, Travel: travel}); err != nil {
			t.Error(err)
		}
	}
	for _, travel := range []units.Length{below(1e-6), above(1e3)} {
		_, err := linkage.NewConstant(linkage.Constant{Ratio: 1, Travel: travel})
		refuses(t, err, "travel")
		_, err = linkage.NewFork(linkage.Fork{HeadAngle: 90 * units.Degree, Travel: travel})
		refuses(t, err, "travel")
	}
	for _, ratio := range []float64{0.001, 1000} {
		if _, err := linkage.NewConstant(linkage.Constant{Ratio: ratio, Travel: 1}); err != nil {
			t.Error(err)
		}
	}
	for _, ratio := range []float64{math.Nextafter(0.001, 0), math.Nextafter(1000, 2000)} {
		_, err := linkage.NewConstant(linkage.Constant{Ratio: ratio, Travel: 1})
		refuses(t, err, "constant")
	}
	if _, err := linkage.NewFork(linkage.Fork{HeadAngle: units.Angle(math.Nextafter(30, 31)) * units.Degree, Travel: 1}); err != nil {
		t.Error(err)
	}
}

// The ratio of a table's curve, 0.001 to 1000: two points make a straight
// line, whose ratio is the quotient.
func TestBoundsOfATablesRatio(t *testing.T) {
	for _, test := range []struct {
		stroke, travel units.Length
		ok             bool
	}{
		{1, 1000, true}, {1, 1.2e-3, true}, {1, 0.9e-3, false}, {0.9, 1000, false}, {0.125, 125, true}, {0.125, 125.01, false},
		{1000, 1, true}, {1000, 0.99, false},
	} {
		_, err := linkage.NewTable(linkage.Table{Stroke: []units.Length{0, test.stroke}, Travel: []units.Length{0, test.travel}})
		if ok := err == nil; ok != test.ok {
			t.Errorf("a ratio of %v/%v: %v", float64(test.travel), float64(test.stroke), err)
		} else if !ok {
			refuses(t, err, "travel")
		}
	}
}

// At full travel the stroke is the full one to the last place, wherever the
// last piece begins.
func TestStrokeAtFullTravel(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 500 {
		table := linkage.Table{Stroke: []units.Length{0}, Travel: []units.Length{0}}
		for range 3 {
			table.Stroke = append(table.Stroke, units.Length(0.1*rng.Float64()))
		}
		slices.Sort(table.Stroke)
		for _, s := range table.Stroke[1:] {
			table.Travel = append(table.Travel, units.Length(2.7-2*s)*s)
		}
		c, err := linkage.NewTable(table)
		if err != nil {
			continue // two strokes too near each other
		}
		if got := c.StrokeAt(c.Travel()); got != c.Stroke() {
			t.Errorf("%v at full travel, want %v", float64(got), float64(c.Stroke()))
		}
		if got := c.TravelAt(c.Stroke()); got != c.Travel() {
			t.Errorf("%v at full stroke, want %v", float64(got), float64(c.Travel()))
		}
	}
}
