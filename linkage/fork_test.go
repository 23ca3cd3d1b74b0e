package linkage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Sines known in closed form.
func TestFork(t *testing.T) {
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

func TestForkRefuses(t *testing.T) {
	for _, v := range append([]float64{26, 30, 90.001, 116}, bad...) { // 26° is a rake
		_, err := linkage.NewFork(linkage.Fork{HeadAngle: units.Angle(v) * units.Degree, Travel: mm(160)})
		refuses(t, err, "head_angle")
	}
	for _, v := range append([]float64{0.9e-6, 1001}, bad...) {
		_, err := linkage.NewFork(linkage.Fork{HeadAngle: 64 * units.Degree, Travel: units.Length(v)})
		refuses(t, err, "travel")
	}
	_, err := linkage.NewFork(linkage.Fork{HeadAngle: 64}) // radians meant as degrees
	refuses(t, err, "head_angle", "travel")
}
