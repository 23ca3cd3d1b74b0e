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
func TestConstant(t *testing.T) {
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

// bad lists values that a field which must be more than 0 refuses.
var bad = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)}

func TestConstantRefuses(t *testing.T) {
	for _, v := range append([]float64{0.0009, 1001}, bad...) {
		_, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: v, Travel: mm(150)})
		refuses(t, err, "constant")
	}
	for _, v := range append([]float64{0.9e-6, 1001}, bad...) {
		_, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: units.Length(v)})
		refuses(t, err, "travel")
	}
	_, err := linkage.NewConstant(linkage.ConstantRatio{})
	refuses(t, err, "constant", "travel")
}
