package linkage_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

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

func TestSamplesAreAtEvenSteps(t *testing.T) {
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
	for range (*linkage.Curve)(nil).Samples(3) {
		t.Error("a sample of no curve")
	}
	for _, n := range []int{10, math.MaxInt} { // as many as are asked for, and none before
		seen := 0
		for s := range c.Samples(n) {
			if seen++; seen == 3 {
				unitstest.Near(t, "third", s.Stroke, c.Stroke()*2/units.Length(n-1), unitstest.Rel(1e-12))
				break
			}
		}
		if seen != 3 {
			t.Errorf("%d samples before the break", seen)
		}
	}
}

// Nothing is allocated by asking a curve or a law at the wheel; a scaled curve is
// one allocation.
func TestAskingAllocatesNothing(t *testing.T) {
	c := bent(t)
	l := wheel(t, c, linear(t, 80e3, 0.065, 0))
	for what, test := range map[string]struct {
		ask  func()
		most float64
	}{
		"a curve": {func() {
			_, _, _, _, _ = c.TravelAt(0.031), c.StrokeAt(0.08), c.LeverRatio(0.031), c.LeverRatioSlope(0.031), c.Progression()
		}, 0},
		"a wheel": {func() {
			_, _, _, _ = l.Force(0.1), l.Rate(0.1), l.Energy(0.1), l.SpringForce(0.1)
			_, _ = l.MinRate()
		}, 0},
		"scaling": {func() { c.Scaled(1.01) }, 1},
	} {
		if n := testing.AllocsPerRun(100, test.ask); n != test.most {
			t.Errorf("%s: %v allocations, want %v", what, n, test.most)
		}
	}
}

// The zero values answer.
func TestZeroValuesAnswer(t *testing.T) {
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
	var l linkage.WheelLaw
	rate, at := l.MinRate()
	if l.Force(1) != 0 || l.Rate(1) != 0 || l.Energy(1) != 0 || l.Travel() != 0 || l.Stroke(1) != 0 || l.SpringForce(1) != 0 ||
		rate != 0 || at != 0 || l.Curve() != nil || l.Spring() != nil {
		t.Error("the zero law has a force, a travel or parts")
	}
	var f linkage.Fit
	if f.LeverRatioError(1) != 0 || f.ReadingError != 0 || f.ResidualRMS != 0 || f.Curve != nil {
		t.Error("the zero fit has errors or a curve")
	}
}

// A scaled curve has the travel, the ratio and its slope times the factor over the
// same stroke; a spring through it feels what virtual work says.
func TestScaledCurveHasScaledRatios(t *testing.T) {
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
	long, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: 1, Travel: 500})
	require.NoError(t, err)
	_, err = long.Scaled(2) // to 1 km
	require.NoError(t, err)
	_, err = long.Scaled(math.Nextafter(2, 3))
	refuses(t, err, "factor")
	c := bent(t)
	for _, factor := range []float64{0, -1, math.NaN(), math.Inf(1), 1e-4, 1000} {
		s, err := c.Scaled(factor)
		if s != nil {
			t.Errorf("scaled by %v", factor)
		}
		refuses(t, err, "factor")
	}
}

// What is printed has its units, by pointer, by value and in a struct. The fit is one of exact readings
// of w = 3·s − 5/m·s².
func TestCurvesArePrintedWithUnits(t *testing.T) {
	fit, err := linkage.FitReadings(linkage.Table{Stroke: lengths(0, 10, 20, 30, 40, 50, 60), Travel: lengths(0, 29.5, 58, 85.5, 112, 137.5, 162)})
	require.NoError(t, err)
	law := wheel(t, bent(t), linear(t, 80e3, mm(65), 0))
	for _, test := range []struct {
		v    any
		want string
	}{
		{bent(t), "curve: stroke 65 mm, travel 173.8 mm, lever ratio 2.950 to 2.398"},
		{*bent(t), "curve: stroke 65 mm, travel 173.8 mm, lever ratio 2.950 to 2.398"},
		{struct{ Rear linkage.Curve }{*bent(t)}, "{curve: stroke 65 mm, travel 173.8 mm, lever ratio 2.950 to 2.398}"},
		{struct{ Rear *linkage.Curve }{bent(t)}, "{curve: stroke 65 mm, travel 173.8 mm, lever ratio 2.950 to 2.398}"},
		{(*linkage.Curve)(nil), "<nil>"},
		{new(linkage.Curve), "curve: stroke 0 mm, travel 0.0 mm, lever ratio 1.000 to 1.000"},
		{law, "spring at the wheel: travel 173.8 mm, force 0 N to 2169 N"},
		{*law, "spring at the wheel: travel 173.8 mm, force 0 N to 2169 N"},
		{new(linkage.WheelLaw), "no spring at the wheel"},
		{fit, "curve: stroke 60 mm, travel 162.0 mm, lever ratio 3.000 to 2.400; readings with errors of about 0.00 mm of travel"},
		{*fit, "curve: stroke 60 mm, travel 162.0 mm, lever ratio 3.000 to 2.400; readings with errors of about 0.00 mm of travel"},
		{new(linkage.Fit), "no fit"},
	} {
		if got := fmt.Sprint(test.v); got != test.want {
			t.Errorf("%s, want %s", got, test.want)
		}
	}
}
