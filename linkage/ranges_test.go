package linkage_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
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
		if _, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: travel}); err != nil {
			t.Error(err)
		}
		if _, err := linkage.NewFork(linkage.Fork{HeadAngle: 90 * units.Degree, Travel: travel}); err != nil {
			t.Error(err)
		}
	}
	for _, travel := range []units.Length{below(1e-6), above(1e3)} {
		_, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: travel})
		refuses(t, err, "travel")
		_, err = linkage.NewFork(linkage.Fork{HeadAngle: 90 * units.Degree, Travel: travel})
		refuses(t, err, "travel")
	}
	for _, ratio := range []float64{0.001, 1000} {
		if _, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: 1}); err != nil {
			t.Error(err)
		}
	}
	for _, ratio := range []float64{math.Nextafter(0.001, 0), math.Nextafter(1000, 2000)} {
		_, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: 1})
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

// Strokes rise by at least a billionth of the last one; travels needn't.
func TestLeastStepOfATable(t *testing.T) {
	for _, test := range []struct {
		what           string
		stroke, travel []units.Length
		wrong          []string
	}{
		{"a billionth", []units.Length{0, 1e-9, 1}, []units.Length{0, 1e-9, 1}, nil},
		{"less", []units.Length{0, below(1e-9), 1}, []units.Length{0, 1e-9, 1}, []string{"stroke[1]"}},
		{"less of the last, more of the last but one", []units.Length{0, 0.5e-9, 1e-6, 1}, []units.Length{0, 0.5e-9, 1e-6, 1}, []string{"stroke[1]"}},
		{"a billionth of 1 km", []units.Length{0, 1.000001e-6, 1000}, []units.Length{0, 1e-6, 1000}, nil},
		{"less of 1 km", []units.Length{0, 1e-7, 1000}, []units.Length{0, 1e-7, 1000}, []string{"stroke[1]"}},
		{"more than 1 km is wrong by itself", []units.Length{0, 1e-7, 1200}, []units.Length{0, 1e-7, 1000}, []string{"stroke[2]"}},
		{"the same travel twice", []units.Length{0, 0.5, 1}, []units.Length{0, 0, 1}, []string{"travel[1]"}},
		{"a travel back", []units.Length{0, 0.5, 1}, []units.Length{0, -0.5, 1}, []string{"travel[1]"}},
		// The curve stands still, nearly: refused for what it is, not for the step.
		{"travels", []units.Length{0, 0.5, 1}, []units.Length{0, 1e-10, 1}, []string{"travel"}},
	} {
		_, err := linkage.NewTable(linkage.Table{Stroke: test.stroke, Travel: test.travel})
		if got := fieldsOf(err); !slices.Equal(got, test.wrong) {
			t.Errorf("%s: refused %q, want %q (%v)", test.what, got, test.wrong, err)
		}
	}
}

// The last stroke and the last travel: from 1 µm to 1 km.
func TestBoundsOfATable(t *testing.T) {
	for _, test := range []struct {
		last units.Length
		ok   bool
	}{{1e-6, true}, {below(1e-6), false}, {1e3, true}, {above(1e3), false}} {
		column := []units.Length{0, test.last}
		_, err := linkage.NewTable(linkage.Table{Stroke: column, Travel: column})
		if test.ok {
			if err != nil {
				t.Error(err)
			}
			continue
		}
		refuses(t, err, "stroke[1]", "travel[1]")
		if err == nil || !strings.Contains(err.Error(), "from 0.001 mm to 1000000 mm") {
			t.Error(err)
		}
	}
}

// What a value must exceed is the one before it.
func TestColumnsSayWhatIsBefore(t *testing.T) {
	for _, test := range []struct {
		stroke []units.Length
		says   string
	}{
		{[]units.Length{0, 0.02, 0.01, 0.04}, "more than 20 mm before it"},
		{[]units.Length{0, 0.02, 0.02 + 1e-12, 0.04}, "a billionth of the stroke more than 20 mm before it"},
		{[]units.Length{0, units.Length(math.Inf(-1)), 0.03, 0.04}, "a finite value"},
	} {
		_, err := linkage.NewTable(linkage.Table{Stroke: test.stroke, Travel: []units.Length{0, 0.01, 0.03, 0.08}})
		if err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%v, want %s", err, test.says)
		}
	}
}

// What is wrong with a curve is said in numbers: this one, 3s − 9s² + 8s³ by
// its four points, has the ratio 3 − 18s + 24s², the least of which is −0.375 at
// 3/8, and 9 at the end.
func TestShapeIsSaidInNumbers(t *testing.T) {
	table := linkage.Table{Method: linkage.Smooth}
	for _, s := range []float64{0, 0.25, 0.75, 1} {
		table.Stroke = append(table.Stroke, units.Length(s))
		table.Travel = append(table.Travel, units.Length(3*s-9*s*s+8*s*s*s))
	}
	_, err := linkage.NewTable(table)
	refuses(t, err, "travel")
	const says = "has a lever ratio from 0.001 to 1000 everywhere, not from -0.375 to 9"
	if err == nil || !strings.Contains(err.Error(), says) {
		t.Errorf("%v, want that it %s", err, says)
	}
}
