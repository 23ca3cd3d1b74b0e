package linkage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// w = LR·s, by hand.
func TestConstantRatioIsAStraightLine(t *testing.T) {
	for _, test := range []struct{ ratio, travel, stroke float64 }{
		{2.5, 150, 60}, {2, 130, 65}, {1, 170, 170}, {3.2, 200, 62.5}, {0.001, 1, 1000}, {1000, 1e6, 1000},
	} {
		c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: test.ratio, Travel: mm(test.travel)})
		require.NoError(t, err)
		soundCurve(t, c)
		unitstest.Near(t, "stroke", c.Stroke(), mm(test.stroke), unitstest.Rel(1e-15))
		unitstest.Near(t, "travel", c.Travel(), mm(test.travel), unitstest.Exact)
		for _, part := range []float64{0, 0.3, 0.5, 0.99, 1} {
			s := mm(part * test.stroke)
			unitstest.Near(t, "travel", c.TravelAt(s), mm(test.ratio*part*test.stroke), unitstest.Rel(1e-15))
			unitstest.Near(t, "stroke", c.StrokeAt(mm(part*test.travel)), s, unitstest.Rel(1e-15))
			unitstest.Near(t, "ratio", c.LeverRatio(s), test.ratio, unitstest.Exact)
			unitstest.Near(t, "slope", c.LeverRatioSlope(s), 0, unitstest.Exact)
		}
		if want := (linkage.Progression{Value: 0, Start: test.ratio, End: test.ratio, Min: test.ratio, Max: test.ratio}); c.Progression() != want {
			t.Errorf("progression %+v, want %+v", c.Progression(), want)
		}
	}
}

// Sines known in closed form.
func TestForkHasTheSineOfItsAngle(t *testing.T) {
	for _, test := range []struct{ degrees, sin float64 }{
		{90, 1}, {60, math.Sqrt(3) / 2}, {45, math.Sqrt2 / 2}, {54, (1 + math.Sqrt(5)) / 4}, {75, (math.Sqrt(6) + math.Sqrt2) / 4},
	} {
		c, err := linkage.NewFork(linkage.Fork{HeadAngle: units.Angle(test.degrees) * units.Degree, Travel: mm(160)})
		require.NoError(t, err)
		soundCurve(t, c)
		unitstest.Near(t, "stroke", c.Stroke(), mm(160), unitstest.Exact)
		unitstest.Near(t, "travel", c.Travel(), mm(160*test.sin), unitstest.Rel(1e-15))
		unitstest.Near(t, "ratio", c.LeverRatio(mm(77)), test.sin, unitstest.Rel(1e-15))
		unitstest.Near(t, "travel", c.TravelAt(mm(40)), mm(40*test.sin), unitstest.Rel(1e-15))
		unitstest.Near(t, "stroke", c.StrokeAt(mm(40*test.sin)), mm(40), unitstest.Rel(1e-15))
		unitstest.Near(t, "slope", c.LeverRatioSlope(mm(77)), 0, unitstest.Exact)
		if p := c.Progression(); p.Value != 0 || p.Min != p.Max {
			t.Errorf("progression %+v of a fork", p)
		}
	}
}

// The bounds in the doc comments, each taken at its very value and refused at
// the next number beyond.
func TestBoundsOfConstantAndFork(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	travels := []struct {
		v  float64
		ok bool
	}{
		{1e-6, true}, {float64(below(1e-6)), false}, {1e3, true}, {float64(above(1e3)), false},
		{0, false}, {-1, false}, {nan, false}, {inf, false}, {-inf, false},
	}
	check := func(err error, ok bool, field string) {
		t.Helper()
		if ok {
			require.NoError(t, err)
		} else {
			refuses(t, err, field)
		}
	}
	for _, travel := range travels {
		_, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: units.Length(travel.v)})
		check(err, travel.ok, "travel")
		_, err = linkage.NewFork(linkage.Fork{HeadAngle: 90 * units.Degree, Travel: units.Length(travel.v)})
		check(err, travel.ok, "travel")
	}
	for ratio, ok := range map[float64]bool{
		0.001: true, math.Nextafter(0.001, 0): false, 1000: true, math.Nextafter(1000, 2000): false, 0: false, -1: false, nan: false, inf: false,
	} {
		_, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: 1})
		check(err, ok, "constant")
	}
	for degrees, ok := range map[float64]bool{
		30: false, math.Nextafter(30, 31): true, 90: true, 90.001: false, 116: false, 0: false, -64: false, nan: false, inf: false,
		26:                         false, // from the vertical, a rake
		64 / float64(units.Degree): false, // radians meant as degrees
	} {
		_, err := linkage.NewFork(linkage.Fork{HeadAngle: units.Angle(degrees) * units.Degree, Travel: 1})
		check(err, ok, "head_angle")
	}
	_, err := linkage.NewConstant(linkage.ConstantRatio{})
	refuses(t, err, "constant", "travel")
	_, err = linkage.NewFork(linkage.Fork{})
	refuses(t, err, "head_angle", "travel")
}
