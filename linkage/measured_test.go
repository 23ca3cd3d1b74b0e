package linkage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The fit of the tables with 7 points or more against the normal equations
// solved in exact rational arithmetic, in testdata/tables.json.
func TestFitReadings(t *testing.T) {
	fitted := 0
	for _, ref := range refTables(t) {
		if len(ref.Stroke) < 7 {
			continue
		}
		fitted++
		t.Run(ref.Name, func(t *testing.T) {
			table := ref.table(linkage.Measured)
			f, err := linkage.FitReadings(linkage.StrokeReadings{Stroke: table.Stroke, Travel: table.Travel})
			require.NoError(t, err)
			want := ref.Exact[linkage.Measured]
			soundCurve(t, f.Curve())
			for i, s := range ref.At {
				s := mm(s)
				unitstest.Near(t, "travel", f.Curve().TravelAt(s), mm(want.Travel[i]), unitstest.Abs(1e-12*units.Millimetre))
				unitstest.Near(t, "ratio", f.Curve().LeverRatio(s), want.Ratio[i], unitstest.Rel(1e-12))
				unitstest.Near(t, "slope", f.Curve().LeverRatioSlope(s), units.RatioSlope(want.Slope[i]*1e3), unitstest.Abs(1e-9*units.PerMetre))
				unitstest.Near(t, "ratio error", f.LeverRatioError(s), want.RatioError[i], unitstest.Rel(1e-10))
			}
			unitstest.Near(t, "rms", f.ResidualRMS(), mm(want.RMS), unitstest.Rel(1e-10))
			unitstest.Near(t, "reading error", f.ReadingError(), mm(want.ReadingError), unitstest.Rel(1e-10))

			// NewTable makes the same curve, and the residuals are readings less curve.
			c := curve(t, table)
			residuals := f.Residuals()
			require.Len(t, residuals, len(table.Stroke))
			for i, s := range table.Stroke {
				if c.TravelAt(s) != f.Curve().TravelAt(s) {
					t.Errorf("travel %v at %v by NewTable, %v by FitReadings", c.TravelAt(s), s, f.Curve().TravelAt(s))
				}
				unitstest.Near(t, "residual", residuals[i], table.Travel[i]-c.TravelAt(s), unitstest.Abs(units.Length(1e-16)))
			}
			residuals[0] = 1
			if f.Residuals()[0] != 0 {
				t.Error("a caller can change the residuals")
			}
		})
	}
	require.Equal(t, 3, fitted)
}

// Points of a polynomial of degree 4 or 5 come back exactly; one of degree 5
// is beyond degree 4.
func TestFitReproducesPolynomials(t *testing.T) {
	for _, degree := range []int{4, 5} {
		b := []float64{0, 3, -9, 60, 300, -2000} // w in m, s in m, over 60 mm
		w := func(s float64) (travel, ratio, slope float64) {
			for k := degree; k >= 1; k-- {
				travel = travel*s + b[k]
				ratio = ratio*s + float64(k)*b[k]
			}
			for k := degree; k >= 2; k-- {
				slope = slope*s + float64(k*(k-1))*b[k]
			}
			return travel * s, ratio, slope
		}
		var r linkage.StrokeReadings
		r.Degree = degree
		for i := range 10 {
			s := 0.06 * float64(i) / 9
			travel, _, _ := w(s)
			r.Stroke, r.Travel = append(r.Stroke, units.Length(s)), append(r.Travel, units.Length(travel))
		}
		f, err := linkage.FitReadings(r)
		require.NoError(t, err)
		for got := range f.Curve().Samples(31) {
			travel, ratio, slope := w(float64(got.Stroke))
			unitstest.Near(t, "travel", float64(got.Travel), travel, unitstest.Rel(1e-12))
			unitstest.Near(t, "ratio", got.LeverRatio, ratio, unitstest.Rel(1e-11))
			unitstest.Near(t, "slope", float64(got.LeverRatioSlope), slope, unitstest.Rel(1e-8))
			if e := f.LeverRatioError(got.Stroke); e > 1e-11 {
				t.Errorf("ratio error %v of exact readings", e)
			}
		}
		if f.ReadingError() > 1e-15 || f.ResidualRMS() > 1e-15 {
			t.Errorf("reading error %v, rms %v of exact readings", float64(f.ReadingError()), float64(f.ResidualRMS()))
		}
		r.Degree = 4
		f, err = linkage.FitReadings(r)
		require.NoError(t, err)
		if degree == 5 && f.ReadingError() < mm(1e-4) {
			t.Errorf("degree 4 goes through points of degree 5 to %v", f.ReadingError())
		}
	}
}

// The error scales with the scatter and shrinks with more readings; it clamps
// its argument.
func TestLeverRatioError(t *testing.T) {
	fit := func(n int, amount float64) *linkage.Fit {
		var r linkage.StrokeReadings
		for i := range n {
			s := 60 * float64(i) / float64(n-1)
			w := 3*s - 0.01*s*s
			if i > 0 {
				w += amount * math.Cos(math.Pi*float64(i)) // up and down in turn
			}
			r.Stroke, r.Travel = append(r.Stroke, mm(s)), append(r.Travel, mm(w))
		}
		f, err := linkage.FitReadings(r)
		require.NoError(t, err)
		return f
	}
	one, ten := fit(21, 0.01), fit(21, 0.1)
	for _, s := range []float64{0, 7, 30, 60} {
		unitstest.Near(t, "ten times the scatter", ten.LeverRatioError(mm(s)), 10*one.LeverRatioError(mm(s)), unitstest.Rel(1e-9))
		if !(one.LeverRatioError(mm(s)) > fit(81, 0.01).LeverRatioError(mm(s))) {
			t.Errorf("no smaller error from four times the readings at %v mm", s)
		}
	}
	if !(one.LeverRatioError(0) > 2*one.LeverRatioError(mm(30))) || !(one.LeverRatioError(mm(60)) > 2*one.LeverRatioError(mm(30))) {
		t.Error("the ends are not worse than the middle")
	}
	for _, s := range []units.Length{-1, units.Length(math.NaN()), units.Length(math.Inf(-1))} {
		if one.LeverRatioError(s) != one.LeverRatioError(0) {
			t.Errorf("%v is not taken as 0", float64(s))
		}
	}
	if one.LeverRatioError(1) != one.LeverRatioError(mm(60)) {
		t.Error("1 m is not taken as full stroke")
	}
	var zero linkage.Fit
	if zero.LeverRatioError(1) != 0 || zero.ReadingError() != 0 || zero.ResidualRMS() != 0 || zero.Curve() != nil || len(zero.Residuals()) != 0 {
		t.Error("the zero fit has errors or a curve")
	}
}

func TestFitRefuses(t *testing.T) {
	good := func() linkage.StrokeReadings {
		return linkage.StrokeReadings{Stroke: lengths(0, 10, 20, 30, 40, 50, 60), Travel: lengths(0, 30, 58, 85, 110, 134, 157)}
	}
	for _, test := range []struct {
		name   string
		change func(*linkage.StrokeReadings)
		fields []string
	}{
		{"nothing", func(r *linkage.StrokeReadings) { *r = linkage.StrokeReadings{} }, []string{"stroke", "travel"}},
		{"six", func(r *linkage.StrokeReadings) { r.Stroke, r.Travel = r.Stroke[:6], r.Travel[:6] }, []string{"stroke", "travel"}},
		{"seven for degree 5", func(r *linkage.StrokeReadings) { r.Degree = 5 }, []string{"stroke", "travel"}},
		{"degree 3", func(r *linkage.StrokeReadings) { r.Degree = 3 }, []string{"degree"}},
		{"degree 6", func(r *linkage.StrokeReadings) { r.Degree = 6 }, []string{"degree"}},
		{"degree -1 and NaN", func(r *linkage.StrokeReadings) { r.Degree = -1; r.Travel[2] = units.Length(math.NaN()) }, []string{"degree", "travel[2]"}},
		{"falling", func(r *linkage.StrokeReadings) { r.Travel[6] = mm(130) }, []string{"travel[6]"}},
		{"unequal", func(r *linkage.StrokeReadings) { r.Travel = append(r.Travel, mm(170)) }, []string{"travel"}},
		// All but one reading within a hair of each other say nothing of a quartic.
		{"crowded", func(r *linkage.StrokeReadings) {
			for i := 1; i < 7; i++ {
				r.Stroke[i] = mm(60 + 1e-6*float64(i))
				r.Travel[i] = mm(150 + 1e-6*float64(i))
			}
		}, []string{"stroke"}},
		// A jump: the polynomial through it turns back.
		{"a step", func(r *linkage.StrokeReadings) { r.Travel = lengths(0, 1, 2, 3, 150, 151, 152) }, []string{"travel"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := good()
			test.change(&r)
			f, err := linkage.FitReadings(r)
			refuses(t, err, test.fields...)
			if f != nil {
				t.Error("a fit beside an error")
			}
		})
	}
	if _, err := linkage.FitReadings(good()); err != nil {
		t.Errorf("the readings that were spoilt are themselves refused: %v", err)
	}
}
