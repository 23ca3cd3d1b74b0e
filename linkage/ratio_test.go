package linkage_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/interp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A ratio that changes evenly over the stroke makes a parabola, LR = 3 − 0.01·s, w = 3s − 0.005·s² in mm;
// one that changes evenly over the travel an exponential, LR = 3 − w/250, w = 750·(1 − exp(−s/250)).
func TestEvenRatiosGiveParabolaAndExponential(t *testing.T) {
	for _, method := range methods {
		table := linkage.Table{Method: method}
		for i := range 7 {
			table.Stroke = append(table.Stroke, mm(10*float64(i)))
			table.LeverRatio = append(table.LeverRatio, 3-0.1*float64(i))
		}
		c := curve(t, table)
		soundCurve(t, c)
		for got := range c.Samples(41) {
			s := got.Stroke.Millimetres()
			unitstest.Near(t, "travel", got.Travel, mm(3*s-0.005*s*s), unitstest.Rel(1e-13), unitstest.Abs(units.Length(1e-17)))
			unitstest.Near(t, "ratio", got.LeverRatio, 3-0.01*s, unitstest.Rel(1e-13))
			unitstest.Near(t, "slope", got.LeverRatioSlope, -10, unitstest.Abs(units.RatioSlope(1e-9)))
		}
		table.Stroke, table.Travel = nil, lengths(0, 25, 50, 75, 100, 125, 150)
		c = curve(t, table)
		soundCurve(t, c)
		unitstest.Near(t, "stroke", c.Stroke(), mm(-250*math.Log(1-0.2)), unitstest.Rel(1e-14))
		if c.Travel() != mm(150) {
			t.Errorf("travel %v", c.Travel())
		}
		for got := range c.Samples(41) {
			s := got.Stroke.Millimetres()
			unitstest.Near(t, "travel", got.Travel, mm(-750*math.Expm1(-s/250)), unitstest.Rel(1e-13), unitstest.Abs(units.Length(1e-16)))
			unitstest.Near(t, "ratio", got.LeverRatio, 3*math.Exp(-s/250), unitstest.Rel(1e-12))
			unitstest.Near(t, "slope", got.LeverRatioSlope, units.RatioSlope(-12*math.Exp(-s/250)), unitstest.Abs(units.RatioSlope(1e-7)))
		}
	}
}

// The wheel's travel solves dw/ds = LR(w): Runge and Kutta's steps of fourth order through the ratio
// that another spline has come to the same place, at drawn tables.
func TestRatioOverTravelSolvesItsEquation(t *testing.T) {
	rng := rand.New(rand.NewPCG(401, 402))
	for range 40 {
		n := 4 + rng.IntN(10)
		x, y := make([]float64, n), make([]float64, n)
		table := linkage.Table{}
		for i := range n {
			if i > 0 {
				x[i] = x[i-1] + 0.005 + 0.02*rng.Float64()
			}
			y[i] = 1.5 + 2*rng.Float64()
			table.Travel, table.LeverRatio = append(table.Travel, units.Length(x[i])), append(table.LeverRatio, y[i])
		}
		var ratio interp.FritschButland
		require.NoError(t, ratio.Fit(x, y))
		c := curve(t, table)
		soundCurve(t, c)
		// From each point to the next, so that no step goes over a kink.
		s := 0.0
		for i := range n - 1 {
			const steps = 400
			h := (x[i+1] - x[i]) / steps
			for k := range steps {
				w := x[i] + h*float64(k)
				s += h / 6 * (1/ratio.Predict(w) + 4/ratio.Predict(w+h/2) + 1/ratio.Predict(w+h))
			}
			unitstest.Near(t, "stroke at a point", float64(c.StrokeAt(units.Length(x[i+1]))), s, unitstest.Rel(1e-11))
			unitstest.Near(t, "ratio at a point", c.LeverRatio(c.StrokeAt(units.Length(x[i+1]))), y[i+1], unitstest.Rel(1e-9))
			middle := units.Length(x[i]+x[i+1]) / 2
			unitstest.Near(t, "ratio between points", c.LeverRatio(c.StrokeAt(middle)), ratio.Predict(float64(middle)), unitstest.Rel(1e-10))
		}
	}
}

// One curve, described in three ways: its points, its ratio over the stroke and its ratio over the
// travel. The worst difference is that of a spline through 41 points of a four-bar linkage.
func TestThreeColumnsDescribeOneCurve(t *testing.T) {
	want := compiled(t, solved("c1"))
	points := points(want, 41, linkage.Smooth)
	ratios := make([]float64, len(points.Stroke))
	for i, s := range points.Stroke {
		ratios[i] = want.LeverRatio(s)
	}
	for _, table := range []linkage.Table{
		points,
		{Stroke: points.Stroke, LeverRatio: ratios, Method: linkage.Smooth},
		{Travel: points.Travel, LeverRatio: ratios, Method: linkage.Smooth},
	} {
		c := curve(t, table)
		unitstest.Near(t, "stroke", c.Stroke(), want.Stroke(), unitstest.Abs(mm(1e-4)))
		for got := range c.Samples(200) {
			unitstest.Near(t, "travel", got.Travel, want.TravelAt(got.Stroke), unitstest.Abs(mm(2e-4)))
			unitstest.Near(t, "ratio", got.LeverRatio, want.LeverRatio(got.Stroke), unitstest.Abs(1e-4))
		}
	}
}

// Ratios of a cubic over the stroke or the travel come back from readings of it in any order, with
// no error; with errors the ratio is known as well as least squares know it.
func TestFitOfRatiosReproducesCubics(t *testing.T) {
	ratio := func(x float64) float64 { return 3 - 14*x + 60*x*x + 150*x*x*x } // x in m
	at := []float64{0.0005, 0.02, 0.01, 0.03, 0.03, 0.05, 0.04, 0.06}
	var list column
	var ratios []float64
	for _, x := range at {
		list, ratios = append(list, units.Length(x)), append(ratios, ratio(x))
	}
	f, err := linkage.FitReadings(linkage.Table{Stroke: list, LeverRatio: ratios})
	require.NoError(t, err)
	g, err := linkage.FitReadings(linkage.Table{Travel: list, LeverRatio: ratios})
	require.NoError(t, err)
	for i := range 31 {
		x := units.Length(0.002 * float64(i))
		unitstest.Near(t, "ratio over the stroke", f.Curve.LeverRatio(x), ratio(float64(x)), unitstest.Rel(1e-12))
		unitstest.Near(t, "ratio over the travel", g.Curve.LeverRatio(g.Curve.StrokeAt(x)), ratio(float64(x)), unitstest.Rel(1e-11))
		for _, fit := range []*linkage.Fit{f, g} {
			if e := fit.LeverRatioError(x); !(e < 1e-11) {
				t.Errorf("ratio error %v of exact ratios", e)
			}
		}
	}
	for _, fit := range []*linkage.Fit{f, g} {
		if e := fit.RatioReadingError; e > 1e-12 || fit.ReadingError != 0 || fit.ResidualRMS != 0 {
			t.Errorf("reading error %v, as a travel %v", e, fit.ReadingError)
		}
	}

	// Readings wrong by ±0.01 in turn: the residuals are nearly that, and so is what is said of them.
	rough := slices.Clone(ratios)
	for i := range rough {
		rough[i] += 0.01 * float64(1-2*(i%2))
	}
	// The same ratios read over the stroke and over the travel are fitted alike, so the errors at a travel
	// are those at the stroke of as many millimetres.
	f, err = linkage.FitReadings(linkage.Table{Stroke: list, LeverRatio: rough})
	require.NoError(t, err)
	g, err = linkage.FitReadings(linkage.Table{Travel: list, LeverRatio: rough})
	require.NoError(t, err)
	for i := range 7 {
		x := units.Length(0.01 * float64(i))
		unitstest.Near(t, "ratio error over the travel", g.LeverRatioError(g.Curve.StrokeAt(x)), f.LeverRatioError(x), unitstest.Rel(1e-6))
	}

	const trials = 300
	rng := rand.New(rand.NewPCG(21, 22))
	inside, variance := 0, 0.0
	for range trials {
		for i := range rough {
			rough[i] = ratios[i] + 0.01*rng.NormFloat64()
		}
		fit, err := linkage.FitReadings(linkage.Table{Travel: list, LeverRatio: rough, Degree: 4})
		require.NoError(t, err)
		e := fit.RatioReadingError
		variance += e * e / trials
		if s := fit.Curve.StrokeAt(0.035); math.Abs(fit.Curve.LeverRatio(s)-ratio(0.035)) <= 2.776*fit.LeverRatioError(s) { // Student's t of 4 degrees, 95 %
			inside++
		}
	}
	if off := variance/1e-4 - 1; math.Abs(off) > 4*math.Sqrt(2.0/4/trials) {
		t.Errorf("mean square of the reading errors %.3g off", off)
	}
	if share := float64(inside) / trials; math.Abs(share-0.95) > 4*math.Sqrt(0.95*0.05/trials) {
		t.Errorf("%.1f %% within the 95 %% limits", 100*share)
	}
}

func TestTableOfRatiosRefuses(t *testing.T) {
	stroke, ratios := lengths(0, 10, 20, 30, 40, 50, 60), []float64{3, 2.9, 2.8, 2.7, 2.6, 2.5, 2.4}
	nan := math.NaN()
	for _, test := range []struct {
		what   string
		change func(*linkage.Table)
		fields []string
	}{
		{"nothing beside it", func(t *linkage.Table) { t.Stroke = nil }, []string{"stroke"}},
		{"both beside it", func(t *linkage.Table) { t.Travel = t.Stroke }, []string{"lever_ratio"}},
		{"unequal columns", func(t *linkage.Table) { t.LeverRatio = t.LeverRatio[:6] }, []string{"lever_ratio"}},
		{"a ratio of 0", func(t *linkage.Table) { t.LeverRatio[2], t.LeverRatio[3], t.LeverRatio[4] = 0, -1, nan }, []string{"lever_ratio[2]", "lever_ratio[3]", "lever_ratio[4]"}},
		{"the bounds of a ratio", func(t *linkage.Table) { t.LeverRatio[2], t.LeverRatio[3] = 0.000999, 1000.1 }, []string{"lever_ratio[2]", "lever_ratio[3]"}},
		{"a travel beyond 1 km", func(t *linkage.Table) {
			for i := range t.Stroke {
				t.Stroke[i] *= 1e4
			}
		}, []string{"lever_ratio"}},
	} {
		for _, method := range methods {
			table := linkage.Table{Stroke: slices.Clone(stroke), LeverRatio: slices.Clone(ratios), Method: method}
			curve(t, table) // good before it is spoilt
			test.change(&table)
			_, err := linkage.NewTable(table)
			if refuses(t, err, test.fields...); t.Failed() {
				t.Fatalf("%s, %s", test.what, method)
			}
		}
	}
	for what, table := range map[string]linkage.Table{
		"a spline below 0":            {Travel: lengths(0, 10, 20, 30, 40), LeverRatio: []float64{3, 0.01, 0.01, 3, 3}, Method: linkage.Smooth},
		"a cubic below 0":             {Travel: lengths(0, 10, 20, 30, 40), LeverRatio: []float64{3, 0.01, 0.01, 0.01, 3}, Method: linkage.Measured},
		"a stroke of more than 1 km":  {Travel: column{0, 2}, LeverRatio: []float64{0.001, 0.001}},
		"a stroke of less than 1 µm":  {Travel: column{0, 1e-6}, LeverRatio: []float64{2, 2}},
		"a travel of less than 1 µm":  {Stroke: column{0, 1e-6}, LeverRatio: []float64{0.5, 0.5}},
		"an extreme beyond its point": {Stroke: lengths(0, 10, 20, 30), LeverRatio: []float64{900, 999, 999, 900}, Method: linkage.Smooth},
	} {
		_, err := linkage.NewTable(table)
		if refuses(t, err, "lever_ratio"); t.Failed() {
			t.Fatal(what)
		}
	}
	for _, table := range []linkage.Table{ // at the very bounds
		{Stroke: column{0, 1}, LeverRatio: []float64{1000, 1000}},
		{Stroke: column{0, 1e-6}, LeverRatio: []float64{1, 1}},
	} {
		curve(t, table)
	}
	_, err := linkage.NewTable(linkage.Table{Stroke: stroke, LeverRatio: ratios, Degree: 4})
	refuses(t, err, "degree")
}

// A ratio that goes nearly to 0 within a millimetre is integrated as exactly as any other: by the
// closed form over a line, s = ln(a/b)/(a − b) per length.
func TestSteepRatiosAreIntegrated(t *testing.T) {
	for _, low := range []float64{1, 0.1, 0.002} {
		c := curve(t, linkage.Table{Travel: lengths(0, 100), LeverRatio: []float64{3, low}})
		unitstest.Near(t, "stroke", c.Stroke(), mm(100*math.Log(3/low)/(3-low)), unitstest.Rel(1e-13))
		soundCurve(t, c)
	}
}

// A thousand ratios that zigzag, as read off a picture pixel by pixel, are a curve still.
func TestZigzagOfRatiosIsIntegrated(t *testing.T) {
	table := linkage.Table{}
	for i := range 1000 {
		table.Travel, table.LeverRatio = append(table.Travel, units.Length(0.2*float64(i)/999)), append(table.LeverRatio, 3-0.02*float64(i%2))
	}
	c := curve(t, table)
	soundCurve(t, c)
	unitstest.Near(t, "stroke", c.Stroke(), mm(200/2.99), unitstest.Rel(1e-5))
	for _, i := range []int{1, 500, 998} {
		unitstest.Near(t, "ratio at a point", c.LeverRatio(c.StrokeAt(table.Travel[i])), table.LeverRatio[i], unitstest.Abs(1e-5))
	}
}
