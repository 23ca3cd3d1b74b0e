package linkage_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/diff/fd"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A curve known in closed form: w = 2.95·s − 4.25·s² in metres.
func TestSplineThroughAParabolaIsTheParabola(t *testing.T) {
	c := bent(t)
	soundCurve(t, c)
	for got := range c.Samples(131) {
		s := float64(got.Stroke)
		unitstest.Near(t, "travel", float64(got.Travel), 2.95*s-4.25*s*s, unitstest.Rel(1e-13))
		unitstest.Near(t, "ratio", got.LeverRatio, 2.95-8.5*s, unitstest.Rel(1e-13))
		unitstest.Near(t, "slope", float64(got.LeverRatioSlope), -8.5, unitstest.Rel(1e-10))
		unitstest.Near(t, "stroke", float64(c.StrokeAt(got.Travel)), s, unitstest.Rel(1e-14))
	}
	p := c.Progression()
	unitstest.Near(t, "progression", p.Value, 8.5*0.065/2.95, unitstest.Rel(1e-12))
	unitstest.Near(t, "least", p.Min, 2.95-8.5*0.065, unitstest.Rel(1e-13))
	unitstest.Near(t, "greatest", p.Max, 2.95, unitstest.Rel(1e-13))
}

// The ratio is the derivative of the travel and its slope the derivative of the
// ratio, by central differences of two sizes (Richardson), away from the points
// of the table, where a slope may jump.
func TestRatioAndSlopeAreDerivatives(t *testing.T) {
	derivative := func(f func(float64) float64, x float64) float64 {
		at := func(h float64) float64 {
			return fd.Derivative(f, x, &fd.Settings{Formula: fd.Central, Step: h})
		}
		return (4*at(1e-5) - at(2e-5)) / 3
	}
	for _, ref := range refTables(t) {
		for _, method := range []linkage.Method{linkage.Monotone, linkage.Smooth, linkage.Measured} {
			if method == linkage.Measured && len(ref.Stroke) < 7 {
				continue
			}
			c := curve(t, ref.table(method))
			for i := 1; i < len(ref.Stroke); i++ {
				for _, part := range []float64{0.1, 0.5, 0.9} {
					s := ref.Stroke[i-1] + part*(ref.Stroke[i]-ref.Stroke[i-1])
					x := float64(mm(s))
					unitstest.Near(t, ref.Name+": ratio", c.LeverRatio(mm(s)),
						derivative(func(x float64) float64 { return float64(c.TravelAt(units.Length(x))) }, x), unitstest.Rel(1e-10))
					unitstest.Near(t, ref.Name+": slope", float64(c.LeverRatioSlope(mm(s))),
						derivative(func(x float64) float64 { return c.LeverRatio(units.Length(x)) }, x), unitstest.Abs(1e-8), unitstest.Rel(1e-9))
				}
			}
		}
	}
}

func TestSamples(t *testing.T) {
	c := bent(t)
	for _, n := range []int{-1, 0, 1, 2, 7, 66} {
		var got []linkage.Sample
		for s := range c.Samples(n) {
			got = append(got, s)
		}
		if len(got) != max(n, 0) {
			t.Fatalf("%d samples, want %d", len(got), n)
		}
		for i, s := range got {
			at := units.Length(0)
			if n > 1 {
				at = c.Stroke() * units.Length(i) / units.Length(n-1)
			}
			unitstest.Near(t, "stroke", s.Stroke, at, unitstest.Rel(1e-15))
			if s.Travel != c.TravelAt(s.Stroke) || s.LeverRatio != c.LeverRatio(s.Stroke) || s.LeverRatioSlope != c.LeverRatioSlope(s.Stroke) {
				t.Errorf("sample %+v is not what the curve says there", s)
			}
		}
		if n > 1 && (got[n-1].Stroke != c.Stroke() || got[n-1].Travel != c.Travel()) {
			t.Errorf("the last sample is %+v", got[n-1])
		}
	}
	seen := 0
	for range c.Samples(10) {
		if seen++; seen == 3 {
			break
		}
	}
	if seen != 3 {
		t.Errorf("%d samples before the break", seen)
	}
}

// Nothing is allocated by asking.
func TestCurveAllocatesNothing(t *testing.T) {
	c := bent(t)
	s, w := mm(31), mm(80)
	if n := testing.AllocsPerRun(100, func() {
		_, _, _, _, _ = c.TravelAt(s), c.StrokeAt(w), c.LeverRatio(s), c.LeverRatioSlope(s), c.Progression()
	}); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

// Just below a point of the table, where a travel counts as being at it for
// the slope, the stroke is still that of the travel and not of the point.
func TestStrokeAtBesideAPoint(t *testing.T) {
	for _, ref := range refTables(t) {
		c := curve(t, ref.table(linkage.Monotone))
		for _, w := range ref.Travel[1 : len(ref.Travel)-1] {
			for _, part := range []units.Length{1 - 5e-15, 1 - 1e-15, 1, 1 + 1e-15, 1 + 5e-15} {
				beside := mm(w) * part
				unitstest.Near(t, "travel", c.TravelAt(c.StrokeAt(beside)), beside, unitstest.Rel(5e-16))
			}
		}
	}
}

// No travel short of a node is more than the node's, not by a last digit
// either: a sag is never more than the whole.
func TestTravelStaysBelowTheNode(t *testing.T) {
	rng := rand.New(rand.NewPCG(421, 0))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	for range 3000 {
		full, start := between(0.05, 4), between(1, 200)
		mean := start * between(0.6, 1.7)
		stroke := full / mean
		table := linkage.Table{
			Stroke: []units.Length{0, units.Length(stroke / 2), units.Length(stroke)},
			Travel: []units.Length{0, units.Length(stroke / 2 * (start + mean) / 2), units.Length(full)},
			Method: linkage.Monotone,
		}
		c, err := linkage.NewTable(table)
		if err != nil {
			continue
		}
		for i := 1; i < 3; i++ {
			s, top := float64(table.Stroke[i]), table.Travel[i]
			for range 8 {
				s = math.Nextafter(s, 0)
				if got := c.TravelAt(units.Length(s)); got > top {
					t.Fatalf("%v: travel %v at the stroke %v before the node's %v", table, float64(got), s, float64(top))
				}
			}
		}
	}
}

// At full travel the stroke is the full one to the last place, wherever the
// last piece begins.
func TestStrokeAtFullTravelIsFull(t *testing.T) {
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

// The zero value of gonum's predictors panics; that of a curve answers.
func TestZeroCurve(t *testing.T) {
	var c linkage.Curve
	if c.TravelAt(mm(10)) != 0 || c.StrokeAt(mm(10)) != 0 || c.LeverRatio(mm(10)) != 1 || c.LeverRatioSlope(0) != 0 ||
		c.Stroke() != 0 || c.Travel() != 0 || c.Progression() != (linkage.Progression{}) {
		t.Error("the zero curve has a stroke, a travel or another ratio than 1")
	}
	for s := range c.Samples(3) {
		if s != (linkage.Sample{LeverRatio: 1}) {
			t.Errorf("sample %+v", s)
		}
	}
}

// A scaled curve has the travel, the ratio and its slope times the factor over the
// same stroke; a spring through it feels what virtual work says. It allocates
// itself and nothing else.
func TestScaledCurve(t *testing.T) {
	waves, err := linkage.NewFunction(mm(100), func(s units.Length) (units.Length, float64, units.RatioSlope) {
		x := 60 * float64(s)
		return 2.6*s + units.Length(0.005*math.Sin(x)), 2.6 + 0.3*math.Cos(x), units.RatioSlope(-18 * math.Sin(x))
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]*linkage.Curve{
		"table": curve(t, refTables(t)[0].table(linkage.Monotone)), "parabola": bent(t), "mechanism": compiled(t, solved("c3")), "waves": waves,
	} {
		for _, factor := range []float64{1, 0.97, 1.05, 100, 0.01} {
			s, err := c.Scaled(factor)
			if err != nil {
				t.Fatal(name, err)
			}
			soundCurve(t, s)
			again, err := s.Scaled(1 / factor)
			if err != nil {
				t.Fatal(name, err)
			}
			law := linear(t, 80e3, c.Stroke(), mm(2))
			w, v := wheel(t, s, law), wheel(t, c, law)
			unitstest.Near(t, name+" full travel", float64(s.Travel()), factor*float64(c.Travel()), unitstest.Rel(1e-15))
			for i := range 201 {
				at := c.Stroke() * units.Length(i) / 200
				unitstest.Near(t, name+" travel", float64(s.TravelAt(at)), factor*float64(c.TravelAt(at)), unitstest.Rel(1e-15))
				unitstest.Near(t, name+" ratio", s.LeverRatio(at), factor*c.LeverRatio(at), unitstest.Rel(1e-15))
				unitstest.Near(t, name+" slope", float64(s.LeverRatioSlope(at)), factor*float64(c.LeverRatioSlope(at)), unitstest.Rel(1e-15))
				unitstest.Near(t, name+" back", again.LeverRatio(at), c.LeverRatio(at), unitstest.Rel(1e-14))
				unitstest.Near(t, name+" stroke", s.StrokeAt(s.TravelAt(at)), at, unitstest.Rel(1e-12))
				x, y := s.TravelAt(at), c.TravelAt(at)
				unitstest.Near(t, name+" force", factor*float64(w.Force(x)), float64(v.Force(y)), unitstest.Rel(1e-11))
				if i%40 != 0 { // at a knot rounding decides which side it is
					unitstest.Near(t, name+" rate", factor*factor*float64(w.Rate(x)), float64(v.Rate(y)), unitstest.Rel(1e-9))
				}
			}
			least, where := w.MinRate()
			was, there := v.MinRate()
			unitstest.Near(t, name+" least rate", factor*factor*float64(least), float64(was), unitstest.Rel(1e-9))
			unitstest.Near(t, name+" where", float64(where), factor*float64(there), unitstest.Rel(1e-9))
			p, q := s.Progression(), c.Progression()
			if math.Abs(p.Value-q.Value) > 1e-14 || p.Start != q.Start*factor || p.End != q.End*factor || p.Min != q.Min*factor || p.Max != q.Max*factor {
				t.Errorf("%s: progression %+v of %+v", name, p, q)
			}
		}
	}
	c := bent(t)
	for _, factor := range []float64{0, -1, math.NaN(), math.Inf(1), 1e-4, 1000} {
		s, err := c.Scaled(factor)
		if s != nil {
			t.Errorf("scaled by %v", factor)
		}
		refuses(t, err, "factor")
	}
	if n := testing.AllocsPerRun(20, func() { c.Scaled(1.01) }); n != 1 {
		t.Errorf("%v allocations", n)
	}
}

// What is printed has its units.
func TestCurvesArePrintedWithUnits(t *testing.T) {
	for _, test := range []struct {
		v    fmt.Stringer
		want string
	}{
		{bent(t), "curve: stroke 65 mm, travel 173.8 mm, lever ratio 2.950 to 2.398"},
		{new(linkage.Curve), "curve: stroke 0 mm, travel 0.0 mm, lever ratio 1.000 to 1.000"},
		{wheel(t, bent(t), linear(t, 80e3, mm(65), 0)), "spring at the wheel: travel 173.8 mm, force 0 N to 2169 N"},
		{new(linkage.WheelLaw), "no spring at the wheel"},
	} {
		if got := fmt.Sprint(test.v); got != test.want {
			t.Errorf("%s, want %s", got, test.want)
		}
	}
}
