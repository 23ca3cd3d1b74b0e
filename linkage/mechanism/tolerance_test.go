package mechanism_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The mechanism assembled anew with every hole off by its tolerance in the direction that Spread
// says: to first order its lever ratio is off by the worst case.
func TestWorstCaseIsReached(t *testing.T) {
	for _, name := range []string{"c1", "f1"} {
		k := solved(name)
		stroke := k.Stroke() * 0.6
		tolerance, err := mechanism.NewTolerance(k, mechanism.Tolerances{
			Every: mm(0.02), Holes: []mechanism.HoleTolerance{{Hole: mechanism.Hole{Body: "SS", Point: "H"}, Within: mm(0.08)}, {Hole: mechanism.Hole{Body: "RK", Point: "R"}}},
		})
		require.NoError(t, err)
		s := tolerance.Spread(k.PoseGradient(stroke).LeverRatio)
		a := newAssembly(spec(name))
		drawn := a.motion([]units.Length{stroke})[3]
		sum, squares := 0.0, 0.0
		for i, h := range s.Holes {
			within := 2e-5
			switch h.Hole {
			case mechanism.Hole{Body: "SS", Point: "H"}:
				within = 8e-5
			case mechanism.Hole{Body: "RK", Point: "R"}:
				within = 0
			}
			sin, cos := math.Sincos(float64(h.Towards))
			a.off[h.Hole] = [2]float64{within * cos, within * sin}
			alone := newAssembly(spec(name))
			alone.off[h.Hole] = a.off[h.Hole]
			unitstest.Near(t, h.Body+" "+h.Point, h.Effect, alone.motion([]units.Length{stroke})[3]-drawn, unitstest.Abs(1e-8), unitstest.Rel(0.01))
			if i > 0 {
				assert.LessOrEqual(t, h.Effect, s.Holes[i-1].Effect)
			}
			sum += h.Effect
			squares += h.Effect * h.Effect
		}
		unitstest.Near(t, "worst case", s.WorstCase, a.motion([]units.Length{stroke})[3]-drawn, unitstest.Rel(0.02))
		unitstest.Near(t, "worst case", s.WorstCase, sum, unitstest.Rel(1e-12))
		unitstest.Near(t, "root sum of squares", s.RootSumSquare, math.Sqrt(squares), unitstest.Rel(1e-12))
		assert.Len(t, s.Holes, len(k.Holes()))
	}
}

func TestToleranceRefuses(t *testing.T) {
	k := solved("a1")
	of := func(body, point string, within units.Length) mechanism.HoleTolerance {
		return mechanism.HoleTolerance{Hole: mechanism.Hole{Body: body, Point: point}, Within: within}
	}
	for _, test := range []struct {
		tolerances mechanism.Tolerances
		want       []string
	}{
		{mechanism.Tolerances{}, nil},
		{mechanism.Tolerances{Every: mm(100), Holes: []mechanism.HoleTolerance{of("SW", "P", mm(100)), of("frame", "P", 0)}}, nil},
		{mechanism.Tolerances{Every: above(mm(100)), Holes: []mechanism.HoleTolerance{of("SW", "P", above(mm(100)))}}, []string{"every", "holes[0].within"}},
		{mechanism.Tolerances{Every: units.Length(math.NaN()), Holes: []mechanism.HoleTolerance{of("SW", "P", -1)}}, []string{"every", "holes[0].within"}},
		{mechanism.Tolerances{Holes: []mechanism.HoleTolerance{of("SW", "P", 0), of("SW", "P", 0), of("SW", "S2", 0), of("XX", "P", 0)}},
			[]string{"holes[1].point", "holes[2].point", "holes[3].point"}},
	} {
		_, err := mechanism.NewTolerance(k, test.tolerances)
		refuses(t, err, test.want...)
	}
}
